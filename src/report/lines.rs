//! The record as lines that a person reads.

use std::collections::BTreeMap;

use chrono::{DateTime, Datelike, FixedOffset, Timelike};

use crate::language::{self, tr, words};
use crate::procedure::{Procedure, StepKind, Words, all_in_use, mark_words, of_run, order, place_words, rows_words};
use crate::quantity::print;
use crate::record::{
    About, AirframeId, Body, Deviation, DeviationAnswer, Entry, EntryId, Key, Ledger, MovedAdjuster, OpenItem,
    Question, Reading, Remark, RunId, TimeSpent, day_text, role_words,
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
    /// Which of the titles are a run's: runs of the same procedure share them.
    runs: BTreeMap<RunId, usize>,
    titles: Vec<Titles>,
    procedures: Vec<&'static Procedure>,
    none: Titles,
}

impl AllTitles {
    pub(super) fn of(ledger: &Ledger, airframe: AirframeId) -> Self {
        let Some(known) = ledger.airframe(airframe) else {
            return Self { runs: BTreeMap::new(), titles: Vec::new(), procedures: Vec::new(), none: Titles::of(None) };
        };
        let (mut runs, mut titles) = (BTreeMap::new(), Vec::<Titles>::new());
        for started in &known.runs {
            let procedure = of_run(started);
            let same = |titles: &Titles| match (titles.procedure, procedure) {
                (Some(one), Some(other)) => std::ptr::eq(one, other),
                (one, other) => one.is_none() && other.is_none(),
            };
            let place = titles.iter().position(same).unwrap_or_else(|| {
                titles.push(Titles::of(procedure));
                titles.len() - 1
            });
            runs.entry(started.run).or_insert(place);
        }
        Self { runs, titles, procedures: all_in_use(&known), none: Titles::of(None) }
    }

    /// The titles of a run.
    fn of_run(&self, run: Option<RunId>) -> Option<&Titles> {
        self.titles.get(*self.runs.get(&run?)?)
    }

    /// What a step is called, its procedure before it; empty where nothing is named.
    pub(super) fn of_step(&self, about: &About) -> String {
        let titles = self.of_run(about.run);
        let procedure = titles.and_then(|titles| titles.procedure).map(|procedure| procedure.title.as_str());
        let step = about.step.as_deref().map(|path| titles.unwrap_or(&self.none).step(path));
        match (procedure, step) {
            (Some(procedure), Some(step)) => tr!("{procedure}: {step}", procedure, step),
            (one, other) => one.or(other).unwrap_or_default().to_owned(),
        }
    }

    /// What an item of the specification is called; one that no procedure asks for keeps its key.
    fn item<'s>(&'s self, key: &'s str) -> &'s str {
        self.procedures.iter().find_map(|procedure| procedure.item(key)).map_or(key, |item| &item.title)
    }

    /// One of a step's readings without the step: which it is, and how much.
    pub(super) fn reading(&self, reading: &Reading) -> String {
        self.of_run(Some(reading.run)).unwrap_or(&self.none).reading(reading)
    }

    fn what(&self, entry: &Entry, ledger: &Ledger) -> String {
        match &entry.body {
            Body::SpecificationSet { key, value, source } => {
                let (item, value) = (self.item(key), Words::tolerance(value));
                if source.is_empty() {
                    tr!("Specification: {item} {value}", item, value)
                } else {
                    tr!("Specification: {item} {value} ({page})", item, value, page = source)
                }
            }
            Body::SpecificationReread { key, entry } => {
                let value = match ledger.get(*entry).map(|entry| &entry.body) {
                    Some(Body::SpecificationSet { value, .. }) => Words::tolerance(value),
                    _ => String::new(),
                };
                tr!("Read again in the manual, the same: {item} {value}", item = self.item(key), value)
            }
            Body::Struck { entry, reason } => {
                let what = ledger.get(*entry).map_or_else(String::new, |entry| self.what(entry, ledger));
                tr!("Struck out: {what} \u{2013} {reason}", what, reason)
            }
            Body::ProcedureKept { procedure: id, version, .. } => {
                let known = self.procedures.iter().find(|known| known.id == *id);
                let procedure = known.map_or(id.as_str(), |known| &known.title);
                tr!("Procedure kept for this airframe: {procedure} (version {version})", procedure, version)
            }
            Body::ItemClosed { item, how } => {
                let what = match ledger.get(*item).map(|entry| &entry.body) {
                    Some(Body::ItemOpened(item)) => item.what.as_str(),
                    _ => "",
                };
                tr!("Done, left open before: {what} \u{2013} {how}", what, how)
            }
            body => self.of_run(entry.run()).unwrap_or(&self.none).what(body),
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
            let title = gate.map_or_else(
                || step.title.clone(),
                // A gate is a key of the record: its words are looked up here.
                |gate| tr!("{step}, {gate}", step = step.title, gate = language::of_gate(&gate)),
            );
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

    fn reading(&self, reading: &Reading) -> String {
        let (title, value) = (self.slot(&reading.step, &reading.slot), reading.value.print());
        tr!("{reading} {value}", reading = title, value)
    }

    fn what(&self, body: &Body) -> String {
        match body {
            Body::AirframeMade { details } => {
                tr!("Airframe added: {model} {serial}", model = details.model, serial = details.serial)
            }
            Body::InstrumentAccepted { role, instrument } => tr!(
                "Instrument accepted as {role}: {instrument}, reads to {step}",
                role = role_words(role),
                instrument = instrument.name,
                step = print(instrument.step, instrument.unit, 0.0)
            ),
            Body::InstrumentReversed { role, reversal } => tr!(
                "Turned end for end: {role}, {first} then {turned}",
                role = role_words(role),
                first = reversal.first.print(),
                turned = reversal.turned.print()
            ),
            Body::RunStarted { procedure: id, version, .. } => {
                let procedure = self.procedure.map_or(id.as_str(), |found| &found.title);
                tr!("Begun: {procedure} (version {version})", procedure, version)
            }
            Body::StepConfirmed { step, .. } => tr!("Done: {step}", step = self.step(step)),
            Body::ReadingTaken(reading) => self.at_step(&reading.step, &self.reading(reading)),
            Body::AdjusterMoved(moved) => tr!("Moved: {order}", order = self.order(moved)),
            Body::Counted { step, good, bad, .. } => self.at_step(step, &tr!("{good} good, {bad} bad", good, bad)),
            Body::HolesLaidOut(laid) => {
                self.at_step(&laid.step, &tr!("laid out, holes in each row: {rows}", rows = rows_words(&laid.rows)))
            }
            Body::HoleMarked(marked) => {
                let (hole, mark) = (place_words(marked.at()), mark_words(marked));
                self.at_step(&marked.step, &tr!("{hole}: {mark}", hole, mark))
            }
            Body::HoldSigned { step, name, .. } => tr!("Signed by {name}: {step}", name, step = self.step(step)),
            Body::PersonNamed { name, role } => tr!("{name}: {role}", name, role),
            Body::KeyMade { key, lost } => {
                let key = Key::parse(key).map_or_else(|| words!("which cannot be read").to_owned(), |key| key.words());
                let said = tr!("This device signs from here on, with the key: {key}", key);
                lost.as_ref().map_or_else(|| said.clone(), |why| format!("{said}. {why}"))
            }
            Body::NoteMade { about, text, spoken: false } => self.about(about, tr!("Note: {text}", text)),
            Body::NoteMade { about, text, spoken: true } => self.about(about, tr!("Note, spoken: {text}", text)),
            Body::PhotoAttached { about, caption, .. } => self.about(about, tr!("Photo: {caption}", caption)),
            Body::DeviationRaised(Deviation { about, found, limit, reason, asked }) => self.about(
                about,
                tr!(
                    "Deviation put to {name}: {found}; the limit is {limit}; {reason}",
                    name = asked,
                    found,
                    limit,
                    reason
                ),
            ),
            Body::DeviationAnswered(DeviationAnswer { accepted: true, name, answer, .. }) => {
                tr!("Deviation accepted by {name}: \u{201c}{answer}\u{201d}", name, answer)
            }
            Body::DeviationAnswered(DeviationAnswer { name, answer, .. }) => {
                tr!("Deviation not accepted by {name}: \u{201c}{answer}\u{201d}", name, answer)
            }
            Body::ItemOpened(OpenItem { about, what, blocks: None }) => {
                self.about(about, tr!("Left to do: {what}", what))
            }
            Body::ItemOpened(OpenItem { about, what, blocks: Some(path) }) => {
                let (what, step) = (what.trim_end_matches('.'), self.step(path));
                self.about(about, tr!("Left to do: {what}; before {step}", what, step))
            }
            Body::TimeSpent(TimeSpent { about, day, minutes, what }) => {
                self.about(about, tr!("{minutes} min on {day}: {what}", minutes, day = day_text(*day), what))
            }
            Body::QuestionAsked(Question { about, question, to }) => {
                self.about(about, tr!("Asked {name}: {question}", name = to, question))
            }
            Body::RemarkMade(Remark { about, text, proposes, .. }) => {
                let mut said = tr!("Remark: {text}", text);
                if let Some(moved) = proposes {
                    said.push_str(if text.ends_with('.') { " " } else { ". " });
                    said.push_str(&tr!("Proposed: {order}", order = self.order(moved)));
                }
                self.about(about, said)
            }
            Body::SpecificationSet { .. }
            | Body::SpecificationReread { .. }
            | Body::ProcedureKept { .. }
            | Body::ItemClosed { .. }
            | Body::Struck { .. } => String::new(),
        }
    }

    /// What is said of something, the step that it is about before it.
    fn about(&self, about: &About, said: String) -> String {
        match about.step.as_deref() {
            Some(path) => self.at_step(path, &said),
            None => said,
        }
    }

    fn at_step(&self, path: &str, said: &str) -> String {
        tr!("{step}: {said}", step = self.step(path), said)
    }

    fn order(&self, moved: &MovedAdjuster) -> String {
        let adjuster = self.procedure.and_then(|procedure| procedure.adjuster(&moved.adjuster));
        adjuster.map_or_else(
            || format!("{} {}", moved.adjuster, moved.amount.print()),
            |adjuster| order(adjuster, &moved.amount),
        )
    }
}
