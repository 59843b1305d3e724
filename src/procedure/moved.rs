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
}

impl Moved {
    /// The amount as a length.
    #[must_use]
    pub fn length(&self) -> Length {
        self.amount.length().unwrap_or_default()
    }
}
