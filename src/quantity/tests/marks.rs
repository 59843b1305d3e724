//! Comma and point: what a screen shows and what may be typed in each language, and what the record has in all of them.

use super::super::{ParseError, Quantity, Unit, decimal_mark, parse_in, print_in};
use crate::language::Language;

// The decimal marks of Unicode CLDR 46, root locales de, en, es, fr.
#[test]
fn a_screen_shows_the_mark_of_its_language() {
    let shown = |language| print_in(language, -1227.25, Unit::Millimetre, 0.05);
    assert_eq!(shown(Language::English), "−1227.25 mm");
    for language in [Language::German, Language::French, Language::Spanish] {
        assert_eq!(decimal_mark(language), ',');
        assert_eq!(shown(language), "−1227,25 mm");
        assert_eq!(print_in(language, 227.6875, Unit::Inch, 1.0 / 16.0), "227 11/16 in", "a fraction has no mark");
    }
}

#[test]
fn where_the_comma_is_the_mark_either_may_be_typed() {
    let read = |language, text| parse_in(language, text, Unit::Millimetre, 0.001).map(|read| read.value);
    for language in Language::ALL {
        for text in ["5,5 mm", "5.5", "0,125"] {
            assert!(read(language, text).is_ok_and(|value| value == 5.5 || value == 0.125), "{text} {language:?}");
        }
        assert_eq!(read(language, "1.125"), Ok(1.125), "the pad and the record write a point");
        assert_eq!(read(language, "1.240,5"), Err(ParseError::NotANumber));
        assert_eq!(read(language, "1 240"), Err(ParseError::NotANumber));
        let comma = if language == Language::English { Err(ParseError::NotANumber) } else { Ok(1.125) };
        assert_eq!(read(language, "1,125"), comma, "{language:?}");
    }
}

#[test]
fn what_is_printed_is_typed_back_in_every_language() {
    for language in Language::ALL {
        for n in -3000..=3000 {
            let value = f64::from(n) / 1000.0;
            let shown = print_in(language, value, Unit::Degree, 0.001);
            assert_eq!(parse_in(language, &shown, Unit::Degree, 0.001).map(|read| read.value), Ok(value), "{shown}");
        }
    }
}

/// A record is read everywhere, whatever language it was written in.
#[test]
fn the_text_of_the_record_has_a_point() {
    assert_eq!(Quantity::new(2.6, Unit::Degree, 0.1).text, "2.6°");
}
