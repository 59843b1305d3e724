//! Balance of control surfaces about their hinges; set-back of a bend.

use trammel::metrology::{Beyond, Estimate, Limits, Rule, Verdict, judge_by};
use trammel::quantity::{Angle, Length, Torque, Unit};
use trammel::rigging::{HeavyEnd, hinge_moment, set_back};

use crate::Tally;

/// Static balance limits of a single-engine type in its service manual (easymanua.ls), in-lb, trailing edge heavy plus. Another maker
/// calls nose heavy plus.
const LIMITS: &str = "static balance limits of a service manual";
/// A glider's maintenance manual (manualshive.com), kg·cm, all but the rudder's above zero.
const GLIDER: &str = "hinge moments of a glider's manual";
/// AC 43.13-1B, 4-56: K of 45° and 135°, set-backs of a radius of 0.25 and a thickness of 0.064 in.
const BEND: &str = "AC 43.13-1B, 4-56";
/// One kilogram-force in newtons (NIST SP 811, B.8).
const NEWTONS_PER_KILOGRAM_FORCE: f64 = 9.806_65;

fn inch_pounds(pounds: f64, inches: f64) -> Option<Torque> {
    let newtons = pounds * trammel::quantity::scale(Unit::PoundForce, Unit::Newton)?;
    hinge_moment(newtons, Length::from_inches(inches)).ok()
}

fn verdict(moment: Option<Torque>, limits: Limits) -> Option<Verdict> {
    let value = moment?.in_unit(limits.unit)?;
    Some(judge_by(Rule::Plain, Estimate::new(value, 0.0, limits.unit), Some(limits)))
}

pub(crate) fn checks(tally: &mut Tally) {
    // Weighed 10 in behind the hinge.
    for (surface, most, inside, beyond) in [
        ("aileron", 11.31, 1.1, 1.2),
        ("rudder", 9.0, 0.9, 0.95),
        ("left elevator", 18.5, 1.8, 1.9),
        ("right elevator", 24.5, 2.4, 2.5),
    ] {
        let limits = Limits { lower: Some(0.0), upper: Some(most), unit: Unit::InchPoundForce };
        tally.same(LIMITS, surface, verdict(inch_pounds(inside, 10.0), limits), Some(Verdict::In));
        tally.same(LIMITS, surface, verdict(inch_pounds(beyond, 10.0), limits), Some(Verdict::Out(Beyond::High)));
        let nose_heavy = inch_pounds(inside, 10.0).map(|sheet| HeavyEnd::Nose.ours(sheet));
        tally.same(LIMITS, "the other maker's plus", verdict(nose_heavy, limits), Some(Verdict::Out(Beyond::Low)));
    }
    for (surface, lower, upper, grams, expected) in [
        ("elevator", 2.29, 2.9, 260.0, Verdict::In),
        ("rudder", -0.6, 0.0, -40.0, Verdict::In),
        ("rudder", -0.6, 0.0, 10.0, Verdict::Out(Beyond::High)),
        ("aileron", 0.15, 0.4, 10.0, Verdict::Out(Beyond::Low)),
        ("flap", 1.2, 1.8, 150.0, Verdict::In),
    ] {
        // Weighed 100 mm behind the hinge.
        let moment = hinge_moment(grams / 1000.0 * NEWTONS_PER_KILOGRAM_FORCE, Length::from_millimetres(100.0)).ok();
        let end = |kilogram_centimetres: f64| Some(kilogram_centimetres * NEWTONS_PER_KILOGRAM_FORCE / 100.0);
        let limits = Limits { lower: end(lower), upper: end(upper), unit: Unit::NewtonMetre };
        tally.same(GLIDER, surface, verdict(moment, limits), Some(expected));
    }
    let back = |bend: f64, radius: f64, thickness: f64| {
        set_back(Angle::from_degrees(bend), Length::from_inches(radius), Length::from_inches(thickness))
            .map_or(f64::NAN, Length::inches)
    };
    tally.near(BEND, "K of 45°", back(45.0, 0.5, 0.5), 0.41421, 0.5e-5);
    tally.near(BEND, "K of 135°", back(135.0, 0.5, 0.5), 2.4142, 0.5e-4);
    tally.near(BEND, "45°", back(45.0, 0.25, 0.064), 0.130, 0.5e-3);
    tally.near(BEND, "135°", back(135.0, 0.25, 0.064), 0.758, 0.5e-3);
}
