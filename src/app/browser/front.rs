//! The app comes back to the front: another app was, or the phone was locked.

use wasm_bindgen::JsValue;

use super::js;

/// Tells of it until this is dropped.
pub struct InFront {
    _shown: js::Listening,
}

impl InFront {
    /// `on_return` is called each time that the app comes back to the front.
    #[must_use]
    pub fn start(on_return: impl Fn() + 'static) -> Self {
        let document = js::global("document").unwrap_or(JsValue::UNDEFINED);
        let shown = js::Listening::new(&document, "visibilitychange", move |_| {
            if js::visible() {
                on_return();
            }
        });
        Self { _shown: shown }
    }
}
