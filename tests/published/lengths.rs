//! Lengths as manuals and regulations print them.

use trammel::quantity::{Length, Quantity, Unit, parse, print};

use crate::Tally;

/// NIST Handbook 44, 5.52, metal tapes: tolerances by length. Seen on corada.com.
const H44: &str = "NIST Handbook 44, 5.52";
/// UK SI 2016/1153, schedule 1I (directive 2014/32/EU, annex X, MI-008): tape classes, permissible error ±(a + b·L) mm, L in
/// whole metres. Seen on legislation.gov.uk. The sums by length were recomputed from its a and b.
const MI008: &str = "MI-008, chapter I";
/// Army correspondence course OD1642, fig. 45 and the micrometer lesson. Seen on armyordnance.tpub.com.
const OD1642: &str = "OD1642, fig. 45";
/// TM 55-1520-240-23-9: swashplate distance 2-15/32 to 2-19/32 in. Seen on chinookhelicopters.tpub.com.
const ARMY: &str = "TM 55-1520-240-23-9";

fn length(typed: &str, unit: Unit) -> Length {
    parse(typed, unit, 0.0).ok().as_ref().and_then(Quantity::length).unwrap_or(Length::from_metres(f64::NAN))
}

pub(crate) fn checks(tally: &mut Tally) {
    for (feet, tolerance) in
        [("6 ft", "1/32"), ("30 ft", "1/16"), ("55 ft", "1/8"), ("80 ft", "3/16"), ("100 ft", "1/4")]
    {
        let read = parse(tolerance, Unit::Inch, 1.0 / 32.0);
        tally.same(H44, feet, read.map(|quantity| quantity.print()), Ok(format!("{tolerance} in")));
        let (inches, tape) = (length(feet, Unit::Inch).inches(), feet.trim_end_matches(" ft"));
        tally.near(H44, feet, inches, 12.0 * tape.parse::<f64>().unwrap_or(f64::NAN), 1e-9);
    }
    tape_classes(tally);
    for (what, parts, sum) in [
        ("vernier caliper", &["1.000", "0.400", ".075", ".011"][..], "1.486 in"),
        ("micrometer", &[".225", ".016"][..], "0.241 in"),
    ] {
        let total: Length = parts.iter().map(|part| length(part, Unit::Inch)).sum();
        tally.same(OD1642, what, print(total.inches(), Unit::Inch, 0.001), sum.into());
    }
    for (typed, printed) in [("2-15/32", "2 15/32 in"), ("2-19/32", "2 19/32 in")] {
        let read = parse(typed, Unit::Inch, 1.0 / 32.0);
        tally.same(ARMY, typed, read.map(|quantity| quantity.print()), Ok(printed.into()));
    }
    let band = length("2-19/32", Unit::Inch) - length("2-15/32", Unit::Inch);
    tally.same(ARMY, "width of the band", print(band.inches(), Unit::Inch, 1.0 / 32.0), "1/8 in".into());
}

fn tape_classes(tally: &mut Tally) {
    for (class, a, b, errors) in [
        ("I", "0.1", "0.1", ["0.2", "0.3", "0.4", "0.6", "0.9", "1.1", "3.1"]),
        ("II", "0.3", "0.2", ["0.5", "0.7", "0.9", "1.3", "1.9", "2.3", "6.3"]),
        ("III", "0.6", "0.4", ["1.0", "1.4", "1.8", "2.6", "3.8", "4.6", "12.6"]),
    ] {
        for (metres, error) in [1.0, 2.0, 3.0, 5.0, 8.0, 10.0, 30.0].into_iter().zip(errors) {
            let permissible = length(a, Unit::Millimetre) + length(b, Unit::Millimetre) * metres;
            let printed = print(permissible.millimetres(), Unit::Millimetre, 0.1);
            tally.same(MI008, &format!("class {class}, {metres} m"), printed, format!("{error} mm"));
        }
    }
}
