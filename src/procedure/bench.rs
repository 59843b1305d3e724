//! A quick answer at the bench: typed numbers in, words out. Nothing is kept and nothing is judged.

use super::check::unit_of;
use crate::language::{tr, words};
use crate::metrology::{Estimate, prints_as_zero};
use crate::quantity::{Dimension, ParseError, Unit, parse, print, print_number};
use crate::record::Units;
use crate::rigging::{Given, Reckoning, RiggingError};

/// What the page says of itself.
#[must_use]
pub fn bench_purpose() -> &'static str {
    words!(
        "Reckons one quantity from what you type. Nothing here is recorded or judged: the manual's limits and the airframe's record \
         are not asked. The kit's manual goes first."
    )
}

/// What can be compared where a reckoning takes anything.
#[must_use]
pub fn bench_kinds() -> [(Dimension, &'static str); 4] {
    [
        (Dimension::Length, words!("Lengths")),
        (Dimension::Angle, words!("Angles")),
        (Dimension::Mass, words!("Masses")),
        (Dimension::Force, words!("Forces")),
    ]
}

/// What is typed of one input.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BenchEntry {
    /// The number.
    pub number: String,
    /// Within what it is true about 95 times in 100, either way; blank where it counts as exact.
    pub give_or_take: String,
}

/// What the page shows under its fields.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BenchAnswer {
    /// Inputs that are still blank.
    Waiting(String),
    /// What cannot be read, or why there is no answer.
    Refused(String),
    /// The answer.
    Found {
        /// The value with its unit.
        value: String,
        /// How sure it is.
        uncertainty: String,
        /// What its sign means; empty where that says nothing.
        meaning: String,
    },
}

/// The unit that an input is asked for in; `kind` is what is compared where the reckoning takes anything.
#[must_use]
pub const fn bench_unit(given: Given, units: Units, kind: Dimension) -> Unit {
    match given.dimension {
        Some(dimension) => unit_of(dimension, units),
        None => unit_of(kind, units),
    }
}

/// The label of an input, with its unit: "Height of the aft point, in".
#[must_use]
pub fn bench_label(given: Given, units: Units, kind: Dimension) -> String {
    let (input, unit) = (given.title, bench_unit(given, units, kind).symbol());
    let label = if unit.is_empty() { input.to_owned() } else { tr!("{input}, {unit}", input, unit) };
    if given.optional { tr!("{input} (may be left blank)", input = label) } else { label }
}

/// The answer to what is typed, in the order of the reckoning's inputs.
#[must_use]
pub fn bench_answer(reckoning: &Reckoning, units: Units, kind: Dimension, entries: &[BenchEntry]) -> BenchAnswer {
    let nothing = BenchEntry::default();
    let (mut given, mut blank, mut exact) = (Vec::with_capacity(reckoning.given.len()), Vec::new(), true);
    for (place, asked) in reckoning.given.iter().enumerate() {
        let entry = entries.get(place).unwrap_or(&nothing);
        let number = entry.number.trim();
        let spread = entry.give_or_take.trim();
        if number.is_empty() {
            if !spread.is_empty() {
                let input = asked.title;
                return BenchAnswer::Refused(tr!("{input}: a give or take without its number.", input));
            }
            if !asked.optional {
                blank.push(asked.title);
            }
            given.push(None);
            continue;
        }
        match estimate(number, spread, bench_unit(*asked, units, kind)) {
            Err(problem) => {
                return BenchAnswer::Refused(tr!("{input}: {problem}", input = asked.title, problem));
            }
            Ok(estimate) => {
                exact &= estimate.u == 0.0;
                given.push(Some(estimate));
            }
        }
    }
    if !blank.is_empty() {
        return BenchAnswer::Waiting(tr!("Still to enter: {inputs}.", inputs = blank.join("; ")));
    }
    match reckoning.reckon(&given) {
        Err(RiggingError::NotANumber) => {
            BenchAnswer::Refused(tr!("A number is missing: what belongs together is entered together."))
        }
        Err(RiggingError::OutOfReach) => {
            BenchAnswer::Refused(tr!("No position of the part has these numbers. Look at them again."))
        }
        Err(error) => BenchAnswer::Refused(error.to_string()),
        Ok(found) => answer(reckoning, found, exact),
    }
}

/// A typed number with what it is uncertain by.
fn estimate(number: &str, spread: &str, unit: Unit) -> Result<Estimate, String> {
    let value = read(number, unit)?;
    if spread.is_empty() {
        return Ok(Estimate::new(value, 0.0, unit));
    }
    match read(spread, unit) {
        Ok(most) if most >= 0.0 => Ok(Estimate::new(value, most / 2.0, unit)),
        Ok(_) => Err(tr!("a give or take is not below zero.")),
        Err(why) => Err(tr!("its give or take. {problem}", problem = why)),
    }
}

fn read(text: &str, unit: Unit) -> Result<f64, String> {
    // A ratio may have decimals, which a count of things has not: it is read as a plain amount that names no unit.
    let as_unit = if unit == Unit::One { Unit::Kilogram } else { unit };
    let named = unit == Unit::One && text.bytes().any(|byte| byte.is_ascii_alphabetic());
    match parse(text, as_unit, 0.0) {
        Err(ParseError::WrongUnit { .. }) if unit == Unit::One => Err(tr!("this is a plain number, with no unit.")),
        Ok(_) if named => Err(tr!("this is a plain number, with no unit.")),
        Ok(quantity) => Ok(quantity.value),
        Err(why) => Err(why.to_string()),
    }
}

fn answer(reckoning: &Reckoning, found: Estimate, exact: bool) -> BenchAnswer {
    let step = step_of(found.unit);
    let mut value = print(found.value, found.unit, step);
    if found.unit == Unit::Inch {
        let nearest = print_number(found.value, Unit::Inch, 1.0 / 64.0);
        value = tr!("{value} (nearest 64th: {nearest})", value, nearest);
    }
    let leaves = found.expanded();
    let uncertainty = if exact {
        tr!("No give or take was entered: every number counts as exact.")
    } else {
        let printed = print(leaves, found.unit, step);
        let least = print(step, found.unit, step);
        let amount = if prints_as_zero(&printed) { tr!("less than {least}", least) } else { printed };
        tr!("Give or take {amount}, about 95 times in 100. What has no give or take counts as exact.", amount)
    };
    let side = if found.value > 0.0 { reckoning.plus } else { reckoning.minus };
    let meaning = if side.is_empty() || found.value == 0.0 {
        String::new()
    } else if found.value.abs() < leaves {
        tr!("Smaller than its give or take: which way it goes is not sure.")
    } else if found.value > 0.0 {
        tr!("Plus: {meaning}.", meaning = side)
    } else {
        tr!("Minus: {meaning}.", meaning = side)
    };
    BenchAnswer::Found { value, uncertainty, meaning }
}

/// As finely as an answer is worth showing.
const fn step_of(unit: Unit) -> f64 {
    match unit {
        Unit::Inch => 0.001,
        Unit::Millimetre | Unit::Degree | Unit::One => 0.01,
        Unit::Metre => 0.0001,
        _ => 0.1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rigging::reckoning;

    fn ask(id: &str, units: Units, typed: &[(&str, &str)]) -> BenchAnswer {
        let entries: Vec<BenchEntry> = typed
            .iter()
            .map(|(number, spread)| BenchEntry { number: (*number).to_owned(), give_or_take: (*spread).to_owned() })
            .collect();
        bench_answer(reckoning(id).expect("an entry"), units, Dimension::Angle, &entries)
    }

    fn found(answer: BenchAnswer) -> (String, String, String) {
        match answer {
            BenchAnswer::Found { value, uncertainty, meaning } => (value, uncertainty, meaning),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_washout_is_answered_with_its_sign_in_words() {
        let (value, uncertainty, meaning) = found(ask("washout", Units::Inches, &[("1.8", ""), ("0.8", "")]));
        assert_eq!((value.as_str(), uncertainty.contains("counts as exact")), ("1.00°", true));
        assert_eq!(meaning, "Plus: washout: the tip has less incidence than the root.");
        // 0.06 and 0.08 either way, about 95 %, leave 0.10 either way (JCGM 100:2008, eq. 10).
        let (_, uncertainty, _) = found(ask("washout", Units::Inches, &[("1° 48'", "0.06"), ("0.8°", "0.08")]));
        assert!(uncertainty.starts_with("Give or take 0.10°"), "{uncertainty}");
        let (value, _, meaning) = found(ask("washout", Units::Inches, &[("0.8", "0.1"), ("0.85", "0.1")]));
        assert_eq!(value, "−0.05°");
        assert!(meaning.starts_with("Smaller than"), "{meaning}");
        let (value, _, meaning) = found(ask("washout", Units::Inches, &[("0.8", ""), ("0.8", "")]));
        assert_eq!((value.as_str(), meaning.as_str()), ("0.00°", ""));
    }

    /// A rigging note: 3/8 in under a 30 in level, 9.525 mm under 762 mm.
    #[test]
    fn the_units_are_those_of_the_page() {
        let (value, ..) = found(ask("gap-under-level", Units::Inches, &[("42'58\"", ""), ("30", "")]));
        assert_eq!(value, "0.375 in (nearest 64th: 3/8)");
        let (value, ..) = found(ask("gap-under-level", Units::Millimetres, &[("42'58\"", ""), ("762", "")]));
        assert_eq!(value, "9.52 mm");
        let refused = ask("gap-under-level", Units::Millimetres, &[("42'58\"", ""), ("30 in", "")]);
        assert!(matches!(&refused, BenchAnswer::Refused(words) if words.contains("millimetres")), "{refused:?}");
        let torque = reckoning("wrench-setting").expect("an entry").given[0];
        assert_eq!(bench_unit(torque, Units::Inches, Dimension::Angle), Unit::InchPoundForce);
        assert_eq!(bench_unit(torque, Units::Millimetres, Dimension::Angle), Unit::NewtonMetre);
        let any = reckoning("difference").expect("an entry").given[0];
        assert_eq!(bench_unit(any, Units::Millimetres, Dimension::Mass), Unit::Kilogram);
        assert!(bench_label(any, Units::Inches, Dimension::Length).ends_with(", in"));
    }

    #[test]
    fn a_ratio_may_have_decimals_and_has_no_unit() {
        let spare = |times| ask("edge-spare", Units::Inches, &[("0.5", ""), ("3/16", ""), (times, "")]);
        assert!(found(spare("2.5")).0.starts_with("0.031 in"), "{:?}", spare("2.5"));
        assert_eq!(found(spare("2 1/2")).2, "Plus: to spare.");
        for odd in ["2.5 kg", "2.5 lb", "2°"] {
            assert!(matches!(spare(odd), BenchAnswer::Refused(_)), "{odd}");
        }
    }

    #[test]
    fn what_is_missing_or_cannot_be_read_is_said() {
        assert_eq!(
            ask("washout", Units::Inches, &[]),
            BenchAnswer::Waiting(
                "Still to enter: Incidence at the root, leading edge high is plus; Incidence at the tip.".to_owned(),
            )
        );
        let refused = |id: &str, typed: &[(&str, &str)], part: &str| {
            let got = ask(id, Units::Inches, typed);
            assert!(matches!(&got, BenchAnswer::Refused(words) if words.contains(part)), "{got:?}");
        };
        refused("washout", &[("1,2,3", "")], "Incidence at the root");
        refused("washout", &[("1.8", ""), ("0.8", "x")], "give or take");
        refused("washout", &[("1.8", ""), ("0.8", "-0.1")], "not below zero");
        refused("washout", &[("1.8", ""), ("", "0.1")], "without its number");
        refused("travel-by-height", &[("9", ""), ("4", "")], "No position");
        refused("dihedral-by-rise", &[("1", ""), ("0", "")], "above zero");
        let lone = [("800", ""), ("70", ""), ("10", "")];
        refused("loaded-arm", &lone, "belongs together");
    }
}
