//! Two small closed forms beside the rest: the moment of a control surface about its hinge, and the set-back of a bend.

use super::error::{RiggingError, acute, finite, positive};
use crate::quantity::{Angle, Length, Torque};

/// The moment of a surface about its hinge from the force, in newtons, that holds its trailing edge level, M = F·r; **trailing edge heavy** is
/// plus. `lever` is from the hinge aft to where the force acts, both on one level. Makers differ in the sign: see [`HeavyEnd`].
///
/// # Errors
/// When a number is missing or the lever is not above zero.
pub fn hinge_moment(newtons: f64, lever: Length) -> Result<Torque, RiggingError> {
    let lever = positive(lever)?;
    if newtons.is_finite() {
        Ok(Torque::from_newton_metres(newtons * lever.metres()))
    } else {
        Err(RiggingError::NotANumber)
    }
}

/// Which end a maker's sheet calls plus when it is heavy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeavyEnd {
    /// Trailing edge heavy is plus, as here.
    TrailingEdge,
    /// Nose heavy is plus.
    Nose,
}

impl HeavyEnd {
    /// A moment of the sheet in this project's sign, and back.
    #[must_use]
    pub fn ours(self, sheet: Torque) -> Torque {
        match self {
            Self::TrailingEdge => sheet,
            Self::Nose => -sheet,
        }
    }
}

/// From the mould line to the tangent of a bend, K·(R + T) with K = tan(bend / 2); `bend` is what the sheet is turned through, R the
/// inside radius, T the thickness (AC 43.13-1B, 4-56).
///
/// # Errors
/// When a number is missing, the thickness is not above zero, the radius is below zero, or the bend is not between 0 and 180°.
pub fn set_back(bend: Angle, radius: Length, thickness: Length) -> Result<Length, RiggingError> {
    let thickness = positive(thickness)?;
    let half = acute(bend / 2.0)?;
    if finite(radius)? < Length::ZERO || half < Angle::ZERO {
        return Err(RiggingError::NotPositive);
    }
    Ok((radius + thickness) * half.tan())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moment_is_a_force_at_a_lever() {
        let two_pounds_at_five_inches = hinge_moment(2.0 * 4.448_221_615_260_5, Length::from_inches(5.0));
        assert!((two_pounds_at_five_inches.expect("a lever").inch_pounds() - 10.0).abs() < 1e-9);
        assert_eq!(hinge_moment(1.0, Length::ZERO), Err(RiggingError::NotPositive));
        let nose_heavy = Torque::from_inch_pounds(3.0);
        assert_eq!(HeavyEnd::Nose.ours(nose_heavy), -nose_heavy);
        assert_eq!(HeavyEnd::TrailingEdge.ours(nose_heavy), nose_heavy);
    }

    /// A square bend: the tangents meet R + T from the mould line (plane geometry).
    #[test]
    fn a_square_bend_sets_back_by_radius_and_thickness() {
        let back =
            |bend, radius| set_back(Angle::from_degrees(bend), Length::from_inches(radius), Length::from_inches(0.04));
        assert!((back(90.0, 0.125).expect("a bend").inches() - 0.165).abs() < 1e-12);
        assert_eq!(back(180.0, 0.125), Err(RiggingError::OutOfReach));
        assert_eq!(back(90.0, -0.1), Err(RiggingError::NotPositive));
    }
}
