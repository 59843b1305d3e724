//! Repeated readings of one thing with one instrument.

/// Repeats of one reading, in one unit. Never empty.
#[derive(Clone, Debug, PartialEq)]
pub struct Repeats {
    sorted: Vec<f64>,
    step: f64,
}

impl Repeats {
    /// `values` read off an instrument with graduation `step`; `None` when there is no value.
    #[must_use]
    pub fn new(values: Vec<f64>, step: f64) -> Option<Self> {
        // A handful of values: each goes to its place.
        let mut sorted = Vec::with_capacity(values.len());
        for value in values {
            sorted.insert(sorted.partition_point(|lower: &f64| lower.total_cmp(&value).is_le()), value);
        }
        (!sorted.is_empty()).then_some(Self { sorted, step })
    }

    /// How many.
    #[must_use]
    pub fn count(&self) -> usize {
        self.sorted.len()
    }

    /// The median: one slipped reading does not move it (the trade's "three pulls, use the middle one"; common practice).
    #[must_use]
    pub fn median(&self) -> f64 {
        let n = self.sorted.len();
        if n % 2 == 1 { self.sorted[n / 2] } else { self.sorted[n / 2 - 1].midpoint(self.sorted[n / 2]) }
    }

    /// Largest minus smallest.
    #[must_use]
    pub fn spread(&self) -> f64 {
        self.sorted[self.sorted.len() - 1] - self.sorted[0]
    }

    /// Standard uncertainty of the median taken as the best value: the larger of what the graduation hides
    /// ([`half_step_uncertainty`]) and what the repeats show (spread ÷ d₂ ÷ √n). The larger rather than both, because repeats
    /// that are whole graduations already contain the rounding.
    ///
    /// d₂ turns the range of n normal values into their standard deviation (control-chart constants of ASTM E2587 and
    /// ISO 7870; values from memory, checked by integration in the tests).
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        let n = self.sorted.len();
        let shown = range_divisor(n).map_or(0.0, |d2| self.spread() / d2 / (n as f64).sqrt());
        shown.max(half_step_uncertainty(self.step))
    }
}

/// Standard uncertainty that a graduation or display step hides: rectangular over ± half a step, a/√3 = step/√12
/// (JCGM 100:2008, F.2.2.1).
#[must_use]
pub fn half_step_uncertainty(step: f64) -> f64 {
    step / 12_f64.sqrt()
}

/// Standard uncertainty of a maker's limit of error ±a with nothing else known: a/√3 (JCGM 100:2008, 4.3.7).
#[must_use]
pub fn limit_of_error_uncertainty(limit: f64) -> f64 {
    limit / 3_f64.sqrt()
}

/// d₂(n) for n = 2 to 10; beyond that the value for 10, which errs to the careful side.
fn range_divisor(n: usize) -> Option<f64> {
    const D2: [f64; 9] = [1.128, 1.693, 2.059, 2.326, 2.534, 2.704, 2.847, 2.970, 3.078];
    (n >= 2).then(|| D2[(n - 2).min(D2.len() - 1)])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn median_and_spread_of_three_pulls() {
        let repeats = Repeats::new(vec![227.5, 227.4375, 227.46875], 1.0 / 32.0).expect("three values");
        assert_eq!(repeats.median(), 227.46875, "the middle pull");
        assert_eq!(repeats.spread(), 0.0625, "largest minus smallest");
    }

    #[test]
    fn equal_repeats_keep_the_uncertainty_of_the_graduation() {
        let repeats = Repeats::new(vec![2.6, 2.6, 2.6], 0.1).expect("three values");
        assert!((repeats.standard_uncertainty() - 0.1 / 12_f64.sqrt()).abs() < 1e-15, "step over root twelve");
    }

    /// d₂ is the mean range of n standard normal values: ∫ (1 − Φⁿ − (1 − Φ)ⁿ) dx. Integrated here, independent of the table.
    #[test]
    fn range_divisors_agree_with_the_integral_they_are_defined_by() {
        let h = 1e-3;
        for n in 2..=10_usize {
            let (mut x, mut cumulative, mut integral) = (-9.0_f64, 0.0_f64, 0.0_f64);
            while x < 9.0 {
                let density = |x: f64| (-x * x / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt();
                cumulative += h * density(x + h / 2.0);
                x += h;
                let power = i32::try_from(n).expect("small");
                integral += h * (1.0 - cumulative.powi(power) - (1.0 - cumulative).powi(power));
            }
            let table = range_divisor(n).expect("n >= 2");
            assert!((integral - table).abs() < 2e-3, "d2({n}): integral {integral:.4}, table {table}");
        }
    }
}
