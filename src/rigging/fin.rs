//! A fin: upright to the tailplane by two distances, upright to gravity by a level, and whether both agree.

use super::Diagonals;
use super::error::{RiggingError, degrees, of, within};
use crate::metrology::Estimate;
use crate::quantity::{Angle, Dimension, Length, Unit};

/// The distances from a mark at the top of the fin to the left and the right tip of the tailplane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FinTop {
    /// The distances, and half the distance between the tips.
    pub pair: Diagonals,
    /// Height of the mark above the tips' line, in the unit of the distances.
    pub height: f64,
}

impl FinTop {
    /// How far the fin's top leans from square to the tailplane, in degrees; **top to the right** is plus:
    /// atan(e / h) with e = (F_L² − F_R²) / 4b ([`Diagonals::lateral_offset`]). Exact; the height taken as known.
    ///
    /// # Errors
    /// When a number is missing, is no length, or a distance is not above zero.
    pub fn lean_to_tailplane(self) -> Result<Estimate, RiggingError> {
        let left = of(self.pair.left, Dimension::Length)?;
        let right = within(self.pair.right, left.unit)?;
        let distances = [left.value, right.value, self.pair.half_width, self.height];
        if !distances.iter().all(|distance| distance.is_finite()) {
            return Err(RiggingError::NotANumber);
        }
        if distances.iter().any(|distance| *distance <= 0.0) {
            return Err(RiggingError::NotPositive);
        }
        let offset = Diagonals { left, right, ..self.pair }.lateral_offset();
        let slope = offset.value / self.height;
        let scaled = offset.times((1.0 / (self.height * (1.0 + slope * slope))).to_degrees());
        Ok(Estimate { value: slope.atan().to_degrees(), unit: Unit::Degree, ..scaled })
    }

    /// By how much the fin's `plumb` reading (top to the right is plus, against gravity) disagrees with this square and the
    /// tailplane's `roll` (right side low is plus), in degrees: plumb − (square + roll). Not zero: one of the three is misread, or
    /// the tailplane is bent. Equal distances alone make a fin square to a tailplane that may itself lean.
    ///
    /// # Errors
    /// As [`Self::lean_to_tailplane`], and when a reading is no angle.
    pub fn disagreement(self, plumb: Estimate, roll: Estimate) -> Result<Estimate, RiggingError> {
        let predicted = self.lean_to_tailplane()?.minus(degrees(roll)?.times(-1.0));
        Ok(degrees(plumb)?.minus(predicted))
    }
}

/// How thick a packing under the **right** side of a fin's base takes out a `lean` (top to the right is plus): width·tan(lean).
/// Below zero: pack the left side.
///
/// # Errors
/// When the width is not above zero or the lean not less than square.
pub fn pack_right(lean: Angle, base_width: Length) -> Result<Length, RiggingError> {
    super::lift_for(lean, base_width)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn inches(value: f64) -> Estimate {
        Estimate::new(value, 0.02, Unit::Inch)
    }

    fn deg(value: f64) -> Estimate {
        Estimate::new(value, 0.05, Unit::Degree)
    }

    proptest! {
        /// Coordinates: a fin turned to the right about its foot, the tips by Pythagoras; then the whole tail rolled.
        #[test]
        fn a_leaning_fin_reads_its_lean(lean in -8.0..8.0_f64, roll in -3.0..3.0_f64) {
            let (tall, half, aft) = (53.5_f64, 57.0_f64, 10.5_f64);
            let (e, height) = (tall * lean.to_radians().sin(), tall * lean.to_radians().cos());
            let to = |y: f64| inches((height * height + aft * aft + (e - y) * (e - y)).sqrt());
            let top = FinTop { pair: Diagonals { left: to(-half), right: to(half), half_width: half }, height };
            prop_assert!((top.lean_to_tailplane().expect("distances").value - lean).abs() < 1e-9);
            let odd = top.disagreement(deg(lean + roll), deg(roll)).expect("angles");
            prop_assert!(odd.value.abs() < 1e-9, "{odd:?}");
        }
    }

    /// Figures of the trade (plane geometry, common practice, no source): a top 0.25 in over, 53 1/2 in up, leans 0.27° and makes
    /// 0.36 in of difference between distances of 78.88 in to tips 57 in out; 0.27° under a base 5 in wide is 0.023 in.
    #[test]
    fn a_quarter_inch_at_the_top() {
        let half = 0.361 / 2.0;
        let pair = Diagonals { left: inches(78.876 + half), right: inches(78.876 - half), half_width: 57.0 };
        assert!((pair.sensitivity() - 0.69).abs() < 0.005, "{}", pair.sensitivity());
        let lean = FinTop { pair, height: 53.5 }.lean_to_tailplane().expect("distances");
        assert!((lean.value - 0.268).abs() < 1e-3, "{lean:?}");
        let pack = pack_right(Angle::from_degrees(lean.value), Length::from_inches(5.0)).expect("a base");
        assert!((pack.inches() - 0.0235).abs() < 5e-4, "the top leans right, the right side is packed: {pack:?}");
        // u = √2·0.02·D̄ / 2b over the height.
        let expected = (2_f64.sqrt() * 0.02 * 78.876 / 114.0 / 53.5).to_degrees();
        assert!((lean.u / expected - 1.0).abs() < 1e-3, "{lean:?}");
    }
}
