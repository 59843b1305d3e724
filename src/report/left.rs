//! What is left to do on an airframe: open items, deviations and questions that wait for an answer; and what a form needs to add one.

use std::collections::{BTreeMap, BTreeSet};

use super::lines::in_words;
use crate::language::words;
use crate::procedure::{Procedure, Run, State, Words, counts, departure};
use crate::record::{
    About, Airframe, AirframeId, Body, DeviationAnswer, Entry, EntryId, Ledger, MAX_TEXT, RunId, StepPath, same_person,
};

/// What kind of thing is left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftKind {
    /// To be done, and closed by saying how.
    Item,
    /// To be accepted or not.
    Deviation,
    /// To be answered.
    Question,
}

/// Something that is left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Left {
    /// Its entry.
    pub entry: EntryId,
    /// Its kind.
    pub kind: LeftKind,
    /// What it says.
    pub what: String,
    /// Who and when.
    pub who: String,
    /// The procedure's id and the step, where it is about a step of a run that is the latest of its procedure.
    pub at: Option<(String, StepPath)>,
}

/// Entries in force that are still open, oldest first.
pub(super) fn open_entries(ledger: &Ledger, airframe: AirframeId) -> Vec<&Entry> {
    let entries = ledger.in_force(airframe);
    let (mut answers, mut done) = (BTreeMap::<EntryId, Vec<&DeviationAnswer>>::new(), BTreeSet::new());
    for entry in &entries {
        match &entry.body {
            Body::DeviationAnswered(answer) => answers.entry(answer.deviation).or_default().push(answer),
            Body::ItemClosed { item, .. } => {
                done.insert(*item);
            }
            Body::RemarkMade(remark) => done.extend(remark.answers),
            _ => {}
        }
    }
    let open = |entry: &&Entry| match &entry.body {
        Body::DeviationRaised(_) => !answers.get(&entry.id).into_iter().flatten().any(|answer| counts(answer, entry)),
        Body::ItemOpened(_) | Body::QuestionAsked(_) => !done.contains(&entry.id),
        _ => false,
    };
    entries.into_iter().filter(open).collect()
}

/// Everything that is left, oldest first.
#[must_use]
pub fn left_to_do(ledger: &Ledger, airframe: AirframeId) -> Vec<Left> {
    let open = open_entries(ledger, airframe);
    let known = ledger.airframe(airframe);
    let lines = in_words(ledger, airframe, open.iter().copied());
    let one = |(line, entry): (super::Line, &Entry)| Left {
        entry: entry.id,
        kind: match entry.body {
            Body::ItemOpened(_) => LeftKind::Item,
            Body::DeviationRaised(_) => LeftKind::Deviation,
            _ => LeftKind::Question,
        },
        what: line.what,
        who: if line.by.is_empty() { line.when } else { format!("{} · {}", line.when, line.by) },
        at: known.as_ref().zip(entry.about()).and_then(|(known, about)| latest(known, about)),
    };
    lines.into_iter().zip(open).map(one).collect()
}

fn latest(airframe: &Airframe, about: &About) -> Option<(String, StepPath)> {
    let started = airframe.runs.iter().find(|started| Some(started.run) == about.run)?;
    let latest = airframe.latest_run(&started.procedure)?;
    (latest.run == started.run).then_some((started.procedure.clone(), about.step.clone()?))
}

/// What is left at one step of a run: what is about it, and what keeps it shut. Questions are left to the step's own page.
#[must_use]
pub fn left_at(ledger: &Ledger, airframe: AirframeId, about: &About) -> Vec<Left> {
    let here = |left: &Left| {
        let entry = ledger.get(left.entry)?;
        let shuts = matches!(&entry.body, Body::ItemOpened(item) if item.blocks == about.step);
        let other = entry.about()?;
        (other.run == about.run && (other.step == about.step || shuts)).then_some(())
    };
    let all = left_to_do(ledger, airframe).into_iter();
    all.filter(|left| left.kind != LeftKind::Question && here(left).is_some()).collect()
}

fn folded(ledger: &Ledger, airframe: &Airframe, procedure: &Procedure, run: RunId) -> Run {
    Run::without_advice(procedure, airframe, run, &ledger.of_run(airframe.id, run))
}

/// What a deviation at a step would begin with: what was found and the limit. `None` where nothing is out or in doubt.
#[must_use]
pub fn departure_at(
    ledger: &Ledger,
    airframe: &Airframe,
    procedure: &Procedure,
    (run, step): (RunId, &str),
) -> Option<(String, String)> {
    departure(procedure, airframe, folded(ledger, airframe, procedure, run).step(step)?)
}

/// Steps of a run that are still ahead, in their order: path and title.
#[must_use]
pub fn steps_ahead(ledger: &Ledger, airframe: &Airframe, procedure: &Procedure, run: RunId) -> Vec<(StepPath, String)> {
    let run = folded(ledger, airframe, procedure, run);
    let ahead = run.steps.iter().filter(|step| step.state != State::Done);
    ahead.map(|step| (step.path.clone(), Words::step_title(step))).collect()
}

/// An answer to a deviation.
///
/// # Errors
/// Why it is none, in words.
pub fn answer_to(
    ledger: &Ledger,
    deviation: EntryId,
    accepted: bool,
    name: &str,
    answer: &str,
) -> Result<DeviationAnswer, &'static str> {
    let (name, answer) = (name.trim(), answer.trim());
    if name.is_empty() || answer.is_empty() {
        return Err(words!("The name and the reason stand beside the answer: write both."));
    }
    if answer.len() > MAX_TEXT || name.len() > MAX_TEXT {
        return Err(words!("That is too long for one entry."));
    }
    if ledger.get(deviation).is_some_and(|raised| same_person(&raised.by, name)) {
        return Err(words!(
            "Nobody answers what they asked themselves: somebody else has to say whether it may stand."
        ));
    }
    Ok(DeviationAnswer { deviation, accepted, name: name.to_owned(), answer: answer.to_owned() })
}
