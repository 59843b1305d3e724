//! A move that was written down and not made: taken back while nothing was done since.

use crate::language::{tr, words};
use crate::procedure::{Moved, Procedure, Run, StepKind, StepState, words};
use crate::record::EntryId;

/// The reason with which a move is struck out that was not made.
#[must_use]
pub fn not_moved() -> &'static str {
    words!("It was not moved")
}

/// A move that may still be taken back with one tap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FreshMove {
    /// Its entry, to be struck out.
    pub entry: EntryId,
    /// What was written down: "Written down: Raise the saddle 5/8 in."
    pub words: String,
}

/// The last move of a run, as long as nothing of the run is younger than it: no reading, no confirmation, no count, no signature.
/// Afterwards somebody has relied on it, and only the record takes it back.
#[must_use]
pub fn fresh_move(procedure: &Procedure, run: &Run) -> Option<FreshMove> {
    let last: &Moved = run.moves.last()?;
    if run.steps.iter().any(|step| youngest(step) > Some(last.entry)) {
        return None;
    }
    let order = words::order(procedure.adjuster(&last.adjuster)?, &last.amount);
    Some(FreshMove { entry: last.entry, words: tr!("Written down: {order}.", order) })
}

/// The youngest entry of a step. An instrument belongs to the airframe: accepting one answers no move.
fn youngest(step: &StepState) -> Option<EntryId> {
    let read = step.attempt().and_then(|attempt| attempt.readings.last()).map(|reading| reading.entry);
    let done = step.by.as_ref().map(|(_, entry)| *entry);
    read.max(done.filter(|_| !matches!(step.step.kind, StepKind::Instrument(_))))
}
