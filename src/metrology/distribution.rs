//! The normal distribution and Student's t.

use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

/// Probability that a standard normal value is at most `z`, to 2·10⁻¹¹ (the crate's error function).
#[must_use]
pub fn normal_cdf(z: f64) -> f64 {
    Normal::standard().cdf(z)
}

/// The standard normal value that is not exceeded with probability `p`; NaN unless 0 < p < 1.
#[must_use]
pub fn normal_quantile(p: f64) -> f64 {
    if p > 0.0 && p < 1.0 { Normal::standard().inverse_cdf(p) } else { f64::NAN }
}

/// From here on the quantile of t is a series: the crate's search for it loses digits above 3,000 degrees of freedom and does not
/// come back above ten million (version 0.19.1, measured against a second library).
const QUANTILE_SERIES: f64 = 1000.0;
/// From here on the distribution function is a series, good to 1·10⁻¹².
const CDF_SERIES: f64 = 10_000.0;

/// Probability that a t value with `dof` degrees of freedom is at most `t`; the normal one for infinitely many. NaN unless
/// `dof` > 0.
#[must_use]
pub fn t_cdf(t: f64, dof: f64) -> f64 {
    if dof < CDF_SERIES {
        return StudentsT::new(0.0, 1.0, dof).map_or(f64::NAN, |students| students.cdf(t));
    }
    let normal = normal_cdf(t);
    if t.abs() > 40.0 || dof == f64::INFINITY {
        return normal;
    }
    // R. A. Fisher's expansion in 1/ν (1925; from memory, compared with a second library).
    let t2 = t * t;
    let density = (-t2 / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt();
    let first = t * (t2 + 1.0) / (4.0 * dof);
    let second = t * (((3.0 * t2 - 7.0) * t2 - 5.0) * t2 - 3.0) / (96.0 * dof * dof);
    normal - density * (first + second)
}

/// The t value with `dof` degrees of freedom that is not exceeded with probability `p`; the normal one for infinitely many.
/// NaN unless 0 < p < 1 and `dof` > 0.
#[must_use]
pub fn t_quantile(p: f64, dof: f64) -> f64 {
    if !(p > 0.0 && p < 1.0) {
        return f64::NAN;
    }
    if dof < QUANTILE_SERIES {
        return StudentsT::new(0.0, 1.0, dof).map_or(f64::NAN, |students| students.inverse_cdf(p));
    }
    // M. Abramowitz and I. Stegun, 26.7.5 (from memory, compared with a second library).
    let (z, z2) = (normal_quantile(p), normal_quantile(p).powi(2));
    let first = (z2 + 1.0) / 4.0;
    let second = ((5.0 * z2 + 16.0) * z2 + 3.0) / 96.0;
    let third = (((3.0 * z2 + 19.0) * z2 + 17.0) * z2 - 15.0) / 384.0;
    z * (1.0 + (first + (second + third / dof) / dof) / dof)
}

/// Coverage factor k of an interval ±k·u that holds the value with `probability`: t of the degrees of freedom cut to a whole
/// number, at least 1 (JCGM 100:2008, G.6.4, which cuts before the look-up).
#[must_use]
pub fn coverage_factor(probability: f64, dof: f64) -> f64 {
    t_quantile(0.5 + probability / 2.0, dof.floor().max(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Degrees of freedom that two budgets can come to, from 1 to beyond all use, and back through the distribution function.
    #[test]
    fn quantile_and_distribution_function_undo_each_other_for_any_degrees_of_freedom() {
        for exponent in 0..=60 {
            for p in [0.001, 0.025, 0.2, 0.5, 0.8, 0.97725, 0.995] {
                let dof = 10_f64.powf(f64::from(exponent) / 4.0);
                let back = t_cdf(t_quantile(p, dof), dof);
                assert!((back - p).abs() < 1e-10, "{p} with {dof}: {back}");
            }
        }
    }

    /// Where a series takes over, nothing jumps: less than the distribution itself changes there.
    #[test]
    fn the_series_join() {
        for t in [-3.0, 0.5, 2.0, 4.0] {
            let (below, above) = (t_cdf(t, CDF_SERIES * (1.0 - 1e-12)), t_cdf(t, CDF_SERIES));
            assert!((below - above).abs() < 3e-12, "cdf({t}): {below}, {above}");
        }
        for p in [0.6, 0.975, 0.9999] {
            let (below, above) = (t_quantile(p, QUANTILE_SERIES * (1.0 - 1e-12)), t_quantile(p, QUANTILE_SERIES));
            assert!((below / above - 1.0).abs() < 1e-10, "quantile({p}): {below}, {above}");
        }
    }

    #[test]
    fn nonsense_is_no_number() {
        let all = [t_quantile(0.0, 3.0), t_quantile(1.0, 3.0), t_quantile(0.5, -1.0), t_quantile(0.5, f64::NAN)];
        assert!(all.iter().all(|value| value.is_nan()), "{all:?}");
        assert!(t_cdf(1.0, 0.0).is_nan() && normal_quantile(f64::NAN).is_nan());
        assert_eq!((t_cdf(-1e300, 1e9), t_cdf(1e300, 1e9)), (0.0, 1.0));
    }
}
