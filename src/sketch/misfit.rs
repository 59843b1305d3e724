//! How far the assemblies are off, and how much larger that is drawn.

use crate::alignment::Diagonals;
use crate::language::{tr, words};
use crate::metrology::{Estimate, Limits};
use crate::procedure::{Check, CheckResult, Formula, LeverKind, Procedure, StepKind, StepState};
use crate::quantity::{Unit, print};
use crate::record::Airframe;

use super::{View, proportions};

/// What a check looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sense {
    /// Tail end high is plus, degrees.
    Pitch,
    /// Right side low is plus, degrees.
    Twist,
    /// Tail to the right is plus, a length.
    Lateral,
}

/// A misfit: a reading less what the sheet asks for.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Misfit {
    /// Signed as its [`Sense`]; degrees, or metres at the tail. Of a lateral misfit that only its sign is known of, ±∞.
    pub(super) off: f64,
    /// How far it may be off, in the same unit.
    pub(super) allowed: Option<f64>,
    /// Its amount: "0.30°", where it is known.
    pub(super) amount: Option<String>,
}

/// What a check looks at, by what may be moved for it.
pub(super) fn sense(procedure: &Procedure, check: &Check) -> Option<Sense> {
    let adjuster = check.adjusters.iter().find_map(|id| procedure.adjuster(id))?;
    Some(match adjuster.lever {
        LeverKind::Saddle { .. } | LeverKind::SlopingTube { .. } => Sense::Pitch,
        LeverKind::Rock { .. } => Sense::Twist,
        LeverKind::Joint { .. } => Sense::Lateral,
        LeverKind::Effects(_) => return None,
    })
}

/// The misfit that a step's drawing shows. Beside a reading it is that reading's own, so that no earlier value leads the eye;
/// beside a step that only says what to do it is the last that is still fresh anywhere in the run.
pub(super) fn misfit(view: &View<'_>, wanted: Sense) -> Option<Misfit> {
    let View { procedure, airframe, run, step, .. } = *view;
    let source =
        match &step.step.kind {
            StepKind::Measure { .. } => Some(step).filter(|step| fresh(step)),
            _ => run.steps.iter().filter(|step| fresh(step) && sense_of(procedure, step) == Some(wanted)).max_by_key(
                |step| step.attempt().and_then(|attempt| attempt.readings.last()).map(|reading| reading.entry),
            ),
        }?;
    let StepKind::Measure { check, .. } = &source.step.kind else { return None };
    let check = procedure.check(check).filter(|check| sense(procedure, check) == Some(wanted))?;
    of_result(procedure, airframe, check, source.result()?, wanted)
}

fn fresh(step: &StepState) -> bool {
    step.attempt().is_some_and(|attempt| attempt.complete && attempt.stale.is_none()) && step.result().is_some()
}

fn sense_of(procedure: &Procedure, step: &StepState) -> Option<Sense> {
    let StepKind::Measure { check, .. } = &step.step.kind else { return None };
    let check = procedure.check(check)?;
    if matches!(check.formula, Formula::Agreement { .. }) { None } else { sense(procedure, check) }
}

fn of_result(
    procedure: &Procedure,
    airframe: &Airframe,
    check: &Check,
    result: &CheckResult,
    sense: Sense,
) -> Option<Misfit> {
    let Estimate { value, unit, .. } = result.estimate;
    let nominal =
        check.judged_by.as_ref().and_then(|key| airframe.specification.nominal(key)).map(|nominal| nominal.value);
    let aim = result.limits.and_then(Limits::middle).or(nominal).or((sense != Sense::Pitch).then_some(0.0))?;
    let off = Some(value - aim).filter(|off| off.is_finite())?;
    let allowed = result.limits.and_then(Limits::half_width);
    match sense {
        Sense::Pitch | Sense::Twist => Some(Misfit { off, allowed, amount: Some(print(off.abs(), unit, result.step)) }),
        Sense::Lateral if check.reads_tail_directly => {
            let scale = metres(unit);
            Some(Misfit {
                off: off * scale,
                allowed: allowed.map(|by| by * scale),
                amount: Some(print(off.abs(), unit, result.step)),
            })
        }
        Sense::Lateral => Some(of_distances(procedure, airframe, off, allowed, unit)),
    }
}

/// The tail's offset behind a difference of two distances, e = (D_L² − D_R²) / 4a. See [`Diagonals`].
fn of_distances(
    procedure: &Procedure,
    airframe: &Airframe,
    difference: f64,
    allowed: Option<f64>,
    unit: Unit,
) -> Misfit {
    let sized = procedure.adjusters.iter().find_map(|adjuster| match &adjuster.lever {
        LeverKind::Joint { half_width, distance, offset, .. } => {
            Some((proportions::length(airframe, half_width)?, proportions::length(airframe, distance)?, offset))
        }
        _ => None,
    });
    let only_sign = || {
        let off = if difference == 0.0 { 0.0 } else { f64::INFINITY.copysign(difference) };
        Misfit { off, allowed: None, amount: None }
    };
    let Some((half_width, distance, offset)) = sized else { return only_sign() };
    let scale = metres(unit);
    let at = |value: f64| Estimate::new(value, 0.0, unit);
    let half = difference * scale / 2.0;
    let pair = Diagonals { left: at(distance + half), right: at(distance - half), half_width };
    let off = pair.lateral_offset().value;
    if !off.is_finite() {
        return only_sign();
    }
    let sheet = airframe.specification.item(offset).and_then(|item| Limits::of(&item.value, unit)?.half_width());
    let allowed = sheet.map(|by| by * scale).or(allowed.map(|by| by * scale * pair.sensitivity()));
    // Worth no more figures than the distances are.
    let step = if unit == Unit::Inch { 0.01 } else { 1.0 };
    Misfit { off, allowed, amount: Some(print(off.abs() / scale, unit, step)) }
}

pub(super) const fn metres(unit: Unit) -> f64 {
    if matches!(unit, Unit::Inch) { 0.0254 } else { 0.001 }
}

/// How a misfit is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Drawn {
    /// Its size on the drawing, signed.
    pub(super) size: f64,
    /// How many times larger than the rest; `None` where it had to be cut short or where only its sign is known.
    pub(super) times: Option<f64>,
}

const TIMES: [f64; 10] = [1000.0, 500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0];

/// Chooses how many times larger a misfit is drawn: what is allowed shows as about `clear`, and the misfit as no more than
/// `most`, both in the drawing's measure. `natural` is the drawing's measure of one unit of the misfit.
pub(super) fn exaggerate(misfit: &Misfit, natural: f64, clear: f64, most: f64) -> Drawn {
    let natural_size = misfit.off * natural;
    if !natural_size.is_finite() {
        return Drawn { size: most.copysign(misfit.off) * 0.5, times: None };
    }
    let scale_by = misfit.allowed.map_or(natural_size.abs(), |allowed| allowed * natural);
    let fits = |times: &f64| times * scale_by <= clear * 1.3 && times * natural_size.abs() <= most;
    match TIMES.into_iter().find(fits).or_else(|| TIMES.into_iter().find(|times| times * natural_size.abs() <= most)) {
        Some(times) => Drawn { size: natural_size * times, times: Some(times) },
        None => Drawn { size: natural_size.clamp(-most, most), times: None },
    }
}

/// "×20", or what stands there where a misfit is drawn by no scale.
pub(super) fn times_note(drawn: Option<Drawn>) -> Option<String> {
    let drawn = drawn.filter(|drawn| drawn.size != 0.0)?;
    Some(drawn.times.map_or_else(|| words!("not to scale").to_owned(), |times| format!("×{times:.0}")))
}

/// An amount for a drawing's title, and how much larger it is drawn: "3/8 in, drawn 20 times larger".
pub(super) fn drawn_amount(amount: &str, drawn: Drawn) -> String {
    match drawn.times {
        Some(times) if times > 1.0 => {
            tr!("{amount}, drawn {times} times larger", amount, times = format!("{times:.0}"))
        }
        _ => amount.to_owned(),
    }
}
