//! Units of mass, force, torque, volume and temperature in one another.

use trammel::quantity::{Quantity, Unit, in_unit, parse, print_number, scale};

use crate::Tally;

/// NIST SP 811 (2008), B.8, seven figures, and its footnotes for the exact factors of the pound and the pound-force. The torques
/// and the pound-force seen in copies of the table, the rest from memory.
const SP811: &str = "NIST SP 811, B.8";
/// NIST Handbook 44, appendix C: a US gallon is 231 cubic inches, exactly.
const H44: &str = "NIST Handbook 44, appendix C";
/// Documentation of crate ucum-units 0.1.0: `convert(98.6, "[degF]", "Cel")` is 37, `convert(1.0, "[ft_i]", "m")` 0.3048.
const UCUM: &str = "ucum-units 0.1.0, examples";
/// ISO 1: the reference temperature is 20 °C, which American drawings write as 68 °F. From memory.
const ISO1: &str = "ISO 1, from memory";
/// The fixed points of both scales and absolute zero. Common knowledge, no source.
const FIXED_POINTS: &str = "fixed points of the scales";
/// Bolt torques of AC 43.13-1B, table 7-1, as an aircraft manual prints them in newton metres. Seen on manualshive.com.
const TORQUES: &str = "metric twin of AC 43.13-1B, table 7-1";
/// Control cable tension in a maintenance manual: 20 daN, "45 lb". Seen on manualshive.com.
const CABLES: &str = "a cable tension in two units";

fn per(from: Unit, to: Unit) -> f64 {
    scale(from, to).unwrap_or(f64::NAN)
}

fn typed(text: &str, unit: Unit, to: Unit) -> f64 {
    parse(text, unit, 0.0).ok().and_then(|quantity| in_unit(&quantity, to)).unwrap_or(f64::NAN)
}

pub(crate) fn checks(tally: &mut Tally) {
    for (what, from, to, factor, digit) in [
        ("pound", Unit::Pound, Unit::Kilogram, 4.535_924e-1, 1e-7),
        ("pound-force", Unit::PoundForce, Unit::Newton, 4.448_222, 1e-6),
        ("pound-force foot", Unit::FootPoundForce, Unit::NewtonMetre, 1.355_818, 1e-6),
        ("pound-force inch", Unit::InchPoundForce, Unit::NewtonMetre, 1.129_848e-1, 1e-7),
        ("gallon (US)", Unit::Gallon, Unit::Litre, 3.785_412, 1e-6),
        ("degree Fahrenheit, interval", Unit::Fahrenheit, Unit::Celsius, 5.555_556e-1, 1e-7),
    ] {
        tally.near(SP811, what, per(from, to), factor, digit / 2.0);
    }
    tally.same(SP811, "pound, exact", per(Unit::Pound, Unit::Kilogram), 0.453_592_37);
    tally.same(SP811, "pound-force, exact", per(Unit::PoundForce, Unit::Newton), 4.448_221_615_260_5);
    tally.same(SP811, "foot pound-force, exact", per(Unit::FootPoundForce, Unit::NewtonMetre), 1.355_817_948_331_400_4);
    tally.same(SP811, "twelve inch pounds", per(Unit::FootPoundForce, Unit::InchPoundForce), 12.0);
    tally.same(SP811, "ten newtons", per(Unit::Decanewton, Unit::Newton), 10.0);
    tally.same(SP811, "1000 mm", per(Unit::Metre, Unit::Millimetre), 1000.0);
    tally.same(SP811, "one inch in millimetres", per(Unit::Inch, Unit::Millimetre), 25.4);
    let gravity = per(Unit::PoundForce, Unit::Newton) / per(Unit::Pound, Unit::Kilogram);
    tally.near(SP811, "standard gravity", gravity, 9.806_65, 1e-14);
    let cubic_inch = typed("1", Unit::Inch, Unit::Metre).powi(3) * 1000.0;
    tally.near(H44, "gallon in cubic inches", per(Unit::Gallon, Unit::Litre) / cubic_inch, 231.0, 1e-12);
    tally.near(UCUM, "98.6 °F", typed("98.6 °F", Unit::Fahrenheit, Unit::Celsius), 37.0, 1e-12);
    tally.near(UCUM, "1 ft", typed("1 ft", Unit::Inch, Unit::Metre), 0.3048, 1e-16);
    tally.near(ISO1, "20 °C", typed("20 °C", Unit::Celsius, Unit::Fahrenheit), 68.0, 1e-13);
    for (celsius, fahrenheit) in [(0.0, 32.0), (100.0, 212.0), (-40.0, -40.0), (-273.15, -459.67)] {
        let there = in_unit(&Quantity::new(celsius, Unit::Celsius, 0.01), Unit::Fahrenheit);
        let back = in_unit(&Quantity::new(fahrenheit, Unit::Fahrenheit, 0.01), Unit::Celsius);
        tally.near(FIXED_POINTS, "°C in °F", there.unwrap_or(f64::NAN), fahrenheit, 1e-12);
        tally.near(FIXED_POINTS, "°F in °C", back.unwrap_or(f64::NAN), celsius, 1e-12);
    }
    torques(tally);
    let pounds = typed("20 daN", Unit::Decanewton, Unit::PoundForce);
    tally.same(CABLES, "20 daN", print_number(pounds, Unit::PoundForce, 1.0), "45".into());
}

fn torques(tally: &mut Tally) {
    for (inch_pounds, newton_metres) in [
        ("12 in-lb", "1.4"),
        ("15 in-lb", "1.7"),
        ("50 in-lb", "5.6"),
        ("70 in-lb", "7.9"),
        ("100 in-lb", "11.3"),
        ("140 in-lb", "15.8"),
        ("160 in-lb", "18.1"),
        ("190 in-lb", "21.5"),
        ("450 in-lb", "50.8"),
        ("500 in-lb", "56.5"),
        ("480 in-lb", "54.2"),
        ("1100 in-lb", "124.3"),
        ("1300 in-lb", "146.9"),
        ("2300 in-lb", "259.9"),
        ("2500 in-lb", "282.5"),
    ] {
        let converted = typed(inch_pounds, Unit::InchPoundForce, Unit::NewtonMetre);
        tally.same(TORQUES, inch_pounds, print_number(converted, Unit::NewtonMetre, 0.1), newton_metres.into());
    }
}
