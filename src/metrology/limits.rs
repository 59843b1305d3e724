//! A tolerance as absolute limits.

use crate::quantity::{Quantity, Unit};
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
                let by = inside(by)?.abs();
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

/// The value of a quantity in another unit of the same dimension; `None` across dimensions. The same unit gives the number
/// back untouched, so that n/64 in stays exact.
pub(crate) fn in_unit(quantity: &Quantity, unit: Unit) -> Option<f64> {
    if quantity.unit == unit { Some(quantity.value) } else { Some(quantity.value * scale(quantity.unit, unit)?) }
}

/// How many of `to` one `from` is; `None` across dimensions.
pub(crate) fn scale(from: Unit, to: Unit) -> Option<f64> {
    match (from, to) {
        (Unit::Inch, Unit::Millimetre) => Some(25.4),
        (Unit::Millimetre, Unit::Inch) => Some(1.0 / 25.4),
        _ if from == to => Some(1.0),
        _ => None,
    }
}
