//! Each attempt's value: consecutive sets with nothing moved in between count together.

use crate::procedure::{Attempt, Check, CheckResult, Formula, Procedure, StepKind, StepState, check};
use crate::record::Airframe;

/// Computes and judges every attempt at every measured step.
pub(super) fn judge_attempts(procedure: &Procedure, airframe: &Airframe, steps: &mut [StepState]) {
    for place in 0..steps.len() {
        let StepKind::Measure { check: id, .. } = &steps[place].step.kind else { continue };
        let Some(definition) = procedure.check(id) else { continue };
        let first: Vec<&Attempt> = first_reader(definition, steps);
        let results = (0..steps[place].attempts.len())
            .map(|last| {
                let (pooled, sets) = pooled(&steps[place].attempts[..=last], definition)?;
                let result =
                    check::evaluate(definition, &pooled, &airframe.specification, airframe.details.units, &first)?;
                Some(CheckResult { sets, ..result })
            })
            .collect();
        steps[place].results = results;
    }
}

/// The last of some attempts together with the complete ones right before it between which nothing was moved, and how many
/// they are. `None` while the last is not complete. Two people's readings are never thrown together.
fn pooled(attempts: &[Attempt], check: &Check) -> Option<(Attempt, usize)> {
    let (last, earlier) = attempts.split_last()?;
    if !last.complete {
        return None;
    }
    let together = match check.formula {
        Formula::Agreement { .. } => 0,
        _ => earlier.iter().rev().take_while(|attempt| attempt.complete && attempt.stale.is_none()).count(),
    };
    let mut pooled = Attempt { readings: Vec::new(), ..last.clone() };
    for attempt in &attempts[earlier.len() - together..] {
        pooled.readings.extend(attempt.readings.iter().cloned());
    }
    Some((pooled, together + 1))
}

/// The attempts that a blind re-reading is held against: the last complete ones of the steps that it names.
fn first_reader<'s>(check: &Check, steps: &'s [StepState]) -> Vec<&'s Attempt> {
    let Formula::Agreement { with } = &check.formula else { return Vec::new() };
    with.iter()
        .filter_map(|path| {
            steps.iter().find(|step| step.path == *path)?.attempts.iter().rfind(|attempt| attempt.complete)
        })
        .collect()
}
