//! Ids of entries: UUID version 7 (RFC 9562), so that they sort by the time at which they were made.

use uuid::{ContextV7, Timestamp, Uuid};

thread_local! {
    static CONTEXT: ContextV7 = const { ContextV7::new() };
}

/// A new id, greater than every id made before it in this tab since it was loaded: inside one millisecond a counter
/// grows, and a clock that jumps back is ignored until it has caught up.
#[must_use]
pub fn new() -> Uuid {
    let milliseconds = js_sys::Date::now().max(0.0) as u64;
    let (seconds, nanoseconds) = (milliseconds / 1000, (milliseconds % 1000) as u32 * 1_000_000);
    CONTEXT.with(|context| Uuid::new_v7(Timestamp::from_unix(context, seconds, nanoseconds)))
}
