//! Student's t and the normal distribution.

use trammel::metrology::{COVERAGE, Estimate, coverage_factor, normal_cdf, normal_quantile, t_cdf, t_quantile};
use trammel::quantity::Unit;

use crate::{Tally, rows};

/// GUM (JCGM 100:2008), table G.2, two decimals as printed. From memory; recomputed.
const G2: &str = "GUM table G.2, from memory";
/// Six decimals, recomputed with a general-purpose library in higher precision.
const RECOMPUTED: &str = "t(0.975), recomputed";
/// JCGM 106:2012, table 1: z for a probability of conformity. From memory; recomputed.
const JCGM106: &str = "JCGM 106, table 1, from memory";

/// Percent coverage of the columns of table G.2.
const COLUMNS: [f64; 6] = [68.27, 90.0, 95.0, 95.45, 99.0, 99.73];

const TABLE: &str = "\
1	1.84	6.31	12.71	13.97	63.66	235.78
2	1.32	2.92	4.30	4.53	9.92	19.21
3	1.20	2.35	3.18	3.31	5.84	9.22
4	1.14	2.13	2.78	2.87	4.60	6.62
5	1.11	2.02	2.57	2.65	4.03	5.51
6	1.09	1.94	2.45	2.52	3.71	4.90
7	1.08	1.89	2.36	2.43	3.50	4.53
8	1.07	1.86	2.31	2.37	3.36	4.28
9	1.06	1.83	2.26	2.32	3.25	4.09
10	1.05	1.81	2.23	2.28	3.17	3.96
15	1.03	1.75	2.13	2.18	2.95	3.59
20	1.03	1.72	2.09	2.13	2.85	3.42
50	1.01	1.68	2.01	2.05	2.68	3.16
inf	1.000	1.645	1.960	2.000	2.576	3.000";

pub(crate) fn checks(tally: &mut Tally) {
    for [dof, published @ ..] in rows::<7>(TABLE) {
        let dof: f64 = dof.parse().expect("degrees of freedom");
        for (percent, text) in COLUMNS.iter().zip(published) {
            let digits = text.split_once('.').expect("a decimal").1.len() as i32;
            let k = coverage_factor(percent / 100.0, dof);
            tally.near(G2, text, k, text.parse().expect("a number"), 0.5 * 10_f64.powi(-digits));
        }
        // The factor of verdicts is the column 95.45.
        let own = Estimate { dof, ..Estimate::new(0.0, 1.0, Unit::One) }.coverage();
        tally.near(G2, "the verdicts' own k", own, published[3].parse().expect("a number"), 0.5e-2);
    }
    tally.same(G2, "k for infinitely many", COVERAGE, 2.0);
    // The clause cuts a fraction before it looks up: 16.75 is 16.
    tally.same(G2, "16.75 degrees of freedom are 16", coverage_factor(0.95, 16.75), coverage_factor(0.95, 16.0));
    let six =
        [12.706_205, 4.302_653, 3.182_446, 2.776_445, 2.570_582, 2.446_912, 2.364_624, 2.306_004, 2.262_157, 2.228_139];
    for (place, published) in six.into_iter().enumerate() {
        let dof = (place + 1) as f64;
        tally.near(RECOMPUTED, "t", t_quantile(0.975, dof), published, 0.5e-6);
        tally.near(RECOMPUTED, "and back", t_cdf(published, dof), 0.975, 1e-7);
    }
    for (p, z) in [(0.80, 0.8416), (0.90, 1.2816), (0.95, 1.6449), (0.99, 2.3263), (0.999, 3.0902)] {
        tally.near(JCGM106, "z", normal_quantile(p), z, 0.5e-4);
        tally.near(JCGM106, "and back", normal_cdf(z), p, 1e-5);
    }
}
