//! A wing, a tailplane or an axle square to the fuselage, by two distances to one mark on the centre line.

use super::Diagonals;
use super::error::{RiggingError, of, within};
use crate::metrology::Estimate;
use crate::quantity::{Dimension, Unit};

/// Where the common mark lies, seen from the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkAt {
    /// Aft of it: a wing's tips to the tail post.
    Aft,
    /// Forward of it: a tailplane's tips to a mark on the cabin.
    Forward,
}

/// Two distances from a left and a right point of a part to one mark on the fuselage's centre line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SquareTo {
    /// The distances, and half the distance between the part's points.
    pub pair: Diagonals,
    /// From the line between the part's points to the mark, along the fuselage; in the unit of the distances.
    pub to_mark: f64,
    /// Which way the mark lies.
    pub mark: MarkAt,
}

impl SquareTo {
    /// How far the part is yawed as a unit, in degrees; positive with its aft side to the **right**: the right point forward of
    /// the left.
    ///
    /// With the middle of the points on the centre line, a part turned by ψ has the mark e = ∓X·sin ψ to the right of its own
    /// centre line (aft −, forward +), and e = (D_L² − D_R²) / 4a whatever the heights ([`Diagonals::lateral_offset`]). Exact for
    /// a part turned about the vertical; the uncertainty by the derivative 1 / (X·cos ψ), X taken as known.
    ///
    /// # Errors
    /// When a number is missing, a distance not above zero, or the distances differ more than any yaw explains.
    pub fn yaw(self) -> Result<Estimate, RiggingError> {
        let left = of(self.pair.left, Dimension::Length)?;
        let right = within(self.pair.right, left.unit)?;
        let distances = [left.value, right.value, self.pair.half_width, self.to_mark];
        if !distances.iter().all(|distance| distance.is_finite()) {
            return Err(RiggingError::NotANumber);
        }
        if distances.iter().any(|distance| *distance <= 0.0) {
            return Err(RiggingError::NotPositive);
        }
        let offset = Diagonals { left, right, ..self.pair }.lateral_offset();
        let sine = offset.value / self.to_mark;
        if sine.abs() >= 1.0 {
            return Err(RiggingError::OutOfReach);
        }
        let sign = match self.mark {
            MarkAt::Aft => -1.0,
            MarkAt::Forward => 1.0,
        };
        let slope = 1.0 / (self.to_mark * (1.0 - sine * sine).sqrt());
        let scaled = offset.times(slope.to_degrees());
        Ok(Estimate { value: sign * sine.asin().to_degrees(), unit: Unit::Degree, ..scaled })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn inches(value: f64, u: f64) -> Estimate {
        Estimate::new(value, u, Unit::Inch)
    }

    proptest! {
        /// Independent of the closed form: the points turned by a rotation matrix, the distances by Pythagoras.
        #[test]
        fn a_turned_part_reads_its_turn(yaw in -5.0..5.0_f64, half in 20.0..250.0_f64, to_mark in 50.0..250.0_f64,
            height in -30.0..30.0_f64, aft in any::<bool>()) {
            let (sin, cos) = yaw.to_radians().sin_cos();
            // x aft, y right; a positive turn takes +x toward +y.
            let mark = if aft { to_mark } else { -to_mark };
            let distance = |y: f64| {
                let (px, py) = (-y * sin, y * cos);
                f64::hypot(f64::hypot(mark - px, py), height)
            };
            let pair = Diagonals { left: inches(distance(-half), 0.0), right: inches(distance(half), 0.0), half_width: half };
            let square = SquareTo { pair, to_mark, mark: if aft { MarkAt::Aft } else { MarkAt::Forward } };
            prop_assert!((square.yaw().expect("a yaw").value - yaw).abs() < 1e-8);
        }
    }

    /// Figures of the trade (plane geometry, common practice, no source): a tenth of a degree at tips 201 in out and 192 1/2 in
    /// ahead of the tail post is 0.48 in of difference; at a tailplane 57 in out and 130 1/2 in behind the mark, 0.18 in.
    #[test]
    fn what_a_tenth_of_a_degree_does() {
        let difference = |half_width, mean: f64, to_mark, mark, by: f64| {
            let pair =
                Diagonals { left: inches(mean - by / 2.0, 0.01), right: inches(mean + by / 2.0, 0.01), half_width };
            SquareTo { pair, to_mark, mark }.yaw().expect("a yaw")
        };
        let wing = difference(201.0, 280.391, 192.5, MarkAt::Aft, 0.48);
        assert!((wing.value - 0.1).abs() < 1e-3, "the right tip is far: forward; {wing:?}");
        let tail = difference(57.0, 142.603, 130.5, MarkAt::Forward, 0.18);
        assert!((tail.value + 0.1).abs() < 2e-3, "the right tip is far: aft; {tail:?}");
        // Tapes to 0.01: √2·0.01·D̄ / (2aX).
        let expected = (2_f64.sqrt() * 0.01 * 280.391 / (2.0 * 201.0 * 192.5)).to_degrees();
        assert!((wing.u - expected).abs() < 1e-7, "{wing:?}");
    }

    #[test]
    fn distances_that_no_yaw_explains_are_refused() {
        let pair = Diagonals { left: inches(100.0, 0.0), right: inches(300.0, 0.0), half_width: 60.0 };
        assert_eq!(SquareTo { pair, to_mark: 90.0, mark: MarkAt::Aft }.yaw(), Err(RiggingError::OutOfReach));
        assert_eq!(SquareTo { pair, to_mark: 0.0, mark: MarkAt::Aft }.yaw(), Err(RiggingError::NotPositive));
    }
}
