//! A lift strut's length, and the rise of the wing, its incidence and its washout.

use super::error::{RiggingError, finite, positive};
use super::{lift_for, turn_by};
use crate::quantity::{Angle, Length};

/// A pin of a strut or of a wing: on either side of the airframe, so that outboard is plus on both.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pin {
    /// Aft, as a fuselage station.
    pub aft: Length,
    /// Outboard of the centre line.
    pub outboard: Length,
    /// Up, as a waterline.
    pub up: Length,
}

/// A lift strut: how its length turns the wing about its root pins. **Longer** is plus and raises the wing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strut {
    /// Strut length for each radian that the wing turns up, dL/dθ: the strut's lever arm about the root pin.
    arm: Length,
}

impl Strut {
    /// A strut from its `lower` pin on the fuselage to its `upper` pin on the wing, which hinges about the fore-and-aft line
    /// through `hinge` (the root pin of its own spar).
    ///
    /// With the strut's direction (o outboard, w up) and the upper pin (Δo, Δw) from the hinge, dL/dθ = w·Δo − o·Δw. Exact for
    /// a small turn; the arm itself changes with the turn.
    ///
    /// # Errors
    /// When a number is missing, the strut has no length, or lengthening it does not raise the wing.
    pub fn between(lower: Pin, upper: Pin, hinge: Pin) -> Result<Self, RiggingError> {
        let [aft, out, up] = [upper.aft - lower.aft, upper.outboard - lower.outboard, upper.up - lower.up];
        let length = positive(Length::from_metres(out.metres().hypot(up.metres()).hypot(aft.metres())))?;
        let arm = (upper.outboard - hinge.outboard) * (up / length) - (upper.up - hinge.up) * (out / length);
        Self::with_arm(arm)
    }

    /// A strut that rises at `elevation` to a pin at `reach` outboard of the hinge and level with it: the arm is reach·sin φ.
    ///
    /// # Errors
    /// When the strut does not rise or the reach is not above zero.
    pub fn rising(elevation: Angle, reach: Length) -> Result<Self, RiggingError> {
        Self::with_arm(positive(reach)? * elevation.sin())
    }

    fn with_arm(arm: Length) -> Result<Self, RiggingError> {
        match positive(arm) {
            Ok(arm) => Ok(Self { arm }),
            Err(RiggingError::NotPositive) => Err(RiggingError::OutOfReach),
            Err(error) => Err(error),
        }
    }

    /// Rise of the wing at `station` outboard of its hinge when the strut becomes longer by `longer`: ΔL·station / arm.
    ///
    /// # Errors
    /// When a number is missing.
    pub fn rise(self, longer: Length, station: Length) -> Result<Length, RiggingError> {
        Ok(finite(longer)? * (finite(station)? / self.arm))
    }

    /// How much longer the strut must become for a rise at `station`. Undoes [`Self::rise`].
    ///
    /// # Errors
    /// When a number is missing or the station is not above zero.
    pub fn longer_for_rise(self, rise: Length, station: Length) -> Result<Length, RiggingError> {
        Ok(finite(rise)? * (self.arm / positive(station)?))
    }

    /// What a **rear** strut longer by `longer` does to the washout at `station` while the front strut stays: its spar rises
    /// over the `spar_spacing`, Δw = atan(rise / c_s). Longer gives **more** washout. The incidence there becomes less by as much.
    ///
    /// # Errors
    /// When a number is missing or the spacing is not above zero.
    pub fn washout(self, longer: Length, station: Length, spar_spacing: Length) -> Result<Angle, RiggingError> {
        turn_by(self.rise(longer, station)?, spar_spacing)
    }

    /// How much longer the rear strut must become for `more` washout at `station`: ΔL = c_s·tan(Δw)·arm / station. Undoes
    /// [`Self::washout`].
    ///
    /// # Errors
    /// When the station or the spacing is not above zero or the angle not less than square.
    pub fn longer_for_washout(
        self,
        more: Angle,
        station: Length,
        spar_spacing: Length,
    ) -> Result<Length, RiggingError> {
        self.longer_for_rise(lift_for(more, spar_spacing)?, station)
    }

    /// How much this strut must become longer for each length that `other` does, so that both spars rise alike and the incidence
    /// stays.
    #[must_use]
    pub fn beside(self, other: Self) -> f64 {
        self.arm / other.arm
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn inch(value: f64) -> Length {
        Length::from_inches(value)
    }

    fn pin([aft, outboard, up]: [f64; 3]) -> Pin {
        Pin { aft: inch(aft), outboard: inch(outboard), up: inch(up) }
    }

    const LOWER: [f64; 3] = [78.0, 18.75, 53.0];
    const REAR: [f64; 3] = [104.25, 112.0, 99.048];
    const FRONT: [f64; 3] = [70.5, 112.0, 99.815];
    const REAR_HINGE: [f64; 3] = [104.25, 21.0, 99.939];
    const FRONT_HINGE: [f64; 3] = [70.5, 21.0, 101.0];

    /// Rear and front strut of the invented Veldrin H2.
    fn struts() -> (Strut, Strut) {
        let strut = |upper, hinge| Strut::between(pin(LOWER), pin(upper), pin(hinge)).expect("a strut");
        (strut(REAR, REAR_HINGE), strut(FRONT, FRONT_HINGE))
    }

    proptest! {
        #[test]
        fn what_a_length_does_a_length_undoes(longer in -0.5..0.5_f64, station in 5.0..200.0_f64) {
            let (rear, _) = struts();
            let rise = rear.rise(inch(longer), inch(station)).expect("a strut");
            let back = rear.longer_for_rise(rise, inch(station)).expect("a strut");
            prop_assert!((back.inches() - longer).abs() < 1e-9);
            let washout = rear.washout(inch(longer), inch(station), inch(33.75)).expect("a strut");
            let back = rear.longer_for_washout(washout, inch(station), inch(33.75)).expect("a strut");
            prop_assert!((back.inches() - longer).abs() < 1e-9);
        }

        /// Against the rigid wing: turned about its root pins by a rotation matrix, the strut's length by Pythagoras.
        #[test]
        fn a_turned_wing_needs_the_strut_that_the_formula_says(turn in -0.3..0.3_f64) {
            for (strut, upper, hinge) in [(struts().0, REAR, REAR_HINGE), (struts().1, FRONT, FRONT_HINGE)] {
                let (sin, cos) = turn.to_radians().sin_cos();
                let (dy, dz) = (upper[1] - hinge[1], upper[2] - hinge[2]);
                let turned = [upper[0], hinge[1] + dy * cos - dz * sin, hinge[2] + dy * sin + dz * cos];
                let length = |upper: [f64; 3]| {
                    let squares: f64 = upper.iter().zip(LOWER).map(|(one, other)| (one - other).powi(2)).sum();
                    squares.sqrt()
                };
                let said = strut.rise(inch(length(turned) - length(upper)), inch(180.0)).expect("a strut").inches();
                // Second order: half a per cent for 0.3°.
                prop_assert!((said - 180.0 * turn.to_radians()).abs() <= 0.01 * (180.0 * turn.to_radians()).abs() + 1e-9);
            }
        }
    }

    /// Figures of the trade for this geometry with 24 threads to the inch (computed by hand; common practice, no source).
    #[test]
    fn what_a_turn_does() {
        let (rear, front) = struts();
        let turn = inch(1.0 / 24.0);
        let rise = rear.rise(turn, inch(91.0)).expect("a strut");
        assert!((rise.inches() - 0.095).abs() < 5e-4, "{}", rise.inches());
        for (turns, washout) in [(0.5, 0.16), (1.0, 0.32), (1.5, 0.48), (2.0, 0.64)] {
            let got = rear.washout(turn * turns, inch(180.0), inch(33.75)).expect("a strut").degrees();
            assert!((got - washout).abs() < 0.005, "{turns}: {got}");
        }
        let tip = front.rise(turn, inch(180.0)).expect("a strut");
        assert!((tip.inches() - 0.18).abs() < 0.005, "{}", tip.inches());
        assert!((rear.beside(front) - 0.954).abs() < 5e-4, "{}", rear.beside(front));
        // Both one turn longer: the rear spar rises more, and the front edge goes down.
        let apart = rear.rise(turn, inch(180.0)).expect("a strut") - tip;
        assert!((turn_by(apart, inch(33.75)).expect("a base").degrees() - 0.015).abs() < 5e-4);
    }

    #[test]
    fn a_strut_with_its_pin_level_with_the_hinge_is_the_short_formula() {
        let level = Strut::between(pin([70.0, 20.0, 50.0]), pin([70.0, 110.0, 100.0]), pin([70.0, 20.0, 100.0]));
        let elevation = Angle::atan2(inch(50.0), inch(90.0));
        assert!(
            (level.expect("a strut").beside(Strut::rising(elevation, inch(90.0)).expect("one")) - 1.0).abs() < 1e-12
        );
    }

    #[test]
    fn a_strut_that_does_not_rise_is_refused() {
        assert_eq!(Strut::rising(Angle::ZERO, inch(91.0)), Err(RiggingError::OutOfReach));
        assert_eq!(Strut::between(pin(LOWER), pin(LOWER), pin(REAR_HINGE)), Err(RiggingError::NotPositive));
    }
}
