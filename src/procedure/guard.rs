//! What the entry pad refuses: a number that cannot be what was read.

use std::fmt;

use crate::metrology::in_unit;
use crate::procedure::Slot;
use crate::quantity::{ParseError, Quantity, Unit, parse_answered};
use crate::record::{Airframe, Instrument};

/// A reading that is this many times its expected value, or this small a part of it, is a slip.
const FAR: f64 = 30.0;

/// Why an entry was not kept. Its text is what the person reads; the digits stay on the pad.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// It is not a number in this unit.
    Unreadable(ParseError),
    /// It is more than thirty times away from what the sheet gives.
    FarOff {
        /// What was entered.
        entered: String,
        /// What the sheet gives.
        expected: String,
    },
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable(error) => error.fmt(f),
            Self::FarOff { entered, expected } => write!(
                f,
                "{entered} cannot be this reading: the sheet gives about {expected}. Look at the instrument and its unit again. \
                 Nothing was kept; what you typed is still here."
            ),
        }
    }
}

/// Reads an entry as typed, in the instrument's unit and to its step; `negative` is the answer to the slot's physical question.
pub fn accept(
    typed: &str,
    negative: bool,
    slot: &Slot,
    instrument: &Instrument,
    airframe: &Airframe,
) -> Result<Quantity, Refusal> {
    let quantity = parse_answered(typed, negative, instrument.unit, instrument.step).map_err(Refusal::Unreadable)?;
    let expected = slot.near.as_deref().and_then(|key| airframe.specification.nominal(key));
    if let Some(expected) = expected
        && let Some(about) = in_unit(expected, quantity.unit)
        && far_off(quantity.value, about, quantity.unit)
    {
        return Err(Refusal::FarOff { entered: quantity.print(), expected: expected.print() });
    }
    Ok(quantity)
}

/// Sizes are compared, not signs; next to zero, nothing is far off until it is further than an instrument could mean (30 steps
/// of a degree, an inch or a millimetre scale).
fn far_off(value: f64, expected: f64, unit: Unit) -> bool {
    let (value, expected) = (value.abs(), expected.abs());
    let floor = match unit {
        Unit::Degree | Unit::One => 1.0,
        Unit::Inch => 0.25,
        Unit::Millimetre => 6.0,
    };
    if expected > 10.0 * floor {
        value > expected * FAR || value < expected / FAR
    } else {
        value > expected.max(floor) * FAR
    }
}
