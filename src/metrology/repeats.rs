//! Repeated readings of one thing with one instrument.

use super::statistics::{median, squared_deviations};
use super::{Component, Estimate, Source, half_step_uncertainty};
use crate::quantity::Unit;

/// Degrees of freedom of what is assumed of the scatter before any repeat: known to half of itself, ν = ½·(1/0.5)²
/// (JCGM 100:2008, eq. G.3).
const ASSUMED_DOF: f64 = 2.0;

/// Repeats of one reading, in one unit. Never empty.
#[derive(Clone, Debug, PartialEq)]
pub struct Repeats {
    values: Vec<f64>,
    step: f64,
}

impl Repeats {
    /// `values` read off an instrument with graduation `step`; `None` when there is no value.
    #[must_use]
    pub fn new(values: Vec<f64>, step: f64) -> Option<Self> {
        (!values.is_empty()).then_some(Self { values, step })
    }

    /// How many.
    #[must_use]
    pub fn count(&self) -> usize {
        self.values.len()
    }

    /// The readings, in the order in which they were taken.
    #[must_use]
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// The median, which is the best value here and not the mean: one slipped reading does not move it (the trade's "three
    /// pulls, use the middle one"; common practice, no source). It costs a sixth of the precision of three good readings, which
    /// [`median_widening`] charges.
    #[must_use]
    pub fn median(&self) -> f64 {
        median(&self.values).unwrap_or(f64::NAN)
    }

    /// Largest minus smallest.
    #[must_use]
    pub fn spread(&self) -> f64 {
        let (low, high) = self
            .values
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(*value), high.max(*value)));
        high - low
    }

    /// Standard deviation of one reading, and its degrees of freedom: what the repeats show, pooled (JCGM 100:2008, 4.2.4) with
    /// what is assumed before any repeat, that the readings scatter as much as rounding to the graduation alone makes them
    /// (step/√12, known to half of itself: 2 degrees of freedom). Two or three repeats alone have 1 or 2 degrees of freedom and
    /// would need k = 14 or 4.5, which no builder could use and no workshop believes; the graduation is a known thing too.
    #[must_use]
    pub fn scatter(&self) -> (f64, f64) {
        let dof = ASSUMED_DOF + (self.values.len() - 1) as f64;
        let assumed = ASSUMED_DOF * half_step_uncertainty(self.step).powi(2);
        (((assumed + squared_deviations(&self.values)) / dof).sqrt(), dof)
    }

    /// What the repeats leave open about their median: the larger of what the graduation hides ([`half_step_uncertainty`],
    /// infinite degrees of freedom) and the scatter of the median. The larger rather than both, because repeats that are whole
    /// graduations already contain the rounding.
    #[must_use]
    pub fn component(&self) -> Component {
        self.component_of(self.values.len())
    }

    /// The same as it would be of `count` repeats that scatter as these do; `count` at least 1.
    #[must_use]
    pub fn component_of(&self, count: usize) -> Component {
        let (s, dof) = self.scatter();
        let dof = dof + (count as f64 - self.values.len() as f64);
        let scattered = s * median_widening(count) / (count as f64).sqrt();
        let hidden = half_step_uncertainty(self.step);
        // One reading alone scatters, as assumed, by exactly what the graduation hides.
        if scattered > hidden * (1.0 + 1e-9) {
            Component { source: Source::Repeats, u: scattered, dof, sensitivity: 1.0 }
        } else {
            Component::resolution(self.step)
        }
    }

    /// Median and uncertainty as an estimate in `unit`.
    #[must_use]
    pub fn estimate(&self, unit: Unit) -> Estimate {
        let Component { u, dof, .. } = self.component();
        Estimate { value: self.median(), u, dof, unit }
    }
}

/// How many times the standard deviation of the median of n normal values is that of their mean: √n·σ(median)/σ. Values from
/// the moments of normal order statistics (from memory; the tests integrate them again); beyond 7 the limit √(π/2), which errs
/// to the careful side.
#[must_use]
pub fn median_widening(n: usize) -> f64 {
    const WIDENING: [f64; 7] = [1.0, 1.0, 1.160, 1.092, 1.198, 1.135, 1.214];
    n.checked_sub(1).and_then(|place| WIDENING.get(place).copied()).unwrap_or(1.2533)
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
        for count in 1..=9 {
            let repeats = Repeats::new(vec![2.6; count], 0.1).expect("values");
            let Component { u, dof, .. } = repeats.component();
            assert!((u - 0.1 / 12_f64.sqrt()).abs() < 1e-15 && dof == f64::INFINITY, "{count}: {u}, {dof}");
        }
    }

    /// Three pulls 0, 1, 2 graduations: s² = (2/12 + 2)/4, so u = 1.16·s/√3 = 0.493 graduations, with 4 degrees of freedom.
    #[test]
    fn scatter_beyond_the_graduation_is_counted_with_its_degrees_of_freedom() {
        let repeats = Repeats::new(vec![5.0, 7.0, 6.0], 1.0).expect("three values");
        let Component { u, dof, .. } = repeats.component();
        assert!((u - 0.493).abs() < 1e-3 && dof == 4.0, "{u}, {dof}");
        let six = repeats.component_of(6);
        assert!(six.u < u && six.dof == 7.0, "{six:?}");
    }

    /// The variance of the median of an odd number of normal values, from its density n!/(m!)² · (Φ(1−Φ))^m · φ; an even n's
    /// median is the mean of two and has a double integral: simulated.
    #[test]
    fn the_widening_is_what_the_median_costs() {
        let h = 1e-3;
        for n in [3_usize, 5, 7] {
            let m = n / 2;
            let scale: f64 =
                (m + 1..=n).map(|i| i as f64).product::<f64>() / (1..=m).map(|i| i as f64).product::<f64>();
            let (mut x, mut cumulative, mut variance) = (-9.0_f64, 0.0_f64, 0.0_f64);
            while x < 9.0 {
                let middle = x + h / 2.0;
                let density = (-middle * middle / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt();
                let phi = cumulative + density * h / 2.0;
                let power = i32::try_from(m).expect("small");
                variance += h * middle * middle * scale * (phi * (1.0 - phi)).powi(power) * density;
                cumulative += h * density;
                x += h;
            }
            let integral = (variance * n as f64).sqrt();
            assert!((integral - median_widening(n)).abs() < 1e-3, "{n}: {integral}, {}", median_widening(n));
        }
        let mut random = fastrand::Rng::with_seed(1);
        for n in [2_usize, 4, 6] {
            let mut sum = 0.0;
            let rounds = 200_000;
            for _ in 0..rounds {
                let values: Vec<f64> = (0..n).map(|_| super::super::normal_quantile(random.f64().max(1e-12))).collect();
                sum += median(&values).expect("values").powi(2);
            }
            let simulated = (sum / f64::from(rounds) * n as f64).sqrt();
            assert!((simulated - median_widening(n)).abs() < 0.01, "{n}: {simulated}, {}", median_widening(n));
        }
    }
}
