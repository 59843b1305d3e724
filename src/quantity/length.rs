//! Length: a signed displacement along one axis.

use super::Unit;
use super::ops::displacement_ops;

/// One international inch in ten-thousandths of a metre, exactly 0.0254 m (1959 agreement; NIST SP 811, B.8). A whole
/// number, so that one foot is 0.3048 m and not the sum of twelve roundings.
const TEN_THOUSANDTHS_PER_INCH: f64 = 254.0;
const TEN_THOUSANDTHS_PER_METRE: f64 = 10_000.0;
/// One millimetre in metres.
const MILLIMETRES_PER_METRE: f64 = 1000.0;

/// A signed displacement in metres. The axis and the positive sense are said by whoever holds it.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length(f64);

impl Length {
    /// No displacement.
    pub const ZERO: Self = Self(0.0);

    /// From metres.
    pub const fn from_metres(metres: f64) -> Self {
        Self(metres)
    }

    /// From international inches (25.4 mm).
    pub const fn from_inches(inches: f64) -> Self {
        Self(inches * TEN_THOUSANDTHS_PER_INCH / TEN_THOUSANDTHS_PER_METRE)
    }

    /// From millimetres.
    pub const fn from_millimetres(millimetres: f64) -> Self {
        Self(millimetres / MILLIMETRES_PER_METRE)
    }

    /// In metres.
    pub const fn metres(self) -> f64 {
        self.0
    }

    /// In international inches. After [`Length::from_inches`] this is the same number to within rounding of the last
    /// place; a number that must stay exact is kept as a [`Quantity`](super::Quantity).
    pub const fn inches(self) -> f64 {
        self.0 * TEN_THOUSANDTHS_PER_METRE / TEN_THOUSANDTHS_PER_INCH
    }

    /// In millimetres.
    pub const fn millimetres(self) -> f64 {
        self.0 * MILLIMETRES_PER_METRE
    }

    /// The magnitude.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// The number in `unit`; none when `unit` is not a unit of length.
    pub const fn in_unit(self, unit: Unit) -> Option<f64> {
        match unit {
            Unit::Inch => Some(self.inches()),
            Unit::Millimetre => Some(self.millimetres()),
            Unit::Metre => Some(self.metres()),
            _ => None,
        }
    }
}

displacement_ops!(Length);
