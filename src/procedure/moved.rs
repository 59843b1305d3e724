//! A move that was made.

use crate::quantity::{Length, Quantity};
use crate::record::EntryId;

/// A move that was made.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// Its entry.
    pub entry: EntryId,
    /// The adjuster's key.
    pub adjuster: String,
    /// How far, as entered; signed along the adjuster's positive direction.
    pub amount: Quantity,
    /// The same as a length: of turns, how far the thread went.
    pub length: Length,
}
