//! Coming back to a run after an interruption: where it stopped, how long ago, what to look over, which datum to read again.
//!
//! An interruption is where steps are left out or done twice; the trade's remedy is to go back a few steps before going on (common
//! practice, no source). Nothing is put back or taken out of the record by it.

use chrono::{DateTime, FixedOffset, TimeDelta};
use uuid::Uuid;

use crate::language::tr;
use crate::procedure::{Formula, Procedure, Run, State, StepKind, Words, of_run};
use crate::quantity::Dimension;
use crate::record::{Airframe, AirframeId, Body, Entry, EntryId, Ledger, RunId};

/// How long after the last entry a run counts as interrupted, in minutes (a judgement).
const PAUSE: i64 = 10;
/// The same where the app was closed in between: shorter, since whoever closes it turned to something else.
const CLOSED: i64 = 2;
/// How many steps are looked over.
const BACK: usize = 3;

/// A run that was interrupted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Return {
    /// The last entry before the pause: one pause is asked about once.
    pub since: EntryId,
    /// Place of the step at which it stopped, from 0.
    pub at: usize,
    /// "You were at step 9 of 22, 43 minutes ago."
    pub words: String,
    /// Path of the step from which to look over, three back or the first; none at the first step.
    pub back: Option<String>,
    /// Titles of the steps to look over, in order.
    pub over: Vec<String>,
    /// Where the datum is read again.
    pub datum: Option<DatumAgain>,
}

/// The step that reads again what every other reading refers to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DatumAgain {
    /// Its procedure.
    pub procedure: String,
    /// Its path there.
    pub step: String,
    /// What is said of it.
    pub words: String,
}

impl Return {
    /// What the way back says: "Go back three: from “Pitch, clamped”".
    #[must_use]
    pub fn back_words(&self) -> String {
        let first = self.over.first().map(String::as_str).unwrap_or_default();
        match self.over.len() {
            1 => tr!("Go back one step: “{first}”", first),
            2 => tr!("Go back two steps, from “{first}”", first),
            _ => tr!("Go back three steps, from “{first}”", first),
        }
    }
}

/// Whether whoever holds this device (`own`) comes back to a run after a pause. `closed`: the app was closed since.
///
/// Only what this device wrote counts as being there, and whatever any device wrote lately counts as going on. Where the clock was set
/// back, how long it was cannot be told and is not: the question is asked without it.
#[must_use]
pub fn interrupted(
    (procedure, airframe, run): (&Procedure, &Airframe, &Run),
    ledger: &Ledger,
    own: Uuid,
    now: DateTime<FixedOffset>,
    closed: bool,
) -> Option<Return> {
    let current = run.current?;
    let entries = ledger.of_run(airframe.id, run.id);
    let worked = || worked(&entries, run.id);
    let last = last_by(worked(), own)?;
    let since = |entry: &Entry| now.signed_duration_since(entry.at);
    let pause = TimeDelta::minutes(if closed { CLOSED } else { PAUSE });
    // Clocks of two devices differ by a little, and a step of the own one by less than a pause is a correction.
    let going_on = |entry: &Entry| (-pause..pause).contains(&since(entry));
    if going_on(last) || worked().any(|entry| entry.device != own && going_on(entry)) {
        return None;
    }
    let stopped = step_of(&last.body).and_then(|step| run.place(step));
    // Where it stopped, or what comes after it: a step that was left out earlier is not where anybody was.
    let left = |place: &usize| matches!(run.steps[*place].state, State::Open | State::Stale);
    let at = stopped.and_then(|stopped| (stopped..run.steps.len()).find(left)).unwrap_or(current);
    let first = at.saturating_sub(BACK);
    let (step, all) = (at + 1, run.steps.len());
    let words = match ago(since(last)) {
        Some(ago) => tr!("You were at step {step} of {all}, {ago}.", step, all, ago),
        None => tr!(
            "You were at step {step} of {all}. The clock of this phone was set back since: how long ago that was cannot be told.",
            step,
            all
        ),
    };
    Some(Return {
        since: last.id,
        at,
        words,
        back: (at > 0).then(|| run.steps[first].path.clone()),
        over: run.steps[first..at].iter().map(Words::step_title).collect(),
        datum: datum_again((procedure, airframe, run), ledger, at),
    })
}

/// From when on whoever holds this device (`own`) is asked on coming back to the run, if the app is closed now; never where nothing was done in it yet.
#[must_use]
pub fn asked_once_closed(
    airframe: AirframeId,
    run: RunId,
    ledger: &Ledger,
    own: Uuid,
) -> Option<DateTime<FixedOffset>> {
    let entries = ledger.of_run(airframe, run);
    last_by(worked(&entries, run), own).map(|last| last.at + TimeDelta::minutes(CLOSED))
}

/// What was done in a run.
fn worked<'e>(entries: &'e [&'e Entry], run: RunId) -> impl Iterator<Item = &'e Entry> {
    entries.iter().copied().filter(move |entry| entry.run() == Some(run) && is_work(&entry.body))
}

fn last_by<'e>(worked: impl Iterator<Item = &'e Entry>, device: Uuid) -> Option<&'e Entry> {
    worked.filter(|entry| entry.device == device).max_by_key(|entry| order(entry))
}

/// The order in which a device wrote, whatever its clock did.
fn order(entry: &Entry) -> (u64, EntryId) {
    (entry.seal.as_ref().map_or(0, |seal| seal.number), entry.id)
}

/// Whether an entry is work on the airframe, and not something that was said or the run's beginning.
const fn is_work(body: &Body) -> bool {
    step_of(body).is_some()
}

const fn step_of(body: &Body) -> Option<&String> {
    match body {
        Body::StepConfirmed { step, .. } | Body::Counted { step, .. } | Body::HoldSigned { step, .. } => Some(step),
        Body::ReadingTaken(reading) => Some(&reading.step),
        Body::AdjusterMoved(moved) => Some(&moved.step),
        Body::HolesLaidOut(holes) => Some(&holes.step),
        Body::HoleMarked(hole) => Some(&hole.step),
        _ => None,
    }
}

/// "43 minutes ago"; `None` where the clock went back.
fn ago(since: TimeDelta) -> Option<String> {
    let whole = |count: i64| u64::try_from(count).unwrap_or_default();
    match (since.num_minutes(), since.num_hours(), since.num_days()) {
        (..0, _, _) => None,
        (minutes, ..2, _) => Some(tr!("{n} minute ago" | "{n} minutes ago" % whole(minutes))),
        (_, hours, ..2) => Some(tr!("{n} hour ago" | "{n} hours ago" % whole(hours))),
        (_, _, days) => Some(tr!("{n} day ago" | "{n} days ago" % whole(days))),
    }
}

/// Where the datum is read again before going on at a place: in this run, or in the procedure that this one builds on.
fn datum_again(
    (procedure, airframe, run): (&Procedure, &Airframe, &Run),
    ledger: &Ledger,
    at: usize,
) -> Option<DatumAgain> {
    if let Some(place) = datum_before(procedure, run, at) {
        let step = &run.steps[place];
        let title = Words::step_title(step);
        let words = tr!("Read the datum again first: “{title}”", title);
        // Going on is reading it.
        return (place != at).then(|| DatumAgain { procedure: procedure.id.clone(), step: step.path.clone(), words });
    }
    procedure.needs.iter().find_map(|needed| {
        let started = airframe.latest_run(needed)?;
        let other = of_run(started)?;
        let entries = ledger.of_run(airframe.id, started.run);
        let folded = Run::without_advice(other, airframe, started.run, &entries);
        let place = datum_before(other, &folded, folded.steps.len())?;
        let step = folded.steps.get(place).filter(|step| step.attempt().is_some())?;
        let (title, job) = (Words::step_title(step), &other.title);
        let words = tr!("Read the datum again first: “{title}”, in “{job}”", title, job);
        Some(DatumAgain { procedure: other.id.clone(), step: step.path.clone(), words })
    })
}

/// The last step up to a place that was measured, or is the place itself, and reads the datum.
fn datum_before(procedure: &Procedure, run: &Run, at: usize) -> Option<usize> {
    let end = run.steps.len().min(at + 1);
    (0..end).rev().find(|&place| {
        let step = &run.steps[place];
        reads_datum(procedure, &step.path) && (place == at || step.attempt().is_some())
    })
}

/// Whether a step of a pass reads the datum of that pass.
///
/// A pass refers to what it reads first: the attitude of the structure against gravity, an angle from which nothing is taken off. A
/// pass without such a reading may read its reference inside a check, both ends both ways round: roll of the frame, taken off the roll
/// of what hangs on it.
fn reads_datum(procedure: &Procedure, path: &str) -> bool {
    datum_of_pass(procedure, path).is_some_and(|(gate, datum)| path == format!("{gate}/{datum}"))
}

/// The gate of a path, and the key of the step that reads the datum there.
fn datum_of_pass<'p>(procedure: &'p Procedure, path: &'p str) -> Option<(&'p str, &'p String)> {
    let (at_gate, _) = path.split_once('/')?;
    let of = procedure.steps.iter().find_map(|step| match &step.kind {
        StepKind::Pass { gate, of } if gate == at_gate => Some(of),
        _ => None,
    })?;
    let pass = procedure.passes.iter().find(|pass| pass.id == *of)?;
    let angles: Vec<(&String, &Formula)> = pass
        .steps
        .iter()
        .filter_map(|step| match &step.kind {
            StepKind::Measure { check, blind: false, .. } => {
                let found = procedure.check(check)?;
                (found.dimension == Dimension::Angle).then_some((&step.id, &found.formula))
            }
            _ => None,
        })
        .collect();
    let first_of_pass = pass.steps.first().map(|step| &step.id);
    let attitude = angles.first().filter(|(step, formula)| {
        Some(*step) == first_of_pass
            && matches!(formula, Formula::Balance { minus, zeroed: false, .. } if minus.is_empty())
    });
    let inside = || {
        angles.iter().find(
            |(_, formula)| matches!(formula, Formula::Balance { plus, minus, .. } if plus.len() > 1 && minus.len() > 1),
        )
    };
    attitude.or_else(inside).map(|(step, _)| (at_gate, *step))
}
