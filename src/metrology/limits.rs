//! A tolerance as absolute limits.

use crate::quantity::{Quantity, Unit, in_unit, scale};
use crate::record::{SpecValue, Tolerance};

/// The lowest and highest value allowed, in `unit`. A missing end is open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Lowest value allowed.
    pub lower: Option<f64>,
    /// Highest value allowed.
    pub upper: Option<f64>,
    /// Unit of both.
    pub unit: Unit,
}

impl Limits {
    /// The limits that an item of the specification sets, in `unit`; `None` when it sets none (not judged), when the
    /// tolerance needs a nominal value that is missing, or when a number is of another dimension.
    #[must_use]
    pub fn of(value: &SpecValue, unit: Unit) -> Option<Self> {
        let inside = |quantity: &Quantity| in_unit(quantity, unit);
        let limits = match &value.tolerance {
            Tolerance::None => return None,
            Tolerance::PlusMinus { by } => {
                let nominal = inside(value.nominal.as_ref()?)?;
                let by = by.value.abs() * scale(by.unit, unit)?;
                Self { lower: Some(nominal - by), upper: Some(nominal + by), unit }
            }
            Tolerance::Limits { lower, upper } => {
                let end = |end: &Option<Quantity>| match end {
                    None => Some(None),
                    Some(quantity) => inside(quantity).map(Some),
                };
                Self { lower: end(lower)?, upper: end(upper)?, unit }
            }
        };
        (limits.lower.is_some() || limits.upper.is_some()).then_some(limits)
    }

    /// The limits of a difference left − right that may be `by` at most, whichever side is the larger.
    #[must_use]
    pub const fn equal_within(by: f64, unit: Unit) -> Self {
        Self { lower: Some(-by.abs()), upper: Some(by.abs()), unit }
    }

    /// Half the distance between two closed limits.
    #[must_use]
    pub fn half_width(self) -> Option<f64> {
        Some((self.upper? - self.lower?) / 2.0)
    }

    /// Where a correction aims: the middle of closed limits; for a one-sided limit, `None`.
    #[must_use]
    pub fn middle(self) -> Option<f64> {
        Some(self.lower?.midpoint(self.upper?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 68 °F ± 9 °F, judged in degrees Celsius: the tolerance is a difference and knows no zero.
    #[test]
    fn a_tolerance_of_temperature_is_a_difference() {
        let of = |value| Quantity::new(value, Unit::Fahrenheit, 1.0);
        let value = SpecValue { nominal: Some(of(68.0)), tolerance: Tolerance::PlusMinus { by: of(9.0) }, words: None };
        let limits = Limits::of(&value, Unit::Celsius).expect("limits");
        let near = |end: Option<f64>, by: f64| end.is_some_and(|end| (end - by).abs() < 1e-9);
        assert!(near(limits.lower, 15.0) && near(limits.upper, 25.0), "{limits:?}");
    }
}
