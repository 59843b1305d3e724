//! A value with its standard uncertainty.

use super::coverage_factor;
use crate::quantity::Unit;

/// Coverage factor for expanded uncertainty where the degrees of freedom are infinite: k = 2 (JCGM 100:2008, 6.3.3).
pub const COVERAGE: f64 = 2.0;

/// The coverage probability that goes with k = 2 for a normal distribution, called "about 95 %" (JCGM 100:2008, table G.2, whose
/// column 95.45 ends in 2.000).
pub const COVERAGE_PROBABILITY: f64 = 0.954_499_736_103_641_6;

/// A value and its standard uncertainty, both in `unit`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// Best value.
    pub value: f64,
    /// Standard uncertainty (one standard deviation); not negative.
    pub u: f64,
    /// Effective degrees of freedom of `u`: how well it is known. Infinite where it comes from a stated limit or a graduation.
    pub dof: f64,
    /// Unit of value and u.
    pub unit: Unit,
}

impl Estimate {
    /// A value whose standard uncertainty is taken as known: infinite degrees of freedom.
    #[must_use]
    pub const fn new(value: f64, u: f64, unit: Unit) -> Self {
        Self { value, u, dof: f64::INFINITY, unit }
    }

    /// The coverage factor k for about 95 %: [`COVERAGE`], and larger where few repeats leave the uncertainty itself uncertain
    /// (t for 95.45 % and the degrees of freedom cut to a whole number; JCGM 100:2008, G.6.4).
    #[must_use]
    pub fn coverage(self) -> f64 {
        if self.dof == f64::INFINITY { COVERAGE } else { coverage_factor(COVERAGE_PROBABILITY, self.dof) }
    }

    /// Expanded uncertainty U = k·u with k = [`Self::coverage`].
    #[must_use]
    pub fn expanded(self) -> f64 {
        if self.u == 0.0 { 0.0 } else { self.coverage() * self.u }
    }

    /// `self − other` of two independent estimates in one unit: u² = u₁² + u₂² (JCGM 100:2008, eq. 10 with c = ±1).
    #[must_use]
    pub fn minus(self, other: Self) -> Self {
        debug_assert_eq!(self.unit, other.unit, "a difference is taken in one unit");
        Self { value: self.value - other.value, ..self.widened(other.u, other.dof) }
    }

    /// The estimate times an exact factor c: u = |c|·u (JCGM 100:2008, eq. 10).
    #[must_use]
    pub fn times(self, c: f64) -> Self {
        Self { value: self.value * c, u: self.u * c.abs(), ..self }
    }

    /// Mean of two independent estimates.
    #[must_use]
    pub fn mean(self, other: Self) -> Self {
        Self { value: self.value.midpoint(other.value), ..self.widened(other.u, other.dof).times(0.5) }
    }

    /// The same value with a further independent standard uncertainty `u` (same unit) of `dof` degrees of freedom. The degrees
    /// of freedom combine by Welch and Satterthwaite, ν = u⁴ / Σ(uᵢ⁴/νᵢ) (JCGM 100:2008, eq. G.2b); combining step by step gives
    /// what combining all at once gives.
    #[must_use]
    pub fn widened(self, u: f64, dof: f64) -> Self {
        let combined = self.u.hypot(u);
        let share = |part: f64, dof: f64| if part == 0.0 { 0.0 } else { (part / combined).powi(4) / dof };
        Self { u: combined, dof: 1.0 / (share(self.u, self.dof) + share(u, dof)), ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn k_is_two_until_few_repeats_speak() {
        let known = Estimate::new(1.0, 0.5, Unit::Inch);
        assert_eq!(known.expanded(), 1.0, "k = 2 exactly");
        let three_pulls = Estimate { dof: 2.0, ..known };
        assert!((three_pulls.coverage() - 4.53).abs() < 0.005, "table G.2, 95.45 %: {}", three_pulls.coverage());
    }

    #[test]
    fn combining_step_by_step_is_combining_at_once() {
        let parts = [(0.3, 2.0), (0.2, 5.0), (0.4, f64::INFINITY), (0.0, 1.0)];
        let start = Estimate::new(7.0, 0.0, Unit::Degree);
        let chained = parts.iter().fold(start, |sum, (u, dof)| sum.widened(*u, *dof));
        let u2: f64 = parts.iter().map(|(u, _)| u * u).sum();
        let dof = u2 * u2 / parts.iter().map(|(u, dof)| u.powi(4) / dof).sum::<f64>();
        assert!((chained.u - u2.sqrt()).abs() < 1e-15 && (chained.dof / dof - 1.0).abs() < 1e-12, "{chained:?} {dof}");
        assert_eq!(start.widened(0.0, 1.0).dof, f64::INFINITY, "nothing added, nothing lost");
    }
}
