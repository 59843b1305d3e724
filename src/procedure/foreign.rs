//! Procedure files from outside, and back out.

use std::fmt;

use crate::procedure::{Fault, Procedure, faults};
use crate::record::{MAX_PROCEDURE, from_json};

/// Why a procedure file was not taken: the text that the person reads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ProcedureError {
    /// It is longer than [`MAX_PROCEDURE`].
    TooLong,
    /// It does not read as one; why, where a reader of such files can use it.
    NotOne(String),
    /// It reads, and does not hold together.
    Faulty(Vec<Fault>),
}

impl fmt::Display for ProcedureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong => f.write_str("This file is too long for a procedure."),
            Self::NotOne(why) => write!(f, "This is no procedure file: {why}."),
            Self::Faulty(faults) => {
                f.write_str("This procedure does not hold together.")?;
                faults.iter().take(8).try_for_each(|fault| write!(f, " {fault}."))
            }
        }
    }
}

impl std::error::Error for ProcedureError {}

/// Reads a procedure file.
///
/// # Errors
/// When it is too long, does not read, or does not hold together.
pub fn read_procedure(text: &str) -> Result<Procedure, ProcedureError> {
    if text.len() > MAX_PROCEDURE {
        return Err(ProcedureError::TooLong);
    }
    let procedure: Procedure = from_json(text).map_err(|error| ProcedureError::NotOne(error.to_string()))?;
    let faults = faults(&procedure);
    if faults.is_empty() { Ok(procedure) } else { Err(ProcedureError::Faulty(faults)) }
}

/// A procedure as a file: what is left out when it says nothing is left out.
#[must_use]
pub fn write_procedure(procedure: &Procedure) -> String {
    serde_json::to_string(procedure).unwrap_or_default()
}
