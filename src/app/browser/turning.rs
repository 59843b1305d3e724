//! The phone turns its picture.

use wasm_bindgen::JsValue;

use super::{clock, js};

/// Tells of it until this is dropped.
pub struct Turning {
    _turned: js::Listening,
}

impl Turning {
    /// `on_turn` hears each turn's time, in milliseconds since the page was opened. Where the browser says nothing of it, never.
    #[must_use]
    pub fn start(mut on_turn: impl FnMut(f64) + 'static) -> Self {
        // A keyboard that comes up makes the window wide without a turn: the window's own proportions are not asked.
        let (target, event) = match js::global("screen").and_then(|screen| js::get(&screen, "orientation")) {
            Some(orientation) => (orientation, "change"),
            None => (js::global("window").unwrap_or(JsValue::UNDEFINED), "orientationchange"),
        };
        Self { _turned: js::Listening::new(&target, event, move |_| on_turn(clock::elapsed())) }
    }
}
