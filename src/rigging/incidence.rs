//! Incidence of a wing or a tailplane, always to the fuselage and never to the floor. **Leading edge high** is plus.

use super::error::{RiggingError, degrees, of, slope, within};
use crate::metrology::{Estimate, Limits};
use crate::quantity::{Angle, Dimension, Length, Unit};

/// What a level on an incidence block shows, and what it stands on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnBlock {
    /// The level on the block, against gravity; **front high** is plus.
    pub reading: Estimate,
    /// What the block takes off: the angle of the chord when its top is level; 0 for a block whose top is parallel to the chord.
    pub block: Angle,
    /// Slope of the fuselage's datum, read in the same pass; **aft end high** is plus, so nose-up is minus.
    pub datum_slope: Estimate,
}

impl OnBlock {
    /// i = reading + block − nose-up, and nose-up is minus the slope: i = reading + block + slope; in degrees.
    ///
    /// # Errors
    /// When an angle is missing or is none.
    pub fn incidence(self) -> Result<Estimate, RiggingError> {
        let block = self.block.degrees();
        if !block.is_finite() {
            return Err(RiggingError::NotANumber);
        }
        let fuselage = degrees(self.datum_slope)?;
        let seen = degrees(self.reading)?.minus(fuselage.times(-1.0));
        Ok(Estimate { value: seen.value + block, ..seen })
    }
}

/// The heights of a front and a rear point of a chord over one level plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoHeights {
    /// Front point: the front spar's centre, a foot of a straightedge.
    pub front: Estimate,
    /// Rear point.
    pub rear: Estimate,
    /// Distance between them, level.
    pub base: Estimate,
}

impl TwoHeights {
    /// Slope of the chord against the plane, atan((front − rear) / base), in degrees; front high is plus.
    ///
    /// # Errors
    /// When a number is missing, is no length, or the base is not above zero.
    pub fn slope(self) -> Result<Estimate, RiggingError> {
        let front = of(self.front, Dimension::Length)?;
        slope(front.minus(within(self.rear, front.unit)?), self.base)
    }

    /// Incidence to the fuselage whose datum slopes by `datum_slope` (aft end high is plus), in degrees.
    ///
    /// # Errors
    /// As [`Self::slope`], and when the slope of the datum is no angle.
    pub fn incidence(self, datum_slope: Estimate) -> Result<Estimate, RiggingError> {
        OnBlock { reading: self.slope()?, block: Angle::ZERO, datum_slope }.incidence()
    }
}

/// How far to **raise the rear** attachment, `spacing` behind the front one, to bring a `measured` incidence to the `wanted` one:
/// h = c_s·tan(measured − wanted). Minus: lower it. The front spar is never moved for this.
///
/// # Errors
/// When the spacing is not above zero or the difference not less than square.
pub fn raise_rear(measured: Angle, wanted: Angle, spacing: Length) -> Result<Length, RiggingError> {
    super::lift_for(measured - wanted, spacing)
}

/// Limits that hang on another reading: `reference` − `below` to `reference` + `above`, and the standard uncertainty that the
/// reference gives them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LimitsAbout {
    /// The limits, in degrees.
    pub limits: Limits,
    /// Standard uncertainty of both limits, in degrees. Add it to the estimate that is judged ([`Estimate::widened`]).
    pub u: f64,
}

/// Limits of an angle about a reference angle.
///
/// # Errors
/// When the reference is no angle, or an allowance is missing or below zero.
pub fn limits_about(reference: Estimate, below: Angle, above: Angle) -> Result<LimitsAbout, RiggingError> {
    let reference = degrees(reference)?;
    let allowance = |angle: Angle| match angle.degrees() {
        by if by.is_finite() && by >= 0.0 => Ok(by),
        _ => Err(RiggingError::NotANumber),
    };
    let lower = Some(reference.value - allowance(below)?);
    let upper = Some(reference.value + allowance(above)?);
    Ok(LimitsAbout { limits: Limits { lower, upper, unit: Unit::Degree }, u: reference.u })
}

/// What a level shows that is laid askew on a plane surface: along a direction `askew` from the chord (from front-to-rear toward
/// the tip, in plan), on a surface with front-high slope `chordwise` and tip-high slope `spanwise`, both against gravity.
/// **Front end of the level high** is plus: tan θ = tan i·cos φ − tan Γ·sin φ.
///
/// The plane is z = −x·tan i + y·tan Γ (x aft, y toward the tip); along (cos φ, sin φ) it falls by tan i·cos φ − tan Γ·sin φ.
///
/// # Errors
/// When a slope is not less than square.
pub fn shown_askew(chordwise: Angle, spanwise: Angle, askew: Angle) -> Result<Angle, RiggingError> {
    use super::error::acute;
    if !askew.radians().is_finite() {
        return Err(RiggingError::NotANumber);
    }
    Ok(Angle::atan(acute(chordwise)?.tan() * askew.cos() - acute(spanwise)?.tan() * askew.sin()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Vector3;
    use proptest::prelude::*;

    fn deg(value: f64, u: f64) -> Estimate {
        Estimate::new(value, u, Unit::Degree)
    }

    proptest! {
        /// A chord at a known angle in a fuselage turned nose-up: what stands on the floor changes, the incidence does not.
        #[test]
        fn the_attitude_of_the_fuselage_drops_out(incidence in -5.0..8.0_f64, nose_up in -15.0..15.0_f64) {
            let shown = OnBlock {
                reading: deg(incidence + nose_up, 0.0),
                block: Angle::ZERO,
                datum_slope: deg(-nose_up, 0.0),
            };
            prop_assert!((shown.incidence().expect("angles").value - incidence).abs() < 1e-12);
            let chord = 30.0;
            let up = |along: f64| along * (incidence + nose_up).to_radians().sin();
            let inch = |value| Estimate::new(value, 0.0, Unit::Inch);
            let base = inch(chord * (incidence + nose_up).to_radians().cos());
            let heights = TwoHeights { front: inch(up(chord) + 40.0), rear: inch(40.0), base };
            let got = heights.incidence(deg(-nose_up, 0.0)).expect("heights");
            prop_assert!((got.value - incidence).abs() < 1e-9);
        }

        /// An inclinometer along u shows asin(u·up): u lies in the plane of two lines of the surface.
        #[test]
        fn a_level_laid_askew_shows_the_sine_of_its_direction(i in -20.0..20.0_f64, g in -20.0..20.0_f64, phi in -80.0..80.0_f64) {
            let (ti, tg, p) = (i.to_radians().tan(), g.to_radians().tan(), phi.to_radians());
            let aft = Vector3::new(1.0, 0.0, -ti);
            let tipward = Vector3::new(0.0, 1.0, tg);
            let along = (aft * p.cos() + tipward * p.sin()).normalize();
            let front_high = -along.dot(&Vector3::z()).asin().to_degrees();
            let shown = shown_askew(Angle::from_degrees(i), Angle::from_degrees(g), Angle::from_degrees(phi)).expect("slopes");
            prop_assert!((shown.degrees() - front_high).abs() < 1e-9);
        }
    }

    #[test]
    fn two_levels_are_less_sure_than_one() {
        let on_block =
            OnBlock { reading: deg(2.0, 0.03), block: Angle::from_degrees(0.5), datum_slope: deg(0.0, 0.04) };
        let got = on_block.incidence().expect("angles");
        assert!((got.u - 0.05).abs() < 1e-12 && (got.value - 2.5).abs() < 1e-12, "{got:?}");
    }

    #[test]
    fn an_allowance_below_zero_is_refused() {
        let got = limits_about(deg(1.0, 0.0), Angle::from_degrees(-0.1), Angle::from_degrees(0.1));
        assert_eq!(got, Err(RiggingError::NotANumber));
    }
}
