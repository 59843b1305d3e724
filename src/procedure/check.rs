//! A check's value from an attempt's readings, and its verdict against the specification.

use crate::metrology::{
    Estimate, Limits, Mark, Repeats, Verdict, half_step_uncertainty, in_unit, judge, limit_of_error_uncertainty, scale,
};
use crate::procedure::{Attempt, Check, Formula};
use crate::quantity::{Dimension, Unit};
use crate::record::{Specification, Units};

/// A check as one attempt gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckResult {
    /// Value and uncertainty, in the unit that it is judged in.
    pub estimate: Estimate,
    /// The finest step that the value is worth printing to.
    pub step: f64,
    /// The limits that it was held against.
    pub limits: Option<Limits>,
    /// The verdict.
    pub verdict: Verdict,
    /// The drawing of the verdict.
    pub mark: Mark,
    /// Page and revision of the manual that the limits came from.
    pub source: String,
    /// How many sets of readings it was made from: consecutive attempts with nothing moved in between count together, so that
    /// measuring again refines the value instead of fishing for a better one.
    pub sets: usize,
}

/// The unit that a check is judged in on an airframe.
pub(super) const fn unit_of(dimension: Dimension, units: Units) -> Unit {
    match dimension {
        Dimension::Length => units.length(),
        Dimension::Angle => Unit::Degree,
        Dimension::Count => Unit::One,
    }
}

/// Computes and judges a check; `None` while the attempt lacks a reading that the formula needs, or holds one of the wrong
/// dimension. `first_reader` is what a blind re-reading is held against.
pub(super) fn evaluate(
    check: &Check,
    attempt: &Attempt,
    specification: &Specification,
    units: Units,
    first_reader: &[&Attempt],
) -> Option<CheckResult> {
    let unit = unit_of(check.dimension, units);
    let (estimate, step) = match &check.formula {
        Formula::Balance { plus, minus, error_cancels, zeroed } => {
            let method = Method { error_cancels: *error_cancels, zeroed: *zeroed };
            let (mut value, mut step) = group(attempt, plus, unit, method)?;
            if !minus.is_empty() {
                let (less, other_step) = group(attempt, minus, unit, method)?;
                value = value.minus(less);
                step = step.max(other_step);
            }
            (value, step)
        }
        Formula::Largest { slots } => largest(attempt, slots, unit)?,
        Formula::Agreement { .. } => {
            let share = disagreement(attempt, first_reader)?;
            (Estimate { value: share, u: 0.0, unit: Unit::One }, 0.01)
        }
    };
    let (limits, source) = match &check.formula {
        // More than 1: further apart than the two uncertainties allow.
        Formula::Agreement { .. } => (Some(Limits { lower: None, upper: Some(1.0), unit: Unit::One }), String::new()),
        _ => check
            .judged_by
            .as_deref()
            .and_then(|key| specification.item(key))
            .map_or_else(|| (None, String::new()), |item| (Limits::of(&item.value, unit), item.source.clone())),
    };
    Some(CheckResult {
        estimate,
        step,
        limits,
        verdict: judge(estimate, limits),
        mark: Mark::of(estimate, limits),
        source,
        sets: 1,
    })
}

#[derive(Clone, Copy)]
struct Method {
    error_cancels: bool,
    zeroed: bool,
}

/// Mean of several slots' medians. Graduation and display step do not average out over slots, so the largest of the slots'
/// uncertainties stands for all of them (readings of one thing round the same way).
fn group(attempt: &Attempt, slots: &[String], unit: Unit, method: Method) -> Option<(Estimate, f64)> {
    let mut sum = 0.0;
    let (mut u, mut step, mut limit) = (0.0_f64, 0.0_f64, 0.0_f64);
    for slot in slots {
        let (repeats, slot_step, slot_limit) = repeats(attempt, slot, unit)?;
        sum += repeats.median();
        u = u.max(repeats.standard_uncertainty());
        step = step.max(slot_step);
        limit = limit.max(slot_limit);
    }
    if method.zeroed {
        u = u.hypot(half_step_uncertainty(step));
    }
    if !method.error_cancels {
        u = u.hypot(limit_of_error_uncertainty(limit));
    }
    (!slots.is_empty()).then(|| (Estimate { value: sum / slots.len() as f64, u, unit }, step / slots.len() as f64))
}

fn largest(attempt: &Attempt, slots: &[String], unit: Unit) -> Option<(Estimate, f64)> {
    let mut found: Option<(Estimate, f64)> = None;
    for slot in slots {
        let one = group(attempt, std::slice::from_ref(slot), unit, Method { error_cancels: true, zeroed: false })?;
        if found.is_none_or(|(best, _)| one.0.value > best.value) {
            found = Some(one);
        }
    }
    found
}

fn repeats(attempt: &Attempt, slot: &str, unit: Unit) -> Option<(Repeats, f64, f64)> {
    let mut values = Vec::new();
    let (mut step, mut limit) = (0.0_f64, 0.0_f64);
    for reading in attempt.of(slot) {
        values.push(in_unit(&reading.value, unit)?);
        let scale = scale(reading.value.unit, unit)?;
        step = step.max(reading.value.step * scale);
        limit = limit.max(reading.instrument.accuracy * scale);
    }
    Some((Repeats::new(values, step)?, step, limit))
}

/// How far two people's readings of the same things are apart, as a share of what they may be: the largest over the slots that
/// both read of |median₁ − median₂| / U with U = 2·√(u₁² + u₂²), and never less than one graduation: two people may round to different lines.
fn disagreement(second: &Attempt, first: &[&Attempt]) -> Option<f64> {
    let mut worst: Option<f64> = None;
    for attempt in first {
        for slot in slots_of(attempt) {
            let Some(sample) = second.of(&slot).next() else { continue };
            let unit = sample.value.unit;
            let (one, step, _) = repeats(attempt, &slot, unit)?;
            let (two, other_step, _) = repeats(second, &slot, unit)?;
            let expanded = crate::metrology::COVERAGE * one.standard_uncertainty().hypot(two.standard_uncertainty());
            let allowed = expanded.max(step).max(other_step);
            let share = (one.median() - two.median()).abs() / allowed;
            worst = Some(worst.map_or(share, |so_far| so_far.max(share)));
        }
    }
    worst
}

fn slots_of(attempt: &Attempt) -> Vec<String> {
    let mut slots: Vec<String> = Vec::new();
    for reading in &attempt.readings {
        if !slots.contains(&reading.slot) {
            slots.push(reading.slot.clone());
        }
    }
    slots
}
