//! The propeller's axis: down-thrust off the flange, side-thrust off a swung blade, and washers under the feet of the mount.

use super::error::{RiggingError, degrees, finite, of, within};
use super::{Diagonals, lift_for, turn_by};
use crate::metrology::Estimate;
use crate::quantity::{Angle, Dimension, Length, Unit};

/// Down-thrust, in degrees: how far the front of the shaft points **down** from the fuselage's datum. `flange_lean` is the lean of
/// the flange's face against gravity, **top forward** plus; `datum_slope` the datum's slope in the same pass, **aft end high** plus.
/// Nose-up is minus the slope: down = lean − slope.
///
/// # Errors
/// When an angle is missing or is none.
pub fn down_thrust(flange_lean: Estimate, datum_slope: Estimate) -> Result<Estimate, RiggingError> {
    Ok(degrees(flange_lean)?.minus(degrees(datum_slope)?))
}

/// One blade tip marked and swung: level to the left, then level to the right, each time its distance to the tail post.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BladeSwing {
    /// Tip on the left: distance to the tail post.
    pub left: Estimate,
    /// Tip on the right: distance to the tail post.
    pub right: Estimate,
    /// Radius at the marked tip, in the unit of the distances.
    pub radius: f64,
    /// Hub to tail post along the fuselage, in the unit of the distances.
    pub to_tail: f64,
    /// How far the hub stands to the **right** of the centre line, in the unit of the distances.
    pub hub_right: f64,
}

impl BladeSwing {
    /// Right-thrust, in degrees: how far the front of the shaft points to the pilot's **right**.
    ///
    /// The tail post lies e = (D_L² − D_R²) / 4R to the right of the shaft's line. With the hub y₀ to the right of the centre line,
    /// e = X·sin ψ − y₀·cos ψ = √(X² + y₀²)·sin(ψ − atan(y₀ / X)). Exact whatever the heights; X, R and y₀ taken as known.
    ///
    /// # Errors
    /// When a number is missing, is no length, a distance is not above zero, or no angle has these distances.
    pub fn right_thrust(self) -> Result<Estimate, RiggingError> {
        let left = of(self.left, Dimension::Length)?;
        let right = within(self.right, left.unit)?;
        let distances = [left.value, right.value, self.radius, self.to_tail];
        if !self.hub_right.is_finite() || !distances.iter().all(|distance| distance.is_finite()) {
            return Err(RiggingError::NotANumber);
        }
        if distances.iter().any(|distance| *distance <= 0.0) {
            return Err(RiggingError::NotPositive);
        }
        let offset = Diagonals { left, right, half_width: self.radius }.lateral_offset();
        let reach = self.to_tail.hypot(self.hub_right);
        let sine = offset.value / reach;
        if sine.abs() >= 1.0 {
            return Err(RiggingError::OutOfReach);
        }
        let scaled = offset.times((1.0 / (reach * (1.0 - sine * sine).sqrt())).to_degrees());
        let value = (sine.asin() + self.hub_right.atan2(self.to_tail)).to_degrees();
        Ok(Estimate { value, unit: Unit::Degree, ..scaled })
    }
}

/// A pair of feet of the mount.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Feet {
    /// Both upper feet: washers there push the top forward, more down-thrust.
    Top,
    /// Both lower feet: less down-thrust.
    Bottom,
    /// Both left feet: more right-thrust.
    Left,
    /// Both right feet: less right-thrust.
    Right,
}

/// Washers under a pair of feet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UnderFeet {
    /// Which feet.
    pub feet: Feet,
    /// How thick.
    pub thickness: Length,
}

/// Which axis of the shaft is changed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ThrustChange {
    /// More down-thrust is plus.
    Down(Angle),
    /// More right-thrust is plus.
    Right(Angle),
}

/// Where to put how much for a change of the thrust line, the rows of bolts being `spacing` apart (vertically for down-thrust, across
/// for right-thrust): t = s·tan(change).
///
/// Washers use up thread and grip: only those the engine's and the kit's manuals allow.
///
/// # Errors
/// When the spacing is not above zero or the change not less than square.
pub fn under_feet(change: ThrustChange, spacing: Length) -> Result<UnderFeet, RiggingError> {
    let (angle, more, less) = match change {
        ThrustChange::Down(angle) => (angle, Feet::Top, Feet::Bottom),
        ThrustChange::Right(angle) => (angle, Feet::Left, Feet::Right),
    };
    let thickness = lift_for(angle, spacing)?;
    let feet = if thickness >= Length::ZERO { more } else { less };
    Ok(UnderFeet { feet, thickness: thickness.abs() })
}

/// What washers under a pair of feet change: atan(t / s). Undoes [`under_feet`].
///
/// # Errors
/// When the spacing is not above zero.
pub fn change_by(washers: UnderFeet, spacing: Length) -> Result<ThrustChange, RiggingError> {
    let angle = turn_by(finite(washers.thickness)?, spacing)?;
    Ok(match washers.feet {
        Feet::Top => ThrustChange::Down(angle),
        Feet::Bottom => ThrustChange::Down(-angle),
        Feet::Left => ThrustChange::Right(angle),
        Feet::Right => ThrustChange::Right(-angle),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn inches(value: f64) -> Estimate {
        Estimate::new(value, 0.02, Unit::Inch)
    }

    proptest! {
        /// Coordinates: the disc turned about the hub, the tips' distances to the tail post by Pythagoras.
        #[test]
        fn a_turned_shaft_reads_its_turn(psi in -4.0..4.0_f64, hub in -2.0..2.0_f64, drop in -20.0..20.0_f64) {
            let (x, radius) = (258.75, 33.0);
            let (sin, cos) = psi.to_radians().sin_cos();
            // x aft, y right: the front of the shaft to the right takes the left tip forward.
            let distance = |side: f64| inches(
                f64::hypot(f64::hypot(x - side * radius * sin, 0.0 - (hub + side * radius * cos)), drop)
            );
            let swing =
                BladeSwing { left: distance(-1.0), right: distance(1.0), radius, to_tail: x, hub_right: hub };
            prop_assert!((swing.right_thrust().expect("a swing").value - psi).abs() < 1e-9);
        }

        #[test]
        fn washers_are_undone(angle in -5.0..5.0_f64, right in any::<bool>()) {
            let angle = Angle::from_degrees(angle);
            let change = if right { ThrustChange::Right(angle) } else { ThrustChange::Down(angle) };
            let spacing = Length::from_inches(18.5);
            let got = change_by(under_feet(change, spacing).expect("feet"), spacing).expect("feet");
            let same = match (got, change) {
                (ThrustChange::Right(got), ThrustChange::Right(was))
                | (ThrustChange::Down(got), ThrustChange::Down(was)) => (got - was).degrees().abs() < 1e-9,
                _ => false,
            };
            prop_assert!(same, "{got:?}");
        }
    }

    /// Figures of the trade (plane geometry, common practice, no source): one degree at a radius of 33 in, 258 3/4 in ahead of the
    /// tail post, is 1.14 in; a washer of 1/16 over 18 1/2 in is 0.2°.
    #[test]
    fn a_degree_at_the_blade() {
        let half = 1.14 / 2.0;
        let swing = BladeSwing {
            left: inches(261.2 + half),
            right: inches(261.2 - half),
            radius: 33.0,
            to_tail: 258.75,
            hub_right: 0.0,
        };
        assert!((swing.right_thrust().expect("a swing").value - 1.0).abs() < 2e-3, "left longer: to the right");
        let washer = UnderFeet { feet: Feet::Top, thickness: Length::from_inches(0.063) };
        let Ok(ThrustChange::Down(angle)) = change_by(washer, Length::from_inches(18.5)) else { panic!("top is down") };
        assert!((angle.degrees() - 0.195).abs() < 5e-4);
        let less = under_feet(ThrustChange::Right(Angle::from_degrees(-0.2)), Length::from_inches(17.5)).expect("feet");
        assert_eq!(less.feet, Feet::Right);
    }

    #[test]
    fn the_fuselage_nose_up_adds_to_what_the_flange_shows() {
        let deg = |value| Estimate::new(value, 0.05, Unit::Degree);
        let down = down_thrust(deg(1.2), deg(-0.3)).expect("angles");
        assert!((down.value - 1.5).abs() < 1e-12, "tail end 0.3 low is nose 0.3 up: {down:?}");
    }
}
