//! What becomes of an utterance while a step is on the screen: a number that is read back and waits for its "keep it", the answer to a
//! question, a command, or nothing. Nothing that was heard is ever kept by itself.

mod meaning;
mod phrases;
mod teach;
mod trouble;

pub(super) use meaning::question;
pub use meaning::{Asked, Meaning, Utterance, read_back, understand};
pub use phrases::phrases;
pub use teach::{NextTake, TAKES, is_taught, next_take, take_words, taught_words};
pub use trouble::Deaf;
