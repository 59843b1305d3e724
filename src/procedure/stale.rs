//! What goes stale when something is moved, in the same run or in another one.

use crate::procedure::{Formula, Input, Procedure, StepKind, StepState, of_run};
use crate::record::{Airframe, EntryId, MovedAdjuster};

/// Something was moved in another run: what it disturbs here goes stale.
pub(super) fn stir(
    procedure: &Procedure,
    airframe: &Airframe,
    steps: &mut [StepState],
    moved: &MovedAdjuster,
    entry: EntryId,
) {
    if steps.iter().any(|step| !step.attempts.is_empty()) {
        make_stale(procedure, steps, &disturbed(procedure, airframe, moved), entry);
    }
}

/// Whether what was moved in another run makes anything stale in a run of this procedure.
#[must_use]
pub fn stirs(procedure: &Procedure, airframe: &Airframe, moved: &MovedAdjuster) -> bool {
    !disturbed(procedure, airframe, moved).is_empty()
}

/// The checks of this procedure that a move of another run disturbs.
fn disturbed(procedure: &Procedure, airframe: &Airframe, moved: &MovedAdjuster) -> Vec<String> {
    let other = airframe.runs.iter().find(|started| started.run == moved.run).and_then(of_run);
    let Some((other, adjuster)) = other.and_then(|other| Some((other, other.adjuster(&moved.adjuster)?))) else {
        return Vec::new();
    };
    if other.id == procedure.id {
        return adjuster.disturbs.clone();
    }
    let own = |disturbed: &String| disturbed.strip_prefix(&procedure.id)?.strip_prefix('/').map(str::to_owned);
    adjuster.disturbs.iter().filter_map(own).collect()
}

/// What was last measured of these checks went stale by an entry; and so did what was worked out from it.
pub(super) fn make_stale(procedure: &Procedure, steps: &mut [StepState], disturbed: &[String], entry: EntryId) {
    for step in steps.iter_mut() {
        let StepKind::Measure { check, .. } = &step.step.kind else { continue };
        let depends = disturbed.contains(check) || rereads(procedure, check, disturbed);
        if depends && let Some(attempt) = step.attempts.last_mut() {
            attempt.stale.get_or_insert(entry);
        }
    }
}

/// Whether a check goes stale with others: a blind re-reading with whatever it re-read, a reckoned one with what it draws on.
fn rereads(procedure: &Procedure, check: &str, disturbed: &[String]) -> bool {
    procedure.check(check).is_some_and(|check| match &check.formula {
        Formula::Agreement { .. } => !disturbed.is_empty(),
        Formula::Reckoned(reckoned) => {
            reckoned.from.values().any(|input| matches!(input, Input::Check(other) if disturbed.contains(other)))
        }
        _ => false,
    })
}
