//! The key of a headset, and the media keys of a keyboard or a car, where the platform hands them to the page (the Media Session API): most
//! do so only while the page sounds or listens.

use wasm_bindgen::{JsValue, closure::Closure};

use super::js;

/// What such a key is called, whatever it would do to music.
const KEYS: [&str; 3] = ["play", "pause", "togglemicrophone"];

/// Hears the key until it is dropped.
pub struct Headset {
    session: JsValue,
    _handler: Closure<dyn FnMut()>,
}

impl Headset {
    /// `None` where the browser hands no keys out.
    #[must_use]
    pub fn listen(on: impl FnMut() + 'static) -> Option<Self> {
        let session = js::navigator("mediaSession")?;
        let handler = Closure::<dyn FnMut()>::new(on);
        for key in KEYS {
            // A browser that does not know a key throws.
            drop(js::call(&session, "setActionHandler", &[&JsValue::from_str(key), handler.as_ref()]));
        }
        Some(Self { session, _handler: handler })
    }
}

impl Drop for Headset {
    fn drop(&mut self) {
        for key in KEYS {
            drop(js::call(&self.session, "setActionHandler", &[&JsValue::from_str(key), &JsValue::NULL]));
        }
    }
}
