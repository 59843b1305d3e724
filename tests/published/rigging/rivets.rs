//! Solid and blind rivets, edge distances.

use trammel::metrology::{Estimate, Verdict};
use trammel::quantity::{Length, Unit};
use trammel::rigging::{
    BlindRivet, COUNTERSUNK, Drill, GripError, HeadRule, LEAST_PITCH, Layer, MOST_PITCH, PROTRUDING, SolidRivet,
    judge_edges,
};

use super::inch;
use crate::Tally;

/// Navy NAVEDTRA 14018: D one to three times the thickest sheet, L = G + 1.5 D, pitch 3 D to 8 D.
const NAVY: &str = "NAVEDTRA 14018, rivets";
/// AC 43.13-1B, 4-57 as quoted: single row, edge 2 D, pitch 3 D.
const AC: &str = "AC 43.13-1B, 4-57";
/// A study guide's summary of the handbooks: edge 2 D, 2.5 D countersunk; AN470AD3-5 is 3/32 by 5/16 in; head 1.5 D by 0.5 D.
const GUIDE: &str = "study guide, riveting";
/// MIL-R-47196A as its users quote the table: 1/8 in: 0.163 wide, 0.050 to 0.070 high; 3/32 in: 0.122, 0.038 to 0.050.
const MIL: &str = "MIL-R-47196A, as quoted";
/// MIL-HDBK-5H, chapter 8: 1.3 D (1.4 D for 7050) by 0.3 D at least.
const HANDBOOK: &str = "MIL-HDBK-5H, chapter 8";
/// Army TM 10-5410-221-14/1, table 4-3: blind rivets, hole, drill and grip.
const BLIND: &str = "TM 10-5410-221-14/1, table 4-3";

fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

pub(crate) fn checks(tally: &mut Tally) {
    solid(tally);
    heads(tally);
    edges(tally);
    blind(tally);
}

fn solid(tally: &mut Tally) {
    let rivet =
        SolidRivet::dash(3, 5.0).map_or((f64::NAN, f64::NAN), |rivet| (rivet.diameter.inches(), rivet.length.inches()));
    tally.near(GUIDE, "AD3-5, diameter", rivet.0, 3.0 / 32.0, 1e-12);
    tally.near(GUIDE, "AD3-5, length", rivet.1, 5.0 / 16.0, 1e-12);
    let half = SolidRivet::dash(4, 3.5).map_or(f64::NAN, |rivet| rivet.length.inches());
    tally.near(AC, "AD4-3.5, a half length", half, 7.0 / 32.0, 1e-12);
    for (grip, diameter, length) in [(0.064, 0.125, 0.2515), (0.125, 0.125, 0.3125), (0.080, 0.09375, 0.220_625)] {
        let got = SolidRivet::length_for(inches(grip), inches(diameter)).map_or(f64::NAN, Length::inches);
        tally.near(NAVY, "G + 1.5 D", got, length, 1e-9);
    }
    for (thickest, suits) in [(0.125, true), (0.040, false), (0.0417, true), (0.13, false)] {
        let got = SolidRivet::dash(4, 4.0).and_then(|rivet| rivet.suits(inches(thickest)));
        tally.same(NAVY, "one to three times the thickest sheet", got, Ok(suits));
    }
}

fn heads(tally: &mut Tally) {
    let (eighth, other) = (inches(0.125), inches(3.0 / 32.0));
    let rule = HeadRule::of_thumb(eighth);
    tally.near(GUIDE, "1.5 D wide", rule.least_width.inches(), 0.1875, 1e-12);
    tally.near(GUIDE, "0.5 D high", rule.least_height.inches(), 0.0625, 1e-12);
    // One head, three rules.
    let judged = |rule: Option<HeadRule>, width: f64, height: f64| {
        rule.and_then(|rule| rule.judge(inch(width), inch(height)).ok()).map(|verdict| verdict == Verdict::In)
    };
    for (source, rule, inside) in [
        (GUIDE, Some(HeadRule::of_thumb(eighth)), false),
        (MIL, HeadRule::of_47196(eighth), true),
        (HANDBOOK, Some(HeadRule::of_handbook_5h(eighth, false)), true),
        (HANDBOOK, Some(HeadRule::of_handbook_5h(eighth, true)), true),
    ] {
        tally.same(source, "0.175 by 0.055 on 1/8", judged(rule, 0.175, 0.055), Some(inside));
    }
    for (diameter, width, height, inside) in [
        (eighth, 0.163, 0.050, true),
        (eighth, 0.162, 0.050, false),
        (eighth, 0.163, 0.071, false),
        (other, 0.122, 0.038, true),
        (other, 0.122, 0.037, false),
        (other, 0.122, 0.051, false),
    ] {
        tally.same(MIL, "ends of the table", judged(HeadRule::of_47196(diameter), width, height), Some(inside));
    }
    let lowest = HeadRule::of_handbook_5h(eighth, true);
    tally.near(HANDBOOK, "7050, 1.4 D", lowest.least_width.inches(), 0.175, 1e-12);
    tally.near(HANDBOOK, "0.3 D", lowest.least_height.inches(), 0.0375, 1e-12);
}

fn edges(tally: &mut Tally) {
    tally.same(AC, "edge, pitch in diameters", (PROTRUDING, LEAST_PITCH), (2.0, 3.0));
    tally.same(GUIDE, "edge countersunk, most pitch", (COUNTERSUNK, MOST_PITCH), (2.5, 8.0));
    let needed = |diameters, diameter: f64| {
        Layer { to_edge: inch(1.0), diameters }.needed(inches(diameter)).map_or(f64::NAN, Length::inches)
    };
    // 2 D of 3/32, printed as 0.188 beside the other document's 0.156.
    tally.near(MIL, "2 D of 3/32 in", needed(PROTRUDING, 3.0 / 32.0), 0.188, 0.5e-3);
    tally.near(GUIDE, "2.5 D of 1/8 in", needed(COUNTERSUNK, 0.125), 0.3125, 1e-12);
    let judged = |at: f64, u: f64| {
        let layer = Layer { to_edge: Estimate::new(at, u, Unit::Inch), diameters: PROTRUDING };
        judge_edges(&[layer], inches(0.125)).map(|edge| edge.verdict == Verdict::In)
    };
    tally.same(AC, "just 2 D", judged(0.25, 0.0), Ok(true));
    tally.same(AC, "just 2 D and 1/64 in of doubt", judged(0.25, 1.0 / 128.0), Ok(false));
}

fn blind(tally: &mut Tally) {
    for (diameter, number, least, most) in [
        (3, 32, 0.020, 0.125),
        (3, 34, 0.126, 0.250),
        (4, 41, 0.020, 0.062),
        (4, 42, 0.063, 0.125),
        (4, 43, 0.126, 0.187),
        (4, 44, 0.188, 0.250),
        (4, 45, 0.251, 0.312),
        (4, 46, 0.313, 0.375),
        (4, 48, 0.376, 0.500),
        (5, 52, 0.020, 0.125),
        (5, 53, 0.126, 0.187),
        (5, 54, 0.188, 0.250),
        (5, 56, 0.251, 0.375),
        (8, 84, 0.125, 0.250),
        (8, 86, 0.251, 0.375),
        (8, 88, 0.376, 0.500),
        (8, 812, 0.626, 0.750),
    ] {
        let fits = |grip: f64| BlindRivet::for_grip(diameter, inches(grip)).map(|rivet| rivet.number);
        tally.same(BLIND, "its grip's ends", [fits(least), fits(most)], [Ok(number); 2]);
        // The convention: first digit D in thirty-seconds, the rest the most grip in sixteenths.
        let sixteenths = f64::from(number % if number > 100 { 100 } else { 10 });
        tally.near(BLIND, "its number", sixteenths / 16.0, most, 1e-3);
    }
    for (grip, between) in [(0.0625, (41, 42)), (0.1255, (42, 43)), (0.1875, (43, 44))] {
        let got = BlindRivet::for_grip(4, inches(grip)).map(|rivet| rivet.number);
        tally.same(BLIND, "between two printed ranges", got, Err(GripError::Between(between.0, between.1)));
    }
    for (number, drill) in
        [(32, Drill::Number(41)), (41, Drill::Number(30)), (52, Drill::Number(20)), (84, Drill::Letter('F'))]
    {
        let rivet = BlindRivet::all().iter().find(|rivet| rivet.number == number);
        let drills = rivet.map(|rivet| Drill::within(rivet.hole().least, rivet.hole().most)).unwrap_or_default();
        tally.same(BLIND, "its drill makes its hole", drills.contains(&drill), true);
    }
}
