//! How much room an element has, and how wide words are in it.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use wasm_bindgen::{JsValue, closure::Closure};

use super::js;

/// How large the lettering is at which words are measured, in CSS pixels: fonts are as wide as large, nearly.
const MEASURED_AT: f64 = 100.0;
/// How wide a letter is taken to be, in sizes, where the browser measures nothing.
const USUAL: f64 = 0.62;

/// Says how large an element is, from now until this is dropped: at first, and at every change.
pub struct Room {
    observer: Rc<RefCell<Option<JsValue>>>,
    stopped: Rc<Cell<bool>>,
    _changed: Rc<Closure<dyn FnMut(JsValue)>>,
}

impl Room {
    /// Watches the element with this id, once it is on the page. `on_room` hears width and height in CSS pixels.
    #[must_use]
    pub fn watch(id: &'static str, on_room: impl Fn(f64, f64) + 'static) -> Self {
        let on_room = Rc::new(on_room);
        let hears = Rc::clone(&on_room);
        let changed = Rc::new(Closure::<dyn FnMut(JsValue)>::new(move |_| tell(id, &*hears)));
        let observer = Rc::new(RefCell::new(None));
        let stopped = Rc::new(Cell::new(false));
        let room = Self { observer: Rc::clone(&observer), stopped: Rc::clone(&stopped), _changed: Rc::clone(&changed) };
        js::after(0, move || {
            if stopped.get() {
                return;
            }
            tell(id, &*on_room);
            let callback: &JsValue = (*changed).as_ref();
            if let (Some(element), Ok(made)) = (js::element(id), js::construct("ResizeObserver", &[callback])) {
                drop(js::call(&made, "observe", &[&element]));
                observer.replace(Some(made));
            }
        });
        room
    }
}

impl Drop for Room {
    fn drop(&mut self) {
        self.stopped.set(true);
        if let Some(observer) = self.observer.take() {
            drop(js::call(&observer, "disconnect", &[]));
        }
    }
}

fn tell(id: &str, on_room: &dyn Fn(f64, f64)) {
    let number = |key: &str| js::get(&js::element(id)?, key)?.as_f64();
    if let (Some(width), Some(height)) = (number("clientWidth"), number("clientHeight")) {
        on_room(width, height);
    }
}

/// How wide words are in the font of the element with this id, in sizes of it.
#[must_use]
pub fn widths(id: &str, words: &[String]) -> Vec<f64> {
    let pen = pen(id);
    let width = |word: &String| {
        let measured = pen.as_ref().and_then(|pen| {
            let measured = js::call(pen, "measureText", &[&JsValue::from_str(word)]).ok()?;
            js::get(&measured, "width")?.as_f64()
        });
        measured.map_or_else(|| USUAL * word.chars().count() as f64, |width| width / MEASURED_AT)
    };
    words.iter().map(width).collect()
}

/// A canvas' pen in the font of an element.
fn pen(id: &str) -> Option<JsValue> {
    let style = js::call(&js::global("window")?, "getComputedStyle", &[&js::element(id)?]).ok()?;
    let of = |key: &str| js::text(&style, key);
    let canvas = js::call(&js::global("document")?, "createElement", &[&JsValue::from_str("canvas")]).ok()?;
    let pen = js::call(&canvas, "getContext", &[&JsValue::from_str("2d")]).ok()?;
    let font = format!("{} {MEASURED_AT}px {}", of("fontWeight")?, of("fontFamily")?);
    js::set(&pen, "font", &JsValue::from_str(&font));
    Some(pen)
}
