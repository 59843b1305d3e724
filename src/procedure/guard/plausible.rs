//! What the entry pad refuses: a number that cannot be what was read.

use std::fmt;

use crate::language::tr;
use crate::metrology::in_unit;
use crate::procedure::Slot;
use crate::quantity::{Quantity, Unit};
use crate::record::Airframe;

/// A reading that is this many times its expected value, or this small a part of it, is a slip.
const FAR: f64 = 30.0;

/// A number that was not kept: it is more than thirty times away from what the sheet gives. Its text is what the person reads; the
/// digits stay on the pad.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FarOff {
    /// What was entered.
    pub entered: String,
    /// What the sheet gives.
    pub expected: String,
}

impl fmt::Display for FarOff {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&tr!(
            "{entered} cannot be this reading: the sheet gives about {expected}. Look at the instrument and its unit again. Nothing \
             was kept; what you typed is still here.",
            entered = self.entered,
            expected = self.expected
        ))
    }
}

impl std::error::Error for FarOff {}

/// Refuses a number that cannot be a slot's reading at all.
///
/// # Errors
/// When it is more than thirty times away from what the sheet gives.
pub fn plausible(quantity: &Quantity, slot: &Slot, airframe: &Airframe) -> Result<(), FarOff> {
    let expected = slot.near.as_deref().and_then(|key| airframe.specification.nominal(key));
    match expected.and_then(|expected| Some((expected, in_unit(expected, quantity.unit)?))) {
        Some((expected, about)) if far_off(quantity.value, about, quantity.unit) => {
            Err(FarOff { entered: quantity.print(), expected: expected.print() })
        }
        _ => Ok(()),
    }
}

/// Sizes are compared, not signs; next to zero, nothing is far off until it is further than an instrument could mean (30 steps
/// of a degree, an inch or a millimetre scale).
fn far_off(value: f64, expected: f64, unit: Unit) -> bool {
    let (value, expected) = (value.abs(), expected.abs());
    let floor = match unit {
        Unit::Metre => 0.006,
        Unit::Inch => 0.25,
        Unit::Millimetre => 6.0,
        _ => 1.0,
    };
    if expected > 10.0 * floor {
        value > expected * FAR || value < expected / FAR
    } else {
        value > expected.max(floor) * FAR
    }
}
