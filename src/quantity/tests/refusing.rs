//! What is not one number, or can be read in two ways, is refused with its reason.

use proptest::prelude::*;

use super::super::{ParseError, Unit, parse};
use super::{rows, unit};

#[test]
fn every_bad_input_has_its_reason() {
    for [ucum, typed, why] in rows(include_str!("refused.tsv")) {
        let error = parse(typed, unit(ucum), 1.0).expect_err(typed);
        assert_eq!(format!("{error:?}"), why, "{typed:?} in {ucum}");
    }
}

#[test]
fn nothing_typed_is_its_own_reason() {
    for blank in ["", " ", "\t\n", "\u{a0}"] {
        assert_eq!(parse(blank, Unit::Inch, 0.0625), Err(ParseError::Empty), "{blank:?}");
    }
}

#[test]
fn every_reason_is_a_sentence_to_the_builder() {
    let errors = [
        ParseError::Empty,
        ParseError::NotANumber,
        ParseError::ZeroDenominator,
        ParseError::FractionTooLarge,
        ParseError::OddDenominator,
        ParseError::WrongUnit { asked: Unit::Inch, given: Unit::Millimetre },
        ParseError::WrongUnit { asked: Unit::One, given: Unit::Inch },
        ParseError::OutOfRange,
    ];
    let sentences: Vec<_> = rows(include_str!("sentences.tsv")).collect();
    assert_eq!(sentences, errors.map(|error| [format!("{error:?}"), error.to_string()]));
}

proptest! {
    #[test]
    fn no_text_panics_and_what_is_read_is_physical(text in ".{0,70}", unit in prop::sample::select(&Unit::ALL[..])) {
        if let Ok(read) = parse(&text, unit, 0.0) {
            prop_assert!(read.value.abs() <= 100_000.0);
            prop_assert!(!read.print().is_empty() && !read.say().is_empty());
        }
    }

    /// Denser in near-misses than free text is.
    #[test]
    fn no_row_of_parts_panics(
        parts in prop::collection::vec(
            prop::sample::select(&["1", "16", "227", "0", ".", ",", "/", "-", "−", " ", "'", "''", "\"", "°", "½", "in", "mm", "ft", "lb", "N", "m", "C", "·", "é", "9999999999"][..]),
            0..12,
        ),
        unit in prop::sample::select(&Unit::ALL[..]),
    ) {
        if let Ok(read) = parse(&parts.concat(), unit, 0.0) {
            prop_assert!(read.value.abs() <= 100_000.0);
        }
    }
}
