//! Travels of control surfaces as angles and as millimetres.

use trammel::metrology::{Beyond, Rule, Verdict, judge_by};
use trammel::quantity::{Angle, Length, Unit};
use trammel::rigging::{TakenAs, Travel, deflection_of, distance_of, from_neutral, plus_minus};

use super::{deg, mm};
use crate::Tally;

/// A light aeroplane's adjustment report (AF 04800001, appendix II): angles and millimetres of one surface side by side. The radii are
/// not printed; those here were fitted to the rows as straight distances between corners, as the report measures.
const REPORT: &str = "adjustment report, degrees and millimetres";
/// A light aeroplane's maintenance manual (manualshive.com): a tab's 12° is about 24 mm, 9° about 16 mm.
const TABS: &str = "tab travel of a manual";
/// Movement tables of kit and training aeroplanes in manuals and a data sheet, as differential up to down.
const TABLES: &str = "movement tables";
/// A maker's maintenance manual: travel is the difference of two readings of a protractor, neutral and deflected.
const TWO_READINGS: &str = "travel as a difference of two readings";

fn straight(angle: f64, radius: f64) -> f64 {
    distance(angle, radius, TakenAs::Straight)
}

fn distance(angle: f64, radius: f64, taken: TakenAs) -> f64 {
    distance_of(Angle::from_degrees(angle), Length::from_millimetres(radius), taken)
        .map_or(f64::NAN, Length::millimetres)
}

/// The radius at which a straight distance makes an angle.
fn radius(angle: f64, millimetres: f64) -> f64 {
    millimetres / straight(angle, 1.0)
}

pub(crate) fn checks(tally: &mut Tally) {
    for (what, angle, millimetres, implied) in [
        ("aileron up", 26.5, 109.0, 237.8),
        ("aileron down", 12.5, 52.0, 238.8),
        ("rudder", 28.5, 217.0, 440.8),
        ("tab up", 23.5, 50.0, 122.8),
        ("tab down", 6.5, 14.0, 123.5),
    ] {
        tally.near(REPORT, what, radius(angle, millimetres), implied, 0.05);
        let back = deflection_of(mm(millimetres), mm(implied), TakenAs::Straight).map_or(f64::NAN, |angle| angle.value);
        tally.near(REPORT, what, back, angle, 0.02);
    }
    // Both ailerons by one radius, millimetres rounded to whole ones; square to the neutral no radius does both.
    for (angle, millimetres) in [(26.5, 109.0), (12.5, 52.0)] {
        tally.near(REPORT, "one radius for both", straight(angle, 237.9), millimetres, 0.5);
    }
    let square = |millimetres: f64, angle: f64| millimetres / distance(angle, 1.0, TakenAs::Square);
    tally.same(REPORT, "no radius does both square", square(108.5, 26.5) > square(52.5, 12.5), true);
    for (angle, at, millimetres) in
        [(25.0, 238.3, 103.2), (28.0, 238.3, 115.3), (27.0, 440.8, 205.8), (30.0, 440.8, 228.2)]
    {
        tally.near(REPORT, "end of the tolerance", straight(angle, at), millimetres, 0.06);
    }
    // The tolerance in millimetres is that of the angle at this radius, and a tab's goes one way only.
    for (nominal, plus, minus, at, expected) in [
        (109.0, 6.0, 6.0, straight(25.0, 238.3), Verdict::In),
        (109.0, 6.0, 6.0, straight(24.5, 238.3), Verdict::Out(Beyond::Low)),
        (50.0, 0.0, 5.0, straight(23.5, 122.8), Verdict::In),
        (50.0, 0.0, 5.0, straight(24.5, 122.8), Verdict::Out(Beyond::High)),
        (14.0, 0.0, 5.0, straight(4.5, 123.5), Verdict::In),
    ] {
        let limits = plus_minus(nominal, plus, minus, Unit::Millimetre).ok();
        tally.same(REPORT, "millimetres", judge_by(Rule::Plain, mm((at * 10.0).round() / 10.0), limits), expected);
    }
    for (angle, millimetres, implied) in [(12.0, 24.0, 114.8), (9.0, 16.0, 102.0)] {
        tally.near(TABS, "radius", radius(angle, millimetres), implied, 0.05);
    }
    for (up, down, differential) in [
        (24.0, 16.0, 1.5),
        (20.0, 15.0, 4.0 / 3.0),
        (25.0, 19.0, 25.0 / 19.0),
        (15.0, 3.0, 5.0),
        (30.0, 30.0, 1.0),
        (29.0, 27.0, 29.0 / 27.0),
    ] {
        let got = Travel { up: deg(up), down: deg(down) }.differential().unwrap_or(f64::NAN);
        tally.near(TABLES, "up over down", got, differential, 1e-12);
    }
    // Zero at −12° of flap, as the report defines it: 35° down is a reading of 23.
    for (at_stop, at_neutral, travel) in [(23.0, -12.0, 35.0), (0.0, -12.0, 12.0), (28.5, 0.0, 28.5)] {
        let got = from_neutral(deg(at_stop), deg(at_neutral)).map_or(f64::NAN, |travel| travel.value);
        tally.near(TWO_READINGS, "difference", got, travel, 1e-12);
    }
}
