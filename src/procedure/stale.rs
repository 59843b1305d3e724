//! What goes stale when something is moved, in the same run or in another one.

use std::collections::{BTreeMap, BTreeSet};

use crate::procedure::{Formula, Input, Procedure, StepKind, StepState, of_run};
use crate::record::{Airframe, EntryId, MovedAdjuster, RunId, StartedRun};

/// What moves of other runs disturb in one that is folded. What a move disturbs follows from its run and adjuster: each is looked up once,
/// and looked at once between two entries of the run itself, since nothing goes stale a second time.
pub(super) struct Stirred<'e> {
    runs: BTreeMap<RunId, &'e StartedRun>,
    disturbed: BTreeMap<(RunId, &'e str), Vec<String>>,
    since: BTreeSet<(RunId, &'e str)>,
}

impl<'e> Stirred<'e> {
    pub(super) fn new(airframe: &'e Airframe) -> Self {
        let mut runs = BTreeMap::new();
        for started in &airframe.runs {
            runs.entry(started.run).or_insert(started);
        }
        Self { runs, disturbed: BTreeMap::new(), since: BTreeSet::new() }
    }

    /// An entry of the run itself: what was read may go stale again.
    pub(super) fn go_on(&mut self) {
        self.since.clear();
    }

    /// Something was moved in another run: what it disturbs here goes stale.
    pub(super) fn stir(
        &mut self,
        procedure: &Procedure,
        steps: &mut [StepState],
        moved: &'e MovedAdjuster,
        entry: EntryId,
    ) {
        let which = (moved.run, moved.adjuster.as_str());
        if !self.since.insert(which) {
            return;
        }
        let other = self.runs.get(&moved.run).copied();
        let disturbed = self.disturbed.entry(which).or_insert_with(|| disturbed(procedure, other, moved));
        make_stale(procedure, steps, disturbed, entry);
    }
}

/// Whether what was moved in another run makes anything stale in a run of this procedure.
#[must_use]
pub fn stirs(procedure: &Procedure, airframe: &Airframe, moved: &MovedAdjuster) -> bool {
    let other = airframe.runs.iter().find(|started| started.run == moved.run);
    !disturbed(procedure, other, moved).is_empty()
}

/// The checks of this procedure that a move of another run disturbs.
fn disturbed(procedure: &Procedure, other: Option<&StartedRun>, moved: &MovedAdjuster) -> Vec<String> {
    let Some((other, adjuster)) =
        other.and_then(of_run).and_then(|other| Some((other, other.adjuster(&moved.adjuster)?)))
    else {
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
