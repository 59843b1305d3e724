//! Packing under one end, and the turn that it makes.

use super::error::{RiggingError, acute, finite, positive};
use crate::quantity::{Angle, Length};

/// How far one end of a `base` is lifted to turn it by `turn`: h = B·tan θ. The sign is the turn's.
///
/// # Errors
/// When the base is not above zero or the turn not less than square.
pub fn lift_for(turn: Angle, base: Length) -> Result<Length, RiggingError> {
    Ok(positive(base)? * acute(turn)?.tan())
}

/// How far a `base` is turned by lifting one end by `lift`: θ = atan(h / B). The sign is the lift's. Undoes [`lift_for`].
///
/// # Errors
/// When the base is not above zero.
pub fn turn_by(lift: Length, base: Length) -> Result<Angle, RiggingError> {
    Ok(Angle::atan2(finite(lift)?, positive(base)?))
}

/// A stack of equal washers nearest to a wanted thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stack {
    /// How many.
    pub count: u32,
    /// Their thickness together.
    pub thickness: Length,
}

/// The most washers that are a stack; beyond it, something else is wrong.
const MOST: f64 = 20.0;

/// The stack of washers, each `washer` thick, that comes nearest to `wanted` (0 or more).
///
/// # Errors
/// When the washer has no thickness, or the wanted thickness is below zero or more than twenty washers.
pub fn stack_for(wanted: Length, washer: Length) -> Result<Stack, RiggingError> {
    let count = (finite(wanted)? / positive(washer)?).round();
    if !(0.0..=MOST).contains(&count) {
        return Err(RiggingError::OutOfReach);
    }
    Ok(Stack { count: count as u32, thickness: washer * count })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn lifting_is_turning(turn in -80.0..80.0_f64, base in 0.1..10.0_f64) {
            let base = Length::from_metres(base);
            let lift = lift_for(Angle::from_degrees(turn), base).expect("in reach");
            prop_assert!((turn_by(lift, base).expect("a base").degrees() - turn).abs() < 1e-9);
        }

        #[test]
        fn a_stack_is_within_half_a_washer(wanted in 0.0..10.0_f64, washer in 0.6..3.0_f64) {
            let (wanted, washer) = (Length::from_millimetres(wanted), Length::from_millimetres(washer));
            let stack = stack_for(wanted, washer).expect("a stack");
            prop_assert!((stack.thickness - wanted).abs() <= washer * 0.500_001);
        }
    }

    #[test]
    fn a_pile_of_washers_is_refused() {
        assert_eq!(stack_for(Length::from_inches(2.0), Length::from_inches(0.0625)), Err(RiggingError::OutOfReach));
        assert_eq!(stack_for(Length::from_inches(-0.1), Length::from_inches(0.0625)), Err(RiggingError::OutOfReach));
    }
}
