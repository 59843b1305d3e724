//! Cable tensions, charts, tensiometers, threads showing.

use trammel::metrology::Verdict::{In, Out};
use trammel::metrology::{Beyond, Estimate, Rule, judge_by};
use trammel::quantity::{Length, Unit};
use trammel::rigging::{CableError, TensiometerTable, TensionChart, ThreadsShowing, Track, TrackLimit, plus_minus};

use super::exact;
use crate::Tally;

/// Army TM 1-1500-204-23-9, 7-3d (FAA-H-8083-31, chapter 2): 1/8 in 7×19 cable at 85 °F, 70 lb. No other point of the chart was
/// readable, so the chart here is that point between two invented ones.
const CHART: &str = "TM 1-1500-204-23-9, 7-3d";
/// Two published examples of one dial reading, 48 with riser 2 on 3/16 in: 70 lb in an Army manual, 100 lb in a Navy one. Both say that
/// the table belongs to the instrument.
const TENSIOMETERS: &str = "two tensiometer examples";
/// Maintenance manuals (easymanua.ls): 15 +10/−2 lb, 2.5 +1/−0 lb, 30 ± 10 lb, 20 ± 2 daN; a prop test 20 N moving 5 +2 mm at most.
const MANUALS: &str = "tensions with tolerances in manuals";
/// AC 43.13-1B, 7-166 and 7-179: three threads at the most on each side once the tension is set.
const AC: &str = "AC 43.13-1B, 7-179";
/// A light amphibian's maintenance manual (easymanua.ls): at the most 3 threads on the cable's side and 12 on the rod's, 1 to 16 on
/// the rudder's; roll circuit 25 to 30 lb.
const BANDS: &str = "tensions with thread limits in a manual";
/// Propeller track: blades within 1/16 in of each other (two-line board method of a propeller shop; AMT text); a maker's ±0.062 in "or 0.125 in total".
const TRACK: &str = "propeller track limits";

fn pounds(value: f64) -> Estimate {
    exact(value, Unit::PoundForce)
}

pub(crate) fn checks(tally: &mut Tally) {
    let chart =
        TensionChart::new(&[(60.0, 55.0), (85.0, 70.0), (110.0, 85.0)], (Unit::Fahrenheit, Unit::PoundForce), 0.0, 0.0);
    let target = |at: Estimate| chart.as_ref().ok().and_then(|chart| chart.target(at).ok()).unwrap_or(f64::NAN);
    tally.near(CHART, "at 85 °F", target(exact(85.0, Unit::Fahrenheit)), 70.0, 1e-12);
    tally.near(CHART, "which is 29.4 °C", target(exact(265.0 / 9.0, Unit::Celsius)), 70.0, 1e-9);
    let outside = chart.as_ref().ok().map(|chart| chart.target(exact(120.0, Unit::Fahrenheit)));
    tally.same(CHART, "beyond its end it says nothing", matches!(outside, Some(Err(CableError::Outside(_)))), true);

    // One reading, two instruments.
    for at_48 in [70.0, 100.0] {
        let table = TensiometerTable::new(&[(40.0, at_48 - 20.0), (48.0, at_48)], Unit::PoundForce).ok();
        let read = |dial: f64| table.as_ref().map(|table| table.tension(exact(dial, Unit::One)));
        tally.same(TENSIOMETERS, "dial 48", read(48.0).and_then(Result::ok).map(|tension| tension.value), Some(at_48));
        tally.same(TENSIOMETERS, "dial 49", matches!(read(49.0), Some(Err(CableError::Outside(_)))), true);
    }
    for (nominal, plus, minus, unit, at, expected) in [
        (15.0, 10.0, 2.0, Unit::PoundForce, 25.0, In),
        (15.0, 10.0, 2.0, Unit::PoundForce, 13.0, In),
        (15.0, 10.0, 2.0, Unit::PoundForce, 12.9, Out(Beyond::Low)),
        (15.0, 10.0, 2.0, Unit::PoundForce, 25.1, Out(Beyond::High)),
        (2.5, 1.0, 0.0, Unit::PoundForce, 2.4, Out(Beyond::Low)),
        (2.5, 1.0, 0.0, Unit::PoundForce, 3.5, In),
        (30.0, 10.0, 10.0, Unit::PoundForce, 41.0, Out(Beyond::High)),
        (20.0, 2.0, 2.0, Unit::Decanewton, 22.0, In),
        (5.0, 2.0, 5.0, Unit::Millimetre, 7.0, In),
        (5.0, 2.0, 5.0, Unit::Millimetre, 7.1, Out(Beyond::High)),
    ] {
        let limits = plus_minus(nominal, plus, minus, unit).ok();
        tally.same(MANUALS, "asymmetric", judge_by(Rule::Plain, exact(at, unit), limits), expected);
    }
    // 20 ± 2 daN held in pounds: 40.47 to 49.46 lb, printed as 45 ± 4.
    let chart = TensionChart::new(&[(0.0, 20.0), (40.0, 20.0)], (Unit::Celsius, Unit::Decanewton), 2.0, 2.0);
    for (at, expected) in [(41.0, In), (49.0, In), (40.0, Out(Beyond::Low)), (50.0, Out(Beyond::High))] {
        let got = chart.as_ref().ok().and_then(|chart| chart.judge(pounds(at), exact(20.0, Unit::Celsius)).ok());
        tally.same(MANUALS, "20 ± 2 daN, read in pounds", got, Some(expected));
    }
    for (showing, allowed) in [(0, true), (3, true), (4, false)] {
        tally.same(AC, "threads showing", ThreadsShowing::USUAL.allows(showing), allowed);
    }
    for (least, most, showing, allowed) in
        [(0, 3, 3, true), (0, 12, 12, true), (0, 12, 13, false), (1, 16, 0, false), (1, 16, 16, true)]
    {
        tally.same(BANDS, "threads showing", ThreadsShowing { least, most }.allows(showing), allowed);
    }
    for (at, expected) in [(25.0, In), (30.0, In), (24.9, Out(Beyond::Low)), (30.1, Out(Beyond::High))] {
        let limits = plus_minus(27.5, 2.5, 2.5, Unit::PoundForce).ok();
        tally.same(BANDS, "25 to 30 lb", judge_by(Rule::Plain, pounds(at), limits), expected);
    }
    track(tally);
}

fn track(tally: &mut Tally) {
    let most = |limit: TrackLimit| limit.limits(Unit::Inch).ok().and_then(|limits| limits.upper).unwrap_or(f64::NAN);
    tally.near(
        TRACK,
        "within 1/16 in of each other",
        most(TrackLimit::Apart(Length::from_inches(0.0625))),
        0.0625,
        1e-12,
    );
    tally.near(
        TRACK,
        "±0.062 in is 0.125 in total",
        most(TrackLimit::EitherWay(Length::from_inches(0.062))),
        0.125,
        1.5e-3,
    );
    for (tips, limit, expected) in [
        ([0.0, 0.06], TrackLimit::Apart(Length::from_inches(0.0625)), In),
        ([0.0, 0.1], TrackLimit::Apart(Length::from_inches(0.0625)), Out(Beyond::High)),
        ([0.0, 0.1], TrackLimit::EitherWay(Length::from_inches(0.062)), In),
    ] {
        let spread = Track::of(&tips.map(|tip| exact(tip, Unit::Inch))).ok();
        let got = spread.map(|track| judge_by(Rule::Plain, track.spread, limit.limits(Unit::Inch).ok()));
        tally.same(TRACK, "two blades", got, Some(expected));
    }
}
