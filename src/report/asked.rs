//! A question as a page shows it to whom it is put, and what was said of a step by somebody who was not there.

use super::lines::{AllTitles, Line, in_words, when};
use crate::language::{tr, words};
use crate::procedure::{Adjuster, Procedure, ProposedMove, StepKind, applies, counts, instrument_words, of_run, order};
use crate::quantity::{Quantity, Unit, parse};
use crate::record::{
    About, Airframe, AirframeId, Body, Deviation, Entry, EntryId, Ledger, MovedAdjuster, Question, RunId, StepPath,
};

/// A question about a step of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The entry that asks it.
    pub question: EntryId,
    /// The airframe.
    pub airframe: AirframeId,
    /// The run.
    pub run: RunId,
    /// The step.
    pub step: StepPath,
    /// The procedure of the run.
    pub procedure: &'static Procedure,
    /// The question, word for word.
    pub text: String,
    /// Who asks, whom, and when.
    pub who: String,
}

impl Asked {
    /// What an entry asks; `None` when it asks nothing, or about no step that this version of the app knows.
    #[must_use]
    pub fn of(ledger: &Ledger, question: EntryId) -> Option<Self> {
        let entry = ledger.get(question)?;
        let Body::QuestionAsked(Question { about, question: text, to }) = &entry.body else { return None };
        let (run, step) = (about.run?, about.step.clone()?);
        let airframe = ledger.airframe(entry.airframe)?;
        let procedure = airframe.runs.iter().find(|started| started.run == run).and_then(of_run)?;
        let by = if entry.by.is_empty() { words!("Somebody") } else { &entry.by };
        let who = tr!("{person} asks {name}, {time}", person = by, name = to, time = when(&entry.at));
        Some(Self { question, airframe: airframe.id, run, step, procedure, text: text.clone(), who })
    }

    /// What it is about.
    #[must_use]
    pub fn about(&self) -> About {
        About { run: Some(self.run), step: Some(self.step.clone()), entry: None }
    }
}

/// A reading as it was taken: nothing worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct RawReading {
    /// Who, when, which of the step's readings and how much; and why it was struck out, where it was.
    pub line: Line,
    /// What it was read with; empty where that is what the one before was read with.
    pub with: String,
}

/// Every reading of a step of a run, struck out or not, oldest first.
#[must_use]
pub fn raw_readings(ledger: &Ledger, airframe: AirframeId, run: RunId, step: &str) -> Vec<RawReading> {
    let of_step = |entry: &&Entry| match &entry.body {
        Body::ReadingTaken(reading) => reading.run == run && reading.step == step,
        _ => false,
    };
    let taken: Vec<&Entry> = ledger.of(airframe).filter(of_step).collect();
    let lines = in_words(ledger, airframe, taken.iter().copied());
    let titles = AllTitles::of(ledger, airframe);
    let mut before = String::new();
    let one = |(mut line, entry): (Line, &Entry)| {
        let mut with = String::new();
        if let Body::ReadingTaken(reading) = &entry.body {
            // The step is the page's.
            line.what = titles.reading(reading);
            let state = instrument_words(&reading.instrument, entry.at.date_naive());
            let words = format!("{}. {}", reading.instrument.name, state.join(" "));
            if words != before {
                before.clone_from(&words);
                with = words;
            }
        }
        RawReading { line, with }
    };
    lines.into_iter().zip(taken).map(one).collect()
}

/// A remark, as it stands at its step.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// The entry.
    pub entry: EntryId,
    /// "C. Mentor says, 2026-03-04 19:31:".
    pub who: String,
    /// What was said.
    pub text: String,
    /// The reading that it is about, in words, where it is about one.
    pub of: Option<String>,
    /// A move that is proposed; it is not made by being proposed.
    pub proposes: Option<ProposedMove>,
    /// The adjuster of the proposal was moved since.
    pub moved_since: bool,
}

/// What was said of a step of a run by somebody who was not there, oldest first. What was struck out is left away.
#[must_use]
pub fn remarks(ledger: &Ledger, airframe: AirframeId, run: RunId, step: &str) -> Vec<Said> {
    let known = ledger.airframe(airframe);
    let procedure = known.as_ref().and_then(|known| known.runs.iter().find(|started| started.run == run));
    let procedure = procedure.and_then(of_run);
    let entries = ledger.of_run(airframe, run);
    let moved_since = |said: EntryId, proposed: &MovedAdjuster| {
        entries.iter().any(|entry| match &entry.body {
            Body::AdjusterMoved(moved) => entry.id > said && moved.run == run && moved.adjuster == proposed.adjuster,
            _ => false,
        })
    };
    let one = |entry: &&Entry| {
        let Body::RemarkMade(remark) = &entry.body else { return None };
        if remark.about.step.as_deref() != Some(step) || remark.about.run != Some(run) {
            return None;
        }
        let by = if entry.by.is_empty() { words!("Somebody") } else { &entry.by };
        let of = remark.about.entry.and_then(|of| ledger.get(of));
        let of = of.and_then(|of| in_words(ledger, airframe, std::iter::once(of)).pop());
        Some(Said {
            entry: entry.id,
            who: tr!("{person} says, {time}:", person = by, time = when(&entry.at)),
            text: remark.text.clone(),
            of: of.map(|line| line.what),
            proposes: remark.proposes.as_ref().and_then(|moved| proposed(procedure?, moved)),
            moved_since: remark.proposes.as_ref().is_some_and(|moved| moved_since(entry.id, moved)),
        })
    };
    entries.iter().filter_map(one).collect()
}

/// A proposed move as an order; `None` when the procedure has no such adjuster.
fn proposed(procedure: &Procedure, moved: &MovedAdjuster) -> Option<ProposedMove> {
    let adjuster = procedure.adjuster(&moved.adjuster)?;
    let (id, amount) = (moved.adjuster.clone(), moved.amount.clone());
    Some(ProposedMove { adjuster: id, order: order(adjuster, &amount), amount })
}

/// Questions about a step of a run that are in force, each in words with whether anybody has answered, oldest first.
#[must_use]
pub fn questions(ledger: &Ledger, airframe: AirframeId, run: RunId, step: &str) -> Vec<(EntryId, String)> {
    let entries = ledger.of_run(airframe, run);
    let answered = |asked: EntryId| {
        entries.iter().any(|entry| matches!(&entry.body, Body::RemarkMade(remark) if remark.answers == Some(asked)))
    };
    let asked = |entry: &&Entry| match &entry.body {
        Body::QuestionAsked(Question { about, question, to }) if about.step.as_deref() == Some(step) => {
            let words = if answered(entry.id) {
                tr!("Asked {name}: {question}", name = to, question)
            } else {
                tr!("Asked {name}: {question} (no answer yet)", name = to, question)
            };
            Some((entry.id, words))
        }
        _ => None,
    };
    entries.iter().filter_map(asked).collect()
}

/// Deviations of a step of a run that nobody has answered, oldest first: the entry, and what is put to whom.
#[must_use]
pub fn unanswered(ledger: &Ledger, airframe: AirframeId, run: RunId, step: &str) -> Vec<(EntryId, String)> {
    let all = ledger.in_force(airframe);
    let answered = |raised: &Entry| {
        all.iter().any(|entry| matches!(&entry.body, Body::DeviationAnswered(answer) if counts(answer, raised)))
    };
    let raised = |entry: &&Entry| match &entry.body {
        Body::DeviationRaised(Deviation { about, .. }) => {
            about.run == Some(run) && about.step.as_deref() == Some(step) && !answered(entry)
        }
        _ => false,
    };
    let raised = all.iter().copied().filter(raised);
    in_words(ledger, airframe, raised).into_iter().map(|line| (line.entry, line.what)).collect()
}

/// A way in which an adjuster can be moved.
#[derive(Clone, Debug, PartialEq)]
pub struct Movable {
    /// The adjuster's key.
    adjuster: String,
    /// Against its positive direction.
    minus: bool,
    /// As an order without an amount: "Raise the saddle".
    pub label: String,
    /// The unit that its amount is counted in; [`Unit::One`] for turns.
    pub unit: Unit,
    /// The smallest amount that can be set by hand, in `unit`.
    step: f64,
}

/// What can be proposed at a step: both ways of each adjuster that its check answers to, then of the others.
#[must_use]
pub fn movables(asked: &Asked, airframe: &Airframe) -> Vec<Movable> {
    let procedure = asked.procedure;
    let laid_out = procedure.laid_out();
    let of_check = laid_out.iter().find(|(path, ..)| *path == asked.step).and_then(|(_, _, step)| match &step.kind {
        StepKind::Measure { check, .. } => Some(procedure.check(check)?.adjusters.as_slice()),
        _ => None,
    });
    let first = of_check.unwrap_or_default();
    let there = |adjuster: &&Adjuster| applies(adjuster.only_if.as_ref(), airframe);
    let mut adjusters: Vec<&Adjuster> = procedure.adjusters.iter().filter(there).collect();
    adjusters.sort_by_key(|adjuster| !first.contains(&adjuster.id));
    let both = |adjuster: &Adjuster| {
        let counted = adjuster.settable.counted(airframe.details.units, &airframe.specification).ok()?;
        let way = |minus: bool, label: &String| Movable {
            adjuster: adjuster.id.clone(),
            minus,
            label: label.clone(),
            unit: counted.unit,
            step: counted.step,
        };
        Some([way(false, &adjuster.plus), way(true, &adjuster.minus)])
    };
    adjusters.into_iter().filter_map(both).flatten().collect()
}

impl Movable {
    /// A proposal of this move by an amount as it is typed, counted the way of the label.
    ///
    /// # Errors
    /// Why the text is no such amount, in words.
    pub fn by(&self, typed: &str, run: RunId, step: &str) -> Result<MovedAdjuster, String> {
        let amount = parse(typed, self.unit, self.step).map_err(|error| error.to_string())?;
        if amount.value <= 0.0 {
            return Err(tr!("How far it is to be moved is more than nothing; the other way is a choice of its own."));
        }
        let value = if self.minus { -amount.value } else { amount.value };
        let amount = Quantity::new(value, amount.unit, amount.step);
        Ok(MovedAdjuster { run, step: step.to_owned(), adjuster: self.adjuster.clone(), amount })
    }
}
