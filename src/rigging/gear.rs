//! A main wheel: toe and camber, what the attitude does to them, and the wedge that changes the toe.

use super::error::{RiggingError, acute, of, slope, within};
use crate::metrology::Estimate;
use crate::quantity::{Angle, Dimension, Length};

/// A wheel's straightedge against the centre line chalked on the floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelStraightedge {
    /// Front end to the centre line.
    pub front: Estimate,
    /// Rear end to the centre line.
    pub rear: Estimate,
    /// Length between the two ends.
    pub length: Estimate,
}

impl WheelStraightedge {
    /// Toe of this wheel, in degrees; **toe-in** (front inboard) is plus: atan((rear − front) / length).
    ///
    /// # Errors
    /// When a number is missing, is no length, or the length is not above zero.
    pub fn toe_in(self) -> Result<Estimate, RiggingError> {
        let rear = of(self.rear, Dimension::Length)?;
        slope(rear.minus(within(self.front, rear.unit)?), self.length)
    }
}

/// How a wheel stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stance {
    /// Toe; front of the wheel **inboard** is plus.
    pub toe_in: Angle,
    /// Camber; top of the wheel **outboard** is plus.
    pub camber: Angle,
}

impl Stance {
    /// The stance on the ground after the airframe is pitched **nose up** by `nose_up` (a tail lowered to its wheel).
    ///
    /// The axle points (outboard, forward, up) = (cos τ·cos γ, sin τ·cos γ, −sin γ); pitching turns forward into up. For small
    /// angles τ' = τ·cos P + γ·sin P and γ' = γ·cos P − τ·sin P; this is exact.
    ///
    /// # Errors
    /// When an angle is missing or not less than square.
    pub fn pitched(self, nose_up: Angle) -> Result<Self, RiggingError> {
        let (toe, camber, pitch) = (acute(self.toe_in)?, acute(self.camber)?, acute(nose_up)?);
        let outboard = toe.cos() * camber.cos();
        let (forward, up) = (toe.sin() * camber.cos(), -camber.sin());
        let (ahead, above) = (forward * pitch.cos() - up * pitch.sin(), forward * pitch.sin() + up * pitch.cos());
        let level = outboard.hypot(ahead);
        Ok(Self { toe_in: Angle::atan(ahead / outboard), camber: Angle::from_radians((-above).atan2(level)) })
    }
}

/// The thickness of a wedge across an axle's flange of `width` for `more` toe-in: width·tan(change). Below zero: less toe-in. Which
/// edge is the thick one depends on the axle; the kit's drawing says.
///
/// # Errors
/// When the width is not above zero or the change not less than square.
pub fn wedge(more: Angle, width: Length) -> Result<Length, RiggingError> {
    super::lift_for(more, width)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;
    use proptest::prelude::*;

    fn stance(toe: f64, camber: f64) -> Stance {
        Stance { toe_in: Angle::from_degrees(toe), camber: Angle::from_degrees(camber) }
    }

    proptest! {
        #[test]
        fn pitched_and_back_is_where_it_was(toe in -3.0..3.0_f64, camber in -6.0..6.0_f64, pitch in -15.0..15.0_f64) {
            let was = stance(toe, camber);
            let there = was.pitched(Angle::from_degrees(pitch)).expect("angles");
            let back = there.pitched(Angle::from_degrees(-pitch)).expect("angles");
            prop_assert!((back.toe_in - was.toe_in).degrees().abs() < 1e-9);
            prop_assert!((back.camber - was.camber).degrees().abs() < 1e-9);
            // The rule for small angles.
            let (sin, cos) = pitch.to_radians().sin_cos();
            prop_assert!((there.toe_in.degrees() - (toe * cos + camber * sin)).abs() < 0.02);
            prop_assert!((there.camber.degrees() - (camber * cos - toe * sin)).abs() < 0.02);
        }
    }

    /// Figures of the trade (common practice, no source): 1.5° of camber and a tail lowered by 12.5° are 0.32° of toe-in; a quarter
    /// degree on 36 in is 0.157 in.
    #[test]
    fn lowering_the_tail_turns_camber_into_toe() {
        let down = stance(0.0, 1.5).pitched(Angle::from_degrees(12.5)).expect("angles");
        assert!((down.toe_in.degrees() - 0.32).abs() < 0.006, "{down:?}");
        let quarter = wedge(Angle::from_degrees(0.25), Length::from_inches(36.0)).expect("a width");
        assert!((quarter.inches() - 0.157).abs() < 5e-4);
    }

    #[test]
    fn the_front_nearer_the_centre_line_is_toe_in() {
        let inch = |value| Estimate::new(value, 0.01, Unit::Inch);
        let wheel = WheelStraightedge { front: inch(39.0), rear: inch(39.157), length: inch(36.0) };
        assert!((wheel.toe_in().expect("distances").value - 0.25).abs() < 5e-4);
    }
}
