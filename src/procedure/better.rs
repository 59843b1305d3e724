//! What would measure a check better: what would settle a "can't tell", and where two distances say little of an offset.

use crate::alignment::Diagonals;
use crate::metrology::{COVERAGE, Estimate, Heights, Limits, Situation, Verdict, half_step_uncertainty, settle};
use crate::procedure::{Adjuster, Check, CheckResult, Formula, LeverKind, words};
use crate::quantity::{Dimension, Length, Unit};
use crate::record::Airframe;

/// Half of a ten-foot bar clamped across the forward structure: the commonest way to move the forward points apart.
const LONG_BAR_HALF: Length = Length::from_millimetres(1524.0);

/// What to do, a sentence each, where the instrument is too weak for the tolerance.
pub(super) fn better(airframe: &Airframe, adjusters: &[&Adjuster], check: &Check, result: &CheckResult) -> Vec<String> {
    let unit = airframe.details.units.length();
    let mut advice = Vec::new();
    let rule = half_step_uncertainty(rule_step(unit));
    if let Some(pair) = diagonals(airframe, adjusters, result) {
        let offset = pair.lateral_offset();
        let limit = adjusters
            .iter()
            .find_map(|adjuster| match &adjuster.lever {
                LeverKind::Joint { offset, .. } => airframe.specification.item(offset),
                _ => None,
            })
            .and_then(|item| Limits::of(&item.value, unit)?.half_width());
        if !check.reads_tail_directly && limit.is_none_or(|limit| offset.expanded() > limit / 2.0) {
            let bar_half = LONG_BAR_HALF.in_unit(unit).unwrap_or_default();
            let bar = COVERAGE * pair.offset_uncertainty_with(bar_half);
            advice.push(words::tail_offset(offset, limit, pair.sensitivity()));
            advice.push(words::better_distances(bar, COVERAGE * rule, unit));
        }
    }
    if result.verdict == Verdict::CantTell {
        advice.extend(settling(airframe, adjusters, check, result));
        if advice.is_empty() {
            advice.push(words::measure_again(result));
        }
    }
    advice
}

/// What would settle a "can't tell", a sentence each, least effort first.
fn settling(airframe: &Airframe, adjusters: &[&Adjuster], check: &Check, result: &CheckResult) -> Vec<String> {
    let Some(limits) = result.limits else { return Vec::new() };
    let length_unit = airframe.details.units.length();
    let length = |key: &str| airframe.specification.nominal(key)?.length()?.in_unit(length_unit);
    let read_one_way = matches!(check.formula, Formula::Balance { error_cancels: false, .. });
    // Read straight off a protractor: what is worked out may be a turn that no height shows.
    let angle = check.dimension == Dimension::Angle && matches!(check.formula, Formula::Balance { .. });
    let over = adjusters.iter().filter_map(|adjuster| length(adjuster.base(&check.id)?)).reduce(f64::min);
    let heights = over.map(|base| Heights { base, step: rule_step(length_unit) });
    let situation = Situation {
        value: result.estimate.value,
        unit: result.estimate.unit,
        limits,
        budget: result.budget.clone(),
        length_unit,
        reversible: angle && read_one_way,
        repeats: result.repeats,
        base: match &check.formula {
            Formula::Reckoned(reckoned) => reckoned.longer().and_then(length),
            _ => None,
        },
        heights: heights.filter(|_| angle),
    };
    settle(&situation).into_iter().map(|settled| settled.sentence).collect()
}

/// What a rule at hand reads to, in its unit.
fn rule_step(unit: Unit) -> f64 {
    if unit == Unit::Inch { 1.0 / 32.0 } else { 0.5 }
}

/// The two distances behind a check that a joint corrects: the difference as measured, about the specified distance.
fn diagonals(airframe: &Airframe, adjusters: &[&Adjuster], result: &CheckResult) -> Option<Diagonals> {
    let unit = result.estimate.unit;
    adjusters.iter().find_map(|adjuster| {
        let LeverKind::Joint { half_width, distance, .. } = &adjuster.lever else { return None };
        let length = |key: &str| airframe.specification.nominal(key)?.length()?.in_unit(unit);
        let (half_width, distance) = (length(half_width)?, length(distance)?);
        let half = result.estimate.times(0.5);
        // Each tape reading carries 1/√2 of the difference's uncertainty.
        let u = result.estimate.u / 2_f64.sqrt();
        let left = Estimate { value: distance + half.value, u, ..result.estimate };
        let right = Estimate { value: distance - half.value, u, ..result.estimate };
        (half_width > 0.0).then_some(Diagonals { left, right, half_width })
    })
}
