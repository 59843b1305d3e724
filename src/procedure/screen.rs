//! What a step's screen shows: which of its faces is up.

use crate::procedure::{Run, Slot, State, StepKind, StepState};

/// The face of a step's screen.
#[derive(Clone, Debug, PartialEq)]
pub enum Face {
    /// A hold point before it is shut: its place, when known.
    Blocked(Option<usize>),
    /// Do it and say so.
    Confirm,
    /// Accept an instrument.
    Instrument(String),
    /// Somebody else has to take the phone.
    HandOver,
    /// Read a number: which, and the how many-th of its repeats (from 1) out of how many.
    Read {
        /// The slot.
        slot: Slot,
        /// From 1.
        repeat: usize,
        /// How many attempts there were before: a new attempt starts with an empty pad.
        attempt: usize,
    },
    /// All numbers are in: the verdict.
    Judged,
    /// Count things.
    Count {
        /// What they are.
        what: String,
        /// How many there are, by the specification's key.
        expected: String,
    },
    /// Mark holes on a map.
    Holes {
        /// What they are.
        what: String,
        /// What may be wrong with one.
        reasons: Vec<String>,
    },
    /// A hold point.
    Hold {
        /// What the signature says.
        statement: String,
    },
}

impl Face {
    /// The face of a step. `again`: the person asked to measure once more though nothing was moved. `reader`: who reads blind,
    /// once known.
    #[must_use]
    pub fn of(run: &Run, step: &StepState, again: bool, reader: Option<&str>) -> Self {
        if step.state == State::Blocked {
            return Self::Blocked(shut_before(run, step));
        }
        match &step.step.kind {
            StepKind::Confirm | StepKind::Pass { .. } => Self::Confirm,
            StepKind::Instrument(role) => Self::Instrument(role.clone()),
            StepKind::Count { what, expected } => Self::Count { what: what.clone(), expected: expected.clone() },
            StepKind::Holes { what, reasons, .. } => Self::Holes { what: what.clone(), reasons: reasons.clone() },
            StepKind::Hold { statement, .. } => Self::Hold { statement: statement.clone() },
            StepKind::Measure { slots, blind, .. } => {
                let fresh = step.attempt().is_some_and(|attempt| attempt.complete && attempt.stale.is_none());
                if fresh && !again {
                    return Self::Judged;
                }
                let begun = step.begun();
                if *blind && begun.is_none() && reader.is_none() {
                    return Self::HandOver;
                }
                let next = match begun {
                    Some(attempt) => attempt.next_slot(slots).map(|slot| (slot, attempt.of(&slot.id).count())),
                    None => slots.first().map(|slot| (slot, 0)),
                };
                let attempt = step.attempts.len() - usize::from(begun.is_some());
                next.map_or(Self::Judged, |(slot, taken)| Self::Read { slot: slot.clone(), repeat: taken + 1, attempt })
            }
        }
    }

    /// Whether earlier values and verdicts must stay off the screen: somebody is reading blind.
    #[must_use]
    pub fn hides(&self, step: &StepState) -> bool {
        matches!(step.step.kind, StepKind::Measure { blind: true, .. })
            && matches!(self, Self::HandOver | Self::Read { .. })
    }
}

fn shut_before(run: &Run, step: &StepState) -> Option<usize> {
    let place = run.place(&step.path)?;
    run.steps[..place].iter().position(|earlier| earlier.hold.as_ref().is_some_and(|hold| !hold.open()))
}
