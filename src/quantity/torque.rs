//! Torque: what a wrench is set to.

use super::Unit;
use super::ops::displacement_ops;

/// One inch pound-force in newton metres: 0.0254 m × 4.448 221 615 260 5 N (NIST SP 811, B.8).
const NEWTON_METRES_PER_INCH_POUND: f64 = 0.112_984_829_027_616_7;
const INCH_POUNDS_PER_FOOT_POUND: f64 = 12.0;

/// A torque in newton metres; tightening is plus.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Torque(f64);

impl Torque {
    /// No torque.
    pub const ZERO: Self = Self(0.0);

    /// From newton metres.
    pub const fn from_newton_metres(newton_metres: f64) -> Self {
        Self(newton_metres)
    }

    /// From inch pounds-force.
    pub const fn from_inch_pounds(inch_pounds: f64) -> Self {
        Self(inch_pounds * NEWTON_METRES_PER_INCH_POUND)
    }

    /// In newton metres.
    pub const fn newton_metres(self) -> f64 {
        self.0
    }

    /// In inch pounds-force.
    pub const fn inch_pounds(self) -> f64 {
        self.0 / NEWTON_METRES_PER_INCH_POUND
    }

    /// The number in `unit`; none when `unit` is not a unit of torque.
    pub const fn in_unit(self, unit: Unit) -> Option<f64> {
        match unit {
            Unit::NewtonMetre => Some(self.newton_metres()),
            Unit::InchPoundForce => Some(self.inch_pounds()),
            Unit::FootPoundForce => Some(self.inch_pounds() / INCH_POUNDS_PER_FOOT_POUND),
            _ => None,
        }
    }
}

displacement_ops!(Torque);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::scale;

    #[test]
    fn agrees_with_the_table_of_units() {
        let torque = Torque::from_inch_pounds(60.0);
        for unit in Unit::ALL {
            let expected = scale(Unit::InchPoundForce, unit).map(|factor| 60.0 * factor);
            match (torque.in_unit(unit), expected) {
                (Some(got), Some(expected)) => assert!((got / expected - 1.0).abs() < 1e-14, "{unit:?}: {got}"),
                (got, expected) => assert_eq!(got, expected),
            }
        }
    }
}
