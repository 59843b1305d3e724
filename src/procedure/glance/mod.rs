//! What is seen of a step at a glance: from two metres, for a second after the last reading, by whoever holds the other end, and
//! by whoever comes back after a pause.
//!
//! Deliberately absent: how it is drawn. Every word and every number of the far view, of the verdict over the whole screen and of
//! the helper's screen is decided here.

mod arrange;
mod back;
mod far;
mod flash;
mod helper;
mod turns;

pub use arrange::{Arranged, arrange};
pub use back::{DatumAgain, Return, interrupted};
pub use far::{Far, Seen};
pub use flash::{Flash, flash};
pub use helper::{
    CANNOT_BE, HANDED_BACK, HelperCard, HelperReading, LOOK_ONCE_MORE, ReadBlind, helper_cards, read_blind,
};
pub use turns::{TURNING, Turns};
