//! Where a finger or a pen is in a box.

use wasm_bindgen::JsValue;
use web_sys::Event;

use super::js;

/// Where a pointer's event is in the element that listens, as parts of its width and height; `None` where the engine does not say.
#[must_use]
pub fn place(event: &Event) -> Option<(f64, f64)> {
    let number = |from: &JsValue, key: &str| js::get(from, key)?.as_f64();
    let seen = js::call(event.current_target()?.as_ref(), "getBoundingClientRect", &[]).ok()?;
    let part = |at: &str, edge: &str, size: &str| {
        Some((number(event, at)? - number(&seen, edge)?) / number(&seen, size)?).filter(|part| part.is_finite())
    };
    Some((part("clientX", "left", "width")?, part("clientY", "top", "height")?))
}

/// The pointer's further events come to the same element until it is lifted, wherever it goes.
pub fn hold(event: &Event) {
    if let (Some(target), Some(pointer)) = (event.current_target(), js::get(event, "pointerId")) {
        drop(js::call(target.as_ref(), "setPointerCapture", &[&pointer]));
    }
}

/// The finger or the pen is down, or the mouse's button.
#[must_use]
pub fn down(event: &Event) -> bool {
    js::get(event, "buttons").and_then(|buttons| buttons.as_f64()).is_some_and(|buttons| buttons > 0.0)
}
