//! Keeping the screen lit while a step is being worked on.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use wasm_bindgen::JsValue;
use wasm_bindgen_futures::spawn_local;

use super::js;

/// Whether the screen is being kept lit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wake {
    /// The screen stays lit.
    Held,
    /// The browser let go of it (the app was hidden, the battery is low); it is asked again when the app is in front.
    Released,
    /// The browser said no, with its reason.
    Refused(String),
    /// This browser cannot keep the screen lit.
    Unsupported,
}

/// Keeps the screen lit from [`KeepLit::start`] until it is dropped.
pub struct KeepLit {
    lamp: Rc<Lamp>,
    _when_visible: js::Listening,
}

struct Lamp {
    on_state: Box<dyn Fn(Wake)>,
    /// The lock held and its listener for the browser letting go.
    lock: RefCell<Option<(JsValue, js::Listening)>>,
    asking: Cell<bool>,
    stopped: Cell<bool>,
}

impl KeepLit {
    /// Asks for the screen to be kept lit, and again each time that the app comes back to the front. `on_state` hears
    /// how each attempt ended.
    #[must_use]
    pub fn start(on_state: impl Fn(Wake) + 'static) -> Self {
        let lamp = Rc::new(Lamp {
            on_state: Box::new(on_state),
            lock: RefCell::new(None),
            asking: Cell::new(false),
            stopped: Cell::new(false),
        });
        let document = js::global("document").unwrap_or(JsValue::UNDEFINED);
        let again = Rc::clone(&lamp);
        let when_visible = js::Listening::new(&document, "visibilitychange", move |_| ask(&again));
        ask(&lamp);
        Self { lamp, _when_visible: when_visible }
    }
}

impl Drop for KeepLit {
    fn drop(&mut self) {
        self.lamp.stopped.set(true);
        if let Some((lock, listening)) = self.lamp.lock.take() {
            drop(listening);
            js::call_and_forget(&lock, "release", &[]);
        }
    }
}

fn ask(lamp: &Rc<Lamp>) {
    if lamp.asking.get() || lamp.lock.borrow().is_some() || !js::visible() {
        return;
    }
    let Some(wake_lock) = js::navigator("wakeLock") else { return (lamp.on_state)(Wake::Unsupported) };
    lamp.asking.set(true);
    let lamp = Rc::clone(lamp);
    spawn_local(async move {
        let answer = js::call_async(&wake_lock, "request", &[&JsValue::from_str("screen")]).await;
        lamp.asking.set(false);
        match answer {
            Ok(lock) if lamp.stopped.get() => js::call_and_forget(&lock, "release", &[]),
            Ok(lock) => {
                let released = Rc::downgrade(&lamp);
                let listening = js::Listening::new(&lock, "release", move |_| {
                    let Some(lamp) = released.upgrade() else { return };
                    // The listener cannot be dropped while it runs.
                    js::after(0, move || {
                        drop(lamp.lock.take());
                        (lamp.on_state)(Wake::Released);
                        ask(&lamp);
                    });
                });
                lamp.lock.replace(Some((lock, listening)));
                (lamp.on_state)(Wake::Held);
            }
            Err(thrown) if !lamp.stopped.get() => (lamp.on_state)(Wake::Refused(js::line_of(&thrown))),
            Err(_) => {}
        }
    });
}
