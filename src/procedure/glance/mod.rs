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

pub use arrange::{Arranged, arrange, hang};
pub use back::{DatumAgain, Return, asked_once_closed, interrupted};
pub use far::{Far, Seen};
pub use flash::{Flash, flash};
pub use helper::{
    HelperCard, HelperReading, ReadBlind, cannot_be, handed_back, helper_cards, look_once_more, read_blind,
};
pub use turns::{Turns, turning_words};
