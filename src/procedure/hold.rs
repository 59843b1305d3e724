//! Hold points: what is missing before one opens, and what becomes of a signature.

use crate::language::tr;
use crate::metrology::Verdict;
use crate::procedure::{Procedure, State, StepKind, StepState};
use crate::record::{Airframe, EntryId, same_person};

/// Something that keeps a hold point shut.
#[derive(Clone, Debug, PartialEq)]
pub enum Missing {
    /// A step was not done: its place.
    NotDone(usize),
    /// A check was measured and is out, or cannot be told.
    NotIn(usize, Verdict),
    /// A check went stale.
    Stale(usize),
    /// The second reader is the first reader.
    SamePerson(usize),
    /// Holes are bad, to go, or do not add up.
    Holes(usize),
    /// Something that was found is left to do first: the step where it was found, and what.
    Item(usize, String),
}

impl Missing {
    /// The step to go to.
    #[must_use]
    pub const fn place(&self) -> usize {
        match self {
            Self::NotDone(place)
            | Self::NotIn(place, _)
            | Self::Stale(place)
            | Self::SamePerson(place)
            | Self::Holes(place)
            | Self::Item(place, _) => *place,
        }
    }
}

/// A hold point's state.
#[derive(Clone, Debug, PartialEq)]
pub enum Hold {
    /// Shut: this is missing.
    Shut(Vec<Missing>),
    /// Everything is in, or was accepted: it may be signed. Lists the places of checks that are not judged, or that are not in and were
    /// accepted, which the signer must see.
    Ready(Vec<usize>),
    /// Signed and still good.
    Signed,
    /// It was signed; since then this went missing. What it guards is blocked again.
    Void(Vec<Missing>),
    /// Signed, and what it guards is done: what is moved later belongs to the next hold point.
    Spent,
}

impl Hold {
    /// Whether the steps behind it may be worked on.
    #[must_use]
    pub const fn open(&self) -> bool {
        matches!(self, Self::Signed | Self::Spent)
    }
}

/// Settles every hold point in order, and marks what lies behind a shut one as blocked.
pub(super) fn settle(steps: &mut [StepState], procedure: &Procedure, airframe: &Airframe) {
    let mut blocked = false;
    let mut since = 0;
    for place in 0..steps.len() {
        let hold = matches!(steps[place].step.kind, StepKind::Hold { .. });
        let shut = !hold && !steps[place].waits.shut_by.is_empty() && steps[place].state != State::Done;
        if blocked || shut {
            steps[place].state = State::Blocked;
        }
        let StepKind::Hold { second_person, .. } = &steps[place].step.kind else { continue };
        let hold = if blocked {
            Hold::Shut(Vec::new())
        } else {
            state_of(steps, place, since, *second_person, (procedure, airframe))
        };
        if !blocked {
            let signed = steps[place].by.as_ref().map(|(_, entry)| *entry);
            let overtaken = |entry| overtaken(steps, since, place, entry, (procedure, airframe));
            let was_signed = signed.is_some_and(overtaken);
            steps[place].state = match &hold {
                Hold::Signed | Hold::Spent => State::Done,
                Hold::Void(_) => State::Stale,
                // Something was read or a number changed since: what was signed is stale.
                Hold::Ready(_) if was_signed => State::Stale,
                Hold::Shut(_) | Hold::Ready(_) => State::Open,
            };
        }
        blocked |= !hold.open();
        steps[place].hold = Some(hold);
        since = after_hold(steps, place, since);
    }
}

const fn is_hold(step: &StepState) -> bool {
    matches!(step.step.kind, StepKind::Hold { .. })
}

/// The first step that the hold after the one at `place` looks back on, where this one looked back to `since`: two side by side look back on
/// the same steps.
fn after_hold(steps: &[StepState], place: usize, since: usize) -> usize {
    if steps.get(place + 1).is_some_and(is_hold) { since } else { place + 1 }
}

fn state_of(steps: &[StepState], place: usize, since: usize, second_person: bool, of: (&Procedure, &Airframe)) -> Hold {
    let mut missing = missing_before(steps, place, since);
    missing.extend(left_to_do(steps, place));
    let signed = steps[place].by.as_ref();
    let Some((name, entry)) = signed else {
        return if missing.is_empty() { Hold::Ready(to_be_seen(steps, since, place)) } else { Hold::Shut(missing) };
    };
    // What it guards is the next step; once that is done the signature has served.
    let guarded_done =
        steps.get(place + 1).is_some_and(|next| !is_hold(next) && (next.by.is_some() || next.counted.is_some()));
    if guarded_done {
        return Hold::Spent;
    }
    if !missing.is_empty() {
        return Hold::Void(missing);
    }
    // Signed before the last reading or the last change of the specification, or by the reader where a second person must
    // sign: it has to be signed again.
    let by_the_first = second_person && first_person(steps, since, place, name).is_some();
    if by_the_first || overtaken(steps, since, place, *entry, of) {
        return Hold::Ready(to_be_seen(steps, since, place));
    }
    Hold::Signed
}

/// What keeps the hold at `place` shut: among the steps since the hold before it. Of a check that is measured at several
/// gates only the last pass must be fresh; the earlier ones must have been in once. A hole that is bad keeps every later hold shut.
fn missing_before(steps: &[StepState], place: usize, since: usize) -> Vec<Missing> {
    let bad = |earlier: &usize| steps[*earlier].holes.bad().next().is_some();
    let mut missing: Vec<Missing> = (0..since).filter(bad).map(Missing::Holes).collect();
    for earlier in since..place {
        let step = &steps[earlier];
        if step.state == State::Blocked {
            missing.extend(left_to_do(steps, earlier));
            continue;
        }
        if let StepKind::Measure { check, blind, .. } = &step.step.kind {
            let repeated = steps[earlier + 1..place]
                .iter()
                .any(|later| matches!(&later.step.kind, StepKind::Measure { check: other, .. } if other == check));
            if repeated && step.once_passed() {
                continue;
            }
            if *blind && step.state == State::Done && read_by_same_person(steps, earlier, since) {
                missing.push(Missing::SamePerson(earlier));
                continue;
            }
            match (step.state, step.result()) {
                (State::Done, _) => {}
                (State::Stale, _) => missing.push(Missing::Stale(earlier)),
                (_, Some(result)) => missing.push(Missing::NotIn(earlier, result.verdict)),
                _ => missing.push(Missing::NotDone(earlier)),
            }
        } else if step.state != State::Done && step.holes.begun() {
            missing.push(Missing::Holes(earlier));
        } else if step.state != State::Done {
            missing.push(Missing::NotDone(earlier));
        }
    }
    missing
}

/// What is left to do before a step, each with the step where it was found.
fn left_to_do(steps: &[StepState], place: usize) -> impl Iterator<Item = Missing> {
    steps[place].waits.shut_by.iter().map(move |item| {
        let found = steps.iter().position(|step| Some(&step.path) == item.found_at.as_ref());
        Missing::Item(found.unwrap_or(place), item.what.clone())
    })
}

fn to_be_seen(steps: &[StepState], since: usize, place: usize) -> Vec<usize> {
    (since..place)
        .filter(|&earlier| {
            let step = &steps[earlier];
            let accepted = step.state == State::Done && step.accepted_words().is_some();
            accepted
                || step.result().is_some_and(|result| result.verdict == Verdict::NotJudged)
                || step.holes.not_judged()
        })
        .collect()
}

/// Everybody who took a reading that counts between two hold points, blind re-readings left aside.
fn readers(steps: &[StepState], since: usize, place: usize) -> impl Iterator<Item = &str> {
    steps[since..place]
        .iter()
        .filter(|step| !matches!(step.step.kind, StepKind::Measure { blind: true, .. }))
        .filter_map(StepState::attempt)
        .flat_map(|attempt| attempt.readings.iter().map(|reading| reading.by.as_str()))
}

/// Why this person may not sign the hold point at `place`, in words: it needs a second person, and they took the readings.
#[must_use]
pub fn may_not_sign(steps: &[StepState], place: usize, name: &str) -> Option<String> {
    let StepKind::Hold { second_person: true, .. } = &steps.get(place)?.step.kind else { return None };
    let before = steps[..place].iter().enumerate().filter(|(_, step)| step.hold.is_some());
    let since = before.fold(0, |since, (hold, _)| after_hold(steps, hold, since));
    first_person(steps, since, place, name)
}

/// What somebody did by which they are the first person, and what follows from it: they took a reading that counts, or, where nothing
/// was read, did everything else that was done. `None` for a second person.
fn first_person(steps: &[StepState], since: usize, place: usize, name: &str) -> Option<String> {
    let same = |other: &str| same_person(other, name);
    let name = name.trim();
    if readers(steps, since, place).next().is_some() {
        return readers(steps, since, place).any(same).then(|| {
            tr!("{name} took the readings. Here a second person signs: somebody else, who looks for themselves.", name)
        });
    }
    // An instrument is accepted by its own name.
    let by_people = steps[since..place].iter().filter(|step| !matches!(step.step.kind, StepKind::Instrument(_)));
    let mut did = by_people.filter_map(|step| step.by.as_ref());
    let first = did.next()?;
    (same(&first.0) && did.all(|(by, _)| same(by))).then(|| {
        tr!(
            "{name} did what comes before this. Here a second person signs: somebody else, who looks for themselves.",
            name
        )
    })
}

/// Whether somebody who reads blind also took the first reading of the same thing.
fn read_by_same_person(steps: &[StepState], blind: usize, since: usize) -> bool {
    let Some(attempt) = steps[blind].attempt() else { return false };
    attempt.readings.iter().any(|second| {
        steps[since..blind]
            .iter()
            .filter_map(StepState::attempt)
            .flat_map(|attempt| attempt.of(&second.slot))
            .any(|first| same_person(&first.by, &second.by))
    })
}

/// Whether a reading that counts, a mark on a hole, a deviation that was accepted, or a number that judges them, is younger than the
/// signature.
fn overtaken(
    steps: &[StepState],
    since: usize,
    place: usize,
    signature: EntryId,
    (procedure, airframe): (&Procedure, &Airframe),
) -> bool {
    let reading = steps[since..place]
        .iter()
        .filter_map(StepState::attempt)
        .flat_map(|attempt| attempt.readings.iter())
        .any(|reading| reading.entry > signature);
    let marked = steps[..place].iter().any(|step| step.holes.last() > Some(signature));
    let accepted = steps[since..place].iter().filter_map(|step| step.waits.accepted.as_ref());
    let deviated = accepted.into_iter().any(|accepted| accepted.deviation > signature);
    reading
        || marked
        || deviated
        || airframe.specification.changed_since(signature, |key| procedure.item(key).is_some())
}
