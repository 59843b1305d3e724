//! The record as lines that a person reads.

use chrono::{DateTime, Datelike, FixedOffset, Timelike};

use crate::procedure::{Procedure, StepKind, Words, all_in_use, mark_words, of_run, order, place_words, rows_words};
use crate::quantity::print;
use crate::record::{
    About, AirframeId, Body, Deviation, DeviationAnswer, Entry, EntryId, Key, Ledger, MovedAdjuster, OpenItem,
    Question, Remark, RunId, TimeSpent, day_text,
};

/// One entry in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The entry.
    pub entry: EntryId,
    /// Local time where it was made: "2026-03-04 19:31".
    pub when: String,
    /// Who was at the phone.
    pub by: String,
    /// What it says.
    pub what: String,
    /// The reason, when it was struck out.
    pub struck: Option<String>,
    /// Whether it may be struck out: what founds an airframe or a run, a key, and strikes themselves, may not.
    pub can_strike: bool,
}

/// Every entry of an airframe in words, oldest first.
#[must_use]
pub fn lines(ledger: &Ledger, airframe: AirframeId) -> Vec<Line> {
    in_words(ledger, airframe, ledger.of(airframe))
}

/// The newest entries of an airframe in words, at most so many, oldest first.
#[must_use]
pub fn latest_lines(ledger: &Ledger, airframe: AirframeId, count: usize) -> Vec<Line> {
    let mut newest: Vec<&Entry> = ledger.of(airframe).rev().take(count).collect();
    newest.reverse();
    in_words(ledger, airframe, newest.into_iter())
}

/// Some entries in words, in the order in which they are asked for; one that is not here is left away.
#[must_use]
pub fn lines_of(ledger: &Ledger, airframe: AirframeId, entries: &[EntryId]) -> Vec<Line> {
    in_words(ledger, airframe, entries.iter().filter_map(|entry| ledger.get(*entry)))
}

/// What was said of one step of a run, in words, oldest first; what was struck out is left away.
#[must_use]
pub fn lines_about(ledger: &Ledger, airframe: AirframeId, about: &About) -> Vec<Line> {
    let entries = about.run.map_or_else(|| ledger.in_force(airframe), |run| ledger.of_run(airframe, run));
    let said = |entry: &&Entry| entry.about().is_some_and(|other| (other.run, &other.step) == (about.run, &about.step));
    in_words(ledger, airframe, entries.into_iter().filter(said))
}

pub(super) fn in_words<'l>(
    ledger: &'l Ledger,
    airframe: AirframeId,
    entries: impl Iterator<Item = &'l Entry>,
) -> Vec<Line> {
    let struck = ledger.struck(airframe);
    let titles = AllTitles::of(ledger, airframe);
    entries
        .map(|entry| Line {
            entry: entry.id,
            when: when(&entry.at),
            by: entry.by.clone(),
            what: titles.what(entry, ledger),
            struck: struck.get(entry.id).map(|strike| match ledger.get(strike).map(|entry| &entry.body) {
                Some(Body::Struck { reason, .. }) => reason.clone(),
                _ => String::new(),
            }),
            can_strike: !matches!(
                entry.body,
                Body::AirframeMade { .. } | Body::RunStarted { .. } | Body::KeyMade { .. } | Body::Struck { .. }
            ),
        })
        .collect()
}

/// "2026-03-04 19:31", as the clock on the wall showed it.
#[must_use]
pub fn when(at: &DateTime<FixedOffset>) -> String {
    format!("{:04}-{:02}-{:02} {:02}:{:02}", at.year(), at.month(), at.day(), at.hour(), at.minute())
}

/// What an airframe's entries are called by: each run's titles, and those of its specification.
pub(super) struct AllTitles {
    runs: Vec<(RunId, Titles)>,
    procedures: Vec<&'static Procedure>,
    none: Titles,
}

impl AllTitles {
    pub(super) fn of(ledger: &Ledger, airframe: AirframeId) -> Self {
        let Some(known) = ledger.airframe(airframe) else {
            return Self { runs: Vec::new(), procedures: Vec::new(), none: Titles::of(None) };
        };
        let runs = known.runs.iter().map(|started| (started.run, Titles::of(of_run(started)))).collect();
        Self { runs, procedures: all_in_use(&known), none: Titles::of(None) }
    }

    /// What a step is called, its procedure before it; empty where nothing is named.
    pub(super) fn of_step(&self, about: &About) -> String {
        let titles = self.runs.iter().find(|(known, _)| Some(*known) == about.run).map(|(_, titles)| titles);
        let procedure = titles.and_then(|titles| titles.procedure).map(|procedure| procedure.title.as_str());
        let step = about.step.as_deref().map(|path| titles.unwrap_or(&self.none).step(path));
        procedure.into_iter().chain(step).collect::<Vec<_>>().join(": ")
    }

    /// What an item of the specification is called; one that no procedure asks for keeps its key.
    fn item<'s>(&'s self, key: &'s str) -> &'s str {
        self.procedures.iter().find_map(|procedure| procedure.item(key)).map_or(key, |item| &item.title)
    }

    fn what(&self, entry: &Entry, ledger: &Ledger) -> String {
        match &entry.body {
            Body::SpecificationSet { key, value, source } => {
                let page = if source.is_empty() { String::new() } else { format!(" ({source})") };
                format!("Specification: {} {}{page}", self.item(key), Words::tolerance(value))
            }
            Body::SpecificationReread { key, entry } => {
                let read = match ledger.get(*entry).map(|entry| &entry.body) {
                    Some(Body::SpecificationSet { value, .. }) => Words::tolerance(value),
                    _ => String::new(),
                };
                format!("Read again in the manual, the same: {} {read}", self.item(key))
            }
            Body::Struck { entry, reason } => {
                let what = ledger.get(*entry).map_or_else(String::new, |entry| self.what(entry, ledger));
                format!("Struck out: {what} \u{2013} {reason}")
            }
            Body::ProcedureKept { procedure: id, version, .. } => {
                let known = self.procedures.iter().find(|known| known.id == *id);
                let title = known.map_or(id.as_str(), |known| &known.title);
                format!("Procedure kept for this airframe: {title} (version {version})")
            }
            Body::ItemClosed { item, how } => {
                let item = match ledger.get(*item).map(|entry| &entry.body) {
                    Some(Body::ItemOpened(item)) => item.what.as_str(),
                    _ => "",
                };
                format!("Done, left open before: {item} \u{2013} {how}")
            }
            body => {
                let run = entry.run().and_then(|run| self.runs.iter().find(|(known, _)| *known == run));
                run.map_or(&self.none, |(_, titles)| titles).what(body)
            }
        }
    }
}

/// The titles of a run's steps and readings, laid out once for all lines. What the procedure does not have keeps its key.
struct Titles {
    procedure: Option<&'static Procedure>,
    /// Path and title.
    steps: Vec<(String, String)>,
    /// Path, slot and title.
    slots: Vec<(String, String, String)>,
}

impl Titles {
    fn of(procedure: Option<&'static Procedure>) -> Self {
        let (mut steps, mut slots) = (Vec::new(), Vec::new());
        for (path, gate, step) in procedure.map(Procedure::laid_out).unwrap_or_default() {
            if let StepKind::Measure { slots: taken, .. } = step.kind {
                for slot in taken {
                    slots.push((path.clone(), slot.id, slot.title));
                }
            }
            let title = gate.map_or_else(|| step.title.clone(), |gate| format!("{}, {gate}", step.title));
            steps.push((path, title));
        }
        Self { procedure, steps, slots }
    }

    fn step<'s>(&'s self, path: &'s str) -> &'s str {
        self.steps.iter().find(|(known, _)| known == path).map_or(path, |(_, title)| title)
    }

    fn slot<'s>(&'s self, path: &str, slot: &'s str) -> &'s str {
        let found = self.slots.iter().find(|(at, known, _)| at == path && known == slot);
        found.map_or(slot, |(_, _, title)| title)
    }

    fn what(&self, body: &Body) -> String {
        match body {
            Body::AirframeMade { details } => format!("Airframe added: {} {}", details.model, details.serial),
            Body::InstrumentAccepted { role, instrument } => format!(
                "Instrument accepted as {role}: {}, reads to {}",
                instrument.name,
                print(instrument.step, instrument.unit, 0.0)
            ),
            Body::InstrumentReversed { role, reversal } => {
                format!("Turned end for end: {role}, {} then {}", reversal.first.print(), reversal.turned.print())
            }
            Body::RunStarted { procedure: id, version, .. } => {
                let title = self.procedure.map_or(id.as_str(), |found| &found.title);
                format!("Begun: {title} (version {version})")
            }
            Body::StepConfirmed { step, .. } => format!("Done: {}", self.step(step)),
            Body::ReadingTaken(reading) => format!(
                "{}: {} {}",
                self.step(&reading.step),
                self.slot(&reading.step, &reading.slot),
                reading.value.print()
            ),
            Body::AdjusterMoved(moved) => format!("Moved: {}", self.order(moved)),
            Body::Counted { step, good, bad, .. } => format!("{}: {good} good, {bad} bad", self.step(step)),
            Body::HolesLaidOut(laid) => {
                format!("{}: laid out, holes in each row: {}", self.step(&laid.step), rows_words(&laid.rows))
            }
            Body::HoleMarked(marked) => {
                format!("{}: {}: {}", self.step(&marked.step), place_words(marked.at()), mark_words(marked))
            }
            Body::HoldSigned { step, name, .. } => format!("Signed by {name}: {}", self.step(step)),
            Body::PersonNamed { name, role } => format!("{name}: {role}"),
            Body::KeyMade { key, lost } => {
                let key = Key::parse(key).map_or_else(|| "which cannot be read".to_owned(), |key| key.words());
                let why = lost.as_ref().map(|why| format!(". {why}")).unwrap_or_default();
                format!("This device signs from here on, with the key: {key}{why}")
            }
            Body::NoteMade { about, text, spoken } => {
                format!("{}Note{}: {text}", self.about(about), if *spoken { ", spoken" } else { "" })
            }
            Body::PhotoAttached { about, caption, .. } => format!("{}Photo: {caption}", self.about(about)),
            Body::DeviationRaised(Deviation { about, found, limit, reason, asked }) => {
                format!("{}Deviation put to {asked}: {found}; the limit is {limit}; {reason}", self.about(about))
            }
            Body::DeviationAnswered(DeviationAnswer { accepted, name, answer, .. }) => {
                let verdict = if *accepted { "accepted" } else { "not accepted" };
                format!("Deviation {verdict} by {name}: \u{201c}{answer}\u{201d}")
            }
            Body::ItemOpened(OpenItem { about, what, blocks }) => {
                let blocks = blocks.as_ref().map(|path| format!("; before {}", self.step(path))).unwrap_or_default();
                let what = if blocks.is_empty() { what } else { what.trim_end_matches('.') };
                format!("{}Left to do: {what}{blocks}", self.about(about))
            }
            Body::TimeSpent(TimeSpent { about, day, minutes, what }) => {
                format!("{}{minutes} min on {}: {what}", self.about(about), day_text(*day))
            }
            Body::QuestionAsked(Question { about, question, to }) => {
                format!("{}Asked {to}: {question}", self.about(about))
            }
            Body::RemarkMade(Remark { about, text, proposes, .. }) => {
                let proposes = proposes.as_ref().map(|moved| {
                    format!("{}Proposed: {}", if text.ends_with('.') { " " } else { ". " }, self.order(moved))
                });
                format!("{}Remark: {text}{}", self.about(about), proposes.unwrap_or_default())
            }
            Body::SpecificationSet { .. }
            | Body::SpecificationReread { .. }
            | Body::ProcedureKept { .. }
            | Body::ItemClosed { .. }
            | Body::Struck { .. } => String::new(),
        }
    }

    /// The step that something is about, before what is said of it.
    fn about(&self, about: &About) -> String {
        about.step.as_deref().map(|path| format!("{}: ", self.step(path))).unwrap_or_default()
    }

    fn order(&self, moved: &MovedAdjuster) -> String {
        let adjuster = self.procedure.and_then(|procedure| procedure.adjuster(&moved.adjuster));
        adjuster.map_or_else(
            || format!("{} {}", moved.adjuster, moved.amount.print()),
            |adjuster| order(adjuster, &moved.amount),
        )
    }
}
