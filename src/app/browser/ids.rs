//! Ids of entries: UUID version 7 (RFC 9562), so that they sort by the time at which they were made.

use uuid::{ContextV7, Timestamp, Uuid};

thread_local! {
    static CONTEXT: ContextV7 = const { ContextV7::new() };
}

/// The beginning of the year 2200, in milliseconds since 1970: no phone's clock is as wrong as that, a hostile file's may be.
const NO_LATER: u64 = 7_258_118_400_000;

/// A new id, greater than every id made before it in this tab since it was loaded and every id that was [followed](follow): inside one
/// millisecond a counter grows, and a clock that jumps back is ignored until it has caught up.
#[must_use]
pub fn new() -> Uuid {
    let milliseconds = js_sys::Date::now().max(0.0) as u64;
    let (seconds, nanoseconds) = (milliseconds / 1000, (milliseconds % 1000) as u32 * 1_000_000);
    CONTEXT.with(|context| Uuid::new_v7(Timestamp::from_unix(context, seconds, nanoseconds)))
}

/// Ids that are made from now on are greater than this one, whatever the clock says: what is written after something was read
/// comes after it.
pub fn follow(latest: Uuid) {
    if let Some(at) = made_at(latest).filter(|at| *at < NO_LATER) {
        CONTEXT.with(|context| Timestamp::from_unix(context, (at + 1) / 1000, ((at + 1) % 1000) as u32 * 1_000_000));
    }
}

/// When an id was made by the clock of whoever made it, in milliseconds since 1970.
#[must_use]
pub fn made_at(id: Uuid) -> Option<u64> {
    let (seconds, nanoseconds) = id.get_timestamp()?.to_unix();
    Some(seconds * 1000 + u64::from(nanoseconds / 1_000_000))
}
