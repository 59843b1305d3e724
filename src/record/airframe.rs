//! An airframe, folded out of its entries.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::{
    AirframeId, Body, Entry, EntryId, Instrument, Reversal, Role, RunId, Specification, SpecifiedItem, same_person,
};
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
    /// The procedure file as the run began with it, where the record holds it.
    pub file: Option<Arc<str>>,
}

/// A version of a procedure that belongs to the airframe.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnProcedure {
    /// The procedure's id.
    pub procedure: String,
    /// Its version.
    pub version: u32,
    /// The procedure file.
    pub file: Arc<str>,
    /// The entry that kept it.
    pub entry: EntryId,
}

/// Somebody who works on the airframe, or answers for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Person {
    /// The name.
    pub name: String,
    /// What they are to it.
    pub role: Role,
}

/// An instrument that plays a role.
#[derive(Clone, Debug, PartialEq)]
struct Accepted {
    role: String,
    instrument: (Instrument, EntryId),
    /// Turned end for end since it was accepted.
    reversal: Option<Reversal>,
}

/// Instruments by the role that they were accepted for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Instruments(Vec<Accepted>);

impl Instruments {
    /// The instrument that plays a role, and the entry that accepted it.
    #[must_use]
    pub fn get(&self, role: &str) -> Option<&(Instrument, EntryId)> {
        self.accepted(role).map(|accepted| &accepted.instrument)
    }

    /// Its last reversal check since it was accepted.
    #[must_use]
    pub fn reversal(&self, role: &str) -> Option<&Reversal> {
        self.accepted(role)?.reversal.as_ref()
    }

    /// Every role that an instrument was accepted for, with the instrument.
    pub fn all(&self) -> impl Iterator<Item = (&str, &Instrument)> {
        self.0.iter().map(|accepted| (accepted.role.as_str(), &accepted.instrument.0))
    }

    fn accepted(&self, role: &str) -> Option<&Accepted> {
        self.0.iter().find(|accepted| accepted.role == role)
    }

    /// Another instrument in the role has not been turned yet; the same one, described anew, has.
    pub(crate) fn accept(&mut self, role: &str, instrument: Instrument, entry: EntryId) {
        let same = |known: &Instrument| known.name == instrument.name && known.kind == instrument.kind;
        let before = self.0.iter().position(|accepted| accepted.role == role).map(|place| self.0.remove(place));
        let reversal = before.filter(|before| same(&before.instrument.0)).and_then(|before| before.reversal);
        self.0.push(Accepted { role: role.to_owned(), instrument: (instrument, entry), reversal });
    }

    fn reverse(&mut self, role: &str, reversal: &Reversal) {
        if let Some(accepted) = self.0.iter_mut().find(|accepted| accepted.role == role) {
            accepted.reversal = Some(reversal.clone());
        }
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
    /// Versions of procedures that belong to it, in the order in which they were kept.
    pub procedures: Vec<OwnProcedure>,
    /// People who were named, in the order in which they first were.
    pub people: Vec<Person>,
}

impl Airframe {
    /// Folds entries in force, oldest first. `None` when no entry says that the airframe was made.
    #[must_use]
    pub fn fold<'a>(id: AirframeId, entries: impl IntoIterator<Item = &'a Entry>) -> Option<Self> {
        let mut details = None;
        let mut specification = Specification::default();
        let mut instruments = Instruments::default();
        let mut runs = Vec::new();
        let mut procedures = Vec::new();
        let mut people: Vec<Person> = Vec::new();
        for entry in entries {
            match &entry.body {
                Body::AirframeMade { details: made } => details = Some(made.clone()),
                Body::SpecificationSet { key, value, source } => {
                    let (value, source, by) = (value.clone(), source.clone(), entry.by.clone());
                    specification.set(key.clone(), SpecifiedItem { value, source, entry: entry.id, by, reread: None });
                }
                Body::SpecificationReread { key, entry: read } => specification.reread(key, *read, &entry.by),
                Body::InstrumentAccepted { role, instrument } => {
                    instruments.accept(role, instrument.clone(), entry.id);
                }
                Body::InstrumentReversed { role, reversal } => instruments.reverse(role, reversal),
                Body::RunStarted { run, procedure, version, file } => {
                    let (procedure, file) = (procedure.clone(), file.clone());
                    runs.push(StartedRun { run: *run, procedure, version: *version, file });
                }
                Body::ProcedureKept { procedure, version, file } => {
                    let (procedure, file) = (procedure.clone(), file.clone());
                    procedures.push(OwnProcedure { procedure, version: *version, file, entry: entry.id });
                }
                Body::PersonNamed { name, role } => {
                    match people.iter_mut().find(|known| same_person(&known.name, name)) {
                        Some(known) => known.role = *role,
                        None => people.push(Person { name: name.clone(), role: *role }),
                    }
                }
                _ => {}
            }
        }
        Some(Self { id, details: details?, specification, instruments, runs, procedures, people })
    }

    /// The latest run of a procedure.
    #[must_use]
    pub fn latest_run(&self, procedure: &str) -> Option<&StartedRun> {
        self.runs.iter().rev().find(|started| started.procedure == procedure)
    }
}
