//! Keys of a keyboard, and of a presenter's clicker, which is one with few keys.

use std::cell::Cell;

use wasm_bindgen::JsValue;

use super::js;

/// What a key means where nobody types into a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pressed {
    /// Page down, or the arrow to the right: on.
    On,
    /// Page up, or the arrow to the left: back.
    Back,
    /// Enter, on nothing that it would press by itself.
    Enter,
    /// A digit.
    Digit(u8),
    /// The decimal mark.
    Point,
    /// The stroke of a fraction.
    Stroke,
    /// The space, on nothing that it would press by itself.
    Space,
    /// A plus.
    Plus,
    /// A minus.
    Minus,
    /// Backspace.
    Delete,
}

/// Where keys write, choose, or belong to somebody else.
const FIELDS: &str = "input, textarea, select, [contenteditable], [role=alertdialog], [aria-modal=true]";
/// What Enter and the space press by themselves.
const PRESSED: &str = "button, a[href], summary, [role=button]";
/// A second press of the same key within this many milliseconds of the last is not meant; digits are.
const TWICE: f64 = 250.0;

/// Keys that are drawn. A finger on one leaves the focus where it is: Enter and the space of a real keyboard would press it again.
const DRAWN: &str = ".key, .sign";

/// Keeps the focus from going to a drawn key that is hit, as long as the page lives; the tab key goes there as ever.
pub fn leave_focus() {
    js::on_the_way_down(&js_sys::global(), "mousedown", |event| {
        let target = js::get(&event, "target");
        let on = target.and_then(|target| js::call(&target, "closest", &[&JsValue::from_str(DRAWN)]).ok());
        if on.is_some_and(|on| !on.is_null() && !on.is_undefined()) {
            drop(js::call(&event, "preventDefault", &[]));
        }
    });
}

/// Listens as long as it is kept.
pub struct Keyboard {
    _listening: js::Listening,
}

impl Keyboard {
    /// Tells `pressed` of every key that means something; a key that it takes (true) does nothing else.
    #[must_use]
    pub fn follow(pressed: impl Fn(Pressed) -> bool + 'static) -> Self {
        let last = Cell::new((None, f64::NEG_INFINITY));
        let listening = js::Listening::new(&js_sys::global(), "keydown", move |event| {
            let Some(key) = meant(&event) else { return };
            let held = js::get(&event, "repeat").is_some_and(|held| held.is_truthy());
            let at = js::get(&event, "timeStamp").and_then(|at| at.as_f64()).unwrap_or_default();
            let (before, then) = last.replace((Some(key), at));
            let acts = matches!(key, Pressed::On | Pressed::Back | Pressed::Enter);
            let twice = held && key != Pressed::Delete || acts && before == Some(key) && at - then < TWICE;
            if twice || pressed(key) {
                drop(js::call(&event, "preventDefault", &[]));
            }
        });
        Self { _listening: listening }
    }
}

fn meant(event: &JsValue) -> Option<Pressed> {
    let is = |key: &str| js::get(event, key).is_some_and(|held| held.is_truthy());
    // A key that is held with another belongs to the browser, and one that another part of the page took to that.
    if ["ctrlKey", "altKey", "metaKey", "isComposing", "defaultPrevented"].into_iter().any(is) {
        return None;
    }
    let focus = js::global("document").and_then(|document| js::get(&document, "activeElement"));
    let on = |what: &str| {
        let found = focus.as_ref().and_then(|focus| js::call(focus, "closest", &[&JsValue::from_str(what)]).ok());
        found.is_some_and(|found| !found.is_null() && !found.is_undefined())
    };
    if on(FIELDS) {
        return None;
    }
    let key = js::text(event, "key")?;
    Some(match key.as_str() {
        "PageDown" | "ArrowRight" => Pressed::On,
        "PageUp" | "ArrowLeft" => Pressed::Back,
        "Enter" if !on(PRESSED) => Pressed::Enter,
        " " if !on(PRESSED) => Pressed::Space,
        "." | "," => Pressed::Point,
        "/" => Pressed::Stroke,
        "+" => Pressed::Plus,
        "-" | "\u{2212}" => Pressed::Minus,
        "Backspace" => Pressed::Delete,
        digit => Pressed::Digit(digit.parse().ok().filter(|&digit| digit <= 9)?),
    })
}
