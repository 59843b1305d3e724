//! What a rule of decision does over many parts: risks of the consumer and the producer, integrated over the readings with our
//! verdicts and our probability of conformity.

use trammel::metrology::{Estimate, Limits, Rule, Verdict, judge_by, probability_of_conformity};
use trammel::quantity::Unit;

use crate::Tally;

/// JCGM 106:2012, 9.5: resistors of 1500 ± 0.2 Ω, process N(1500, 0.12), u = 0.04 Ω. Inputs second hand; results recomputed.
const RESISTORS: &str = "JCGM 106, 9.5";
/// D. K. Deaver's risks for limits at two standard deviations and a test uncertainty ratio of 4, as quoted in suncal 1.7.1,
/// test_risk.py (read).
const DEAVER: &str = "Deaver as quoted in suncal 1.7.1";

/// Process of mean 0 and standard deviation `process`, read with standard uncertainty `u` against ±1.
struct Plant {
    process: f64,
    u: f64,
}

/// Shares of all parts.
struct Risks {
    false_accept: f64,
    false_reject: f64,
}

impl Plant {
    fn risks(&self, rule: Rule) -> Risks {
        let limits = Limits { lower: Some(-1.0), upper: Some(1.0), unit: Unit::One };
        let spread = self.process.hypot(self.u);
        // Bayes: what a part is, given its reading.
        let shrink = (self.process / spread).powi(2);
        let left = self.u * self.process / spread;
        let mut risks = Risks { false_accept: 0.0, false_reject: 0.0 };
        // Midpoints of cells whose ends lie on whole thousandths, where the acceptance limits lie too.
        let h = 1.0 / 1000.0;
        let cells = (9.0 * spread / h).ceil() as i32;
        for cell in -cells..cells {
            let reading = (f64::from(cell) + 0.5) * h;
            let z = reading / spread;
            let share = h * (-z * z / 2.0).exp() / (spread * (2.0 * std::f64::consts::PI).sqrt());
            let inside = probability_of_conformity(Estimate::new(reading * shrink, left, Unit::One), limits);
            if judge_by(rule, Estimate::new(reading, self.u, Unit::One), Some(limits)) == Verdict::In {
                risks.false_accept += share * (1.0 - inside);
            } else {
                risks.false_reject += share * inside;
            }
        }
        risks
    }
}

pub(crate) fn checks(tally: &mut Tally) {
    resistors(tally);
    let risks = Plant { process: 1.0 / 2.0, u: 1.0 / (2.0 * 4.0) }.risks(Rule::Plain);
    tally.near(DEAVER, "false accept, %", 100.0 * risks.false_accept, 0.8, 0.05);
    tally.near(DEAVER, "false reject, %", 100.0 * risks.false_reject, 1.5, 0.05);
}

fn resistors(tally: &mut Tally) {
    let plant = Plant { process: 0.12 / 0.2, u: 0.04 / 0.2 };
    let limits = Limits { lower: Some(1499.8), upper: Some(1500.2), unit: Unit::One };
    let made = probability_of_conformity(Estimate::new(1500.0, 0.12, Unit::One), limits);
    tally.near(RESISTORS, "made inside the tolerance", made, 0.904_419, 0.5e-6);
    // The guard band of 0.08 Ω is U = 2u.
    for (rule, consumer, producer) in [(Rule::Plain, 1.894_22, 3.720_78), (Rule::Guarded, 0.046_863, 24.766_964)] {
        let risks = plant.risks(rule);
        tally.near(RESISTORS, "consumer's risk, %", 100.0 * risks.false_accept, consumer, 1e-5);
        tally.near(RESISTORS, "producer's risk, %", 100.0 * risks.false_reject, producer, 1e-5);
    }
}
