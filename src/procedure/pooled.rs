//! Each attempt's value: consecutive sets with nothing moved in between count together.

use crate::procedure::attempt::Sets;
use crate::procedure::{Attempt, Check, CheckResult, Formula, Procedure, StepKind, StepState, check};
use crate::record::{Airframe, EntryId};

/// Computes and judges every attempt at every measured step.
pub(super) fn judge_attempts(procedure: &Procedure, airframe: &Airframe, steps: &mut [StepState]) {
    for place in 0..steps.len() {
        let StepKind::Measure { check: id, slots, .. } = &steps[place].step.kind else { continue };
        let Some(definition) = procedure.check(id) else { continue };
        if slots.is_empty() {
            work_out(definition, airframe, steps, place);
            continue;
        }
        leans_on_the_stale(definition, steps, place);
        let first: Vec<Sets<'_>> = first_reader(definition, steps);
        let results = (0..steps[place].attempts.len())
            .map(|last| {
                let pooled = pooled(&steps[place].attempts[..=last], definition)?;
                let by = pooled.readings().last()?.entry;
                let other = |id: &str| other_check(steps, place, id, by).map(|(_, result)| result.clone());
                let units = airframe.details.units;
                let result = check::evaluate(definition, pooled, &airframe.specification, units, &first, &other)?;
                Some(CheckResult { sets: pooled.0.len(), ..result })
            })
            .collect();
        steps[place].results = results;
    }
}

/// Sets that count together at most: a seventh changes little, and a check that is measured a thousand times must not take a
/// thousand times a thousand steps.
const MOST_SETS: usize = 6;

/// Judges a check that takes no reading of its own, as soon as the last attempts at all that it draws on are complete: at the nearest
/// step before this one for each, never at an earlier gate. It is as stale as they are.
fn work_out(definition: &Check, airframe: &Airframe, steps: &mut [StepState], place: usize) {
    let Formula::Reckoned(formula) = &definition.formula else { return };
    let nearest = |id: &str| {
        let step = steps[..place].iter().rev().find(|step| measures(step, id))?;
        Some((step.attempt()?.stale, step.result()?))
    };
    let mut stale = None;
    for id in formula.checks() {
        let Some((input_stale, _)) = nearest(id) else { return };
        stale = stale.max(input_stale);
    }
    let other = |id: &str| nearest(id).map(|(_, result)| result.clone());
    let (sheet, units) = (&airframe.specification, airframe.details.units);
    let Some(result) = check::evaluate(definition, Sets(&[]), sheet, units, &[], &other) else { return };
    steps[place].attempts = vec![Attempt { readings: Vec::new(), complete: true, stale }];
    steps[place].results = vec![Some(result)];
}

fn measures(step: &StepState, id: &str) -> bool {
    matches!(&step.step.kind, StepKind::Measure { check, .. } if check == id)
}

/// What was read against another check's value after something had moved that check is stale from the start: a slope counted from a
/// datum that nobody has read again. What was moved together with its datum is left to the procedure.
fn leans_on_the_stale(definition: &Check, steps: &mut [StepState], place: usize) {
    let Formula::Reckoned(formula) = &definition.formula else { return };
    for number in 0..steps[place].attempts.len() {
        let attempt = &steps[place].attempts[number];
        let Some(by) = attempt.readings.last().map(|reading| reading.entry) else { continue };
        let moved_before = |id| other_check(steps, place, id, by)?.0.stale.filter(|moved| *moved < by);
        if let Some(moved) = formula.checks().find_map(moved_before).filter(|_| attempt.stale.is_none()) {
            steps[place].attempts[number].stale = Some(moved);
        }
    }
}

/// Another check as it was when something was read: its last attempt complete by then, at the nearest step up to `place`.
fn other_check<'s>(
    steps: &'s [StepState],
    place: usize,
    id: &str,
    by: EntryId,
) -> Option<(&'s Attempt, &'s CheckResult)> {
    steps[..place].iter().rev().filter(|step| measures(step, id)).find_map(|step| {
        let mut tries = step.attempts.iter().zip(&step.results);
        let (attempt, result) = tries.rfind(|(attempt, result)| {
            result.is_some() && attempt.readings.last().is_some_and(|reading| reading.entry < by)
        })?;
        Some((attempt, result.as_ref()?))
    })
}

/// The last of some attempts together with the complete ones right before it between which nothing was moved. `None` while the last
/// is not complete. Two people's readings are never thrown together.
fn pooled<'a>(attempts: &'a [Attempt], check: &Check) -> Option<Sets<'a>> {
    let (last, earlier) = attempts.split_last()?;
    if !last.complete {
        return None;
    }
    let fresh = |attempt: &&Attempt| attempt.complete && attempt.stale.is_none();
    let together = match check.formula {
        Formula::Agreement { .. } => 0,
        _ => earlier.iter().rev().take(MOST_SETS - 1).take_while(fresh).count(),
    };
    Some(Sets(&attempts[earlier.len() - together..]))
}

/// The attempts that a blind re-reading is held against: the last complete ones of the steps that it names.
fn first_reader<'s>(check: &Check, steps: &'s [StepState]) -> Vec<Sets<'s>> {
    let Formula::Agreement { with } = &check.formula else { return Vec::new() };
    with.iter()
        .filter_map(|path| {
            let step = steps.iter().find(|step| step.path == *path)?;
            let last = step.attempts.iter().rfind(|attempt| attempt.complete)?;
            Some(Sets(std::slice::from_ref(last)))
        })
        .collect()
}
