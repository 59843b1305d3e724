//! How far the readings agree, and what they could hide.
//!
//! The tests are W. Baarda's (*A testing procedure for use in geodetic networks*, 1968, from memory; the constants are
//! checked against published ones): each standardised residual against the normal quantile of a level per reading, the
//! sum of squares against chi-square.

use statrs::distribution::{ChiSquared, ContinuousCDF};

use super::{Adjusted, Observed};
use crate::metrology::normal_quantile;

/// Below this redundancy a reading is not checked by the others.
const UNCHECKED: f64 = 1e-6;

/// At which levels readings are tested.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Levels {
    /// Probability that one good reading is called wrong, α₀.
    pub alpha: f64,
    /// Probability that a reading wrong by the detectable amount is found, β.
    pub power: f64,
}

impl Levels {
    /// Baarda's usual pair, α₀ = 0.001 and β = 0.80.
    pub const USUAL: Self = Self { alpha: 0.001, power: 0.80 };

    /// What a standardised residual of a good reading stays below, two-sided: 3.29 for 0.001.
    #[must_use]
    pub fn critical(self) -> f64 {
        normal_quantile(1.0 - self.alpha / 2.0)
    }

    /// How many standard deviations a wrong reading has to stand out to be found with the wanted power, δ₀: 4.13 for
    /// the usual pair.
    #[must_use]
    pub fn non_centrality(self) -> f64 {
        self.critical() + normal_quantile(self.power)
    }

    /// At most so often any of `tests` good readings is called wrong: 1 − (1 − α₀)ⁿ, whatever their correlation (Z.
    /// Šidák, 1967).
    #[must_use]
    pub fn set_false_alarm(self, tests: usize) -> f64 {
        1.0 - (1.0 - self.alpha).powf(tests as f64)
    }
}

/// The scatter of all readings against their stated uncertainties.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GlobalTest {
    /// vᵀPv.
    pub statistic: f64,
    /// Readings beyond what is needed.
    pub dof: usize,
    /// How often good readings scatter at least so much: the upper tail of chi-square; 1 without redundancy.
    pub probability: f64,
}

impl GlobalTest {
    /// s₀ = √(vᵀPv / dof), 1 when the readings scatter as stated (σ₀ = 1); none without redundancy.
    #[must_use]
    pub fn s0(self) -> Option<f64> {
        (self.dof > 0).then(|| (self.statistic / self.dof as f64).sqrt())
    }
}

/// A reading as the others see it. Metres or radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Checked {
    /// Observed minus adjusted, v.
    pub residual: f64,
    /// Share of an error of this reading that shows in its residual, r: 0 nothing checks it, 1 fully checked. All add
    /// up to the degrees of freedom.
    pub redundancy: f64,
    /// Standardised residual w = v / (σ·√r); none where nothing checks it.
    pub w: Option<f64>,
    /// The error that would explain the residuals, v / r, and its standard uncertainty σ / √r.
    pub error: Option<(f64, f64)>,
    /// Smallest error of this reading that is found with the wanted power, δ₀·σ/√r (internal reliability).
    pub detectable: Option<f64>,
    /// How far an error of that size moves the result at most, in its standard deviations, δ₀·√((1−r)/r) (external
    /// reliability).
    pub external: Option<f64>,
}

impl Adjusted<'_> {
    /// The global test.
    #[must_use]
    pub fn global_test(&self) -> GlobalTest {
        let (statistic, dof) = (self.cost(), self.dof());
        let tail = |law: ChiSquared| law.sf(statistic);
        let probability = if dof == 0 { 1.0 } else { ChiSquared::new(dof as f64).map_or(f64::NAN, tail) };
        GlobalTest { statistic, dof, probability }
    }

    /// Standardised residual of a reading, w = v / (σ·√r); none where nothing checks it.
    #[must_use]
    pub fn w(&self, reading: usize) -> Option<f64> {
        let r = self.solved.factor.redundancy(reading);
        (r > UNCHECKED).then(|| self.solved.residuals[reading] / r.sqrt())
    }

    /// One reading as the others see it.
    #[must_use]
    pub fn checked(&self, reading: usize, levels: Levels) -> Checked {
        let sigma = self.network().observations()[reading].sigma;
        let residual = self.residual(reading);
        let redundancy = self.solved.factor.redundancy(reading);
        let r = Some(redundancy).filter(|r| *r > UNCHECKED);
        Checked {
            residual,
            redundancy,
            w: self.w(reading),
            error: r.map(|r| (residual / r, sigma / r.sqrt())),
            detectable: r.map(|r| levels.non_centrality() * sigma / r.sqrt()),
            external: r.map(|r| levels.non_centrality() * ((1.0 - r) / r).sqrt()),
        }
    }

    /// What an undetected error of a reading, of the detectable size, does to something computed (external
    /// reliability); signed as for an error that makes the reading too large. Metres or radians; none where nothing
    /// checks the reading.
    #[must_use]
    pub fn hidden_effect(&self, reading: usize, on: &Observed, levels: Levels) -> Option<f64> {
        let detectable = self.checked(reading, levels).detectable?;
        let (_, gradient) = self.gradient(on)?;
        let sigma = self.network().observations()[reading].sigma;
        // An error ∇ of a reading moves the unknowns by C·a·∇/σ with a its row of the weighted design.
        let row = self.solved.design.row(reading).transpose();
        Some(gradient.dot(&(self.covariance() * row)) * detectable / sigma)
    }

    /// The reading with the largest standardised residual, and that.
    #[must_use]
    pub fn largest_w(&self) -> Option<(usize, f64)> {
        let readings = 0..self.network().observations().len();
        let all = readings.filter_map(|reading| Some((reading, self.w(reading)?)));
        all.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
    }
}
