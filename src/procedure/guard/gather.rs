//! What a run knows about the number that is asked for next.

use crate::metrology::{Limits, Repeats, half_step_uncertainty, in_unit, limit_of_error_uncertainty, scale};
use crate::procedure::guard::{Context, Expected, LastTyped, Source};
use crate::procedure::instruments::last_mode;
use crate::procedure::{Attempt, Check, CheckResult, Formula, Procedure, Run, Slot, StepKind, StepState, fill};
use crate::quantity::{Dimension, Unit};
use crate::record::{Airframe, Instrument};

/// How far off the sheet a structure is found before anything was adjusted: one standard deviation, in tolerances (a judgement).
const FOUND: f64 = 4.0;
/// The same for a length that has no tolerance, as a share of it: a diagonal's start, and what a builder rounds.
const FOUND_SHARE: f64 = 3e-4;

/// Lifting an instrument off and laying it on again, one standard deviation (a judgement): 0.04°, 1/64 in, 0.4 mm; of
/// anything else nothing but its step.
const fn laying(unit: Unit) -> f64 {
    match unit {
        Unit::Inch => 1.0 / 64.0,
        Unit::Millimetre => 0.4,
        Unit::Metre => 0.000_4,
        Unit::Degree => 0.04,
        _ => 0.0,
    }
}

/// What clamping and drilling move between two gates, and what a length without a tolerance is off by, one standard deviation (a
/// judgement; a re-check within 0.1° after drilling is usual, common practice): 0.15°, 1/16 in, 1.5 mm; one of anything
/// else.
const fn drift(unit: Unit) -> f64 {
    match unit {
        Unit::Inch => 1.0 / 16.0,
        Unit::Millimetre => 1.5,
        Unit::Metre => 0.001_5,
        Unit::Degree => 0.15,
        _ => 1.0,
    }
}

/// What is known about the next reading of a slot. While somebody reads blind, only the sheet and that person's own readings of
/// this set are known: nothing of the first reader's can show in a question.
#[must_use]
pub fn context_of(
    procedure: &Procedure,
    airframe: &Airframe,
    run: &Run,
    step: &StepState,
    slot: &Slot,
    instrument: &Instrument,
) -> Context {
    let (slots, check, blind) = match &step.step.kind {
        StepKind::Measure { slots, check, blind } => (slots.as_slice(), procedure.check(check), *blind),
        _ => (&[][..], None, false),
    };
    let assumed = half_step_uncertainty(instrument.step).hypot(laying(instrument.unit));
    let scatter = if blind { assumed } else { assumed.max(hands(run, &slot.role, instrument.unit)) };
    let known = Known { airframe, run, step, slots, check, instrument, now: step.begun(), blind, scatter };
    let partner = slot.partner.as_deref().and_then(|id| slots.iter().find(|other| other.id == id));
    Context {
        kind: instrument.kind,
        unit: instrument.unit,
        step: instrument.step,
        expected: known.expected(slot, partner),
        swapped: partner.and_then(|partner| known.swapped(slot, partner)),
        other_side: partner.map(|partner| fill(&partner.title, &airframe.specification)).unwrap_or_default(),
        question: slot.ask.as_ref().map(|ask| ask.question.clone()),
        last: known.last(slot),
        switched_to: instrument.mode.filter(|mode| last_mode(run, instrument).is_some_and(|last| last != *mode)),
    }
}

struct Known<'a> {
    airframe: &'a Airframe,
    run: &'a Run,
    step: &'a StepState,
    slots: &'a [Slot],
    check: Option<&'a Check>,
    instrument: &'a Instrument,
    /// The set that was begun.
    now: Option<&'a Attempt>,
    blind: bool,
    /// One reading's standard deviation: what the graduation hides and laying the instrument on again, or what these hands show.
    scatter: f64,
}

/// What the repeats of this run show of one reading's standard deviation, over every slot read with the role: the upper quartile of
/// the slots' own, so that one slip that was kept does not make everything believable; 0 before four slots were read twice.
fn hands(run: &Run, role: &str, unit: Unit) -> f64 {
    let mut shown = Vec::new();
    for step in &run.steps {
        let StepKind::Measure { slots, .. } = &step.step.kind else { continue };
        for slot in slots.iter().filter(|slot| slot.role == role && slot.repeats > 1) {
            let sets = step.attempts.iter().filter_map(|set| values(set, &slot.id, unit));
            shown.extend(sets.filter(|values| values.len() > 1).map(|values| deviation(&values)));
        }
    }
    shown.sort_by(f64::total_cmp);
    if shown.len() < 4 { 0.0 } else { shown[shown.len() * 3 / 4] }
}

/// A set's readings of a slot, in `unit`.
fn values(set: &Attempt, slot: &str, unit: Unit) -> Option<Vec<f64>> {
    set.of(slot).map(|reading| in_unit(&reading.value, unit)).collect()
}

/// The standard deviation of a few readings (JCGM 100:2008, 4.2.2); 0 of one.
fn deviation(values: &[f64]) -> f64 {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|value| (value - mean) * (value - mean)).sum();
    if n < 2.0 { 0.0 } else { (squares / (n - 1.0)).sqrt() }
}

impl Known<'_> {
    /// The sharpest of what is expected.
    fn expected(&self, slot: &Slot, partner: Option<&Slot>) -> Option<Expected> {
        let own = self.now.and_then(|now| self.seen(now, &slot.id));
        [
            own,
            self.earlier(&slot.id),
            self.difference(&slot.id, 1.0),
            self.other_way(slot),
            partner.and_then(|partner| self.other_side(slot, partner)),
            self.sheet(slot),
        ]
        .into_iter()
        .flatten()
        .min_by(|one, other| one.u.total_cmp(&other.u))
    }

    /// What a set says of a further reading of a slot: the median, give or take that reading's scatter and the median's own.
    fn seen(&self, set: &Attempt, slot: &str) -> Option<Expected> {
        let values = values(set, slot, self.instrument.unit)?;
        let one = self.scatter.max(deviation(&values));
        let repeats = Repeats::new(values, self.instrument.step)?;
        let n = repeats.count() as f64;
        Some(Expected { value: repeats.median(), u: one * (1.0 + 1.0 / n).sqrt(), source: Source::Repeats })
    }

    /// What an earlier set says of a slot: the last complete one of this step, carried over the moves made since when their effect
    /// is known; or else the one at the gate before, when nothing that it depends on was moved since.
    fn earlier(&self, slot: &str) -> Option<Expected> {
        if self.blind {
            return None;
        }
        let Some((set, result)) = self.last_complete() else { return self.gate_before(slot) };
        let seen = self.seen(set, slot)?;
        if set.stale.is_none() {
            return Some(seen.wider(self.scatter).from(Source::SetBefore));
        }
        let expected = self.step.expected?;
        let to_here = scale(expected.unit, self.instrument.unit)?;
        let change = (expected.value - result?.estimate.value) * to_here;
        let (share, open) = match self.side_of(slot)? {
            // How two sides share a change between them is not known: half each, give or take all of it.
            (side, true) => (side / 2.0, change.abs()),
            (side, false) => (side, 0.0),
        };
        let moved = Expected { value: seen.value + share * change, ..seen };
        Some(moved.wider(expected.u * to_here).wider(open).from(Source::Move))
    }

    /// The last complete set of this step, with its result.
    fn last_complete(&self) -> Option<(&Attempt, Option<&CheckResult>)> {
        let sets = self.step.attempts.iter().zip(&self.step.results);
        sets.rev().find(|(set, _)| set.complete).map(|(set, result)| (set, result.as_ref()))
    }

    fn gate_before(&self, slot: &str) -> Option<Expected> {
        let check = &self.check?.id;
        let place = self.run.place(&self.step.path)?;
        let earlier = self.run.steps[..place].iter().rev();
        let same =
            |step: &&StepState| matches!(&step.step.kind, StepKind::Measure { check: other, .. } if other == check);
        let set = earlier.filter(same).find_map(|step| step.attempts.iter().rfind(|set| set.complete))?;
        if set.stale.is_some() {
            return None;
        }
        Some(self.seen(set, slot)?.wider(drift(self.instrument.unit)).from(Source::GateBefore))
    }

    /// Once the other side of a difference was read in this set: those readings, and the difference that the moves should have
    /// left; with `sense` −1 its opposite.
    fn difference(&self, slot: &str, sense: f64) -> Option<Expected> {
        let expected = self.step.expected.filter(|_| !self.blind)?;
        let to_here = scale(expected.unit, self.instrument.unit)?;
        let (side, true) = self.side_of(slot)? else { return None };
        let Formula::Balance { plus, minus, .. } = &self.check?.formula else { return None };
        let others = if side > 0.0 { minus } else { plus };
        let seen: Vec<Expected> =
            others.iter().map(|other| self.seen(self.now?, other)).collect::<Option<Vec<Expected>>>()?;
        let mean = seen.iter().map(|seen| seen.value).sum::<f64>() / seen.len() as f64;
        let u = seen.iter().map(|seen| seen.u).fold(0.0, f64::max);
        let value = mean + side * sense * expected.value * to_here;
        // One way round alone still holds the instrument's own error, which the mean of both ways has lost.
        let one_way = if others.len() > 1 { limit_of_error_uncertainty(self.instrument.accuracy) } else { 0.0 };
        Some(Expected { value, u, source: Source::Move }.wider(expected.u * to_here).wider(one_way))
    }

    /// Whether a slot counts positive (1) or negative (−1) in its check, and whether the check is a difference of two sides.
    fn side_of(&self, slot: &str) -> Option<(f64, bool)> {
        let Formula::Balance { plus, minus, .. } = &self.check?.formula else { return None };
        let holds = |slots: &[String]| slots.iter().any(|known| known == slot);
        if holds(plus) { Some((1.0, !minus.is_empty())) } else { holds(minus).then_some((-1.0, true)) }
    }

    /// The same thing read the other way round: another slot of this set on the same side of the check, near the same number of
    /// the sheet. The instrument's own error comes in twice.
    fn other_way(&self, slot: &Slot) -> Option<Expected> {
        slot.near.as_ref()?;
        let (side, _) = self.side_of(&slot.id)?;
        let same = |other: &&Slot| {
            other.id != slot.id
                && other.near == slot.near
                && self.side_of(&other.id).is_some_and(|(its, _)| its == side)
        };
        let seen = self.slots.iter().filter(same).find_map(|other| self.seen(self.now?, &other.id))?;
        Some(seen.wider(2.0 * limit_of_error_uncertainty(self.instrument.accuracy)).from(Source::OtherWay))
    }

    /// The other side of the airframe, for a length that should be about the same on both.
    fn other_side(&self, slot: &Slot, partner: &Slot) -> Option<Expected> {
        let alike = slot.near.is_some() && slot.near == partner.near;
        let seen = self.seen(self.now.filter(|_| alike)?, &partner.id)?;
        Some(seen.wider(2.0 * self.found(seen.value)).from(Source::OtherSide))
    }

    /// What the sheet gives: of the slot's own item, or where there is none of the limit that its check's largest reading has.
    fn sheet(&self, slot: &Slot) -> Option<Expected> {
        let unit = self.instrument.unit;
        let key = slot.near.as_deref().or_else(|| self.check?.judged_by.as_deref().filter(|_| self.is_largest()))?;
        let item = &self.airframe.specification.item(key)?.value;
        let limits = Limits::of(item, unit);
        let (value, u, source) = match limits.map(|limits| (limits.lower, limits.upper)) {
            Some((Some(lower), None)) => (1.5 * lower, 0.5 * lower.abs(), Source::Limit),
            Some((None, Some(upper))) => (0.5 * upper, upper.abs(), Source::Limit),
            _ => {
                let nominal = in_unit(item.nominal.as_ref()?, unit)?;
                let half = limits.and_then(Limits::half_width).filter(|half| *half > 0.0);
                let broad = || if unit.dimension() == Dimension::Angle { 1.0 } else { self.found(nominal) };
                (nominal, half.map_or_else(broad, |half| FOUND * half), Source::Sheet)
            }
        };
        Some(Expected { value, u, source }.wider(self.scatter))
    }

    fn is_largest(&self) -> bool {
        self.check.is_some_and(|check| matches!(check.formula, Formula::Largest { .. }))
    }

    /// How far a length without a tolerance is off: a share of it, the trade's least, and half of what a whole number hides.
    fn found(&self, length: f64) -> f64 {
        let unit = self.instrument.unit;
        let rounded = if length.fract() == 0.0 { half_step_uncertainty(1.0) } else { 0.0 };
        (FOUND_SHARE * length).hypot(drift(unit)).hypot(rounded)
    }

    /// What would be read in this slot on the other side.
    fn swapped(&self, slot: &Slot, partner: &Slot) -> Option<Expected> {
        self.difference(&slot.id, -1.0).or_else(|| self.earlier(&partner.id))
    }

    /// The number typed last, when it was for another reading. Of a blind re-reading, only that person's own.
    fn last(&self, slot: &Slot) -> Option<LastTyped> {
        let all =
            |step: &'_ StepState| step.attempts.iter().flat_map(|set| &set.readings).map(|reading| reading.entry).max();
        let step = if self.blind { self.step } else { self.run.steps.iter().max_by_key(|step| all(step))? };
        let sets = if self.blind { self.now.as_slice() } else { &step.attempts.iter().collect::<Vec<_>>() };
        let reading = sets.iter().flat_map(|set| &set.readings).max_by_key(|reading| reading.entry)?;
        if step.path == self.step.path && reading.slot == slot.id {
            return None;
        }
        let StepKind::Measure { slots, .. } = &step.step.kind else { return None };
        let title = &slots.iter().find(|other| other.id == reading.slot)?.title;
        Some(LastTyped { value: reading.value.clone(), title: fill(title, &self.airframe.specification) })
    }
}
