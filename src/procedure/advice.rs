//! What to do about a check: what its reading means, what to move, what would measure it better.

use crate::alignment::{JointGaps, Lever, Proposal, SideGap, propose_shared, share_between_sides};
use crate::language::tr;
use crate::metrology::{Estimate, Limits, Verdict, in_unit};
use crate::procedure::better::better;
use crate::procedure::learning::Lesson;
use crate::procedure::levers::{along_lever, lever_of};
use crate::procedure::{Adjuster, Check, CheckResult, Counted, Effects, Fit, LeverKind, Procedure, Run, fold, words};
use crate::quantity::{Length, ParseError, Quantity, Unit, parse};
use crate::record::{Airframe, Side};

/// One adjuster's part of a correction.
#[derive(Clone, Debug, PartialEq)]
pub struct ProposedMove {
    /// The adjuster's key.
    pub adjuster: String,
    /// How far, signed along its positive direction, in whole settable steps of the airframe's unit.
    pub amount: Quantity,
    /// The order: "Slide the block aft 3/4 in".
    pub order: String,
}

impl ProposedMove {
    /// What was moved when it was not exactly what was asked: an amount as typed, counted the way of the order. A minus means
    /// the other way.
    ///
    /// # Errors
    /// When the text is not a length in the order's unit.
    pub fn instead(&self, typed: &str) -> Result<Quantity, ParseError> {
        let moved = parse(typed, self.amount.unit, self.amount.step)?;
        let way = if self.amount.value < 0.0 { -1.0 } else { 1.0 };
        Ok(Quantity::new(way * moved.value, moved.unit, moved.step))
    }
}

/// A correction: what to move, which way, how far, and what the next reading should be.
#[derive(Clone, Debug, PartialEq)]
pub struct Correction {
    /// In the order in which to do them.
    pub moves: Vec<ProposedMove>,
    /// What the check should read afterwards.
    pub predicted: Estimate,
    /// The finest step that the prediction is worth printing to.
    pub step: f64,
    /// Titles of the checks that go stale with it.
    pub stale: Vec<String>,
    /// What the other checks that were read should be afterwards, a sentence each.
    pub others: Vec<String>,
    /// What earlier airframes of the type have to do with the amount, while nothing was moved on this one.
    pub precedent: Option<String>,
}

/// What to do about a check. Any of these may be there together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Advice {
    /// What the reading means, in words.
    pub meaning: Option<String>,
    /// What to move.
    pub correction: Option<Correction>,
    /// What would measure it well enough to tell.
    pub better: Vec<String>,
    /// Items of the specification that are needed to work out a move.
    pub needs: Vec<String>,
    /// Stop: a limit would be passed, or the structure does not answer as it should.
    pub stop: Option<String>,
}

/// `together`: all fresh readings adjusted together, worked out when it is asked for.
pub(super) fn advise<'t>(
    procedure: &Procedure,
    airframe: &Airframe,
    run: &Run,
    check: &Check,
    result: &CheckResult,
    lesson: Lesson,
    together: impl FnOnce() -> Option<&'t Fit>,
) -> Advice {
    let adjusters: Vec<&Adjuster> = check
        .adjusters
        .iter()
        .filter_map(|id| procedure.adjuster(id))
        .filter(|adjuster| fold::applies(adjuster.only_if.as_ref(), airframe))
        .collect();
    let mut advice = Advice { meaning: words::meaning(check, result), ..Advice::default() };
    if matches!(result.verdict, Verdict::In | Verdict::NotJudged) {
        advice.better = better(airframe, &adjusters, check, result);
        return advice;
    }
    let Some(adjuster) = adjusters.first() else {
        advice.stop = words::no_adjuster(check, result.verdict);
        return advice;
    };
    let lever = match lever_of(check, adjuster, &airframe.specification, lesson.since) {
        Ok(lever) => lever,
        Err(missing) => {
            advice.needs = missing;
            return advice;
        }
    };
    if let Some(response) = lesson.last.filter(|response| !response.believable) {
        advice.stop = Some(words::strange_response(response.predicted, response.seen, result.estimate.unit));
        return advice;
    }
    // Between the limits and too close to one: a move now would chase the noise of the readings. Once more first.
    if result.verdict == Verdict::CantTell && result.sets < 2 && inside(result) {
        advice.better = better(airframe, &adjusters, check, result);
        advice.better.insert(0, words::once_more(result));
        return advice;
    }
    match together().and_then(|fit| Some((fit, fit.moves.checks.iter().position(|id| *id == check.id)?))) {
        Some((fit, place)) => by_all_readings(procedure, run, result, fit, place, &mut advice),
        None => by_itself(procedure, airframe, run, result, check, (&adjusters, lever, lesson), &mut advice),
    }
    advice.better.extend(better(airframe, &adjusters, check, result));
    let untaught = lesson.gain == run.precedent.gain(&check.id);
    if let Some(correction) = advice.correction.as_mut().filter(|_| untaught) {
        correction.precedent = run.precedent.words(&check.id);
    }
    advice
}

/// What to move by all fresh readings together, so that every check that was read comes in or stays in. `place`: the check's among
/// those that are planned for.
fn by_all_readings(
    procedure: &Procedure,
    run: &Run,
    result: &CheckResult,
    fit: &Fit,
    place: usize,
    advice: &mut Advice,
) {
    if let Some((first, more)) = fit.suspects.split_first() {
        advice.better.push(first.clone());
        if !more.is_empty() {
            advice.better.push(tr!("{n} more reading does not agree with the rest; it may be good without this one."
                | "{n} more readings do not agree with the rest; they may be good without this one." % more.len()));
        }
    }
    let together = &fit.moves;
    if let Some(predicted) = together.predicted.get(place).filter(|_| !together.moves.is_empty()) {
        if together.tight {
            advice.better.insert(0, words::all_that_is_left().to_owned());
        }
        let others = together.after.iter().enumerate().filter(|(other, _)| *other != place);
        advice.correction = Some(Correction {
            stale: stale(procedure, run, &together.moves),
            moves: together.moves.clone(),
            predicted: *predicted,
            step: result.step,
            others: others.map(|(_, words)| words.clone()).collect(),
            precedent: None,
        });
    } else if !together.blocked.is_empty() {
        if matches!(result.verdict, Verdict::Out(_)) {
            advice.stop = Some(together.blocked.join(" "));
        }
    } else if let Some(fitted) = fit.checks.iter().find(|fitted| fitted.check == together.checks[place]) {
        advice.better.push(words::in_by_all(fitted));
    }
}

/// What to move by this check's own reading alone, where the sheet lacks what the others need.
fn by_itself(
    procedure: &Procedure,
    airframe: &Airframe,
    run: &Run,
    result: &CheckResult,
    check: &Check,
    (adjusters, lever, lesson): (&[&Adjuster], Lever, Lesson),
    advice: &mut Advice,
) {
    let aim = result.limits.and_then(Limits::middle).unwrap_or_default();
    let Some(first) = adjusters.first() else { return };
    let counted = match first.settable.counted(airframe.details.units, &airframe.specification) {
        Ok(counted) => counted,
        Err(pitch) => {
            advice.needs.push(pitch);
            return;
        }
    };
    let settable = counted.smallest();
    let parts = if check.shared { adjusters.len() } else { 1 };
    let Some((Proposal { amount, predicted, .. }, parts)) =
        propose_shared(lever, lesson.gain, result.estimate, aim, settable, parts)
    else {
        if matches!(result.verdict, Verdict::Out(_)) {
            advice.stop = Some(words::out_of_reach().to_owned());
        }
        return;
    };
    let (moves, beyond_limit) = match first.lever {
        LeverKind::Joint { .. } => {
            let shares = joint_shares(airframe, run, adjusters, amount, settable);
            (shares.moves, shares.beyond_limit)
        }
        // The first adjuster's way to the change is `amount`; another's is the same geometry, its own way round.
        _ => (adjusters.iter().take(parts).map(|one| (*one, along_lever(one, &check.id, amount))).collect(), false),
    };
    if beyond_limit {
        advice.stop = Some(words::beyond_gap_limit().to_owned());
        return;
    }
    if moves.iter().any(|(adjuster, amount)| past_the_most(airframe, run, adjuster, *amount, counted)) {
        advice.stop = Some(words::beyond_the_most().to_owned());
        return;
    }
    let moves: Vec<ProposedMove> =
        moves.into_iter().map(|(adjuster, amount)| proposed(airframe, adjuster, amount)).collect();
    let stale = stale(procedure, run, &moves);
    advice.correction =
        Some(Correction { moves, predicted, step: result.step, stale, others: Vec::new(), precedent: None });
}

/// Whether an adjuster would then stand further from where it started than the sheet allows.
fn past_the_most(airframe: &Airframe, run: &Run, adjuster: &Adjuster, amount: Length, counted: Counted) -> bool {
    let LeverKind::Effects(Effects { most: Some(key), with, .. }) = &adjuster.lever else { return false };
    let Some(item) = airframe.specification.item(key) else { return false };
    let most = Limits::of(&item.value, counted.unit)
        .and_then(|limits| limits.upper)
        .or_else(|| in_unit(item.value.nominal.as_ref()?, counted.unit));
    let moved = with.iter().fold(run.moved(&adjuster.id), |sum, other| sum + run.moved(other));
    most.is_some_and(|most| (moved + amount).abs() > counted.each * (most + counted.step * 1e-6))
}

/// Whether the value itself lies between its limits, uncertainty left aside.
fn inside(result: &CheckResult) -> bool {
    let value = result.estimate.value;
    result.limits.is_some_and(|limits| {
        limits.lower.is_none_or(|lower| value >= lower) && limits.upper.is_none_or(|upper| value <= upper)
    })
}

/// Titles of the steps that go stale with moves.
fn stale(procedure: &Procedure, run: &Run, moves: &[ProposedMove]) -> Vec<String> {
    let mut titles: Vec<String> = Vec::new();
    for step in moves.iter().flat_map(|made| run.would_go_stale(procedure, &made.adjuster)) {
        let title = words::step_title(step);
        if !titles.contains(&title) {
            titles.push(title);
        }
    }
    titles
}

/// A length on an adjuster as an order, in the airframe's unit.
pub(super) fn proposed(airframe: &Airframe, adjuster: &Adjuster, amount: Length) -> ProposedMove {
    let units = airframe.details.units;
    let amount = match adjuster.settable.counted(units, &airframe.specification) {
        Ok(Counted { step, unit, each }) if unit == Unit::One => Quantity::new(amount / each, unit, step),
        Ok(Counted { step, unit, .. }) => Quantity::new(amount.in_unit(unit).unwrap_or_default(), unit, step),
        Err(_) => Quantity::new(amount.in_unit(units.length()).unwrap_or_default(), units.length(), 0.0),
    };
    let order = words::order(adjuster, &amount);
    ProposedMove { adjuster: adjuster.id.clone(), amount, order }
}

/// The two sides' shares of a change of the joint.
pub(super) struct JointShares<'a> {
    /// Closed first, then opened.
    pub(super) moves: Vec<(&'a Adjuster, Length)>,
    /// The opened side would pass the manual's limit.
    pub(super) beyond_limit: bool,
}

/// Shares a change of the joint (right side opened is positive) between its sides by the gaps that they have.
pub(super) fn joint_shares<'a>(
    airframe: &Airframe,
    run: &Run,
    adjusters: &[&'a Adjuster],
    amount: Length,
    step: Length,
) -> JointShares<'a> {
    let (Some(left), Some(right)) = (joint_side(adjusters, Side::Left), joint_side(adjusters, Side::Right)) else {
        return JointShares { moves: Vec::new(), beyond_limit: false };
    };
    let limit = match &right.lever {
        LeverKind::Joint { limit, .. } => upper_limit(airframe, limit),
        _ => None,
    };
    let gaps = JointGaps { left: gap_now(run, left), right: gap_now(run, right), limit };
    let share = share_between_sides(amount, gaps, step);
    let of = |side| if side == Side::Left { left } else { right };
    let closed = share.close.map(|(side, by)| (of(side), -by));
    let opened = share.open.map(|(side, by)| (of(side), by));
    JointShares { moves: closed.into_iter().chain(opened).collect(), beyond_limit: share.beyond_limit }
}

fn joint_side<'a>(adjusters: &[&'a Adjuster], wanted: Side) -> Option<&'a Adjuster> {
    adjusters.iter().copied().find(|adjuster| matches!(adjuster.lever, LeverKind::Joint { side, .. } if side == wanted))
}

pub(super) fn upper_limit(airframe: &Airframe, key: &str) -> Option<Length> {
    let unit = airframe.details.units.length();
    let upper = Limits::of(&airframe.specification.item(key)?.value, unit)?.upper?;
    Quantity::new(upper, unit, 0.0).length()
}

/// The gaps of one side of the joint: as measured last, and as moved since.
pub(super) fn gap_now(run: &Run, adjuster: &Adjuster) -> SideGap {
    let LeverKind::Joint { gaps, .. } = &adjuster.lever else { return SideGap::default() };
    let latest = run
        .steps
        .iter()
        .filter_map(|step| step.attempts.iter().rfind(|attempt| attempt.complete))
        .filter(|attempt| gaps.iter().all(|slot| attempt.of(slot).next().is_some()))
        .max_by_key(|attempt| attempt.readings.last().map(|reading| reading.entry));
    let Some(attempt) = latest else { return SideGap::default() };
    let since = attempt.readings.last().map(|reading| reading.entry);
    let moved = run
        .moves
        .iter()
        .filter(|moved| moved.adjuster == adjuster.id && Some(moved.entry) > since)
        .fold(Length::ZERO, |sum, moved| sum + moved.length);
    let mut lengths = gaps.iter().filter_map(|slot| attempt.of(slot).last()?.value.length());
    let Some(first) = lengths.next() else { return SideGap::default() };
    let (least, most) = lengths.fold((first, first), |(least, most), length| {
        (if length < least { length } else { least }, if length > most { length } else { most })
    });
    SideGap { least: least + moved, most: most + moved }
}
