//! What stops a formula, and the checks before one is worked out.

use std::fmt;

use crate::language::words;
use crate::metrology::{Estimate, angle_over_base};
use crate::quantity::{Angle, Dimension, Length, Unit, scale};

/// Why a formula of this floor has no answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RiggingError {
    /// A number of another kind than the formula takes: a length where an angle is asked for.
    WrongUnit {
        /// What the formula takes.
        wanted: Dimension,
        /// What was given.
        got: Unit,
    },
    /// A number that is not finite, or an uncertainty below zero.
    NotANumber,
    /// A base, a radius or a spacing that is not above zero.
    NotPositive,
    /// No position of the part has this reading: a distance longer than the part allows, an angle past square.
    OutOfReach,
    /// Masses that add up to nothing or less.
    NoMass,
}

impl fmt::Display for RiggingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::WrongUnit { .. } => words!("A number in the wrong kind of unit."),
            Self::NotANumber => words!("A number is missing."),
            Self::NotPositive => words!("A base, radius or spacing must be above zero."),
            Self::OutOfReach => words!("No position of the part has this reading. Measure again."),
            Self::NoMass => words!("The masses add up to nothing or less."),
        })
    }
}

impl std::error::Error for RiggingError {}

/// `estimate` in `unit`, finite, with an uncertainty that is one.
pub(super) fn within(estimate: Estimate, unit: Unit) -> Result<Estimate, RiggingError> {
    let wrong = RiggingError::WrongUnit { wanted: unit.dimension(), got: estimate.unit };
    let factor = scale(estimate.unit, unit).ok_or(wrong)?;
    if !estimate.value.is_finite() || !estimate.u.is_finite() || estimate.u < 0.0 {
        return Err(RiggingError::NotANumber);
    }
    Ok(Estimate { unit, ..estimate.times(factor) })
}

/// `estimate` as it is, when it measures a `dimension`.
pub(super) fn of(estimate: Estimate, dimension: Dimension) -> Result<Estimate, RiggingError> {
    if estimate.unit.dimension() != dimension {
        return Err(RiggingError::WrongUnit { wanted: dimension, got: estimate.unit });
    }
    within(estimate, estimate.unit)
}

/// An angle in degrees.
pub(super) fn degrees(angle: Estimate) -> Result<Estimate, RiggingError> {
    within(angle, Unit::Degree)
}

/// A length above zero.
pub(super) fn positive(length: Length) -> Result<Length, RiggingError> {
    match length.metres() {
        metres if !metres.is_finite() => Err(RiggingError::NotANumber),
        metres if metres <= 0.0 => Err(RiggingError::NotPositive),
        _ => Ok(length),
    }
}

/// A length that is a number.
pub(super) fn finite(length: Length) -> Result<Length, RiggingError> {
    if length.metres().is_finite() { Ok(length) } else { Err(RiggingError::NotANumber) }
}

/// An angle that is a number and less than square either way.
pub(super) fn acute(angle: Angle) -> Result<Angle, RiggingError> {
    match angle.degrees() {
        degrees if !degrees.is_finite() => Err(RiggingError::NotANumber),
        degrees if degrees.abs() >= 90.0 => Err(RiggingError::OutOfReach),
        _ => Ok(angle),
    }
}

/// The slope of a height over a base above zero, in degrees; the sign is the height's. θ = atan(h / b).
pub(super) fn slope(height: Estimate, base: Estimate) -> Result<Estimate, RiggingError> {
    let height = of(height, Dimension::Length)?;
    let base = within(base, height.unit)?;
    if base.value <= 0.0 {
        return Err(RiggingError::NotPositive);
    }
    Ok(angle_over_base(height, base).estimate)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_measurement_is_refused() {
        let inches = |value, u| Estimate::new(value, u, Unit::Inch);
        let mixed = slope(inches(1.0, 0.0), Estimate::new(762.0, 0.0, Unit::Millimetre)).expect("both are lengths");
        assert!((mixed.value - slope(inches(1.0, 0.0), inches(30.0, 0.0)).expect("lengths").value).abs() < 1e-12);
        let angle = Estimate::new(1.0, 0.0, Unit::Degree);
        let wrong = RiggingError::WrongUnit { wanted: Dimension::Length, got: Unit::Degree };
        assert_eq!(slope(angle, inches(30.0, 0.0)), Err(wrong));
        assert_eq!(slope(inches(1.0, 0.0), inches(0.0, 0.0)), Err(RiggingError::NotPositive));
        assert_eq!(slope(inches(f64::NAN, 0.0), inches(1.0, 0.0)), Err(RiggingError::NotANumber));
        assert_eq!(slope(inches(1.0, -0.1), inches(1.0, 0.0)), Err(RiggingError::NotANumber));
        assert_eq!(positive(Length::ZERO), Err(RiggingError::NotPositive));
        assert_eq!(acute(Angle::from_degrees(90.0)), Err(RiggingError::OutOfReach));
    }
}
