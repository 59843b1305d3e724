//! What earlier airframes of the same type say before the first move on this one.

use crate::alignment::{Earlier, Gain, from_earlier};
use crate::procedure::learning::lesson;
use crate::procedure::words::{order, precedent};
use crate::procedure::{Adjuster, LeverKind, Procedure, Run, State, StepKind, StepState, fold, of_run};
use crate::quantity::Quantity;
use crate::record::{Airframe, Ledger};

/// What earlier airframes of the type taught: how far checks answer when something is moved, and where supports came to rest.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Precedent {
    /// By check: the gain to begin with, and how many airframes it comes from.
    gains: Vec<(String, Gain, usize)>,
    /// By adjuster: how far from the set-up that the sheet describes, once everything was in; one for each airframe, in metres.
    rests: Vec<(String, Vec<f64>)>,
}

impl Precedent {
    /// What the other airframes of the record with the same type say, each by its latest run of the procedure: one's own and those
    /// that a file brought. An invented example teaches only invented ones.
    #[must_use]
    pub fn of(procedure: &Procedure, ledger: &Ledger, airframe: &Airframe) -> Self {
        let type_of = |airframe: &Airframe| airframe.details.model.trim().to_ascii_lowercase();
        let (model, invented) = (type_of(airframe), airframe.details.invented);
        let mut found = Self::default();
        let mut earlier: Vec<(String, Vec<Earlier>)> = Vec::new();
        for other in ledger.airframes() {
            if other.id == airframe.id || other.details.invented != invented || type_of(&other) != model {
                continue;
            }
            let Some(started) = other.latest_run(&procedure.id) else { continue };
            // Another version may mean something else by the same words.
            let same =
                |theirs: &Procedure| theirs.checks == procedure.checks && theirs.adjusters == procedure.adjusters;
            if !of_run(started).is_some_and(same) {
                continue;
            }
            let run = Run::without_advice(procedure, &other, started.run, &ledger.of_run(other.id, started.run));
            for check in &procedure.checks {
                if let Some(one) = seen(lesson(procedure, &other, &run, check, "").gain) {
                    at(&mut earlier, &check.id).push(one);
                }
            }
            for adjuster in procedure.adjusters.iter().filter(|adjuster| rested(adjuster, &run)) {
                at(&mut found.rests, &adjuster.id).push(run.moved(&adjuster.id).metres());
            }
        }
        found.gains = earlier.into_iter().map(|(check, all)| (check, from_earlier(&all), all.len())).collect();
        found
    }

    /// The gain of a check's adjusters before anything was moved here: geometry, where nothing is known.
    #[must_use]
    pub fn gain(&self, check: &str) -> Gain {
        self.gains.iter().find(|(known, ..)| known == check).map_or(Gain::FROM_GEOMETRY, |(_, gain, _)| *gain)
    }

    /// The same in words, where something is known.
    #[must_use]
    pub fn words(&self, check: &str) -> Option<String> {
        self.gains.iter().find(|(known, ..)| known == check).map(|(_, gain, count)| precedent(*count, gain.ratio))
    }

    /// Where to set each support to begin with, an order each: for the last step before the first reading that can be corrected.
    #[must_use]
    pub fn starts(&self, procedure: &Procedure, airframe: &Airframe, run: &Run, path: &str) -> Vec<String> {
        if last_before_reading(procedure, run).is_none_or(|step| step.path != path) {
            return Vec::new();
        }
        let one = |(id, rests): &(String, Vec<f64>)| {
            let adjuster = procedure.adjuster(id)?;
            if !fold::applies(adjuster.only_if.as_ref(), airframe) {
                return None;
            }
            let counted = adjuster.settable.counted(airframe.details.units, &airframe.specification).ok()?;
            let (step, unit) = (counted.step, counted.unit);
            let steps = (middle(rests)? / counted.smallest().metres()).round();
            (steps != 0.0).then(|| order(adjuster, &Quantity::new(steps * step, unit, step)))
        };
        self.rests.iter().filter_map(one).collect()
    }
}

/// What the moves of one run saw by themselves: geometry, which every run begins with, taken out again. `None` when they saw
/// nothing.
fn seen(learned: Gain) -> Option<Earlier> {
    let prior = Gain::FROM_GEOMETRY;
    let (all, of_prior) = (learned.u.powi(-2), prior.u.powi(-2));
    let own = all - of_prior;
    (own > of_prior * 1e-9)
        .then(|| Earlier { gain: (learned.ratio * all - prior.ratio * of_prior) / own, variance: 1.0 / own })
}

/// Whether a support came to rest: what it serves was measured last and is in.
fn rested(adjuster: &Adjuster, run: &Run) -> bool {
    let serves = |step: &&StepState| {
        matches!(&step.step.kind, StepKind::Measure { check, .. } if adjuster.disturbs.contains(check))
            && !step.attempts.is_empty()
    };
    let mut served = run.steps.iter().filter(serves).peekable();
    !matches!(adjuster.lever, LeverKind::Joint { .. })
        && served.peek().is_some()
        && served.all(|step| step.state == State::Done && step.waits.accepted.is_none())
}

fn last_before_reading<'r>(procedure: &Procedure, run: &'r Run) -> Option<&'r StepState> {
    let corrected = |step: &StepState| match &step.step.kind {
        StepKind::Measure { check, .. } => procedure.check(check).is_some_and(|check| !check.adjusters.is_empty()),
        _ => false,
    };
    let first = run.steps.iter().position(corrected)?;
    run.steps[..first].iter().rfind(|step| step.step.kind == StepKind::Confirm)
}

fn at<'l, T>(list: &'l mut Vec<(String, Vec<T>)>, key: &str) -> &'l mut Vec<T> {
    let place = list.iter().position(|(known, _)| known == key).unwrap_or_else(|| {
        list.push((key.to_owned(), Vec::new()));
        list.len() - 1
    });
    &mut list[place].1
}

/// The median; of an even number, the mean of the middle two.
fn middle(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let half = sorted.len() / 2;
    let upper = sorted.get(half)?;
    Some(if sorted.len() % 2 == 1 { *upper } else { (sorted[half - 1] + upper) / 2.0 })
}
