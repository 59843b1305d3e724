//! Degrees, minutes and radians, and what an angle does over a length.

use trammel::quantity::{Angle, Length, Quantity, Unit, parse, print_number};

use crate::Tally;

/// NAVEDTRA 14315, p. 16-46 (and 14018): wing-twist check. The reading lies in [ref − 0°20', ref + 0°40']; for ref
/// 1°35' the manual gives 1°15' to 2°15'; left and right within 0°12'. Seen on navyaviation.tpub.com.
const NAVY: &str = "NAVEDTRA 14315, p. 16-46";
/// TM 55-1520-240-23-9: shaft angle less swashplate angle is 2.6° to 3.0°. Seen on chinookhelicopters.tpub.com.
const ARMY: &str = "TM 55-1520-240-23-9";
/// Unit tables seen on themeter.net: minute 2.908882·10⁻⁴ rad, second 4.848137·10⁻⁶ rad, radian 57.2957795°, right angle
/// by definition. NIST SP 811, B.8, prints the same figures (from memory).
const UNITS: &str = "themeter.net, units of angle";
/// Worked examples seen on bymath.com: 12°30' is 0.2181 rad; 1 rad is 57°17'45"; 1.4 rad is 80°12'51".
const EXAMPLES: &str = "bymath.com, degree and radian measure";
/// AC 43.13-1B, 4-56: bend set-back is tan(bend / 2) · (radius + thickness). Seen on studylib.net, doc 13698709.
const SETBACK: &str = "AC 43.13-1B, 4-56";
/// A block of 3/8 in under one end of a 30 in level is 42'58" (recomputed), which a rigging manual calls 45 minutes.
const BLOCK: &str = "block under a level, recomputed to the second";
/// Four-figure mathematical tables, from memory.
const TABLES: &str = "four-figure tables, from memory";

fn degrees(typed: &str) -> f64 {
    parse(typed, Unit::Degree, 0.0).map_or(f64::NAN, |quantity| quantity.value)
}

fn angle(typed: &str) -> Angle {
    parse(typed, Unit::Degree, 0.0).ok().as_ref().and_then(Quantity::angle).unwrap_or(Angle::from_radians(f64::NAN))
}

/// Half a second of arc, in degrees.
const HALF_SECOND: f64 = 0.5 / 3600.0;

pub(crate) fn checks(tally: &mut Tally) {
    navy_wing_twist(tally);
    for (typed, value) in [("2.6°", 2.6), ("3.0°", 3.0), ("2° 36'", 2.6)] {
        tally.same(ARMY, typed, degrees(typed), value);
    }
    units(tally);
    set_back(tally);
    let block = Angle::atan2(Length::from_inches(0.375), Length::from_inches(30.0));
    tally.near(BLOCK, "3/8 in over 30 in", block.degrees(), degrees("42' 58\""), HALF_SECOND);
    tally.same(BLOCK, "42'58\" to the tenth", print_number(block.degrees(), Unit::Degree, 0.1), "0.7".into());
    for (typed, sine, cosine, tangent) in [
        ("1°", 0.0175, 0.9998, 0.0175),
        ("2°", 0.0349, 0.9994, 0.0349),
        ("5°", 0.0872, 0.9962, 0.0875),
        ("30°", 0.5, 0.8660, 0.5774),
        ("60°", 0.8660, 0.5, 1.7321),
    ] {
        tally.near(TABLES, typed, angle(typed).sin(), sine, 0.5e-4);
        tally.near(TABLES, typed, angle(typed).cos(), cosine, 0.5e-4);
        tally.near(TABLES, typed, angle(typed).tan(), tangent, 0.5e-4);
    }
}

fn navy_wing_twist(tally: &mut Tally) {
    let sum = |reference: &str, by: &str| (angle(reference) + angle(by)).degrees();
    for (reference, low, high) in [("1°35'", "1°15'", "2°15'"), ("0°10'", "-0°10'", "0°50'")] {
        // The second row is the same rule through zero.
        tally.near(NAVY, low, sum(reference, "-0°20'"), degrees(low), 1e-12);
        tally.near(NAVY, high, sum(reference, "0°40'"), degrees(high), 1e-12);
    }
    let apart = (angle("1°30'") - angle("1°16'")).abs();
    tally.same(NAVY, "14' apart is more than 0°12'", apart > angle("0°12'"), true);
    tally.near(NAVY, "1°16' and 1°30' are 14' apart", apart.degrees(), degrees("14'"), 1e-12);
    tally.same(NAVY, "1°15' in decimals", degrees("1°15'"), 1.25);
    tally.same(NAVY, "0°12' in decimals", degrees("0°12'"), 0.2);
}

fn units(tally: &mut Tally) {
    tally.near(UNITS, "a minute in radians", angle("1'").radians(), 2.908882e-4, 0.5e-10);
    tally.near(UNITS, "a second in radians", angle("0' 1\"").radians(), 4.848137e-6, 0.5e-12);
    tally.near(UNITS, "a degree in radians", angle("1").radians(), 0.0174533, 0.5e-7);
    tally.near(UNITS, "a radian in degrees", Angle::from_radians(1.0).degrees(), 57.295_779_5, 0.5e-7);
    // The example adds two terms that are already rounded to four places.
    tally.near(EXAMPLES, "12°30' in radians", angle("12°30'").radians(), 0.2181, 1e-4);
    tally.near(EXAMPLES, "1 rad", Angle::from_radians(1.0).degrees(), degrees("57°17'45\""), HALF_SECOND);
    tally.near(EXAMPLES, "1.4 rad", Angle::from_radians(1.4).degrees(), degrees("80°12'51\""), HALF_SECOND);
}

fn set_back(tally: &mut Tally) {
    let radius_and_thickness = Length::from_inches(0.25) + Length::from_inches(0.064);
    for (bend, factor, digit, set_back) in [("45", 0.41421, 1e-5, "0.130"), ("135", 2.4142, 1e-4, "0.758")] {
        let tangent = (angle(bend) / 2.0).tan();
        tally.near(SETBACK, bend, tangent, factor, digit / 2.0);
        let inches = (radius_and_thickness * tangent).inches();
        tally.same(SETBACK, bend, print_number(inches, Unit::Inch, 0.001), set_back.into());
    }
}
