//! Two distances from a left and a right forward point to one common aft centre point.

use crate::metrology::{Estimate, propagate};

/// The pair of distances and the half-distance of the forward points; all in one length unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diagonals {
    /// Left forward point to the aft centre point.
    pub left: Estimate,
    /// Right forward point to the same aft centre point.
    pub right: Estimate,
    /// Half the distance between the forward points, a.
    pub half_width: f64,
}

impl Diagonals {
    /// Left minus right. Positive: the left distance is longer, the tail lies to the right.
    #[must_use]
    pub fn difference(self) -> Estimate {
        self.left.minus(self.right)
    }

    /// How far the aft point lies to the right of the centre line, e = (D_L² − D_R²) / 4a.
    ///
    /// Exact: D_L² = (a + e)² + c² and D_R² = (a − e)² + c² share c (length and height), so D_L² − D_R² = 4ae. The uncertainty
    /// is propagated by the derivatives D_L / 2a and −D_R / 2a.
    #[must_use]
    pub fn lateral_offset(self) -> Estimate {
        let doubled = 2.0 * self.half_width;
        propagate(
            [self.left, self.right],
            self.left.unit,
            |[left, right]| (left * left - right * right) / (2.0 * doubled),
            |[left, right]| [left / doubled, -right / doubled],
        )
        .estimate
    }

    /// How many times a difference of the distances is magnified in the lateral offset: D̄ / 2a with D̄ the mean distance.
    #[must_use]
    pub fn sensitivity(self) -> f64 {
        self.left.value.midpoint(self.right.value) / (2.0 * self.half_width)
    }

    /// The standard uncertainty that the lateral offset would have with forward points `half_width` apart from the centre line
    /// instead (a long bar), the distances read equally well.
    #[must_use]
    pub fn offset_uncertainty_with(self, half_width: f64) -> f64 {
        self.difference().u * self.left.value.midpoint(self.right.value) / (2.0 * half_width)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    fn at(value: f64, u: f64) -> Estimate {
        Estimate::new(value, u, Unit::Inch)
    }

    /// Figures of the trade for forward points 34 1/2 in apart and a distance of 227.45 in: 1/16 in of difference puts the tail
    /// 0.41 in off; misreading each tape by 1/64 in hides 0.21 in (plane geometry; common practice, no source).
    #[test]
    fn a_sixteenth_between_narrow_points_is_four_tenths_at_the_tail() {
        let pair = Diagonals { left: at(227.46875, 0.0), right: at(227.40625, 0.0), half_width: 17.25 };
        assert!((pair.lateral_offset().value - 0.412).abs() < 5e-4, "{}", pair.lateral_offset().value);
        assert!((pair.sensitivity() - 6.593).abs() < 1e-3, "{}", pair.sensitivity());
        assert!((2.0 / 64.0 * pair.sensitivity() - 0.206).abs() < 1e-3, "hidden by 1/64 in on each tape");
    }

    /// Against coordinates: place the aft point, measure with Pythagoras, ask where it is.
    #[test]
    fn the_offset_is_exact_for_any_position() {
        for (a, length, height, e) in
            [(17.25, 226.0, 19.0, 0.41), (60.0, 190.0, 30.0, -3.0), (430.0, 4440.0, 265.0, 12.0)]
        {
            let distance = |lateral: f64| f64::hypot(lateral, f64::hypot(length, height));
            let pair = Diagonals { left: at(distance(a + e), 0.0), right: at(distance(a - e), 0.0), half_width: a };
            assert!((pair.lateral_offset().value - e).abs() < 1e-9, "{e}: {}", pair.lateral_offset().value);
        }
    }

    #[test]
    fn a_long_bar_reads_the_tail_better() {
        let pair = Diagonals { left: at(227.45, 0.01), right: at(227.45, 0.01), half_width: 17.25 };
        let ratio = pair.lateral_offset().u / pair.offset_uncertainty_with(60.0);
        assert!((ratio - 60.0 / 17.25).abs() < 1e-12, "{ratio}");
    }
}
