//! What is said aloud at a step: short, in the trade's words, numbers as people say them.
//!
//! A step's screen has a [`Script`]: parts, each with a key. [`Told`] remembers which were said since the step came up, so that
//! nothing is said twice by itself: the next reading of a set says only what is new. While somebody reads blind the script holds no target,
//! no earlier value and no verdict.

use std::collections::BTreeSet;

use crate::language::{tr, words};
use crate::metrology::Verdict;
use crate::procedure::listen::question;
use crate::procedure::words::capitalised;
use crate::procedure::{
    Advice, CheckResult, Face, Hold, Procedure, ProposedMove, Run, Slot, State, StepKind, StepState, Words, fill,
};
use crate::quantity::{aloud, say};
use crate::record::Airframe;

/// As many of what keeps a hold point shut are said; the rest is on the screen.
const MOST_MISSING: usize = 3;

/// One thing that is said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What makes it the same thing: a part whose key was said is not said again by itself.
    pub key: String,
    /// The words, numbers and all.
    pub words: String,
}

/// What a step's screen says, in order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Script {
    /// The step's path.
    pub step: String,
    /// The parts.
    pub parts: Vec<Part>,
}

/// What was said since the step came up.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Told {
    step: String,
    keys: BTreeSet<String>,
}

impl Told {
    /// What of the script was not said yet; from now on it counts as said. Another step begins from nothing.
    pub fn due(&mut self, script: &Script) -> Vec<String> {
        if self.step != script.step {
            *self = Self { step: script.step.clone(), keys: BTreeSet::new() };
        }
        let due = script.parts.iter().filter(|part| self.keys.insert(part.key.clone()));
        due.map(|part| part.words.clone()).collect()
    }
}

impl Script {
    /// Everything, for whoever asks to hear it again.
    #[must_use]
    pub fn all(&self) -> Vec<String> {
        self.parts.iter().map(|part| part.words.clone()).collect()
    }

    /// The script of a step's face. `left`: what remains to be moved of a correction that was begun.
    #[must_use]
    pub fn of(
        procedure: &Procedure,
        airframe: &Airframe,
        run: &Run,
        (step, face): (&StepState, &Face),
        left: &[ProposedMove],
    ) -> Self {
        let mut writer = Writer { procedure, airframe, run, step, parts: Vec::new() };
        writer.place();
        if left.is_empty() {
            writer.face(face);
        } else {
            writer.orders(left);
        }
        Self { step: step.path.clone(), parts: writer.parts }
    }
}

struct Writer<'a> {
    procedure: &'a Procedure,
    airframe: &'a Airframe,
    run: &'a Run,
    step: &'a StepState,
    parts: Vec<Part>,
}

impl Writer<'_> {
    fn part(&mut self, key: impl Into<String>, words: &str) {
        let words = aloud(words.trim());
        if !words.is_empty() {
            self.parts.push(Part { key: key.into(), words });
        }
    }

    fn filled(&self, text: &str) -> String {
        fill(text, &self.airframe.specification)
    }

    /// Which step this is, and what could hurt.
    fn place(&mut self) {
        let place = self.run.place(&self.step.path).map_or(0, |place| place + 1);
        let (count, title) = (self.run.steps.len(), Words::step_title(self.step));
        let words = tr!("Step {place} of {count}: {title}", place, count, title);
        self.part("step", &sentence(&words));
        let cautions: Vec<String> = self.step.step.cautions.iter().map(|caution| self.filled(caution)).collect();
        for (place, caution) in cautions.iter().enumerate() {
            self.part(format!("caution {place}"), caution);
        }
    }

    fn face(&mut self, face: &Face) {
        match face {
            Face::Blocked(_) => self.part("shut", words!("Shut: something before this step comes first.")),
            Face::Confirm if self.step.state == State::Done => self.done(),
            Face::Confirm | Face::Instrument(_) => self.texts(),
            Face::HandOver => self.part("hand over", words!("Hand the phone to the second person now.")),
            Face::Read { slot, repeat, attempt } => self.read(slot, *repeat, *attempt),
            Face::Judged => self.judged(),
            Face::Count { what, expected } => {
                self.texts();
                self.count(what, expected);
            }
            Face::Holes { what, .. } => {
                self.texts();
                let ask = self.step.holes.ask(what);
                self.part(ask.clone(), &ask);
            }
            Face::Hold { .. } => self.hold(),
        }
    }

    /// What to do.
    fn texts(&mut self) {
        let texts: Vec<String> = self.step.step.text.iter().map(|text| self.filled(text)).collect();
        for (place, text) in texts.iter().enumerate() {
            self.part(format!("text {place}"), text);
        }
    }

    fn done(&mut self) {
        self.part("done", words!("Done."));
        self.next();
    }

    fn count(&mut self, what: &str, expected: &str) {
        match (self.step.counted, self.airframe.specification.nominal(expected).map(|number| number.value)) {
            (Some((good, bad)), _) => {
                self.part(format!("counted {good} {bad}"), &tr!("Counted: {good} good, {bad} bad.", good, bad));
            }
            (None, Some(number)) => {
                let number = format!("{number:.0}");
                self.part("count", &tr!("Count the {what}. The sheet says {number}.", what, number));
            }
            (None, None) => self.part("count", &tr!("Count the {what}.", what)),
        }
        self.next();
    }

    /// What is read now.
    fn read(&mut self, slot: &Slot, repeat: usize, attempt: usize) {
        let blind = matches!(self.step.step.kind, StepKind::Measure { blind: true, .. });
        if self.step.state == State::Stale && !blind {
            self.part(format!("stale {attempt}"), words!("Stale: something was moved since. Measure it again."));
        }
        if !self.read_before() {
            self.texts();
        }
        if !blind {
            self.target(slot, attempt);
        }
        let kept = self.step.begun().and_then(|begun| begun.readings.last()).map(|last| (last.entry, last.value.say()));
        if let Some((entry, value)) = kept {
            self.part(format!("kept {entry:?}"), &tr!("Kept: {value}.", value));
        }
        let title = self.filled(&slot.title);
        let count = if slot.repeats > 1 {
            let repeats = slot.repeats;
            tr!("{title}, {repeat} of {repeats}", title, repeat, repeats)
        } else {
            title
        };
        self.part(format!("slot {} {repeat} {attempt}", slot.id), &sentence(&count));
        let place = self.filled(&slot.place);
        self.part(format!("place {} {attempt}", slot.id), &place);
        if let Some(ask) = &slot.ask {
            self.part(format!("ask {} {attempt}", ask.question), &question(ask));
        }
    }

    /// Whether the same step was read at an earlier gate, so that how it is done need not be told once more.
    fn read_before(&self) -> bool {
        let place = self.run.place(&self.step.path).unwrap_or_default();
        let same =
            |earlier: &&crate::procedure::StepState| earlier.step.id == self.step.step.id && earlier.gate.is_some();
        self.run.steps[..place].iter().filter(same).any(|earlier| earlier.result().is_some())
    }

    /// What the sheet asks for, or what the last move should give.
    fn target(&mut self, slot: &Slot, attempt: usize) {
        let step = self.airframe.instruments.get(&slot.role).map_or(0.0, |(instrument, _)| instrument.step);
        if let Some(expected) = self.step.expected {
            let value = say(expected.value, expected.unit, step);
            self.part(format!("expected {attempt}"), &tr!("After that move expect {value}.", value));
        }
        let StepKind::Measure { check, .. } = &self.step.step.kind else { return };
        let judged_by = self.procedure.check(check).and_then(|check| check.judged_by.as_deref());
        let item = judged_by.and_then(|key| self.airframe.specification.item(key));
        if let Some(target) = item.map(|item| Words::tolerance(&item.value)) {
            self.part("target", &tr!("Target: {target}.", target));
        }
    }

    fn judged(&mut self) {
        let Some(result) = self.step.result() else { return };
        let of = self.step.attempt().and_then(|attempt| attempt.readings.last()).map(|last| last.entry);
        let key = format!("{of:?} {}", result.sets);
        self.part(format!("verdict {key}"), &verdict(result));
        for words in self.step.waits_words() {
            self.part(words.clone(), &words);
        }
        if let Some(advice) = &self.step.advice {
            self.advice(advice, result.verdict, &key);
        }
        if self.step.state == State::Done {
            self.next();
        }
    }

    fn advice(&mut self, advice: &Advice, verdict: Verdict, key: &str) {
        if let Some(meaning) = advice.meaning.as_ref().filter(|_| verdict != Verdict::In) {
            self.part(format!("meaning {key}"), &sentence(meaning));
        }
        if let Some(stop) = &advice.stop {
            self.part(format!("stop {key}"), stop);
        }
        if let Some(correction) = &advice.correction {
            self.orders(&correction.moves);
            let predicted = Words::number(correction.predicted.value, correction.predicted.unit, correction.step);
            self.part(format!("then {key}"), &tr!("Then expect {predicted}.", predicted));
        }
        if !advice.needs.is_empty() {
            self.part(format!("needs {key}"), words!("To work out a move, numbers from the manual are missing."));
        }
        // One is enough for the ear; the others are on the screen.
        if let Some(better) = advice.better.first() {
            self.part(format!("better {key}"), better);
        }
    }

    fn orders(&mut self, moves: &[ProposedMove]) {
        for proposed in moves {
            self.part(format!("order {} {}", proposed.adjuster, proposed.amount.value), &sentence(&proposed.order));
        }
    }

    fn hold(&mut self) {
        let second = matches!(self.step.step.kind, StepKind::Hold { second_person: true, .. });
        let signed = self.step.by.as_ref().map(|(by, _)| by.clone()).unwrap_or_default();
        match &self.step.hold {
            None => {}
            Some(Hold::Shut(missing)) => {
                self.part("shut", words!("The hold point is shut. Missing:"));
                self.missing(missing);
            }
            Some(Hold::Void(missing)) => {
                self.part("void", words!("The signature no longer holds. Missing since:"));
                self.missing(missing);
            }
            Some(Hold::Ready(_)) if second => {
                self.part("ready", words!("The hold point may be signed, by a second person."));
            }
            Some(Hold::Ready(_)) => self.part("ready", words!("The hold point may be signed.")),
            Some(Hold::Signed | Hold::Spent) => {
                self.part("signed", &tr!("Signed by {signed}.", signed));
                self.next();
            }
        }
    }

    fn missing(&mut self, missing: &[crate::procedure::Missing]) {
        for one in missing.iter().take(MOST_MISSING) {
            let words = Words::missing(one, &self.run.steps);
            self.part(words.clone(), &words);
        }
        let more = missing.len().saturating_sub(MOST_MISSING);
        if more > 0 {
            self.part(format!("more {more}"), &tr!("And {more} more.", more));
        }
    }

    /// What is to be done next, once this is done.
    fn next(&mut self) {
        let current = self.run.current.and_then(|place| self.run.steps.get(place));
        match current {
            Some(next) if next.path != self.step.path => {
                let title = Words::step_title(next);
                self.part(format!("next {}", next.path), &sentence(&tr!("Next: {title}", title)));
            }
            None => self.part("end", words!("Every step is done.")),
            Some(_) => {}
        }
    }
}

/// The verdict and its number; how sure it is only where that is the matter.
fn verdict(result: &CheckResult) -> String {
    let word = capitalised(Words::verdict(result.verdict));
    let value = Words::value(result);
    if result.verdict == Verdict::CantTell {
        format!("{word}. {value}, {}.", Words::uncertainty(result))
    } else {
        format!("{word}. {value}.")
    }
}

/// With a stop at its end, where it has none.
fn sentence(words: &str) -> String {
    if words.ends_with(['.', '?', '!', ':']) { words.to_owned() } else { format!("{words}.") }
}
