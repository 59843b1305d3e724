//! Which of a few readings stands out, and how far a few may be apart.

use trammel::metrology::{critical_range, grubbs, grubbs_critical, grubbs_statistic, normal_cdf, spread};

use crate::Tally;

/// NIST/SEMATECH e-Handbook, 1.3.5.17.1: eight mass spectrometer readings. Second hand.
const HANDBOOK: &str = "NIST/SEMATECH e-Handbook, 1.3.5.17.1";
/// Critical values of Grubbs' test, to the digits of the printed tables; recomputed with a general-purpose library.
const TABLE: &str = "Grubbs' critical values, recomputed";
/// ISO 5725-6:1994, table 1: critical range factors f(n). From memory; the 95 % points of the range recomputed.
const ISO5725: &str = "ISO 5725-6, table 1, from memory";

/// n; one-sided 5 %, two-sided 5 %, one-sided 1 %, two-sided 1 %.
const CRITICAL: [(usize, [f64; 4]); 10] = [
    (3, [1.1531, 1.1543, 1.1546, 1.1547]),
    (4, [1.4625, 1.4813, 1.4925, 1.4962]),
    (5, [1.6714, 1.7150, 1.7489, 1.7637]),
    (6, [1.8221, 1.8871, 1.9442, 1.9728]),
    (7, [1.9381, 2.0200, 2.0973, 2.1391]),
    (8, [2.0317, 2.1266, 2.2208, 2.2744]),
    (9, [2.1096, 2.2150, 2.3231, 2.3868]),
    (10, [2.1761, 2.2900, 2.4097, 2.4821]),
    (11, [2.2339, 2.3547, 2.4843, 2.5641]),
    (12, [2.2850, 2.4116, 2.5494, 2.6357]),
];

pub(crate) fn checks(tally: &mut Tally) {
    let readings = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
    let (place, statistic) = grubbs_statistic(&readings).unwrap_or((0, f64::NAN));
    tally.same(HANDBOOK, "the reading that stands out", place, 7);
    tally.near(HANDBOOK, "its G", statistic, 2.468_765, 0.5e-6);
    tally.near(HANDBOOK, "one-sided critical value", grubbs_critical(8, 0.10), 2.031_652, 0.5e-6);
    tally.same(HANDBOOK, "an outlier", grubbs(&readings).map(|found| found.index), Some(7));
    tally.same(HANDBOOK, "not without it", grubbs(&readings[..7]), None);
    tally.same(HANDBOOK, "found among tenths too", spread(&readings, 0.1).apart, Some(7));
    for (n, critical) in CRITICAL {
        // One-sided at α is two-sided at 2α.
        for (alpha, published) in [0.10, 0.05, 0.02, 0.01].into_iter().zip(critical) {
            tally.near(TABLE, &format!("n = {n}, {alpha}"), grubbs_critical(n, alpha), published, 0.5e-4);
        }
    }
    let quantiles = [2.772, 3.314, 3.633, 3.858, 4.030, 4.170, 4.286, 4.387, 4.474];
    for (n, published) in (2..).zip(quantiles) {
        tally.near(ISO5725, &format!("f({n})"), critical_range(n, 1.0), published, 0.05);
        tally.near(ISO5725, &format!("share within the range of {n}"), share_within(n, published), 0.95, 1e-4);
    }
    tally.near(ISO5725, "it grows with σ", critical_range(3, 0.5), 1.65, 1e-12);
}

/// Probability that the range of n standard normal values is at most r: n·∫ φ(x)·(Φ(x + r) − Φ(x))ⁿ⁻¹ dx.
fn share_within(n: usize, r: f64) -> f64 {
    let h = 1e-3;
    let density = |x: f64| (-x * x / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt();
    let at = |x: f64| density(x) * (normal_cdf(x + r) - normal_cdf(x)).powf(n as f64 - 1.0);
    n as f64 * h * (-8000..8000).map(|cell| at((f64::from(cell) + 0.5) * h)).sum::<f64>()
}
