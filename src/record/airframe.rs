//! An airframe, folded out of its entries.

use serde::{Deserialize, Serialize};

use super::{AirframeId, Body, Entry, EntryId, Instrument, RunId, Specification, SpecifiedItem};
use crate::quantity::Unit;

/// The length unit that the airframe's manual is written in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Inches and fractions.
    #[default]
    Inches,
    /// Millimetres.
    Millimetres,
}

impl Units {
    /// The unit of length.
    #[must_use]
    pub const fn length(self) -> Unit {
        match self {
            Self::Inches => Unit::Inch,
            Self::Millimetres => Unit::Millimetre,
        }
    }
}

/// What is typed when an airframe is added.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AirframeDetails {
    /// The type: what the kit is called.
    pub model: String,
    /// The serial number or registration.
    pub serial: String,
    /// Who builds it.
    pub builder: String,
    /// The manual and its revision.
    pub manual: String,
    /// Units of the manual.
    pub units: Units,
    /// An invented example: its numbers may never be offered to a real airframe.
    pub invented: bool,
}

/// A run that was started.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StartedRun {
    /// The run.
    pub run: RunId,
    /// The procedure's id.
    pub procedure: String,
    /// Its version.
    pub version: u32,
}

/// Instruments by the role that they were accepted for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Instruments(Vec<(String, (Instrument, EntryId))>);

impl Instruments {
    /// The instrument that plays a role, and the entry that accepted it.
    #[must_use]
    pub fn get(&self, role: &str) -> Option<&(Instrument, EntryId)> {
        self.0.iter().find(|(known, _)| known == role).map(|(_, accepted)| accepted)
    }

    fn accept(&mut self, role: &str, instrument: Instrument, entry: EntryId) {
        self.0.retain(|(known, _)| known != role);
        self.0.push((role.to_owned(), (instrument, entry)));
    }
}

/// An airframe as its entries in force tell it.
#[derive(Clone, Debug, PartialEq)]
pub struct Airframe {
    /// Its id.
    pub id: AirframeId,
    /// Its details.
    pub details: AirframeDetails,
    /// Its rigging specification.
    pub specification: Specification,
    /// The instrument accepted last for each role.
    pub instruments: Instruments,
    /// Runs, in the order in which they were started.
    pub runs: Vec<StartedRun>,
}

impl Airframe {
    /// Folds entries in force, oldest first. `None` when no entry says that the airframe was made.
    #[must_use]
    pub fn fold<'a>(id: AirframeId, entries: impl IntoIterator<Item = &'a Entry>) -> Option<Self> {
        let mut details = None;
        let mut specification = Specification::default();
        let mut instruments = Instruments::default();
        let mut runs = Vec::new();
        for entry in entries {
            match &entry.body {
                Body::AirframeMade { details: made } => details = Some(made.clone()),
                Body::SpecificationSet { key, value, source } => specification
                    .set(key.clone(), SpecifiedItem { value: value.clone(), source: source.clone(), entry: entry.id }),
                Body::InstrumentAccepted { role, instrument } => {
                    instruments.accept(role, instrument.clone(), entry.id);
                }
                Body::RunStarted { run, procedure, version } => {
                    runs.push(StartedRun { run: *run, procedure: procedure.clone(), version: *version });
                }
                _ => {}
            }
        }
        Some(Self { id, details: details?, specification, instruments, runs })
    }

    /// The latest run of a procedure.
    #[must_use]
    pub fn latest_run(&self, procedure: &str) -> Option<&StartedRun> {
        self.runs.iter().rev().find(|started| started.procedure == procedure)
    }
}
