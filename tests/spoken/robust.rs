//! No utterance panics, and what is read is physical, whatever a recogniser delivers.

use proptest::prelude::*;
use trammel::quantity::{Heard, Unit, hear};

/// Words, digits and marks that mean something to the grammar, and a few that do not.
const VOCABULARY: &str = "zero oh one won two to three four for five eight ate nine ten eleven thirteen fifteen twenty thirty \
    fifty sixty ninety hundred thousand a an and of over point decimal minus plus half quarter quarters fourths eighths \
    sixteenths seconds tenths hundredths thousandths thou third foot feet inch inches degrees minutes pounds force newton metres \
    um next keep it 0 00 2 27 227 16 64ths 1,240 91.3 .5 999999 / - ' ½";

/// Rows of words of the vocabulary.
fn rows_of_words(count: std::ops::Range<usize>) -> impl Strategy<Value = Vec<&'static str>> {
    let words: Vec<&str> = VOCABULARY.split_whitespace().collect();
    prop::collection::vec(prop::sample::select(words), count)
}

fn check(said: &str, unit: Unit, step: f64, expected: Option<f64>) -> Result<(), TestCaseError> {
    match hear(said, unit, step, expected) {
        Heard::Reading(readings) => {
            prop_assert!((1..=4).contains(&readings.len()), "{readings:?}");
            for reading in &readings {
                prop_assert_eq!((reading.unit, reading.text.as_str()), (unit, said));
                // A hundred metres are 100 000 mm, the largest number of any unit.
                prop_assert!(reading.value.abs() <= 100_000.0, "{reading:?}");
                prop_assert!(readings.iter().filter(|other| other.value == reading.value).count() == 1, "{readings:?}");
                prop_assert!(!(reading.value == 0.0 && reading.value.is_sign_negative()), "minus zero");
                let kept = serde_json::to_string(reading).expect("written");
                let read: trammel::quantity::Quantity = serde_json::from_str(&kept).expect("read");
                // A resolution of seventeen digits, which no instrument has, may come back with another last bit.
                prop_assert!((read.step - reading.step).abs() <= 4.0 * f64::EPSILON * reading.step.abs(), "{kept}");
                prop_assert_eq!(&trammel::quantity::Quantity { step: reading.step, ..read }, reading);
            }
        }
        Heard::Command(_) => {}
        Heard::Unheard(why) => prop_assert!(!why.to_string().is_empty()),
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_text_panics(
        said in ".{0,90}",
        unit in prop::sample::select(&Unit::ALL[..]),
        step in prop::num::f64::ANY,
        expected in prop::option::of(prop::num::f64::ANY),
    ) {
        check(&said, unit, step, expected)?;
    }

    #[test]
    fn no_row_of_words_panics(
        words in rows_of_words(0..24),
        joined in prop::sample::select(&[" ", "", "-", ", "][..]),
        unit in prop::sample::select(&Unit::ALL[..]),
    ) {
        check(&words.join(joined), unit, 0.0625, Some(227.0))?;
    }

    #[test]
    fn no_short_row_of_words_panics(
        words in rows_of_words(0..6),
        unit in prop::sample::select(&[Unit::Inch, Unit::Degree, Unit::Millimetre][..]),
    ) {
        check(&words.join(" "), unit, 0.0625, None)?;
    }
}
