//! The rows of a map of holes as they are typed.

use std::fmt;

use crate::language::{tr, words};
use crate::record::{LaidOutHoles, MAX_HOLES};

/// Why typed rows are no map: the text that the person reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowsError {
    /// Not whole numbers from 1.
    NotNumbers,
    /// More than [`MAX_HOLES`] in all.
    TooMany,
}

impl fmt::Display for RowsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotNumbers => f.write_str(words!(
                "How many each row has, in whole numbers with spaces between: 12 12 8 is three rows."
            )),
            Self::TooMany => f.write_str(&tr!("At most {most} on one map. Take the joint in parts.", most = MAX_HOLES)),
        }
    }
}

impl std::error::Error for RowsError {}

/// Rows as typed: "12 12 8".
///
/// # Errors
/// When it is no map.
pub fn rows_of(text: &str) -> Result<Vec<u32>, RowsError> {
    let words = text.split([' ', ',', ';', '\t', '\u{a0}']).filter(|word| !word.is_empty());
    let rows: Option<Vec<u32>> = words.map(|word| word.parse().ok().filter(|row| *row > 0)).collect();
    let rows = rows.filter(|rows| !rows.is_empty()).ok_or(RowsError::NotNumbers)?;
    if LaidOutHoles::possible(&rows) { Ok(rows) } else { Err(RowsError::TooMany) }
}

/// Rows as they are typed: "12 12 8".
#[must_use]
pub fn rows_words(rows: &[u32]) -> String {
    rows.iter().map(u32::to_string).collect::<Vec<_>>().join(" ")
}
