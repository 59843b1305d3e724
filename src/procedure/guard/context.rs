//! What is known about a number before it is kept.

use crate::quantity::{Quantity, Unit};
use crate::record::{InstrumentKind, Mode};

/// Where an expectation comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// Earlier repeats of the same reading in this set.
    Repeats,
    /// The set before, with nothing moved since.
    SetBefore,
    /// What the moves made since the last set should have done.
    Move,
    /// The same reading at the gate before, with nothing moved since but what clamping and drilling move.
    GateBefore,
    /// The same thing read the other way round in this set.
    OtherWay,
    /// The same on the other side of the airframe in this set.
    OtherSide,
    /// The rigging specification's nominal number.
    Sheet,
    /// The rigging specification's limit on one side: about where numbers lie that meet it.
    Limit,
}

/// What a number should be, in the instrument's unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expected {
    /// Best value.
    pub value: f64,
    /// Standard uncertainty of one reading about `value`, the reading's own scatter included; greater than 0.
    pub u: f64,
    /// Where it comes from.
    pub source: Source,
}

impl Expected {
    /// How far a number lies from what is expected, in standard uncertainties; never negative.
    #[must_use]
    pub fn off(self, value: f64) -> f64 {
        (value - self.value).abs() / self.u
    }

    /// The same with an independent standard uncertainty more.
    pub(super) fn wider(self, by: f64) -> Self {
        Self { u: self.u.hypot(by), ..self }
    }

    /// The same, come by otherwise.
    pub(super) const fn from(self, source: Source) -> Self {
        Self { source, ..self }
    }
}

/// The number that was typed last, when it was for another reading than the one asked for now.
#[derive(Clone, Debug, PartialEq)]
pub struct LastTyped {
    /// The number.
    pub value: Quantity,
    /// What that reading is called.
    pub title: String,
}

/// What is known about a number before it is kept. All numbers are in `unit`.
#[derive(Clone, Debug, PartialEq)]
pub struct Context {
    /// What it is read with.
    pub kind: InstrumentKind,
    /// The instrument's unit.
    pub unit: Unit,
    /// The instrument's display or graduation step; 0 when it is not known.
    pub step: f64,
    /// The sharpest expectation (the one with the smallest uncertainty), when there is any.
    pub expected: Option<Expected>,
    /// What would be read here if the two sides were swapped.
    pub swapped: Option<Expected>,
    /// What the reading on the other side is called; empty when there is none.
    pub other_side: String,
    /// The physical question that gives the number its sign.
    pub question: Option<String>,
    /// What was typed last, for another reading.
    pub last: Option<LastTyped>,
    /// The mode that this reading asks of the instrument, when it was last read in the other one.
    pub switched_to: Option<Mode>,
}
