//! A value with its standard uncertainty.

use crate::quantity::Unit;

/// Coverage factor for expanded uncertainty: k = 2, about 95 % for a normal distribution (JCGM 100:2008, 6.3.3 and G.1.3).
pub const COVERAGE: f64 = 2.0;

/// A value and its standard uncertainty, both in `unit`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// Best value.
    pub value: f64,
    /// Standard uncertainty (one standard deviation); not negative.
    pub u: f64,
    /// Unit of both.
    pub unit: Unit,
}

impl Estimate {
    /// Expanded uncertainty U = k·u with k = [`COVERAGE`].
    #[must_use]
    pub fn expanded(self) -> f64 {
        COVERAGE * self.u
    }

    /// `self − other` of two independent estimates in one unit: u² = u₁² + u₂² (JCGM 100:2008, eq. 10 with c = ±1).
    #[must_use]
    pub fn minus(self, other: Self) -> Self {
        debug_assert_eq!(self.unit, other.unit, "a difference is taken in one unit");
        Self { value: self.value - other.value, u: self.u.hypot(other.u), unit: self.unit }
    }

    /// The estimate times an exact factor c: u = |c|·u (JCGM 100:2008, eq. 10).
    #[must_use]
    pub fn times(self, c: f64) -> Self {
        Self { value: self.value * c, u: self.u * c.abs(), unit: self.unit }
    }

    /// Mean of two independent estimates.
    #[must_use]
    pub fn mean(self, other: Self) -> Self {
        Self { value: self.value.midpoint(other.value), u: self.u.hypot(other.u) / 2.0, unit: self.unit }
    }
}
