//! The desk of somebody who is asked by many builders: every airframe, what waits for an answer, and how far each check spreads over
//! the airframes of a type (docs/decisions/0019).

use super::left::open_entries;
use super::lines::{in_words, when};
use crate::language::tr;
use crate::metrology::statistics::median;
use crate::metrology::{Mark, Verdict};
use crate::procedure::{Check, CheckResult, Procedure, Run, StepKind, Words, of_run};
use crate::quantity::Unit;
use crate::record::{Airframe, AirframeId, Body, Entry, EntryId, Ledger};

/// An airframe as one line of the desk.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnDesk {
    /// The airframe.
    pub airframe: AirframeId,
    /// Its type and serial.
    pub title: String,
    /// Who builds it.
    pub builder: String,
    /// An invented example.
    pub invented: bool,
    /// When its youngest entry was made.
    pub latest: String,
    /// How many questions and deviations wait for an answer.
    pub waiting: usize,
}

impl OnDesk {
    /// Whether every word of a filter is somewhere in the line; case aside in the Latin alphabet without accents.
    #[must_use]
    pub fn matches(&self, filter: &str) -> bool {
        let line = format!("{} {}", self.title, self.builder).to_ascii_lowercase();
        filter.to_ascii_lowercase().split_whitespace().all(|word| line.contains(word))
    }
}

/// Something that waits for an answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pending {
    /// The question, or the deviation.
    pub entry: EntryId,
    /// Whether it is a question; else a deviation.
    pub question: bool,
    /// Its airframe.
    pub airframe: AirframeId,
    /// Type and serial, who, and when.
    pub who: String,
    /// What is asked.
    pub what: String,
}

/// Every airframe, in the order in which they were made.
#[must_use]
pub fn on_desk(ledger: &Ledger) -> Vec<OnDesk> {
    let pending = pending(ledger);
    let one = |airframe: Airframe| OnDesk {
        airframe: airframe.id,
        title: title(&airframe),
        latest: ledger.of(airframe.id).next_back().map(|entry| when(&entry.at)).unwrap_or_default(),
        waiting: pending.iter().filter(|pending| pending.airframe == airframe.id).count(),
        invented: airframe.details.invented,
        builder: airframe.details.builder,
    };
    ledger.airframes().into_iter().map(one).collect()
}

fn title(airframe: &Airframe) -> String {
    format!("{} {}", airframe.details.model, airframe.details.serial)
}

/// Questions that no remark answers and deviations that nobody has answered, of all airframes, the newest first.
#[must_use]
pub fn pending(ledger: &Ledger) -> Vec<Pending> {
    let mut all: Vec<Pending> = ledger.airframes().iter().flat_map(|airframe| of_airframe(ledger, airframe)).collect();
    all.sort_by_key(|pending| std::cmp::Reverse(pending.entry));
    all
}

fn of_airframe(ledger: &Ledger, airframe: &Airframe) -> Vec<Pending> {
    let open = open_entries(ledger, airframe.id).into_iter();
    let open: Vec<&Entry> = open.filter(|entry| !matches!(entry.body, Body::ItemOpened(_))).collect();
    let lines = in_words(ledger, airframe.id, open.iter().copied());
    let one = |(line, entry): (super::Line, &Entry)| Pending {
        entry: entry.id,
        question: matches!(entry.body, Body::QuestionAsked(_)),
        airframe: airframe.id,
        who: format!("{} · {} · {}", title(airframe), line.by, line.when),
        what: line.what,
    };
    lines.into_iter().zip(open).map(one).collect()
}

/// A type with more than one airframe: what it is called, and which they are. Invented ones are a type of their own.
#[must_use]
pub fn types(ledger: &Ledger) -> Vec<(String, Vec<AirframeId>)> {
    let mut found: Vec<((String, bool), String, Vec<AirframeId>)> = Vec::new();
    for airframe in ledger.airframes() {
        let model = airframe.details.model.trim();
        let key = (model.to_ascii_lowercase(), airframe.details.invented);
        match found.iter_mut().find(|(known, ..)| *known == key) {
            Some((_, _, airframes)) => airframes.push(airframe.id),
            None => found.push((key, model.to_owned(), vec![airframe.id])),
        }
    }
    found.retain(|(_, _, airframes)| airframes.len() > 1);
    let named = |((_, invented), model, airframes): ((String, bool), String, Vec<AirframeId>)| {
        (if invented { tr!("{model} (invented)", model) } else { model }, airframes)
    };
    found.into_iter().map(named).collect()
}

/// What one airframe has of a check.
#[derive(Clone, Debug, PartialEq)]
pub struct OneOf {
    /// The airframe.
    pub airframe: AirframeId,
    /// Its serial.
    pub serial: String,
    /// The value as its own page prints it.
    pub value: String,
    /// The verdict.
    pub verdict: Verdict,
    /// Its drawing, against the airframe's own limits.
    pub mark: Mark,
}

/// A check over the airframes of a type.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// The procedure.
    pub procedure: &'static Procedure,
    /// What the check is called.
    pub check: String,
    /// The smallest value.
    pub least: String,
    /// The middle one, or halfway between the two middle ones.
    pub middle: String,
    /// The largest.
    pub greatest: String,
    /// Every value, smallest first.
    pub each: Vec<OneOf>,
}

/// A check of an airframe as it stands: what its last complete readings give while nothing was moved since.
struct Standing {
    procedure: &'static Procedure,
    check: Check,
    airframe: AirframeId,
    serial: String,
    result: CheckResult,
}

/// How far each check spreads over some airframes: those checks that two or more of them have, in the order of the procedures. A check
/// that another version of a procedure defines otherwise, or that is in another unit, is a check of its own.
#[must_use]
pub fn spreads(ledger: &Ledger, airframes: &[AirframeId]) -> Vec<Spread> {
    let mut groups: Vec<Vec<Standing>> = Vec::new();
    for airframe in airframes.iter().filter_map(|id| ledger.airframe(*id)) {
        for standing in standings(ledger, &airframe) {
            let same = |group: &&mut Vec<Standing>| {
                group.first().is_some_and(|first| {
                    first.procedure.id == standing.procedure.id
                        && first.check == standing.check
                        && first.result.estimate.unit == standing.result.estimate.unit
                })
            };
            match groups.iter_mut().find(same) {
                Some(group) => group.push(standing),
                None => groups.push(vec![standing]),
            }
        }
    }
    groups.into_iter().filter(|group| group.len() > 1).filter_map(spread).collect()
}

fn spread(mut group: Vec<Standing>) -> Option<Spread> {
    group.sort_by(|one, two| one.result.estimate.value.total_cmp(&two.result.estimate.value));
    let values: Vec<f64> = group.iter().map(|standing| standing.result.estimate.value).collect();
    let middle = median(&values)?;
    let (first, last) = (group.first()?, group.last()?);
    let unit: Unit = first.result.estimate.unit;
    let finest = group.iter().map(|standing| standing.result.step).fold(f64::INFINITY, f64::min);
    Some(Spread {
        procedure: first.procedure,
        check: first.check.title.clone(),
        least: Words::value(&first.result),
        // Halfway between two steps of a scale is worth printing.
        middle: Words::number(middle, unit, if group.len().is_multiple_of(2) { finest / 2.0 } else { finest }),
        greatest: Words::value(&last.result),
        each: group
            .iter()
            .map(|standing| OneOf {
                airframe: standing.airframe,
                serial: standing.serial.clone(),
                value: Words::value(&standing.result),
                verdict: standing.result.verdict,
                mark: standing.result.mark,
            })
            .collect(),
    })
}

/// Every check of an airframe that stands: of a check that is measured at several gates, the last.
fn standings(ledger: &Ledger, airframe: &Airframe) -> Vec<Standing> {
    let mut found: Vec<Standing> = Vec::new();
    for started in &airframe.runs {
        let latest = airframe.latest_run(&started.procedure).is_some_and(|latest| latest.run == started.run);
        let Some(procedure) = of_run(started).filter(|_| latest) else { continue };
        let run = Run::without_advice(procedure, airframe, started.run, &ledger.of_run(airframe.id, started.run));
        for step in &run.steps {
            let StepKind::Measure { check, .. } = &step.step.kind else { continue };
            let fresh = step.attempt().is_none_or(|attempt| attempt.stale.is_none());
            let (Some(check), Some(result), true) = (procedure.check(check), step.result(), fresh) else { continue };
            found.retain(|known| known.procedure.id != procedure.id || known.check.id != check.id);
            found.push(Standing {
                procedure,
                check: check.clone(),
                airframe: airframe.id,
                serial: airframe.details.serial.clone(),
                result: result.clone(),
            });
        }
    }
    found
}
