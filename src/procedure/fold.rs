//! A run as a pure fold over entries.

use std::cell::OnceCell;

use crate::metrology::{Estimate, Verdict};
use crate::procedure::fit::fit_so_far;
use crate::procedure::pooled::judge_attempts;
use crate::procedure::stale::{Stirred, make_stale};
use crate::procedure::waits::Heard;
use crate::procedure::{
    Advice, Attempt, Check, CheckResult, Hold, HoleMap, LeverKind, Moved, Precedent, Procedure, Step, StepKind, Waits,
    advice, hold, holes, learning,
};
use crate::quantity::{Length, Unit};
use crate::record::{Airframe, Body, Entry, EntryId, RunId};

/// What a step is now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// To be done.
    Open,
    /// Done: confirmed, counted, signed, or measured and in (or not judged, or accepted as it is).
    Done,
    /// It was done; something that it depends on was moved since.
    Stale,
    /// A hold point before it is not open, or something is left to do first.
    Blocked,
}

/// One step of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct StepState {
    /// Its path: gate and key.
    pub path: String,
    /// The gate, when it belongs to a pass.
    pub gate: Option<String>,
    /// The step.
    pub step: Step,
    /// What it is now.
    pub state: State,
    /// The attempts at it, oldest first; empty for a step that is not measured.
    pub attempts: Vec<Attempt>,
    /// Each attempt's value, where it is complete.
    pub results: Vec<Option<CheckResult>>,
    /// What the reading means and what to move or measure next, where the last attempt is complete and fresh.
    pub advice: Option<Advice>,
    /// What the next reading should be, where the last attempt went stale by a move whose effect is known.
    pub expected: Option<Estimate>,
    /// Good and bad, where things were counted.
    pub counted: Option<(u32, u32)>,
    /// The map of holes, where holes are marked.
    pub holes: HoleMap,
    /// The hold point's state, for a hold point.
    pub hold: Option<Hold>,
    /// Who confirmed or signed, with the entry.
    pub by: Option<(String, EntryId)>,
    /// What was said of it and bears on it.
    pub waits: Waits,
}

impl StepState {
    /// The attempt that counts: the last.
    #[must_use]
    pub fn attempt(&self) -> Option<&Attempt> {
        self.attempts.last()
    }

    /// The last attempt's result while it is complete.
    #[must_use]
    pub fn result(&self) -> Option<&CheckResult> {
        self.results.last()?.as_ref()
    }

    /// Whether any attempt at it was in, or was recorded without a tolerance to judge by.
    #[must_use]
    pub fn once_in(&self) -> bool {
        self.results.iter().flatten().any(|result| matches!(result.verdict, Verdict::In | Verdict::NotJudged))
    }

    /// Whether it was [once in](Self::once_in), or was accepted as it was read last.
    #[must_use]
    pub fn once_passed(&self) -> bool {
        self.waits.accepted.is_some() || self.once_in()
    }

    /// The attempt that the next reading goes to, when one was begun and is neither complete nor stale.
    #[must_use]
    pub fn begun(&self) -> Option<&Attempt> {
        self.attempt().filter(|attempt| !attempt.closed())
    }
}

/// A run of a procedure on an airframe.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The run's id.
    pub id: RunId,
    /// Every step that applies to this airframe, in order.
    pub steps: Vec<StepState>,
    /// Moves in force, oldest first.
    pub moves: Vec<Moved>,
    /// What is open: the first step that is neither done nor blocked, or else the first that is blocked. `None` when the run is finished.
    pub current: Option<usize>,
    /// What earlier airframes of the type taught.
    pub precedent: Precedent,
}

impl Run {
    /// Folds the entries in force of an airframe, oldest first, into the state of one run. Entries of other runs, and entries
    /// that name a step, slot or adjuster that the procedure does not have, change nothing.
    #[must_use]
    pub fn fold(procedure: &Procedure, airframe: &Airframe, id: RunId, entries: &[&Entry]) -> Self {
        Self::fold_after(procedure, airframe, id, entries, Precedent::default())
    }

    /// The same, with what earlier airframes of the type taught.
    #[must_use]
    pub fn fold_after(
        procedure: &Procedure,
        airframe: &Airframe,
        id: RunId,
        entries: &[&Entry],
        precedent: Precedent,
    ) -> Self {
        let mut run = Self::folded(procedure, airframe, id, entries, precedent);
        run.advise(procedure, airframe);
        run
    }

    /// The same, except that nothing is said about what to move, which is the slow part.
    #[must_use]
    pub fn without_advice(procedure: &Procedure, airframe: &Airframe, id: RunId, entries: &[&Entry]) -> Self {
        Self::folded(procedure, airframe, id, entries, Precedent::default())
    }

    fn folded(procedure: &Procedure, airframe: &Airframe, id: RunId, entries: &[&Entry], precedent: Precedent) -> Self {
        let mut steps: Vec<StepState> = procedure
            .laid_out()
            .into_iter()
            .filter(|(_, _, step)| applies(step.only_if.as_ref(), airframe))
            .map(|(path, gate, step)| StepState {
                path,
                gate,
                step,
                state: State::Open,
                attempts: Vec::new(),
                results: Vec::new(),
                advice: None,
                expected: None,
                counted: None,
                holes: HoleMap::default(),
                hold: None,
                by: None,
                waits: Waits::default(),
            })
            .collect();
        let (mut moves, mut heard, mut stirred) = (Vec::new(), Heard::default(), Stirred::new(airframe));
        for entry in entries {
            heard.hear(id, entry);
            if entry.run() == Some(id) {
                stirred.go_on();
                apply(procedure, airframe, &mut steps, &mut moves, entry);
            } else if let Body::AdjusterMoved(moved) = &entry.body {
                stirred.stir(procedure, &mut steps, moved, entry.id);
            }
        }
        for (role, place) in instrument_steps(&steps) {
            steps[place].by =
                airframe.instruments.get(&role).map(|(instrument, entry)| (instrument.name.clone(), *entry));
        }
        holes::settle(&mut steps, airframe);
        judge_attempts(procedure, airframe, &mut steps);
        heard.settle(&mut steps, procedure, airframe);
        let mut run = Self { id, steps, moves, current: None, precedent };
        run.settle(procedure, airframe);
        run
    }

    /// A step by its path.
    #[must_use]
    pub fn step(&self, path: &str) -> Option<&StepState> {
        self.steps.iter().find(|step| step.path == path)
    }

    /// The place of a step by its path.
    #[must_use]
    pub fn place(&self, path: &str) -> Option<usize> {
        self.steps.iter().position(|step| step.path == path)
    }

    /// How far an adjuster was moved in all, along its positive direction.
    #[must_use]
    pub fn moved(&self, adjuster: &str) -> Length {
        let own = self.moves.iter().filter(|moved| moved.adjuster == adjuster);
        own.fold(Length::ZERO, |sum, moved| sum + moved.length)
    }

    /// How many steps are done.
    #[must_use]
    pub fn done(&self) -> usize {
        self.steps.iter().filter(|step| step.state == State::Done).count()
    }

    /// What goes stale when an adjuster is moved: paths of steps whose check is in or complete now.
    #[must_use]
    pub fn would_go_stale(&self, procedure: &Procedure, adjuster: &str) -> Vec<&StepState> {
        let Some(adjuster) = procedure.adjuster(adjuster) else { return Vec::new() };
        self.steps
            .iter()
            .filter(
                |step| matches!(&step.step.kind, StepKind::Measure { check, .. } if adjuster.disturbs.contains(check)),
            )
            .filter(|step| step.attempt().is_some_and(|attempt| attempt.complete && attempt.stale.is_none()))
            .collect()
    }

    /// States, hold points, then what is expected: in this order, since each needs the one before.
    fn settle(&mut self, procedure: &Procedure, airframe: &Airframe) {
        for step in &mut self.steps {
            step.state = own_state(step, airframe);
        }
        supersede(&mut self.steps);
        hold::settle(&mut self.steps, procedure, airframe);
        for place in 0..self.steps.len() {
            if fresh(&self.steps[place], procedure).is_none()
                && let Some(check) = stale(&self.steps[place], procedure)
            {
                let expected = learning::expected(procedure, airframe, self, check, &self.steps[place]);
                self.steps[place].expected = expected;
            }
        }
        let first = |states: &[State]| self.steps.iter().position(|step| states.contains(&step.state));
        self.current = first(&[State::Open, State::Stale]).or_else(|| first(&[State::Blocked]));
    }

    /// What to do about every check that was measured and not disturbed since.
    fn advise(&mut self, procedure: &Procedure, airframe: &Airframe) {
        let together = OnceCell::new();
        for place in 0..self.steps.len() {
            let Some((check, result)) = fresh(&self.steps[place], procedure) else { continue };
            let lesson = learning::lesson(procedure, airframe, self, check, &self.steps[place].path);
            let all = || {
                let fitted = || fit_so_far(procedure, airframe, self).ok().filter(|_| mates(procedure));
                together.get_or_init(fitted).as_ref()
            };
            let advice = advice::advise(procedure, airframe, self, check, &result, lesson, all);
            // What was accepted as it is: nothing is to be moved for it.
            let accepted = self.steps[place].waits.accepted.is_some();
            let left = |advice: Advice| Advice { meaning: advice.meaning, ..Advice::default() };
            self.steps[place].advice = Some(if accepted { left(advice) } else { advice });
        }
    }
}

/// The check of a step whose last attempt is complete and not stale.
fn fresh<'p>(step: &StepState, procedure: &'p Procedure) -> Option<(&'p Check, CheckResult)> {
    let StepKind::Measure { check, .. } = &step.step.kind else { return None };
    let attempt = step.attempt()?;
    let result = step.result()?;
    if attempt.stale.is_some() { None } else { Some((procedure.check(check)?, result.clone())) }
}

/// The check of a step whose last attempt went stale, or that is being measured again after one did.
fn stale<'p>(step: &StepState, procedure: &'p Procedure) -> Option<&'p Check> {
    let StepKind::Measure { check, .. } = &step.step.kind else { return None };
    step.attempts.iter().any(|attempt| attempt.complete && attempt.stale.is_some()).then(|| procedure.check(check))?
}

pub(crate) fn applies(condition: Option<&crate::procedure::Condition>, airframe: &Airframe) -> bool {
    condition.is_none_or(|condition| airframe.specification.words(&condition.key) == Some(&condition.is))
}

fn instrument_steps(steps: &[StepState]) -> Vec<(String, usize)> {
    steps
        .iter()
        .enumerate()
        .filter_map(|(place, step)| match &step.step.kind {
            StepKind::Instrument(role) => Some((role.clone(), place)),
            _ => None,
        })
        .collect()
}

fn apply(procedure: &Procedure, airframe: &Airframe, steps: &mut [StepState], moves: &mut Vec<Moved>, entry: &Entry) {
    match &entry.body {
        Body::StepConfirmed { step, .. } => {
            if let Some(step) = at(steps, step)
                && step.step.kind == StepKind::Confirm
            {
                step.by = Some((entry.by.clone(), entry.id));
            }
        }
        Body::Counted { step, good, bad, .. } => {
            if let Some(step) = at(steps, step)
                && matches!(step.step.kind, StepKind::Count { .. })
            {
                step.counted = Some((*good, *bad));
                step.by = Some((entry.by.clone(), entry.id));
            }
        }
        Body::HolesLaidOut(_) | Body::HoleMarked(_) => holes::apply(steps, entry),
        Body::HoldSigned { step, name, .. } => {
            if let Some(step) = at(steps, step)
                && matches!(step.step.kind, StepKind::Hold { .. })
            {
                step.by = Some((name.clone(), entry.id));
            }
        }
        Body::ReadingTaken(reading) => {
            let Some(step) = at(steps, &reading.step) else { return };
            let StepKind::Measure { slots, .. } = &step.step.kind else { return };
            if step.attempts.last().is_none_or(Attempt::closed) {
                step.attempts.push(Attempt::default());
            }
            let last = step.attempts.len() - 1;
            if !step.attempts[last].take(entry.id, &entry.by, reading, slots) && step.attempts[last].readings.is_empty()
            {
                step.attempts.pop();
            }
        }
        Body::AdjusterMoved(moved) => {
            let Some(adjuster) = procedure.adjuster(&moved.adjuster) else { return };
            let units = airframe.details.units;
            let turns = adjuster
                .settable
                .counted(units, &airframe.specification)
                .ok()
                .filter(|_| moved.amount.unit == Unit::One);
            let length = turns.map_or_else(|| moved.amount.length(), |turn| Some(turn.each * moved.amount.value));
            let Some(length) = length else { return };
            moves.push(Moved {
                entry: entry.id,
                adjuster: moved.adjuster.clone(),
                amount: moved.amount.clone(),
                length,
            });
            make_stale(procedure, steps, &adjuster.disturbs, entry.id);
        }
        // The airframe's own, what founds a run, and what people say of it.
        _ => {}
    }
}

/// Whether it brings two assemblies together: what all readings together say is known for that.
fn mates(procedure: &Procedure) -> bool {
    procedure.adjusters.iter().any(|adjuster| matches!(adjuster.lever, LeverKind::Joint { .. }))
}

/// The step with this path.
fn at<'s>(steps: &'s mut [StepState], path: &str) -> Option<&'s mut StepState> {
    steps.iter_mut().find(|step| step.path == path)
}

/// A pass that was in and has gone stale is done with once the work has gone on to a later gate: that gate's pass counts.
fn supersede(steps: &mut [StepState]) {
    for place in 0..steps.len() {
        let StepKind::Measure { check, .. } = &steps[place].step.kind else { continue };
        let done = |step: &StepState| step.by.is_some() && !matches!(step.step.kind, StepKind::Hold { .. });
        let gone_on = steps[place + 1..].iter().position(done).map(|after| place + 1 + after);
        let again = gone_on.is_some_and(|from| {
            steps[from..]
                .iter()
                .any(|step| matches!(&step.step.kind, StepKind::Measure { check: other, .. } if other == check))
        });
        if steps[place].state == State::Stale && again && steps[place].once_passed() {
            steps[place].state = State::Done;
        }
    }
}

/// What a step is by itself, hold points left aside.
fn own_state(step: &StepState, airframe: &Airframe) -> State {
    match &step.step.kind {
        StepKind::Confirm | StepKind::Instrument(_) | StepKind::Pass { .. } => {
            if step.by.is_some() {
                State::Done
            } else {
                State::Open
            }
        }
        StepKind::Count { expected, .. } => match step.counted {
            Some((good, bad)) if bad == 0 && good > 0 => match airframe.specification.nominal(expected) {
                Some(number) if f64::from(good) < number.value => State::Open,
                _ => State::Done,
            },
            _ => State::Open,
        },
        StepKind::Holes { .. } => [State::Open, State::Done][usize::from(step.holes.complete())],
        StepKind::Measure { .. } => match (step.attempt(), step.result()) {
            (Some(attempt), _) if attempt.stale.is_some() => State::Stale,
            (Some(_), Some(result)) if matches!(result.verdict, Verdict::In | Verdict::NotJudged) => State::Done,
            (Some(_), Some(_)) if step.waits.accepted.is_some() => State::Done,
            _ => State::Open,
        },
        // Settled by `hold::settle`.
        StepKind::Hold { .. } => State::Open,
    }
}
