//! Procedure files from outside, and back out.

use std::fmt;

use crate::language::{tr, words};
use crate::procedure::{Fault, Procedure, faults, newest, next_version};
use crate::record::{Airframe, Body, MAX_PROCEDURE, from_json};

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
            Self::TooLong => f.write_str(words!("This file is too long for a procedure.")),
            Self::NotOne(why) => f.write_str(&tr!("This is no procedure file: {why}.", why)),
            Self::Faulty(faults) => {
                f.write_str(words!("This procedure does not hold together."))?;
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

/// What somebody should know of a procedure file before it is taken in for an airframe: a sentence each.
#[must_use]
pub fn about_file(airframe: &Airframe, procedure: &Procedure) -> Vec<String> {
    let steps = procedure.laid_out().len();
    let mut words = vec![
        tr!(
            "“{procedure}”, version {version}: {steps} steps.",
            procedure = procedure.title,
            version = procedure.version,
            steps
        ),
        procedure.purpose.clone(),
    ];
    words.retain(|words| !words.is_empty());
    if let Some(here) = newest(airframe, &procedure.id) {
        let version = landing_version(airframe, procedure);
        if same_but_version(here, procedure) {
            words.push(tr!("It is the same as the one that is here."));
        } else {
            let here = here.version;
            words.push(if version == procedure.version {
                tr!("New runs will use it instead of version {here} that is here.", here)
            } else {
                tr!(
                    "New runs will use it instead of version {here} that is here; it is kept as version {version}.",
                    here,
                    version
                )
            });
        }
    }
    words.push(tr!(
        "Somebody else wrote it and nobody here has checked it: read it through, beside the manual, before you work by it."
    ));
    words
}

/// The entry that takes a procedure in for an airframe, under a version that it does not have yet.
#[must_use]
pub fn taken_in(airframe: &Airframe, mut procedure: Procedure) -> Body {
    procedure.version = landing_version(airframe, &procedure);
    let file = write_procedure(&procedure).into();
    Body::ProcedureKept { procedure: procedure.id, version: procedure.version, file }
}

/// Its own version, or the next one here when that is not above all that are known.
fn landing_version(airframe: &Airframe, procedure: &Procedure) -> u32 {
    procedure.version.max(next_version(airframe, &procedure.id))
}

fn same_but_version(one: &Procedure, other: &Procedure) -> bool {
    *one == Procedure { version: one.version, ..other.clone() }
}

/// A procedure as a file: what is left out when it says nothing is left out.
#[must_use]
pub fn write_procedure(procedure: &Procedure) -> String {
    serde_json::to_string(procedure).unwrap_or_default()
}
