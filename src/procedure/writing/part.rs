//! The parts of a procedure that is being written, and their names in addresses.

use std::fmt;
use std::str::FromStr;

use crate::procedure::{Procedure, Slot, Step, StepKind};

/// Where a step stands, counted from 0: among the steps, or inside a group of steps that is repeated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StepAt {
    /// The group, if it is inside one.
    pub group: Option<usize>,
    /// Its place there.
    pub place: usize,
}

/// A part of a procedure, by its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Title, purpose, tools, cautions.
    About,
    /// A number from the manual.
    Number(usize),
    /// An instrument.
    Instrument(usize),
    /// A quantity that is judged.
    Check(usize),
    /// Something that may be moved.
    Adjuster(usize),
    /// A group of steps that is repeated at several gates.
    Group(usize),
    /// A step.
    Step(StepAt),
    /// A reading of a step.
    Reading(StepAt, usize),
}

/// What can be added to a procedure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A number from the manual.
    Number,
    /// An instrument.
    Instrument,
    /// A quantity that is judged.
    Check,
    /// Something that may be moved.
    Adjuster,
    /// A group of steps.
    Group,
    /// A step, inside the group of this place if it names one.
    Step(Option<usize>),
    /// A reading of a step.
    Reading(StepAt),
}

impl StepAt {
    /// The step, while it is there.
    #[must_use]
    pub fn of(self, procedure: &Procedure) -> Option<&Step> {
        self.list(procedure)?.get(self.place)
    }

    pub(super) fn of_mut(self, procedure: &mut Procedure) -> Option<&mut Step> {
        steps_mut(procedure, self.group)?.get_mut(self.place)
    }

    fn list(self, procedure: &Procedure) -> Option<&Vec<Step>> {
        match self.group {
            None => Some(&procedure.steps),
            Some(group) => procedure.passes.get(group).map(|pass| &pass.steps),
        }
    }

    /// The step's readings; `None` for a step that is not measured.
    #[must_use]
    pub fn slots(self, procedure: &Procedure) -> Option<&Vec<Slot>> {
        match &self.of(procedure)?.kind {
            StepKind::Measure { slots, .. } => Some(slots),
            _ => None,
        }
    }

    pub(super) fn slots_mut(self, procedure: &mut Procedure) -> Option<&mut Vec<Slot>> {
        match &mut self.of_mut(procedure)?.kind {
            StepKind::Measure { slots, .. } => Some(slots),
            _ => None,
        }
    }
}

/// The steps of a group, or the procedure's own.
pub(super) fn steps_mut(procedure: &mut Procedure, group: Option<usize>) -> Option<&mut Vec<Step>> {
    match group {
        None => Some(&mut procedure.steps),
        Some(group) => procedure.passes.get_mut(group).map(|pass| &mut pass.steps),
    }
}

impl fmt::Display for StepAt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(group) = self.group {
            write!(f, "group-{group}-")?;
        }
        write!(f, "step-{}", self.place)
    }
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::About => f.write_str("about"),
            Self::Number(place) => write!(f, "number-{place}"),
            Self::Instrument(place) => write!(f, "instrument-{place}"),
            Self::Check(place) => write!(f, "check-{place}"),
            Self::Adjuster(place) => write!(f, "adjuster-{place}"),
            Self::Group(place) => write!(f, "group-{place}"),
            Self::Step(at) => at.fmt(f),
            Self::Reading(at, place) => write!(f, "{at}-reading-{place}"),
        }
    }
}

impl FromStr for Part {
    type Err = ();

    fn from_str(words: &str) -> Result<Self, ()> {
        let parts: Vec<&str> = words.split('-').collect();
        let number = |text: &str| text.parse::<usize>().map_err(|_| ());
        let step = |group: Option<&str>, place: &str| {
            Ok(StepAt { group: group.map(number).transpose()?, place: number(place)? })
        };
        Ok(match parts[..] {
            ["about"] => Self::About,
            ["number", place] => Self::Number(number(place)?),
            ["instrument", place] => Self::Instrument(number(place)?),
            ["check", place] => Self::Check(number(place)?),
            ["adjuster", place] => Self::Adjuster(number(place)?),
            ["group", place] => Self::Group(number(place)?),
            ["step", place] => Self::Step(step(None, place)?),
            ["group", group, "step", place] => Self::Step(step(Some(group), place)?),
            ["step", place, "reading", reading] => Self::Reading(step(None, place)?, number(reading)?),
            ["group", group, "step", place, "reading", reading] => {
                Self::Reading(step(Some(group), place)?, number(reading)?)
            }
            _ => return Err(()),
        })
    }
}
