//! Single utterances: what is read out of them, what is refused in which words, what is a command.

use trammel::quantity::{Heard, Unit, hear};

use crate::{rows, unit, values};

#[test]
fn every_utterance_has_its_readings_in_order() {
    for [ucum, step, said, expected] in rows(include_str!("heard.tsv")) {
        let step: f64 = step.parse().expect("a step");
        let heard = hear(said, unit(ucum), step, None);
        let expected: Vec<f64> = expected.split(' ').map(|value| value.parse().expect("a value")).collect();
        let got = values(&heard);
        let same = got.len() == expected.len() && got.iter().zip(&expected).all(|(a, b)| (a - b).abs() < 1e-9);
        assert!(same, "{said:?} in {ucum}: {heard:?}, not {expected:?}");
    }
}

#[test]
fn a_reading_keeps_what_was_said_and_the_tool() {
    let said = "Sixty point two four zero zero kilograms.";
    let Heard::Reading(readings) = hear(said, Unit::Kilogram, 0.01, None) else { panic!("no reading") };
    assert_eq!(readings[0].text, said);
    assert_eq!((readings[0].unit, readings[0].step), (Unit::Kilogram, 0.01));
}

/// The sentences people read.
#[test]
fn what_is_not_understood_is_refused_in_its_sentence() {
    for [ucum, said, sentence] in rows(include_str!("unheard.tsv")) {
        match hear(said, unit(ucum), 0.0625, None) {
            Heard::Unheard(why) => assert_eq!(why.to_string(), sentence, "{said:?} in {ucum}"),
            other => panic!("{said:?} in {ucum}: {other:?}"),
        }
    }
}

#[test]
fn too_long_a_text_is_not_looked_at() {
    let long = "one ".repeat(100_000);
    let heard = hear(&long, Unit::Inch, 0.0625, None);
    assert!(matches!(&heard, Heard::Unheard(why) if why.to_string().starts_with("That was too long")), "{heard:?}");
}

#[test]
fn commands_are_whole_utterances() {
    for [said, command] in rows(include_str!("commands.tsv")) {
        match hear(said, Unit::Inch, 0.0625, None) {
            Heard::Command(heard) => assert_eq!(format!("{heard:?}"), command, "{said:?}"),
            other => assert!(command == "-" && matches!(other, Heard::Unheard(_)), "{said:?}: {other:?}"),
        }
    }
}

/// The same utterance with any expected value has the same readings, in whatever order.
#[test]
fn the_expected_value_ranks_and_never_invents() {
    for [ucum, step, said, _] in rows(include_str!("heard.tsv")) {
        let step: f64 = step.parse().expect("a step");
        let sorted = |expected| {
            let mut found = values(&hear(said, unit(ucum), step, expected));
            found.sort_by(f64::total_cmp);
            found
        };
        for expected in [0.0, 15.0, 50.0, 227.0, -1e9, f64::NAN, f64::INFINITY] {
            assert_eq!(sorted(Some(expected)), sorted(None), "{said:?} with {expected}");
        }
    }
}

#[test]
fn the_expected_value_puts_the_reading_near_it_first() {
    let first = |said, expected| values(&hear(said, Unit::Inch, 0.0625, expected))[0];
    assert_eq!((first("fifteen", None), first("fifteen", Some(50.25))), (15.0, 50.0));
    assert_eq!((first("fifty", None), first("fifty", Some(15.0))), (50.0, 15.0));
    assert_eq!((first("eleven sixteen", None), first("eleven sixteen", Some(0.7))), (1116.0, 0.6875));
    assert_eq!((first("forty five sixteenths", None), first("forty five sixteenths", Some(3.0))), (40.3125, 2.8125));
    // Both near: what was heard stays first.
    let first = |said, expected| values(&hear(said, Unit::Degree, 0.1, expected))[0];
    assert_eq!(first("two point fifteen", Some(2.4)), 2.15);
}
