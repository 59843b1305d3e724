//! A check's value from an attempt's readings, and its verdict against the specification.

use crate::metrology::{
    Budget, Component, Estimate, Limits, Mark, Repeats, RepeatsNow, Rule, TapeClass, Verdict, half_step_uncertainty,
    in_unit, judge_by, limit_of_error_uncertainty, normalised_difference, scale,
};
use crate::procedure::attempt::Sets;
use crate::procedure::reckoned::{Around, reckoned};
use crate::procedure::{Check, Formula};
use crate::quantity::{Dimension, Quantity, Unit, step_to_print};
use crate::record::{Instrument, Specification, Units};

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
    /// The rule that it was judged by.
    pub rule: Rule,
    /// The drawing of the verdict.
    pub mark: Mark,
    /// What the uncertainty is made of.
    pub budget: Budget,
    /// By instrument, what its limit of error contributes to the value, signed: two values that share an instrument are not
    /// independent (JCGM 100:2008, 5.2.2). What no single instrument can answer for is in the budget alone.
    pub limits_of_error: Vec<(String, f64)>,
    /// How often each thing was read, where it is read off an instrument.
    pub repeats: Option<RepeatsNow>,
    /// Whether the value is a share of what two readers may differ (1: all of it), and no measure of the airframe.
    pub agreement: bool,
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
        Dimension::Mass => inch_pound_or_metric(units, Unit::Pound, Unit::Kilogram),
        Dimension::Force => inch_pound_or_metric(units, Unit::PoundForce, Unit::Decanewton),
        Dimension::Temperature => inch_pound_or_metric(units, Unit::Fahrenheit, Unit::Celsius),
        Dimension::Torque => inch_pound_or_metric(units, Unit::InchPoundForce, Unit::NewtonMetre),
        Dimension::Volume => inch_pound_or_metric(units, Unit::Gallon, Unit::Litre),
        Dimension::Count => Unit::One,
    }
}

const fn inch_pound_or_metric(units: Units, inch_pound: Unit, metric: Unit) -> Unit {
    match units {
        Units::Inches => inch_pound,
        Units::Millimetres => metric,
    }
}

/// Computes and judges a check; `None` while the attempt lacks a reading that the formula needs, or holds one of the wrong
/// dimension. `first_reader` is what a blind re-reading is held against, `other` gives another check's value.
pub(super) fn evaluate(
    check: &Check,
    attempt: Sets<'_>,
    specification: &Specification,
    units: Units,
    first_reader: &[Sets<'_>],
    other: &dyn Fn(&str) -> Option<CheckResult>,
) -> Option<CheckResult> {
    let unit = unit_of(check.dimension, units);
    let found = match &check.formula {
        Formula::Balance { plus, minus, error_cancels, zeroed } => {
            let method = Method { error_cancels: *error_cancels, zeroed: *zeroed };
            let found = group(attempt, plus, unit, method)?;
            if minus.is_empty() { found } else { found.less(group(attempt, minus, unit, method)?) }
        }
        Formula::Largest { slots } => largest(attempt, slots, unit)?,
        Formula::Reckoned(formula) => reckoned(formula, attempt, unit, &Around { specification, units, check: other })?,
        Formula::Agreement { .. } => {
            let value = disagreement(attempt, first_reader)?;
            Found { value, step: 0.01, ..Found::default() }
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
    let rule = rule_of(specification);
    let estimate = found.budget.estimate(found.value, unit);
    Some(CheckResult {
        estimate,
        step: step_to_print(found.step, unit),
        limits,
        verdict: judge_by(rule, estimate, limits),
        rule,
        mark: Mark::of(estimate, limits),
        budget: found.budget,
        limits_of_error: found.limits_of_error,
        repeats: found.repeats,
        agreement: matches!(check.formula, Formula::Agreement { .. }),
        source,
        sets: 1,
    })
}

/// The rule that the airframe's sheet chooses: a guard band unless it says "plainly".
pub(super) fn rule_of(specification: &Specification) -> Rule {
    if specification.words("acceptance") == Some("plainly") { Rule::Plain } else { Rule::Guarded }
}

#[derive(Clone, Copy)]
pub(super) struct Method {
    pub(super) error_cancels: bool,
    pub(super) zeroed: bool,
}

/// A value, what its uncertainty is made of, and how finely and how often it was read; all in one unit.
#[derive(Default)]
pub(super) struct Found {
    pub(super) value: f64,
    pub(super) step: f64,
    pub(super) budget: Budget,
    /// As [`CheckResult::limits_of_error`].
    pub(super) limits_of_error: Vec<(String, f64)>,
    pub(super) repeats: Option<RepeatsNow>,
}

impl Found {
    /// `self − other`, read independently: the lines of both budgets count.
    fn less(mut self, other: Self) -> Self {
        self.value -= other.value;
        self.step = self.step.max(other.step);
        self.budget.components.extend(other.budget.components);
        self.limits_of_error.clear();
        self
    }
}

/// Mean of several slots' medians. Graduation and display step do not average out over slots, so the largest of the slots'
/// uncertainties stands for all of them (readings of one thing round the same way).
pub(super) fn group(attempt: Sets<'_>, slots: &[String], unit: Unit, method: Method) -> Option<Found> {
    let mut sum = 0.0;
    let mut worst: Option<Repeats> = None;
    let (mut step, mut limit) = (0.0_f64, 0.0_f64);
    for slot in slots {
        let (repeats, slot_step, slot_limit) = repeats(attempt, slot, unit)?;
        sum += repeats.median();
        step = step.max(slot_step);
        limit = limit.max(slot_limit);
        if worst.as_ref().is_none_or(|worst| repeats.estimate(unit).expanded() > worst.estimate(unit).expanded()) {
            worst = Some(repeats);
        }
    }
    let worst = worst?;
    let mut components = vec![worst.component()];
    if method.zeroed {
        components.push(Component::zero_left(half_step_uncertainty(step)));
    }
    let mut limits_of_error = Vec::new();
    if !method.error_cancels {
        components.push(Component::limit_of_error(limit));
        limits_of_error.extend(only_instrument(attempt, slots).map(|name| (name, limit_of_error_uncertainty(limit))));
    }
    Some(Found {
        value: sum / slots.len() as f64,
        step: step / slots.len() as f64,
        budget: Budget { components },
        limits_of_error,
        repeats: Some(RepeatsNow { count: worst.count(), step }),
    })
}

/// The instrument that all of some slots were read with; `None` when there was more than one.
fn only_instrument(attempt: Sets<'_>, slots: &[String]) -> Option<String> {
    let mut names = slots.iter().flat_map(|slot| attempt.of(slot)).map(|reading| &reading.instrument.name);
    let first = names.next()?;
    names.all(|name| name == first).then(|| first.clone())
}

fn largest(attempt: Sets<'_>, slots: &[String], unit: Unit) -> Option<Found> {
    let mut found: Option<Found> = None;
    for slot in slots {
        let one = group(attempt, std::slice::from_ref(slot), unit, Method { error_cancels: true, zeroed: false })?;
        if found.as_ref().is_none_or(|best| one.value > best.value) {
            found = Some(one);
        }
    }
    found
}

/// The repeats of a slot, their step and the instrument's limit of error, all in `unit`.
pub(super) fn repeats(attempt: Sets<'_>, slot: &str, unit: Unit) -> Option<(Repeats, f64, f64)> {
    let mut values = Vec::new();
    let (mut step, mut limit) = (0.0_f64, 0.0_f64);
    for reading in attempt.of(slot) {
        values.push(in_unit(&reading.value, unit)?);
        let scale = scale(reading.value.unit, unit)?;
        step = step.max(reading.value.step * scale);
        limit = limit.max(limit_of_error(&reading.value, &reading.instrument) * scale);
    }
    Some((Repeats::new(values, step)?, step, limit))
}

/// An instrument's limit of error at a reading, in the reading's unit: by the class printed on it, from the hook on; or as its
/// card says.
fn limit_of_error(value: &Quantity, instrument: &Instrument) -> f64 {
    let by_class = instrument.class.and_then(|class| {
        let limit = TapeClass::from(class).limit_of_error(value.length()?.abs(), true)?;
        limit.in_unit(value.unit)
    });
    by_class.unwrap_or(instrument.accuracy)
}

/// How far two people's readings of the same things are apart, as a share of what they may be: the largest
/// [`normalised_difference`] of the medians over the slots that both read.
fn disagreement(second: Sets<'_>, first: &[Sets<'_>]) -> Option<f64> {
    let mut worst: Option<f64> = None;
    for &attempt in first {
        for slot in slots_of(attempt) {
            let Some(sample) = second.of(&slot).next() else { continue };
            let unit = sample.value.unit;
            let (one, step, _) = repeats(attempt, &slot, unit)?;
            let (two, other_step, _) = repeats(second, &slot, unit)?;
            let share = normalised_difference(one.estimate(unit), two.estimate(unit), step.max(other_step));
            worst = Some(worst.map_or(share, |so_far| so_far.max(share)));
        }
    }
    worst
}

fn slots_of(attempt: Sets<'_>) -> Vec<String> {
    let mut slots: Vec<String> = Vec::new();
    for reading in attempt.readings() {
        if !slots.contains(&reading.slot) {
            slots.push(reading.slot.clone());
        }
    }
    slots
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{AccuracyClass, InstrumentKind};

    /// Directive 2014/32/EU, annex X, chapter I: class II is 0.3 + 0.2·L mm with L rounded up to the metre, and 0.2 mm more from
    /// the hook: 1.7 mm at 5.78 m.
    #[test]
    fn a_tape_with_a_class_is_as_good_as_its_class_at_that_length() {
        let mut tape = Instrument::new(InstrumentKind::Tape, "tape".to_owned(), Unit::Millimetre, 1.0, 1.3);
        let read = Quantity::new(5780.0, Unit::Millimetre, 1.0);
        assert_eq!(limit_of_error(&read, &tape), 1.3, "as its card says");
        tape.class = Some(AccuracyClass::II);
        assert!((limit_of_error(&read, &tape) - 1.7).abs() < 1e-9);
    }
}
