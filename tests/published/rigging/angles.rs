//! Angles of wings, blocks under levels, distances compared left and right.

use trammel::metrology::{Limits, Rule, Verdict, judge_by};
use trammel::quantity::{Angle, Length, Unit};
use trammel::rigging::{TwoHeights, gap_under_level, left_less_right, limits_about, slope_under_level, washout};

use super::{deg, dm, inch};
use crate::Tally;

/// Navy NAVEDTRA 14315, figure 16-46: the wing's reading from 0°20' below to 0°40' above the one in the wheel well, left and right
/// within 0°12'. Limits of another reference computed by the same rule.
const NAVY: &str = "NAVEDTRA 14315, figure 16-46";
/// Wing twist by a straightedge with two feet, from the service manuals of two types; angles computed.
const STRAIGHTEDGE: &str = "twist by a footed straightedge";
/// A rigging note (manualshive.com): a 3/8 in block on a 30 in level is "45 minutes"; exactly 42'58".
const BLOCK: &str = "3/8 in block on a 30 in level";
/// A 1918 manual of the US Army, and a handbook of 1917: left and right within 1/8 in, bays within 1/16 in.
const BIPLANES: &str = "rigging of 1917 and 1918";
/// A kit aeroplane's maintenance manual: flap angles left and right within 0.5°, each ±2°.
const FLAPS: &str = "flap table of an LSA manual";
/// A rebuilder's quotation of a data sheet that gives no tolerance: +1°15' and −5°30', 6°45' in all.
const NO_TOLERANCE: &str = "stabilizer travel of a data sheet";

fn plain(value: Option<trammel::metrology::Estimate>, limits: Option<Limits>) -> Option<Verdict> {
    value.map(|value| judge_by(Rule::Plain, value, limits))
}

pub(crate) fn checks(tally: &mut Tally) {
    navy(tally);
    levels(tally);
    both_sides(tally);
}

fn navy(tally: &mut Tally) {
    let (below, above) = (Angle::from_degrees(dm(0.0, 20.0)), Angle::from_degrees(dm(0.0, 40.0)));
    for (reference, lower, upper) in
        [(dm(1.0, 35.0), dm(1.0, 15.0), dm(2.0, 15.0)), (dm(0.0, 10.0), -dm(0.0, 10.0), dm(0.0, 50.0))]
    {
        let limits = limits_about(deg(reference), below, above).ok().map(|about| about.limits);
        let ends = limits.and_then(|limits| limits.lower.zip(limits.upper)).unwrap_or((f64::NAN, f64::NAN));
        tally.near(NAVY, "lower", ends.0, lower, 1e-12);
        tally.near(NAVY, "upper", ends.1, upper, 1e-12);
    }
    let limits = limits_about(deg(dm(1.0, 35.0)), below, above).ok().map(|about| about.limits);
    let (left, right) = (dm(1.0, 16.0), dm(1.0, 30.0));
    for side in [left, right] {
        tally.same(NAVY, "each is in", plain(Some(deg(side)), limits), Some(Verdict::In));
    }
    let pair = Some(Limits::equal_within(dm(0.0, 12.0), Unit::Degree));
    let apart = |left, right| plain(left_less_right(deg(left), deg(right)).ok(), pair);
    tally.same(NAVY, "the pair is not", matches!(apart(left, right), Some(Verdict::Out(_))), true);
    tally.same(NAVY, "nor the other way round", matches!(apart(right, left), Some(Verdict::Out(_))), true);
    tally.same(NAVY, "within 0°12'", apart(left, dm(1.0, 28.0)), Some(Verdict::In));
}

fn levels(tally: &mut Tally) {
    // Feet: front A, rear B; the straightedge is level, so what lies under A is that much lower.
    let twist = |a: f64, b: f64, apart: f64| {
        TwoHeights { front: inch(a), rear: inch(b), base: inch(apart) }.slope().unwrap_or(deg(f64::NAN))
    };
    let root = twist(2.00, 1.00, 29.50);
    tally.near(STRAIGHTEDGE, "inboard", root.value, 1.9415, 0.5e-4);
    for (tip, expected, total, digit) in
        [(twist(0.45, 1.00, 24.0), -1.3128, 3.254, 0.5e-3), (twist(1.38, 1.00, 24.0), 0.9071, 1.034, 0.5e-3)]
    {
        tally.near(STRAIGHTEDGE, "outboard", tip.value, expected, 0.5e-4);
        let got = washout(root, tip).map_or(f64::NAN, |twist| twist.value);
        tally.near(STRAIGHTEDGE, "twist", got, total, digit);
    }
    let tenth =
        slope_under_level(Length::from_inches(0.10), Length::from_inches(24.0)).map_or(f64::NAN, Angle::degrees);
    tally.near(STRAIGHTEDGE, "0.10 in over 24 in, minutes", tenth * 60.0, 14.3, 0.05);
    let minutes =
        slope_under_level(Length::from_inches(0.375), Length::from_inches(30.0)).map_or(f64::NAN, Angle::degrees);
    tally.near(BLOCK, "printed as 45 minutes", minutes * 60.0, 45.0, 2.5);
    tally.near(BLOCK, "42'58\"", minutes * 60.0, 42.0 + 58.0 / 60.0, 0.5 / 60.0);
    let back =
        gap_under_level(Angle::from_degrees(minutes), Length::from_inches(30.0)).map_or(f64::NAN, Length::inches);
    tally.near(BLOCK, "the block again", back, 0.375, 1e-12);
}

fn both_sides(tally: &mut Tally) {
    for (left, right, within, inside) in [
        (210.0, 210.125, 0.125, true),
        (210.0, 210.1875, 0.125, false),
        (84.0625, 84.0, 0.0625, true),
        (84.125, 84.0, 0.0625, false),
    ] {
        let apart = left_less_right(inch(left), inch(right)).ok();
        let verdict = plain(apart, Some(Limits::equal_within(within, Unit::Inch)));
        tally.same(BIPLANES, "left and right", verdict == Some(Verdict::In), inside);
    }
    for (left, right, inside) in [(19.6, 20.1, true), (19.0, 19.6, false)] {
        let each = Some(Limits { lower: Some(18.0), upper: Some(22.0), unit: Unit::Degree });
        tally.same(FLAPS, "each in", [left, right].map(|side| plain(Some(deg(side)), each)), [Some(Verdict::In); 2]);
        let apart = left_less_right(deg(left), deg(right)).ok();
        let verdict = plain(apart, Some(Limits::equal_within(0.5, Unit::Degree)));
        tally.same(FLAPS, "and alike", verdict == Some(Verdict::In), inside);
    }
    let range = washout(deg(dm(1.0, 15.0)), deg(-dm(5.0, 30.0))).map_or(f64::NAN, |range| range.value);
    tally.near(NO_TOLERANCE, "from stop to stop", range, dm(6.0, 45.0), 1e-12);
    tally.same(NO_TOLERANCE, "nothing to judge by", plain(Some(deg(6.9)), None), Some(Verdict::NotJudged));
}
