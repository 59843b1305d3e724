//! A check that one of the trade's closed forms gives: where its inputs come from, and its uncertainty from theirs.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::metrology::{
    Budget, Component, Estimate, RepeatsNow, Source, half_step_uncertainty, in_unit, limit_of_error_uncertainty, scale,
};
use crate::procedure::CheckResult;
use crate::procedure::attempt::Sets;
use crate::procedure::check::{Found, Method, group, repeats, unit_of};
use crate::procedure::specify::chart_of;
use crate::quantity::Unit;
use crate::record::{Specification, Units};
use crate::rigging::reckoning;

/// A closed form and where its inputs come from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reckoned {
    /// The id of the [`crate::rigging::Reckoning`].
    pub by: String,
    /// Each input's source, by the input's id. What is optional may be left out.
    pub from: BTreeMap<String, Input>,
    /// The instrument was zeroed on the part: one more display step.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub zeroed: bool,
    /// Inputs whose plus is the other way of the instrument than the others': tail end high against leading edge high, the display
    /// facing the same side. What the instrument is off counts against them with the opposite sign.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub opposed: Vec<String>,
    /// The input that is the length of a tool, a straightedge or a level, and may be longer: what is read at its end then counts for less.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub longer: Option<String>,
}

/// Where an input comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Input {
    /// A reading of the same step: the median of its repeats.
    Slot(String),
    /// Readings of one thing by the same step, taken different ways round: the mean.
    Mean(MeanOf),
    /// The nominal number of an item of the specification.
    Sheet(String),
    /// Another check's value: measured at the same gate, or last before.
    Check(String),
    /// What a chart of the specification gives.
    Chart(ChartAt),
}

/// Readings whose mean counts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeanOf {
    /// Their keys.
    pub of: Vec<String>,
    /// The instrument itself is turned end for end in between, so that what it is off drops out of the mean.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub turned: bool,
}

/// A chart, and where it is read.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChartAt {
    /// The item with the chart.
    pub sheet: String,
    /// The reading at which it is read.
    pub at: SlotOf,
}

/// A reading of the same step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SlotOf {
    /// Its key.
    pub slot: String,
}

impl Reckoned {
    /// Every reading of the same step that it needs.
    pub fn slots(&self) -> impl Iterator<Item = &str> {
        self.from
            .values()
            .flat_map(|input| match input {
                Input::Slot(slot) => std::slice::from_ref(slot),
                Input::Mean(mean) => mean.of.as_slice(),
                Input::Chart(chart) => std::slice::from_ref(&chart.at.slot),
                Input::Sheet(_) | Input::Check(_) => &[],
            })
            .map(String::as_str)
    }

    /// The item of the specification with the length of the tool that may be longer.
    pub fn longer(&self) -> Option<&str> {
        match self.from.get(self.longer.as_ref()?)? {
            Input::Sheet(item) => Some(item),
            _ => None,
        }
    }

    /// Every other check that it needs.
    pub fn checks(&self) -> impl Iterator<Item = &str> {
        self.from.values().filter_map(|input| match input {
            Input::Check(check) => Some(check.as_str()),
            _ => None,
        })
    }
}

/// What a reckoned check draws on besides its own readings.
pub(super) struct Around<'a> {
    /// The airframe's numbers.
    pub(super) specification: &'a Specification,
    /// The airframe's units.
    pub(super) units: Units,
    /// The value of another check as it was when this attempt was read.
    pub(super) check: &'a dyn Fn(&str) -> Option<CheckResult>,
}

/// Value and budget of a reckoned check in `unit`; `None` while an input is missing or the form has no answer.
///
/// Each input's own uncertainty counts by the change that it makes (JCGM 100:2008, 5.1.3, note 2). An instrument's limit of error
/// is one unknown for all that was read with it, here and in the checks that this one draws on: all those values are shifted together
/// (a correlation of ±1, JCGM 100:2008, 5.2.2), so that it drops out of a difference.
pub(super) fn reckoned(formula: &Reckoned, attempt: Sets<'_>, unit: Unit, around: &Around<'_>) -> Option<Found> {
    let form = reckoning(&formula.by)?;
    let mut given: Vec<Option<Estimate>> = Vec::with_capacity(form.given.len());
    let mut lines = Vec::new();
    let mut limits: Vec<(String, Vec<(usize, f64)>)> = Vec::new();
    let (mut finest, mut count) = (0.0_f64, None);
    let worked_out = formula.slots().next().is_none();
    for (place, wanted) in form.given.iter().enumerate() {
        let Some(source) = formula.from.get(wanted.id) else {
            given.push(None);
            continue;
        };
        let input = input(source, attempt, around)?;
        let way = if formula.opposed.iter().any(|opposed| opposed == wanted.id) { -1.0 } else { 1.0 };
        for (name, limit) in input.limits {
            match limits.iter_mut().find(|(known, _)| *known == name) {
                Some((_, places)) => places.push((place, way * limit)),
                None => limits.push((name, vec![(place, way * limit)])),
            }
        }
        if let Some(read) = input.repeats {
            count = Some(count.map_or(read, |least: usize| least.min(read)));
        }
        // How fine a value is worth printing, the step's own readings say where there are any.
        let step = if worked_out || !matches!(source, Input::Check(_)) { input.step } else { 0.0 };
        lines.push((place, input.component, step));
        given.push(Some(Estimate { u: 0.0, ..input.value }));
    }
    let value = form.reckon(&given).ok()?;
    let to_unit = scale(value.unit, unit)?;
    let shifted = |by: &[(usize, f64)]| -> Option<f64> {
        let mut given = given.clone();
        for (place, by) in by {
            let input = given[*place].as_mut()?;
            input.value += by;
        }
        Some((form.reckon(&given).ok()?.value - value.value) * to_unit)
    };
    let mut components = Vec::new();
    for (place, component, step) in lines {
        if step > 0.0 {
            finest = finest.max(shifted(&[(place, step)]).unwrap_or_default().abs());
        }
        if component.u > 0.0 {
            let contribution = shifted(&[(place, component.u)])?.abs();
            components.push(Component { u: contribution, sensitivity: 1.0, ..component });
        }
    }
    let mut limits_of_error = Vec::new();
    for (name, places) in limits {
        let contribution = shifted(&places)?;
        if contribution.abs() > 1e-12 {
            components.push(Component::known(Source::LimitOfError, contribution.abs()));
            limits_of_error.push((name, contribution));
        }
    }
    if formula.zeroed {
        components.push(Component::zero_left(half_step_uncertainty(finest)));
    }
    let value = value.value * to_unit;
    let repeats = count.map(|count| RepeatsNow { count, step: finest });
    Some(Found { value, step: finest, budget: Budget { components }, limits_of_error, repeats })
}

struct Given {
    value: Estimate,
    component: Component,
    /// Graduation or display step.
    step: f64,
    /// What each instrument's limit of error does to it, as a standard uncertainty, signed.
    limits: Vec<(String, f64)>,
    /// How often it was read.
    repeats: Option<usize>,
}

impl Given {
    /// Worked out before, by readings that most of its doubt comes from, or known without any.
    fn known(value: Estimate, budget: &Budget) -> Self {
        let read = budget.components.iter().filter(|component| component.source != Source::LimitOfError);
        let most = read.max_by(|one, other| one.contribution().total_cmp(&other.contribution()));
        let source = most.map_or(Source::Repeats, |most| most.source.clone());
        let component = Component { source, u: value.u, dof: value.dof, sensitivity: 1.0 };
        Self { value, component, step: 0.0, limits: Vec::new(), repeats: None }
    }
}

/// A value's uncertainty without its instruments' limits of error. Those are taken as known: what is left keeps
/// Σ uᵢ⁴ / νᵢ of the Welch and Satterthwaite formula (JCGM 100:2008, eq. G.2b).
fn without(estimate: Estimate, limits: &[(String, f64)]) -> Estimate {
    let shared: f64 = limits.iter().map(|(_, limit)| limit * limit).sum();
    let u = estimate.u.mul_add(estimate.u, -shared).max(0.0).sqrt();
    let dof = if u > 0.0 { estimate.dof * (u / estimate.u).powi(4) } else { f64::INFINITY };
    Estimate { u, dof, ..estimate }
}

fn input(source: &Input, attempt: Sets<'_>, around: &Around<'_>) -> Option<Given> {
    match source {
        Input::Slot(slot) => {
            let sample = attempt.of(slot).next()?;
            let unit = unit_of(sample.value.unit.dimension(), around.units);
            let (repeats, step, limit) = repeats(attempt, slot, unit)?;
            let value = Estimate::new(repeats.median(), 0.0, unit);
            let limits = vec![(sample.instrument.name.clone(), limit_of_error_uncertainty(limit))];
            Some(Given { value, component: repeats.component(), step, limits, repeats: Some(repeats.count()) })
        }
        Input::Mean(mean) => {
            let sample = attempt.of(mean.of.first()?).next()?;
            let unit = unit_of(sample.value.unit.dimension(), around.units);
            let found = group(attempt, &mean.of, unit, Method { error_cancels: mean.turned, zeroed: false })?;
            let estimate = found.budget.estimate(found.value, unit);
            let (step, repeats) = (found.step, found.repeats.map(|repeats| repeats.count));
            let known = Given::known(without(estimate, &found.limits_of_error), &found.budget);
            Some(Given { step, limits: found.limits_of_error, repeats, ..known })
        }
        Input::Sheet(key) => {
            let nominal = around.specification.nominal(key)?;
            let unit = unit_of(nominal.unit.dimension(), around.units);
            Some(Given::known(Estimate::new(in_unit(nominal, unit)?, 0.0, unit), &Budget::default()))
        }
        Input::Check(check) => {
            let CheckResult { estimate, limits_of_error, budget, step, .. } = (around.check)(check)?;
            let known = Given::known(without(estimate, &limits_of_error), &budget);
            Some(Given { step, limits: limits_of_error, ..known })
        }
        Input::Chart(chart) => {
            let at = input(&Input::Slot(chart.at.slot.clone()), attempt, around)?;
            let (drawn, unit) = chart_of(around.specification.words(&chart.sheet)?, around.units)?;
            let target = |by: f64| drawn.target(Estimate { value: at.value.value + by, ..at.value });
            let value = target(0.0).ok()?;
            // The thermometer's limit of error has nothing to do with the tensiometer's: it counts by itself.
            let u = at.limits.iter().fold(at.component.u, |sum, (_, limit)| sum.hypot(*limit));
            // Beyond the chart's end there is no answer; the side that has one gives the slope there.
            let by = target(u).or_else(|_| target(-u)).map_or(0.0, |beside| (beside - value).abs());
            let component = Component { u: by, ..at.component };
            let value = Estimate::new(value, 0.0, unit);
            Some(Given { value, component, step: 0.0, limits: Vec::new(), repeats: None })
        }
    }
}
