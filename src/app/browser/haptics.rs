//! Vibration. Many phones have none for web pages, so it is never the only sign of anything.

use wasm_bindgen::JsValue;

use super::js;

/// A tap was taken, in milliseconds.
pub const TAP: &[u32] = &[12];
/// The verdict is in: two short.
pub const IN: &[u32] = &[40, 60, 40];
/// The verdict is out: one long.
pub const OUT: &[u32] = &[350];
/// The verdict is "can't tell": three short.
pub const CANT_TELL: &[u32] = &[40, 60, 40, 60, 40];

/// Vibrates, if the phone can: milliseconds on, off, on, and so on.
pub fn vibrate(pattern: &[u32]) {
    if let Some(navigator) = js::global("navigator") {
        let pattern: js_sys::Array = pattern.iter().map(|&milliseconds| JsValue::from(milliseconds)).collect();
        drop(js::call(&navigator, "vibrate", &[&pattern]));
    }
}
