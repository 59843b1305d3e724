//! Which of a few repeats stands out. Nothing here removes a reading: a person strikes it out, or reads again.

use super::{statistics, t_quantile};

/// A reading that stands out from the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandsOut {
    /// Its place in the list.
    pub index: usize,
    /// Its distance from the mean in standard deviations, G.
    pub statistic: f64,
    /// What G would stay below in 95 of 100 samples without an outlier.
    pub critical: f64,
}

/// How far apart a few readings are, against how far apart they may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Largest minus smallest.
    pub range: f64,
    /// The critical range.
    pub critical: f64,
    /// Whether `range` is over it: read again.
    pub too_wide: bool,
    /// The reading that lies apart from the rest, where there are three or more and one does.
    pub apart: Option<usize>,
}

/// Grubbs' statistic: the reading farthest from the mean, as its place and its distance in standard deviations. `None` of
/// fewer than three readings or of equal ones.
#[must_use]
pub fn grubbs_statistic(values: &[f64]) -> Option<(usize, f64)> {
    if values.len() < 3 {
        return None;
    }
    let (mean, s) = (statistics::mean(values)?, statistics::standard_deviation(values)?);
    let far = |value: f64| (value - mean).abs() / s;
    let (index, value) = values.iter().enumerate().max_by(|a, b| far(*a.1).total_cmp(&far(*b.1)))?;
    (s > 0.0).then(|| (index, far(*value)))
}

/// Critical value of G for n ≥ 3 readings at the two-sided significance `alpha`:
/// (n − 1)/√n · √(t²/(n − 2 + t²)) with t the upper α/2n point for n − 2 degrees of freedom (F. E. Grubbs 1969; NIST/SEMATECH
/// e-Handbook, 1.3.5.17.1). Twice `alpha` gives the one-sided value.
#[must_use]
pub fn grubbs_critical(n: usize, alpha: f64) -> f64 {
    let (n, dof) = (n as f64, n as f64 - 2.0);
    let t2 = t_quantile(1.0 - alpha / (2.0 * n), dof).powi(2);
    (n - 1.0) / n.sqrt() * (t2 / (dof + t2)).sqrt()
}

/// Grubbs' test at 5 %, two-sided: the reading that stands out, if one does. For readings that are fine beside their scatter;
/// [`spread`] is the one for whole graduations.
#[must_use]
pub fn grubbs(values: &[f64]) -> Option<StandsOut> {
    let (index, statistic) = grubbs_statistic(values)?;
    let critical = grubbs_critical(values.len(), 0.05);
    (statistic > critical).then_some(StandsOut { index, statistic, critical })
}

/// Critical range of n readings that repeat with standard deviation `sigma`, f(n)·σ: exceeded once in 20 (ISO 5725-6:1994,
/// 5.2, table 1, from memory; the tests integrate it again). n from 2 to 10, above 10 the factor of 10; 0 below 2.
#[must_use]
pub fn critical_range(n: usize, sigma: f64) -> f64 {
    const FACTORS: [f64; 9] = [2.8, 3.3, 3.6, 3.9, 4.0, 4.2, 4.3, 4.4, 4.5];
    if n < 2 { 0.0 } else { FACTORS[(n - 2).min(FACTORS.len() - 1)] * sigma }
}

/// Whether a few repeats in whole graduations of `step` are too far apart: by more than the critical range of readings that
/// repeat with a standard deviation of half a graduation (common practice, no source: a tape or protractor in order does) and
/// half a graduation more for the rounding. Of three or more, Grubbs' test says which one lies apart: of only two nobody can
/// say. Grubbs alone would name the third of three pulls whenever the other two are equal.
#[must_use]
pub fn spread(values: &[f64], step: f64) -> Spread {
    let (low, high) = values
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(*value), high.max(*value)));
    let range = (high - low).max(0.0);
    let critical = critical_range(values.len(), step / 2.0) + step / 2.0;
    // A difference of exactly the critical number of graduations is not over it, whatever binary fractions say.
    let too_wide = range > critical + step * 1e-6;
    let apart = if too_wide { grubbs(values).map(|found| found.index) } else { None };
    Spread { range, critical, too_wide, apart }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::metrology::normal_quantile;

    #[test]
    fn one_graduation_apart_is_no_outlier_and_a_slip_is() {
        assert!(!spread(&[2.6, 2.6, 2.7], 0.1).too_wide, "two equal, one a graduation off");
        let slipped = spread(&[227.4375, 228.4375, 227.4375], 1.0 / 32.0);
        assert_eq!((slipped.too_wide, slipped.apart), (true, Some(1)), "a tape read an inch off");
        let two = spread(&[2.6, 3.6], 0.1);
        assert_eq!((two.too_wide, two.apart), (true, None), "of two nobody can say which");
        assert!(!spread(&[2.6], 0.1).too_wide, "one reading has no spread");
    }

    #[test]
    fn equal_readings_have_no_grubbs_statistic() {
        assert_eq!(grubbs_statistic(&[1.0, 1.0, 1.0]), None);
        assert_eq!(grubbs(&[1.0, 2.0]), None);
    }

    /// False alarms on clean readings, rounded to whole graduations: fewer than the 1 in 20 of the critical range where they
    /// scatter as much as it assumes, fewer than 1 in 50 where by a fifth less.
    #[test]
    fn clean_repeats_rarely_alarm() {
        let mut random = fastrand::Rng::with_seed(5);
        for (sigma, most) in [(0.5, 1000), (0.4, 400)] {
            for n in [2, 3, 4, 6, 9] {
                let mut alarms = 0;
                for _ in 0..20_000 {
                    let place = random.f64();
                    let mut read = || (place + sigma * normal_quantile(random.f64().max(1e-12))).round();
                    let values: Vec<f64> = (0..n).map(|_| read()).collect();
                    alarms += u32::from(spread(&values, 1.0).too_wide);
                }
                assert!(alarms < most, "{n} with {sigma}: {alarms} of 20,000");
            }
        }
    }
}
