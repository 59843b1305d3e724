//! One number and one word: what is readable of a step from two metres.

use crate::language::words;
use crate::metrology::Verdict;
use crate::procedure::{Check, Face, Formula, Procedure, Run, Slot, StepKind, StepState, Words};
use crate::quantity::print;
use crate::record::{Airframe, Tolerance};

/// What the number of a far view is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// What is typed or said now, not kept yet.
    Typed,
    /// What is to be read.
    Target,
    /// The how many-th reading this is.
    Count,
    /// A verdict's value.
    Judged(Verdict),
    /// Where in the procedure this is.
    Place,
}

impl Seen {
    /// Its key for the stylesheet and for tests.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Typed => "typed",
            Self::Target => "target",
            Self::Count => "count",
            Self::Judged(Verdict::In) => "in",
            Self::Judged(Verdict::Out(_)) => "out",
            Self::Judged(Verdict::CantTell) => "cant-tell",
            Self::Judged(Verdict::NotJudged) => "not-judged",
            Self::Place => "place",
        }
    }
}

/// A step from two metres.
#[derive(Clone, Debug, PartialEq)]
pub struct Far {
    /// The number, with its unit: "227 11/16 in".
    pub number: String,
    /// What it is, in a word: "target", "typed", "in".
    pub word: String,
    /// The same for a program.
    pub seen: Seen,
}

impl Far {
    /// The far view of a face. `typed`: what stands on the pad, with its unit; empty while nothing does. Somebody who reads blind is
    /// shown what they typed and the count of their readings, nothing else.
    #[must_use]
    pub fn of(
        procedure: &Procedure,
        airframe: &Airframe,
        run: &Run,
        step: &StepState,
        face: &Face,
        typed: &str,
    ) -> Self {
        let place = || {
            let place = run.place(&step.path).map_or(0, |place| place + 1);
            Self::new(format!("{place}/{}", run.steps.len()), Words::state(step.state), Seen::Place)
        };
        match face {
            Face::Read { .. } if !typed.is_empty() => Self::new(typed.to_owned(), words!("typed"), Seen::Typed),
            Face::Read { slot, repeat, .. } => {
                let seen = if face.hides(step) { None } else { target(procedure, airframe, step, slot) };
                seen.unwrap_or_else(|| {
                    Self::new(format!("{repeat}/{}", slot.repeats.max(1)), words!("reading"), Seen::Count)
                })
            }
            Face::Judged => step.result().map_or_else(place, |result| {
                let estimate = result.estimate;
                let number = if result.agreement {
                    format!("{:.0}\u{a0}%", estimate.value * 100.0)
                } else {
                    print(estimate.value, estimate.unit, result.step)
                };
                Self::new(number, Words::verdict(result.verdict), Seen::Judged(result.verdict))
            }),
            Face::Count { expected, .. } if step.counted.is_none() => {
                let many = airframe.specification.nominal(expected);
                many.map_or_else(place, |many| {
                    Self::new(format!("{:.0}", many.value), words!("to count"), Seen::Target)
                })
            }
            Face::HandOver => Self { word: words!("second reader").to_owned(), ..place() },
            Face::Hold { .. } if step.by.is_none() => Self { word: words!("hold point").to_owned(), ..place() },
            _ => place(),
        }
    }

    fn new(number: String, word: &str, seen: Seen) -> Self {
        Self { number, word: word.to_owned(), seen }
    }

    /// The number in the pieces between which a line may be broken: whole inches, fraction, unit.
    #[must_use]
    pub fn pieces(&self) -> Vec<String> {
        self.number.split(' ').map(str::to_owned).collect()
    }

    /// Number and word in a sentence, for somebody who hears the screen: "−2.60°, target".
    #[must_use]
    pub fn sentence(&self) -> String {
        format!("{}, {}", self.number, self.word)
    }
}

/// What a reading should be: what the last move should have made of it, else the sheet's number for it, else the limit that it is
/// held against.
fn target(procedure: &Procedure, airframe: &Airframe, step: &StepState, slot: &Slot) -> Option<Far> {
    let StepKind::Measure { check, .. } = &step.step.kind else { return None };
    let check = procedure.check(check)?;
    let item = |key: &str| airframe.specification.item(key);
    let own = reads_itself(check, slot);
    if let Some(expected) = step.expected.filter(|_| own) {
        let fine = step.results.iter().flatten().next_back().map_or(0.0, |result| result.step);
        return Some(Far::new(print(expected.value, expected.unit, fine), words!("expected"), Seen::Target));
    }
    let shown = |quantity: &crate::quantity::Quantity| print(quantity.value, quantity.unit, 0.0);
    if let Some(near) = slot.near.as_deref().and_then(item).and_then(|item| item.value.nominal.as_ref()) {
        let word = if own { words!("target") } else { words!("about") };
        return Some(Far::new(shown(near), word, Seen::Target));
    }
    let value = &item(check.judged_by.as_deref()?).filter(|_| own)?.value;
    let (number, word) = match (&value.nominal, &value.tolerance) {
        (Some(nominal), _) => (shown(nominal), words!("target")),
        (None, Tolerance::Limits { lower: None, upper: Some(upper) }) => (shown(upper), words!("at most")),
        (None, Tolerance::Limits { lower: Some(lower), upper: None }) => (shown(lower), words!("at least")),
        _ => return None,
    };
    Some(Far::new(number, word, Seen::Target))
}

/// Whether what the slot reads is what the check is: the largest or the mean of what is read, nothing taken off.
fn reads_itself(check: &Check, slot: &Slot) -> bool {
    match &check.formula {
        Formula::Largest { slots } => slots.contains(&slot.id),
        Formula::Balance { plus, minus, .. } => minus.is_empty() && plus.contains(&slot.id),
        Formula::Reckoned(_) | Formula::Agreement { .. } => false,
    }
}
