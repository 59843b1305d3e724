//! Limits of error of tapes, and what an instrument's angle is over a base.

use trammel::metrology::{Estimate, TapeClass, angle_over_base};
use trammel::quantity::{Length, Unit};

use crate::Tally;

/// Directive 2014/32/EU, annex X, chapter I, as in UK SI 2016/1153, schedule 1I (read on legislation.gov.uk): a + b·L with L
/// rounded up to the next metre, c more from the end. The numbers per length are recomputed from it.
const MID: &str = "2014/32/EU, annex X, chapter I";
/// NIST Handbook 44, 5.52, metal tapes (read on corada.com).
const HANDBOOK44: &str = "NIST Handbook 44, 5.52";
/// Height of an angle over a base of one metre, recomputed.
const BASE: &str = "one metre base, recomputed";

const CLASSES: [TapeClass; 3] = [TapeClass::One, TapeClass::Two, TapeClass::Three];

fn millimetres(class: TapeClass, metres: f64, from_end: bool) -> f64 {
    class.limit_of_error(Length::from_metres(metres), from_end).map_or(f64::NAN, Length::millimetres)
}

pub(crate) fn checks(tally: &mut Tally) {
    for (metres, limits) in [
        (1.0, [0.2, 0.5, 1.0]),
        (2.0, [0.3, 0.7, 1.4]),
        (3.0, [0.4, 0.9, 1.8]),
        (5.0, [0.6, 1.3, 2.6]),
        (8.0, [0.9, 1.9, 3.8]),
        (10.0, [1.1, 2.3, 4.6]),
        (30.0, [3.1, 6.3, 12.6]),
    ] {
        for ((class, published), end) in CLASSES.into_iter().zip(limits).zip([0.1, 0.2, 0.3]) {
            let what = format!("{class:?}, {metres} m");
            tally.near(MID, &what, millimetres(class, metres, false), published, 1e-12);
            tally.near(MID, &what, millimetres(class, metres, true), published + end, 1e-12);
            tally.near(
                MID,
                &what,
                millimetres(class, metres - 0.999, false),
                millimetres(class, metres - 0.5, false),
                1e-12,
            );
        }
    }
    tally.near(MID, "5.78 m counts as 6 m", millimetres(TapeClass::Two, 5.78, false), 1.5, 1e-12);
    tally.same(MID, "a negative length", TapeClass::Two.limit_of_error(Length::from_metres(-1.0), false), None);
    let stated = TapeClass::Stated(Length::from_millimetres(0.8));
    tally.near(MID, "as the maker states it", millimetres(stated, 3.0, true), 0.8, 1e-12);
    let inches =
        |feet: f64| TapeClass::UnitedStates.limit_of_error(Length::from_inches(12.0 * feet), true).map(Length::inches);
    for (from, to, published) in [
        (0.5, 6.0, 1.0 / 32.0),
        (7.0, 30.0, 1.0 / 16.0),
        (31.0, 55.0, 1.0 / 8.0),
        (56.0, 80.0, 3.0 / 16.0),
        (81.0, 100.0, 1.0 / 4.0),
    ] {
        tally.same(HANDBOOK44, &format!("{from} ft"), inches(from), Some(published));
        tally.same(HANDBOOK44, &format!("{to} ft"), inches(to), Some(published));
    }
    tally.same(HANDBOOK44, "beyond 100 ft it says nothing", inches(100.5), None);
    for (height, degrees) in [(0.873, 0.05), (1.745, 0.1), (3.491, 0.2)] {
        let exact = |value| Estimate::new(value, 0.0, Unit::Millimetre);
        let angle = angle_over_base(exact(height), exact(1000.0)).estimate.value;
        // Half a micrometre over a metre is 0.00003°.
        tally.near(BASE, "angle of a height", angle, degrees, 3e-5);
    }
}
