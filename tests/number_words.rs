//! Spoken numbers held against two general-purpose libraries of the Python package index: `num2words`, and `unicode-rbnf`, which
//! carries the spell-out rules of the Unicode CLDR (those of ICU). What they say is heard as the number that they were given, and what
//! we say is what they say, where a workshop says it so.
//!
//! How they are had: `tests/support/libraries.rs`.

#[path = "support/libraries.rs"]
mod libraries;

use std::collections::HashMap;
use std::sync::OnceLock;

use serde::{Deserialize, Serialize};
use trammel::language::Language;
use trammel::quantity::{Heard, Unit, hear_in, say_in};

/// What is installed, exactly.
const LIBRARIES: [(&str, &str); 2] = [("num2words", "0.5.14"), ("unicode-rbnf", "2.4.1")];
const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/number_words/spell.py");
const MOST: u32 = 9999;
const HUNDREDTHS: u32 = 3600;
const PARTS: [u32; 4] = [8, 16, 32, 64];

#[derive(Serialize)]
struct Given {
    languages: [&'static str; 4],
    most: u32,
    hundredths: u32,
    parts: [u32; 4],
}

/// What the libraries say in one language.
#[derive(Deserialize)]
struct Spelled {
    /// By library or form, the words of every whole number from 0.
    whole: HashMap<String, Vec<String>>,
    hundredths: Vec<String>,
    /// By the bottom of a fraction, its ordinal; in Spanish its cardinal.
    parts: HashMap<String, String>,
}

fn spelled(language: Language) -> &'static Spelled {
    static ALL: OnceLock<HashMap<String, Spelled>> = OnceLock::new();
    let all = ALL.get_or_init(|| {
        let given =
            Given { languages: Language::ALL.map(Language::code), most: MOST, hundredths: HUNDREDTHS, parts: PARTS };
        libraries::evaluate(&libraries::python("number-words", &LIBRARIES), SCRIPT, &given)
    });
    &all[language.code()]
}

/// The first reading of what is said.
fn first(language: Language, said: &str, unit: Unit, step: f64) -> Option<f64> {
    match hear_in(language, said, unit, step, None) {
        Heard::Reading(readings) => Some(readings[0].value),
        _ => None,
    }
}

#[test]
fn every_whole_number_that_they_say_is_heard_first() {
    let mut forms = 0;
    for language in Language::ALL {
        for (form, words) in &spelled(language).whole {
            assert_eq!(words.len(), MOST as usize + 1, "{language:?} {form}");
            for (number, said) in (0..).zip(words) {
                assert_eq!(
                    first(language, said, Unit::One, 1.0),
                    Some(f64::from(number)),
                    "{language:?} {form}: {said:?}"
                );
            }
            forms += 1;
        }
    }
    // Num2words and numbering in four languages; masculine and feminine in three.
    assert_eq!(forms, 4 * 2 + 3 * 2);
}

#[test]
fn every_hundredth_of_a_degree_that_they_say_is_heard_first() {
    for language in Language::ALL {
        let words = &spelled(language).hundredths;
        assert_eq!(words.len(), HUNDREDTHS as usize + 1);
        for (n, said) in (0..).zip(words) {
            let value = f64::from(n) / 100.0;
            assert_eq!(first(language, said, Unit::Degree, 0.01), Some(value), "{language:?}: {said:?}");
        }
    }
}

/// Hyphens part words as blanks do.
fn plain(words: &str) -> String {
    words.replace('-', " ")
}

/// English is not among them: a workshop says "two twenty-seven", which no library does.
#[test]
fn we_say_whole_numbers_as_they_do() {
    for language in [Language::German, Language::French, Language::Spanish] {
        let spelled = &spelled(language).whole;
        for n in 0..=MOST {
            let ours = say_in(language, f64::from(n), Unit::One, 1.0);
            for form in ["num2words", "numbering"] {
                assert_eq!(plain(&ours), plain(&spelled[form][n as usize]), "{language:?} {form} {n}");
            }
        }
    }
}

/// With a unit, numbers agree with it.
#[test]
fn we_say_numbers_before_a_noun_as_they_do() {
    let nouns = [
        (Language::German, Unit::Inch, "masculine", [" Zoll", " Zoll"]),
        (Language::German, Unit::Gallon, "feminine", [" Gallone", " Gallonen"]),
        (Language::French, Unit::Millimetre, "masculine", [" millimètre", " millimètres"]),
        (Language::French, Unit::Pound, "feminine", [" livre", " livres"]),
        (Language::Spanish, Unit::Millimetre, "masculine", [" milímetro", " milímetros"]),
        (Language::Spanish, Unit::Inch, "feminine", [" pulgada", " pulgadas"]),
    ];
    for (language, unit, form, [one, many]) in nouns {
        for n in 1..=MOST {
            let ours = say_in(language, f64::from(n), unit, 1.0);
            let number = ours.strip_suffix(if n == 1 { one } else { many });
            let theirs = &spelled(language).whole[form][n as usize];
            assert_eq!(number.map(plain), Some(plain(theirs)), "{language:?} {unit:?} {n}");
        }
    }
}

/// The digits after the mark one by one, as num2words has them. German says so; French and Spanish say two digits as a number, and one
/// digit or three one by one.
#[test]
fn we_say_decimals_as_they_do() {
    for (language, step) in [(Language::German, 0.01), (Language::French, 0.1), (Language::Spanish, 0.1)] {
        let mut compared = 0;
        for n in 0..=HUNDREDTHS {
            let value = f64::from(n) / 100.0;
            // They leave out the zero that tells the resolution.
            let whole_steps = if step < 0.1 { n % 10 != 0 } else { n % 10 == 0 && n % 100 != 0 };
            if !whole_steps {
                continue;
            }
            let ours = say_in(language, value, Unit::Degree, step);
            let number = ours.rsplit_once(' ').expect("a unit").0;
            let theirs = spelled(language).hundredths[n as usize].replace("punto", "coma");
            assert_eq!(plain(number), plain(&theirs), "{language:?} {value}");
            compared += 1;
        }
        assert!(compared >= 300, "{compared}");
    }
}

/// German parts are the ordinal with an l, French parts the ordinal, English parts the ordinal; Spanish parts are the cardinal with
/// "avo" (Real Academia Española, Diccionario panhispánico de dudas, "fraccionarios", from memory), except the octavo.
#[test]
fn fractions_made_of_their_words_are_heard() {
    for language in Language::ALL {
        let spelled = spelled(language);
        for bottom in PARTS {
            for top in (1..bottom).step_by(2) {
                let part = &spelled.parts[&bottom.to_string()];
                let part = match language {
                    Language::English => part.clone() + if top > 1 { "s" } else { "" },
                    Language::German => part.clone() + "l",
                    Language::French => part.clone() + if top > 1 { "s" } else { "" },
                    Language::Spanish if bottom == 8 => "octavos".into(),
                    Language::Spanish => part.clone() + "avos",
                };
                let number = &spelled.whole[if language == Language::English { "numbering" } else { "masculine" }];
                let said = format!("{} {part}", number[top as usize]);
                let value = f64::from(top) / f64::from(bottom);
                assert_eq!(first(language, &said, Unit::Inch, 1.0 / 64.0), Some(value), "{language:?}: {said:?}");
            }
        }
    }
}
