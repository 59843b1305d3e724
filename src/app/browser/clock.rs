//! The phone's clock.

use chrono::{DateTime, FixedOffset, Offset, Utc};
use js_sys::Promise;
use wasm_bindgen::JsValue;

use super::js;

/// Milliseconds since the page was opened, for measuring how long something took; 0 where the browser does not say.
#[must_use]
pub fn elapsed() -> f64 {
    web_sys::window().and_then(|window| window.performance()).map_or(0.0, |performance| performance.now())
}

/// Now, to the millisecond, with the offset from UTC that the phone keeps at this moment.
#[must_use]
pub fn now() -> DateTime<FixedOffset> {
    let date = js_sys::Date::new_0();
    // `getTimezoneOffset` is minutes from local time to UTC, so west of Greenwich is positive; ours is east positive.
    let seconds_east = -(date.get_timezone_offset() * 60.0).round() as i32;
    let offset = FixedOffset::east_opt(seconds_east).unwrap_or_else(|| Utc.fix());
    DateTime::<Utc>::from_timestamp_millis(date.get_time() as i64).unwrap_or_default().with_timezone(&offset)
}

/// Runs `task` once, after `milliseconds`.
pub fn after(milliseconds: u32, task: impl FnOnce() + 'static) {
    js::after(milliseconds, task);
}

/// Lets the browser draw and listen before what comes next.
pub async fn pause() {
    let mut turn = |done: js_sys::Function, _: js_sys::Function| js::after(0, move || drop(done.call0(&JsValue::NULL)));
    drop(js::settled(&Promise::new(&mut turn)).await);
}

/// Does something once what is being done now has ended.
pub fn soon(task: impl FnOnce() + 'static) {
    js::after(0, task);
}
