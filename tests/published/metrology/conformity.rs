//! Probability of conformity and decisions.

use trammel::metrology::{
    Beyond, Estimate, Limits, Reversal, Rule, Verdict, judge, judge_by, probability_of_conformity,
};
use trammel::quantity::Unit;

use crate::Tally;

/// JCGM 106:2012, 7.3: breakdown voltage of a Zener diode, and 8.3.3: speed. Text from memory; numbers recomputed.
const JCGM106: &str = "JCGM 106, from memory";
/// ILAC-G8:09/2019, table of guard bands w = r·U. Clauses seen on fliphtml5.com; the table from memory; recomputed.
const ILAC: &str = "ILAC-G8:09/2019";
/// A worked illustration of ISO 14253-1 on a page of unknown origin: 10.00 ± 0.05, y = 10.03, U = 0.04.
const ISO14253: &str = "ISO 14253-1, illustration second hand";
/// Specific risks in the tests of the suncal 1.7.1 distribution (test_risk.py), read.
const SUNCAL: &str = "suncal 1.7.1, test_risk.py";
/// The reversal of a level. Rule read on lrak.net (reversal); example recomputed.
const REVERSAL: &str = "lrak.net, reversal";

fn at(value: f64, u: f64) -> Estimate {
    Estimate::new(value, u, Unit::Millimetre)
}

const fn limits(lower: Option<f64>, upper: Option<f64>) -> Limits {
    Limits { lower, upper, unit: Unit::Millimetre }
}

pub(crate) fn checks(tally: &mut Tally) {
    let zener = probability_of_conformity(at(-5.47, 0.05), limits(None, Some(-5.40)));
    tally.near(JCGM106, "Zener diode", zener, 0.9192, 0.5e-4);
    let speed = |v: f64| 1.0 - probability_of_conformity(at(v, 0.02 * v), limits(None, Some(100.0)));
    tally.near(JCGM106, "speed proven over 100 km/h with 99.9 %", speed(106.59), 0.999, 1e-5);
    for (z, p) in [(0.84, 0.80), (1.28, 0.90), (1.64, 0.95), (2.33, 0.99), (3.09, 0.999)] {
        let got = probability_of_conformity(at(-z, 1.0), limits(None, Some(0.0)));
        // A z of two decimals moves p by up to 0.0014.
        tally.near(JCGM106, "table 1", got, p, 1.5e-3);
    }
    for (r, risk, within) in [(1.0, 2.275, 0.5e-3), (0.83, 4.85, 0.5e-2), (1.5, 0.135, 0.5e-3)] {
        let u = 0.1;
        let got = 1.0 - probability_of_conformity(at(1.0 - r * 2.0 * u, u), limits(None, Some(1.0)));
        tally.near(ILAC, "risk at the acceptance limit, %", 100.0 * got, risk, within);
    }
    let at_limit = probability_of_conformity(at(1.0, 0.1), limits(None, Some(1.0)));
    tally.near(ILAC, "simple acceptance is wrong every second time at the limit", at_limit, 0.5, 1e-15);
    decisions(tally);
    for (mean, below, above, total) in
        [(10.0, 0.00621, 0.00621, 0.01242), (10.5, 0.00009, 0.10565, 0.10574), (12.0, 0.0, 0.99379, 0.99379)]
    {
        let risk = |limits| 1.0 - probability_of_conformity(at(mean, 0.4), limits);
        tally.near(SUNCAL, "below", risk(limits(Some(9.0), None)), below, 0.5e-5);
        tally.near(SUNCAL, "above", risk(limits(None, Some(11.0))), above, 0.5e-5);
        tally.near(SUNCAL, "specific risk", risk(limits(Some(9.0), Some(11.0))), total, 0.5e-5);
    }
    let level = Reversal::as_shown(at(1.25, 0.05), at(-0.95, 0.05));
    tally.near(REVERSAL, "slope of +1.25 and −0.95", level.slope.value, 1.10, 1e-15);
    tally.near(REVERSAL, "its zero error", level.zero.value, 0.15, 1e-15);
    tally.near(REVERSAL, "u of both is that of one reading over √2", level.slope.u, 0.05 / 2_f64.sqrt(), 1e-15);
}

fn decisions(tally: &mut Tally) {
    let zone = Some(limits(Some(9.95), Some(10.05)));
    tally.same(ISO14253, "too close to call", judge(at(10.03, 0.02), zone), Verdict::CantTell);
    for (value, verdict) in [
        (10.01, Verdict::In),
        (9.99, Verdict::In),
        (10.011, Verdict::CantTell),
        (10.09, Verdict::CantTell),
        (10.091, Verdict::Out(Beyond::High)),
        (9.909, Verdict::Out(Beyond::Low)),
    ] {
        tally.same(ISO14253, "conformity or non-conformity proven by U", judge(at(value, 0.02), zone), verdict);
    }
    tally.same(ILAC, "4.2.1, simple acceptance", judge_by(Rule::Plain, at(10.05, 0.02), zone), Verdict::In);
    tally.same(ILAC, "4.2.1, rejection", judge_by(Rule::Plain, at(10.051, 0.02), zone), Verdict::Out(Beyond::High));
}
