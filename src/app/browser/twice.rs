//! A hit that was meant once and arrives twice: a glove's bounce, a knuckle, a shaking hand, a key that is held down.
//!
//! It is taken out before any part of the app hears of it, on its way down to what was hit, so that a second hit does nothing to
//! whatever has come to stand under the finger meanwhile either. What the app taps by itself does not pass here.

use std::cell::RefCell;

use wasm_bindgen::JsValue;

use super::js;

/// A second hit of the same control, or at the same place, within this many milliseconds of the last is not meant.
const ACTION: f64 = 250.0;
/// A second hit of the same key of a pad: somebody who types 22 is that fast, a bounce is faster (from memory, no source).
const DIGIT: f64 = 120.0;
/// As far apart, in CSS pixels, two hits of one finger at one place lie: half the least target.
const APART: f64 = 24.0;

/// What can be hit. A text field is not: there a double hit marks a word.
const CONTROL: &str =
    "button, a[href], label, summary, [role=button], input[type=radio], input[type=checkbox], input[type=file]";

/// A hit: when, by the event and by the clock as it was heard of, what, and where unless it came from a key.
struct Hit {
    at: f64,
    heard: f64,
    control: JsValue,
    place: Option<(f64, f64)>,
    pad: bool,
    field: bool,
}

/// Begins to take them out, as long as the page lives.
pub fn ignore() {
    let last = RefCell::new(None::<Hit>);
    js::on_the_way_down(&js_sys::global(), "click", move |event| {
        let Some(hit) = hit(&event) else { return };
        let mut last = last.borrow_mut();
        if last.as_ref().is_some_and(|last| again(last, &hit)) {
            for stop in ["preventDefault", "stopImmediatePropagation"] {
                drop(js::call(&event, stop, &[]));
            }
        }
        *last = Some(hit);
    });
}

/// Whether `hit` is `last` once more.
fn again(last: &Hit, hit: &Hit) -> bool {
    // The longer of the two: a busy page hears of hits late and close together, and an engine that is driven by a program may stamp
    // them all alike.
    let after = (hit.at - last.at).max(hit.heard - last.heard);
    let same = last.control == hit.control;
    // A label passes its click on to its field: how much later the field hears of it is a matter of how busy the page is.
    if same && hit.field && !last.field {
        return false;
    }
    if last.pad && hit.pad {
        return same && after < DIGIT;
    }
    let near = match (last.place, hit.place) {
        (Some((x, y)), Some((across, down))) => (across - x).hypot(down - y) < APART,
        _ => false,
    };
    (same || near) && after < ACTION
}

/// What a click hit; nothing of one that a script made.
fn hit(event: &JsValue) -> Option<Hit> {
    let number = |key: &str| js::get(event, key).and_then(|found| found.as_f64());
    if !js::get(event, "isTrusted")?.is_truthy() {
        return None;
    }
    let target = js::get(event, "target")?;
    let control = js::call(&target, "closest", &[&JsValue::from_str(CONTROL)]).ok().filter(|found| !found.is_null())?;
    // A field in a label is one thing with it.
    let label = js::call(&control, "closest", &[&JsValue::from_str("label")]).ok().filter(|found| !found.is_null());
    let class = js::text(&control, "className").unwrap_or_default();
    // A key that presses a button makes a click without a count.
    let by_hand = number("detail").is_some_and(|count| count > 0.0);
    Some(Hit {
        at: number("timeStamp")?,
        heard: js_sys::Date::now(),
        place: if by_hand { number("clientX").zip(number("clientY")) } else { None },
        pad: class.split(' ').any(|name| name == "key"),
        field: js::text(&control, "localName").is_some_and(|name| name == "input"),
        control: label.unwrap_or(control),
    })
}
