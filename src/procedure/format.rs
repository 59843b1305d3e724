//! The format of a procedure file (JSON).

use serde::{Deserialize, Serialize};

use crate::procedure::{Adjuster, Condition, Picture, Reckoned, SpecItem};
use crate::quantity::Dimension;
use crate::record::InstrumentKind;

/// A procedure: ordered steps for one job, independent of any one airframe's numbers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Procedure {
    /// Its name in files and addresses.
    pub id: String,
    /// Goes up when steps or checks change; a run stays on the version that it started with.
    pub version: u32,
    /// What it is called.
    pub title: String,
    /// What it is for, in a sentence or two.
    pub purpose: String,
    /// What must be at hand.
    pub tools: Vec<String>,
    /// Other procedures, by id, that should be finished first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<String>,
    /// Only for airframes on which the condition holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub only_if: Option<Condition>,
    /// Shown before the first step and again at hold points.
    pub cautions: Vec<String>,
    /// The numbers that it needs from the airframe's manual.
    pub specification: Vec<SpecItem>,
    /// The instruments that it reads.
    pub roles: Vec<Role>,
    /// The quantities that it judges.
    pub checks: Vec<Check>,
    /// The things that may be moved.
    pub adjusters: Vec<Adjuster>,
    /// Groups of measuring steps that are repeated as a whole at several gates.
    pub passes: Vec<Pass>,
    /// The steps, in order.
    pub steps: Vec<Step>,
}

/// Measuring steps that are repeated as a whole.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pass {
    /// Its key.
    pub id: String,
    /// Its steps, in order.
    pub steps: Vec<Step>,
}

/// An instrument's part in the procedure.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Role {
    /// Its key: `"protractor"`, `"tape"`, `"rule"`.
    pub role: String,
    /// What it is called.
    pub title: String,
    /// What kind of instrument can play it.
    pub kind: InstrumentKind,
}

/// A quantity computed from readings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Check {
    /// Its key.
    pub id: String,
    /// What it is called.
    pub title: String,
    /// Length, angle or count.
    pub dimension: Dimension,
    /// How it is computed.
    pub formula: Formula,
    /// The item of the specification that it is judged by; without one it is recorded, not judged.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub judged_by: Option<String>,
    /// What may be moved to correct it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub adjusters: Vec<String>,
    /// All its adjusters are moved alike, each for an equal part of the correction; their geometry is the same, their ways may
    /// differ. Without it the first one that applies is moved.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub shared: bool,
    /// It reads the tail's offset itself (a string on the centre line), not a difference of two distances.
    #[serde(default)]
    pub reads_tail_directly: bool,
    /// What a positive and a negative value mean to somebody standing there: "tail end high", "tail end low".
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub plus: String,
    /// See `plus`.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub minus: String,
}

/// How a check is computed from its step's readings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Formula {
    /// Mean of the `plus` readings less mean of the `minus` readings.
    ///
    /// `error_cancels`: the instrument's own error drops out (the same tape on both sides; a protractor zeroed on one face or
    /// read both ways round). `zeroed`: one more display step, because the zero was set on the part.
    Balance {
        /// Readings that count positive.
        plus: Vec<String>,
        /// Readings that count negative.
        #[serde(default)]
        minus: Vec<String>,
        /// The instrument's limit of error drops out.
        #[serde(default, rename = "error-cancels")]
        error_cancels: bool,
        /// The instrument was zeroed on the part.
        #[serde(default)]
        zeroed: bool,
    },
    /// One of the trade's closed forms ([`crate::rigging::Reckoning`]).
    Reckoned(Reckoned),
    /// The largest of the readings.
    Largest {
        /// Which.
        slots: Vec<String>,
    },
    /// The largest difference, as a share of what the two readers' uncertainty allows, between this step's readings and those
    /// of an earlier step taken by somebody else. 1 is the most that agrees.
    Agreement {
        /// The first reader's steps by path.
        with: Vec<String>,
    },
}

/// One screen.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Step {
    /// Its key; inside a pass, the part after the gate.
    pub id: String,
    /// What it is called.
    pub title: String,
    /// What to do, a sentence or two each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub text: Vec<String>,
    /// What could hurt somebody or spoil the part here.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// What is drawn beside it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub picture: Option<Picture>,
    /// Only there when the condition holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub only_if: Option<Condition>,
    /// What kind of step it is.
    pub kind: StepKind,
}

/// The kinds of step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum StepKind {
    /// Do it and say so.
    Confirm,
    /// Accept an instrument for the role.
    Instrument(String),
    /// Take readings and judge a check.
    Measure {
        /// The check.
        check: String,
        /// The readings, in order; none for a check that is worked out from other checks and the sheet.
        slots: Vec<Slot>,
        /// Taken by a second person who has not seen the first values.
        #[serde(default)]
        blind: bool,
    },
    /// Count things done.
    Count {
        /// How many there are, by the specification.
        expected: String,
        /// What they are called.
        what: String,
    },
    /// Mark each hole or rivet on a map of rows. A bad one is an open item: no hold point after it opens until it is put right.
    Holes {
        /// How many there are, by the specification. Blank there: recorded, not judged.
        expected: String,
        /// What they are called.
        what: String,
        /// What may be wrong with one, a few words each, to choose from.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        reasons: Vec<String>,
    },
    /// A hold point: opens only when all before it is in and not stale.
    Hold {
        /// Signed by somebody other than the one who took the readings.
        #[serde(default, rename = "second-person")]
        second_person: bool,
        /// What the signature says.
        statement: String,
    },
    /// The whole pass again, at a gate. Replaced by the pass's steps when the procedure is laid out.
    Pass {
        /// The gate: "set", "clamped", "piloted", …
        gate: String,
        /// Which pass.
        of: String,
    },
}

/// One number to read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Slot {
    /// Its key.
    pub id: String,
    /// What it is called.
    pub title: String,
    /// Where to hold the instrument and how.
    pub place: String,
    /// What it is read with.
    pub role: String,
    /// How many times: lifted off and laid on again in between.
    #[serde(default = "once")]
    pub repeats: u8,
    /// The physical question that gives the number its sign.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ask: Option<Ask>,
    /// The item of the specification that it should be near: guards against slips of the finger.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub near: Option<String>,
    /// The reading of the same thing on the other side of the airframe, in the same step.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub partner: Option<String>,
}

const fn once() -> u8 {
    1
}

/// A physical question whose answer is a sign. Nobody is asked for a minus.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ask {
    /// "Which end is high?"
    pub question: String,
    /// The answer that makes the number positive.
    pub plus: String,
    /// The answer that makes it negative.
    pub minus: String,
}

impl Check {
    /// Whether it takes no reading of its own: it is worked out from other checks and the sheet.
    #[must_use]
    pub fn worked_out(&self) -> bool {
        match &self.formula {
            Formula::Reckoned(reckoned) => reckoned.slots().next().is_none() && reckoned.checks().next().is_some(),
            _ => false,
        }
    }
}

impl Procedure {
    /// The steps as they are walked: each [`StepKind::Pass`] replaced by its pass's steps, with the gate and a slash before their
    /// keys. An unknown pass lays out as no step (the library's tests refuse such a file).
    #[must_use]
    pub fn laid_out(&self) -> Vec<(String, Option<String>, Step)> {
        let mut steps = Vec::new();
        for step in &self.steps {
            if let StepKind::Pass { gate, of } = &step.kind {
                let pass = self.passes.iter().find(|pass| pass.id == *of);
                for inner in pass.into_iter().flat_map(|pass| &pass.steps) {
                    steps.push((format!("{gate}/{}", inner.id), Some(gate.clone()), inner.clone()));
                }
            } else {
                steps.push((step.id.clone(), None, step.clone()));
            }
        }
        steps
    }

    /// A check by its key.
    #[must_use]
    pub fn check(&self, id: &str) -> Option<&Check> {
        self.checks.iter().find(|check| check.id == id)
    }

    /// An adjuster by its key.
    #[must_use]
    pub fn adjuster(&self, id: &str) -> Option<&Adjuster> {
        self.adjusters.iter().find(|adjuster| adjuster.id == id)
    }

    /// An item of the specification by its key.
    #[must_use]
    pub fn item(&self, key: &str) -> Option<&SpecItem> {
        self.specification.iter().find(|item| item.key == key)
    }
}
