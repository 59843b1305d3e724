//! What the moves made so far have taught about a check's adjusters.

use crate::alignment::{Gain, geometric_change};
use crate::metrology::Estimate;
use crate::procedure::levers::{SinceSetUp, along_lever, lever_of};
use crate::procedure::{Adjuster, Check, CheckResult, Moved, Procedure, Run, StepKind, StepState, fold};
use crate::quantity::{Angle, Length, Unit};
use crate::record::{Airframe, EntryId};

/// How the check answered the last move, when that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Response {
    /// What geometry predicted, in the check's unit.
    pub(super) predicted: f64,
    /// What was seen.
    pub(super) seen: f64,
    /// Whether the ratio is believable.
    pub(super) believable: bool,
}

/// What is known about a check's adjusters now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lesson {
    /// Real effect to geometric effect.
    pub(super) gain: Gain,
    /// How far things have come since the set-up that the specification describes.
    pub(super) since: SinceSetUp,
    /// The answer to the last move of the step asked about.
    pub(super) last: Option<Response>,
}

/// Goes through every pair of attempts with a move in between, at every gate, oldest first.
pub(super) fn lesson(procedure: &Procedure, airframe: &Airframe, run: &Run, check: &Check, path: &str) -> Lesson {
    let disturbing: Vec<&Moved> =
        run.moves.iter().filter(|moved| disturbs(procedure, &moved.adjuster, &check.id)).collect();
    let slid = Slid::of(run, check);
    let mut gain = run.precedent.gain(&check.id);
    let mut last = None;
    let mut first_value = None;
    let mut now = 0.0;
    for step in run.steps.iter().filter(|step| measures(step, &check.id)) {
        // The set before the last move, and whether what that move did was learned: read once more, it is the answer to the same move.
        let mut counted: Option<(usize, bool)> = None;
        let complete: Vec<(Span, &CheckResult)> = complete_attempts(step).collect();
        for (place, (span, result)) in complete.iter().enumerate() {
            let first = *first_value.get_or_insert(result.estimate.value);
            now = result.estimate.value;
            let Some(latest) = place.checked_sub(1) else { continue };
            let moved_by = |entry: EntryId| disturbing.partition_point(|moved| moved.entry <= entry);
            let to = disturbing.partition_point(|moved| moved.entry < span.start);
            if moved_by(complete[latest].0.end) < to {
                counted = Some((latest, false));
            }
            let Some((base, learned)) = counted else { continue };
            let (before_span, before) = &complete[base];
            let from = moved_by(before_span.end).min(to);
            let since = SinceSetUp {
                slid: slid.before(before_span.end),
                turned: turned(before.estimate.unit, before.estimate.value - first),
            };
            let predicted = predict(procedure, airframe, check, &disturbing[from..to], since, before.estimate.unit);
            let response = predicted.filter(|predicted| *predicted != 0.0).map(|predicted| {
                let seen = result.estimate.minus(before.estimate);
                let believable = Gain::believable(predicted, seen.value, seen.u, result.step);
                if believable && !learned {
                    gain = gain.learn(predicted, seen.value, seen.u);
                    counted = Some((base, true));
                }
                Response { predicted, seen: seen.value, believable }
            });
            if step.path == path {
                last = response;
            }
        }
    }
    let unit = super::check::unit_of(check.dimension, airframe.details.units);
    let turned = first_value.map_or(Angle::ZERO, |first| turned(unit, now - first));
    Lesson { gain, since: SinceSetUp { slid: slid.in_all(), turned }, last }
}

/// What a check that went stale should read now: its last value, and what the moves made since should have done to it with
/// the gain learned so far. `None` when it is not stale, or when something was moved whose effect on it is not known.
pub(super) fn expected(
    procedure: &Procedure,
    airframe: &Airframe,
    run: &Run,
    check: &Check,
    step: &StepState,
) -> Option<Estimate> {
    let (span, before) = complete_attempts(step).last()?;
    let lesson = lesson(procedure, airframe, run, check, &step.path);
    let moves: Vec<&Moved> = run
        .moves
        .iter()
        .filter(|moved| moved.entry > span.end && disturbs(procedure, &moved.adjuster, &check.id))
        .collect();
    let mut since = lesson.since;
    for moved in &moves {
        since.slid -= moved.length;
    }
    let change = predict(procedure, airframe, check, &moves, since, before.estimate.unit)?;
    let widened = before.estimate.widened(lesson.gain.u * change, f64::INFINITY);
    Some(Estimate { value: widened.value + lesson.gain.ratio * change, ..widened })
}

/// First and last reading of an attempt.
struct Span {
    start: EntryId,
    end: EntryId,
}

fn complete_attempts(step: &StepState) -> impl Iterator<Item = (Span, &CheckResult)> {
    step.attempts.iter().zip(&step.results).filter_map(|(attempt, result)| {
        let span = Span { start: attempt.readings.first()?.entry, end: attempt.readings.last()?.entry };
        Some((span, result.as_ref()?))
    })
}

fn measures(step: &StepState, id: &str) -> bool {
    matches!(&step.step.kind, StepKind::Measure { check, .. } if check == id)
}

fn disturbs(procedure: &Procedure, adjuster: &str, check: &str) -> bool {
    procedure.adjuster(adjuster).is_some_and(|adjuster| adjuster.disturbs.iter().any(|disturbed| disturbed == check))
}

/// How far the check's own adjusters have been moved in all, after each of their moves. Entries are folded in their order, so the moves are
/// in it too.
struct Slid(Vec<(EntryId, Length)>);

impl Slid {
    fn of(run: &Run, check: &Check) -> Self {
        let mut sum = Length::ZERO;
        let own = run.moves.iter().filter(|moved| check.adjusters.contains(&moved.adjuster));
        Self(
            own.map(|moved| {
                sum += moved.length;
                (moved.entry, sum)
            })
            .collect(),
        )
    }

    fn before(&self, entry: EntryId) -> Length {
        let moves = self.0.partition_point(|(moved, _)| *moved < entry);
        moves.checked_sub(1).map_or(Length::ZERO, |last| self.0[last].1)
    }

    fn in_all(&self) -> Length {
        self.0.last().map_or(Length::ZERO, |(_, sum)| *sum)
    }
}

fn turned(unit: Unit, degrees: f64) -> Angle {
    if unit == Unit::Degree { Angle::from_degrees(degrees) } else { Angle::ZERO }
}

/// What geometry says of several moves one after the other; `None` when one of them was not of the check's own adjusters (its
/// effect on this check is not known) or lacks a number.
fn predict(
    procedure: &Procedure,
    airframe: &Airframe,
    check: &Check,
    moves: &[&Moved],
    mut since: SinceSetUp,
    unit: Unit,
) -> Option<f64> {
    let mut sum = 0.0;
    for moved in moves {
        let adjuster = own_adjuster(procedure, airframe, check, &moved.adjuster)?;
        let lever = lever_of(check, adjuster, &airframe.specification, since).ok()?;
        let change = geometric_change(lever, along_lever(adjuster, &check.id, moved.length), unit)?;
        sum += change;
        since.slid += moved.length;
        since.turned += turned(unit, change);
    }
    (!moves.is_empty()).then_some(sum)
}

fn own_adjuster<'p>(procedure: &'p Procedure, airframe: &Airframe, check: &Check, id: &str) -> Option<&'p Adjuster> {
    let adjuster = procedure.adjuster(id)?;
    (check.adjusters.contains(&adjuster.id) && fold::applies(adjuster.only_if.as_ref(), airframe)).then_some(adjuster)
}
