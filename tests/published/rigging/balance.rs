//! Weighing, the centre of gravity, ballast, the mean chord.

use trammel::metrology::Estimate;
use trammel::quantity::Unit;
use trammel::rigging::{Balance, Item, MeanChord, OnScale, ThirdWheel, from_third_wheel};

use super::{inch, lb, mm};
use crate::Tally;

/// FAA-H-8083-1, the four formulas of the empty centre of gravity: 340 lb, 78 in, 2006 lb and −13.2 seen (flight-study.com); the
/// distances to the datum and the tail-wheel set from memory, exact values recomputed.
const WEIGHT_AND_BALANCE: &str = "FAA-H-8083-1, empty CG formulas";
/// FAA-H-8083-30, chapter 4, figure 4-20: weighing a tricycle aeroplane. Inputs and results seen in copies.
const AMT_GENERAL: &str = "FAA-H-8083-30, figure 4-20";
/// Examination question 3620 (avia-exams.com): inputs seen, result computed.
const EXAM: &str = "examination question, computed";
/// A worked answer on a pilots' forum (pprune.org): two nose wheels, four mains.
const JET: &str = "forum example, nose and four mains";
/// A type's own weighing form: %MAC = (CG − 25.90) / 0.5880; check points computed.
const FORM: &str = "a type's weighing form, %MAC";
/// UK CAA type approval data sheet BM65: 410 mm is 35 % of the chord, 257 mm is 22 %.
const BM65: &str = "UK CAA data sheet BM65";
/// Pilot's Handbook of Aeronautical Knowledge, chapter 10, weight shifting (flightlearnings.com, groundscholar.com); the addition and
/// removal from memory.
const PHAK: &str = "PHAK, chapter 10";
/// A school's worked example (runup.ca).
const SHIFT: &str = "weight-shift example";
/// A school's worked example (humbleaviation.com).
const COMPUTATION: &str = "computational method example";
/// FAA-H-8083-1, permanent ballast: 1876 lb at +32.2 seen, the rest from memory.
const BALLAST: &str = "FAA-H-8083-1, permanent ballast";
/// A large aeroplane: moment, total and leading edge seen, the chord of 80 in from memory.
const LARGE: &str = "percent MAC of a large aeroplane";

fn item(mass: f64, arm: f64) -> Item {
    Item { mass: lb(mass), arm: inch(arm) }
}

fn arm(items: &[Item]) -> f64 {
    Balance::of(items).map_or(f64::NAN, |balance| balance.arm.value)
}

pub(crate) fn checks(tally: &mut Tally) {
    third_wheel(tally);
    weighing(tally);
    chord(tally);
    moved(tally);
}

fn third_wheel(tally: &mut Tally) {
    for (what, mains, third, distance, total, printed, exact) in [
        ("about the main wheels", 0.0, 340.0, -78.0, 2006.0, -13.2, -13.2203),
        ("nose wheel, datum ahead", 128.0, 340.0, -78.0, 2006.0, 114.8, 114.7797),
        ("nose wheel, datum aft", -75.0, 340.0, -78.0, 2006.0, -88.2, -88.2203),
        ("tail wheel, datum ahead", 7.5, 67.0, 222.0, 1218.0, 19.7, 19.7118),
        ("tail wheel, datum aft", -80.0, 67.0, 222.0, 1218.0, -67.8, -67.7882),
    ] {
        let got = from_third_wheel(inch(mains), lb(third), inch(distance), lb(total)).unwrap_or(f64::NAN);
        tally.near(WEIGHT_AND_BALANCE, what, got, printed, 0.05);
        tally.near(WEIGHT_AND_BALANCE, what, got, exact, 0.5e-4);
        let all = arm(&[item(third, mains + distance), item(total - third, mains)]);
        tally.near(WEIGHT_AND_BALANCE, what, all, printed, 0.05);
    }
    let scale = |shown, tare, arm| OnScale { shown: lb(shown), tare: lb(tare), arm: inch(arm) };
    let chart = [scale(846.0, 16.0, 46.0), scale(852.0, 16.0, 46.0), scale(348.0, 8.0, -32.0)];
    let Ok(balance) = Balance::on_scales(&chart) else { return tally.same(WEIGHT_AND_BALANCE, "balance", false, true) };
    tally.near(WEIGHT_AND_BALANCE, "total", balance.mass.value, 2006.0, 1e-9);
    tally.near(WEIGHT_AND_BALANCE, "moment", balance.moment(), 65_756.0, 1e-6);
    tally.near(WEIGHT_AND_BALANCE, "with tare", balance.arm.value, 32.8, 0.05);
    tally.same(WEIGHT_AND_BALANCE, "stands on its wheels", ThirdWheel::Nose.stands(balance, inch(46.0)), Ok(()));
}

fn weighing(tally: &mut Tally) {
    let scale = |shown, tare, arm| OnScale { shown: lb(shown), tare: lb(tare), arm: inch(arm) };
    let wheels = [scale(650.0, 5.0, 70.0), scale(640.0, 5.0, 70.0), scale(225.0, 2.5, -30.0)];
    for (wheel, (mass, moment)) in wheels.iter().zip([(645.0, 45_150.0), (635.0, 44_450.0), (222.5, -6675.0)]) {
        let got = wheel.item().map_or((f64::NAN, f64::NAN), |item| (item.mass.value, item.mass.value * item.arm.value));
        tally.same(AMT_GENERAL, "net mass and moment of a wheel", got, (mass, moment));
    }
    // Thirty gallons at 5.9 lb out, the unusable fuel in.
    let fuel = [item(-177.0, 95.0), item(6.0, 98.0)];
    let Ok(empty) = Balance::on_scales(&wheels).and_then(|full| full.with(&fuel)) else {
        return tally.same(AMT_GENERAL, "balance", false, true);
    };
    tally.near(AMT_GENERAL, "total", empty.mass.value, 1331.5, 1e-9);
    tally.near(AMT_GENERAL, "moment", empty.moment(), 66_698.0, 1e-6);
    tally.near(AMT_GENERAL, "centre of gravity", empty.arm.value, 50.1, 0.05);
    tally.near(AMT_GENERAL, "centre of gravity, recomputed", empty.arm.value, 50.0924, 0.5e-4);
    tally.same(AMT_GENERAL, "ahead of the main wheels", ThirdWheel::Nose.stands(empty, inch(70.0)), Ok(()));
    let three = [item(475.0, 55.0), item(1046.0, 121.0), item(1040.0, 121.0)];
    tally.near(EXAM, "three wheels", arm(&three), 108.8, 0.05);
    let metric = |mass, metres| Item {
        mass: Estimate::new(mass, 0.0, Unit::Kilogram),
        arm: Estimate::new(metres, 0.0, Unit::Metre),
    };
    let jet = [metric(500.0, 0.0), metric(500.0, 0.0), metric(24_000.0, 10.0)];
    tally.near(JET, "aft of the nose wheel", arm(&jet), 9.6, 1e-12);
    let about_mains = jet.map(|wheel| Item { arm: Estimate { value: wheel.arm.value - 10.0, ..wheel.arm }, ..wheel });
    tally.near(JET, "ahead of the mains", -arm(&about_mains), 0.4, 1e-12);
}

fn chord(tally: &mut Tally) {
    let percent = |edge, chord, at| {
        MeanChord { leading_edge: inch(edge), chord: inch(chord) }.percent(inch(at)).unwrap_or(f64::NAN)
    };
    tally.near(WEIGHT_AND_BALANCE, "17 in aft of the edge of a chord of 62", percent(144.0, 62.0, 161.0), 27.4, 0.05);
    for (at, expected) in [(38.5, 21.43), (46.0, 34.18), (47.3, 36.39)] {
        tally.near(FORM, "percent", percent(25.90, 58.80, at), expected, 0.005);
    }
    tally.near(LARGE, "percent", percent(62.0, 80.0, 193_193.0 / 2055.0), 40.0, 0.5);
    // Two limits give the chord that the sheet implies; it gives the limits back.
    let (length, edge) = ((410.0 - 257.0) / 0.13, 410.0 - 0.35 * (410.0 - 257.0) / 0.13);
    tally.near(BM65, "implied chord", length, 1176.9, 0.05);
    tally.near(BM65, "implied leading edge", edge, -1.9, 0.05);
    let sheet = MeanChord { leading_edge: mm(-1.9), chord: mm(1176.9) };
    for (percent, at) in [(35.0, 410.0), (22.0, 257.0)] {
        tally.near(BM65, "limit", sheet.arm(percent).unwrap_or(f64::NAN), at, 0.5);
        tally.near(BM65, "limit", sheet.percent(mm(at)).unwrap_or(f64::NAN), percent, 0.05);
    }
}

fn moved(tally: &mut Tally) {
    let balance = |mass, arm| Balance { mass: lb(mass), arm: inch(arm) };
    let with = |mass, at, items: &[Item]| balance(mass, at).with(items).map_or(f64::NAN, |balance| balance.arm.value);
    let shift = |mass, at, moved, by| balance(mass, at).shift(lb(moved), inch(by)).unwrap_or(f64::NAN);
    tally.near(
        PHAK,
        "100 lb from 30 to 150",
        with(8000.0, 77.0, &[item(-100.0, 30.0), item(100.0, 150.0)]),
        78.5,
        0.05,
    );
    tally.near(PHAK, "by the shift", 77.0 + shift(8000.0, 77.0, 100.0, 120.0), 78.5, 1e-12);
    let full = balance(8000.0, 77.0).with(&[item(-100.0, 30.0), item(100.0, 150.0)]).map(Balance::moment);
    tally.near(PHAK, "moment", full.unwrap_or(f64::NAN), 628_000.0, 1e-6);
    tally.near(PHAK, "100 lb from 55 to 145", shift(4000.0, 80.0, 100.0, 90.0), 2.25, 0.005);
    tally.near(
        PHAK,
        "100 lb from 55 to 145",
        with(4000.0, 80.0, &[item(-100.0, 55.0), item(100.0, 145.0)]),
        82.25,
        0.005,
    );
    tally.near(PHAK, "140 lb added at 150", with(6680.0, 80.0, &[item(140.0, 150.0)]), 81.4, 0.05);
    tally.near(PHAK, "100 lb removed at 150", with(6100.0, 78.0, &[item(-100.0, 150.0)]), 76.8, 0.05);
    tally.near(SHIFT, "100 lb by 50 in", shift(2450.0, 90.0, 100.0, 50.0), 2.04, 0.005);
    let loaded = [item(1150.0, 13.0), item(190.0, 12.6), item(135.0, 12.6), item(15.0, 42.1), item(156.0, 13.6)];
    if let Ok(first) = Balance::of(&loaded) {
        tally.near(COMPUTATION, "total", first.mass.value, 1646.0, 1e-9);
        tally.near(COMPUTATION, "moment", first.moment(), 21_798.1, 0.05);
        tally.near(COMPUTATION, "centre of gravity", first.arm.value, 13.24, 0.005);
        let second = first
            .with(&[item(35.0, 42.1)])
            .map_or((f64::NAN, f64::NAN, f64::NAN), |second| (second.mass.value, second.moment(), second.arm.value));
        tally.near(COMPUTATION, "total with more baggage", second.0, 1681.0, 1e-9);
        tally.near(COMPUTATION, "moment with more baggage", second.1, 23_271.6, 0.05);
        tally.near(COMPUTATION, "centre of gravity with more baggage", second.2, 13.84, 0.005);
    }
    let ballast = balance(1876.0, 32.2).ballast(inch(33.0), inch(228.0)).map_or(f64::NAN, |ballast| ballast.value);
    tally.near(BALLAST, "ballast", ballast, 7.7, 0.05);
    tally.near(BALLAST, "ballast, recomputed", ballast, 7.6964, 0.5e-4);
}
