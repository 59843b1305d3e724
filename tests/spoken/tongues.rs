//! German, French and Spanish: single utterances with their readings, and everything that is said is heard back as the same number.

use trammel::language::Language;
use trammel::quantity::{Heard, Unit, hear_in, say_in};

use crate::{rows, unit, values};

/// The language, its utterances with their readings, what is refused, what is a command.
const TABLES: [(Language, [&str; 3]); 3] = [
    (Language::German, [include_str!("de/heard.tsv"), include_str!("de/unheard.tsv"), include_str!("de/commands.tsv")]),
    (Language::French, [include_str!("fr/heard.tsv"), include_str!("fr/unheard.tsv"), include_str!("fr/commands.tsv")]),
    (
        Language::Spanish,
        [include_str!("es/heard.tsv"), include_str!("es/unheard.tsv"), include_str!("es/commands.tsv")],
    ),
];

/// What is heard in a language, with the unit and the tool's step; English has its table in `cases.rs`.
pub(crate) fn utterances(language: Language) -> impl Iterator<Item = (&'static str, Unit, f64)> {
    let own = TABLES.iter().filter(move |(other, _)| *other == language);
    let own = own.flat_map(|(_, [heard, ..])| rows(heard)).map(|[ucum, step, said, ..]: [&str; 5]| (ucum, step, said));
    let english = (language == Language::English).then(|| rows(include_str!("heard.tsv")));
    let english = english.into_iter().flatten().map(|[ucum, step, said, _]: [&str; 4]| (ucum, step, said));
    own.chain(english).map(|(ucum, step, said)| (said, unit(ucum), step.parse().expect("a step")))
}

#[test]
fn every_utterance_has_its_readings_in_order() {
    let mut wrong = Vec::new();
    for (language, [heard, ..]) in TABLES {
        for [ucum, step, said, expected, _source] in rows(heard) {
            let step: f64 = step.parse().expect("a step");
            let heard = hear_in(language, said, unit(ucum), step, None);
            let expected: Vec<f64> = expected.split(' ').map(|value| value.parse().expect("a value")).collect();
            let got = values(&heard);
            let same = got.len() == expected.len() && got.iter().zip(&expected).all(|(a, b)| (a - b).abs() < 1e-9);
            if !same {
                wrong.push(format!("{said:?} in {ucum}: {got:?} {heard:?}, not {expected:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn what_is_not_understood_is_refused_in_its_sentence() {
    for (language, [_, unheard, _]) in TABLES {
        for [ucum, said, sentence] in rows(unheard) {
            match hear_in(language, said, unit(ucum), 0.0625, None) {
                Heard::Unheard(why) => assert_eq!(why.to_string(), sentence, "{said:?} in {ucum}"),
                other => panic!("{said:?} in {ucum}: {other:?}"),
            }
        }
    }
}

#[test]
fn commands_are_whole_utterances() {
    for (language, [_, _, commands]) in TABLES {
        for [said, command] in rows(commands) {
            match hear_in(language, said, Unit::Inch, 0.0625, None) {
                Heard::Command(heard) => assert_eq!(format!("{heard:?}"), command, "{said:?}"),
                other => assert!(command == "-" && matches!(other, Heard::Unheard(_)), "{said:?}: {other:?}"),
            }
        }
    }
}

/// Says `value` and finds it first among what is heard.
fn comes_back(language: Language, value: f64, unit: Unit, step: f64) {
    let said = say_in(language, value, unit, step);
    let heard = hear_in(language, &said, unit, step, None);
    let first = values(&heard).first().copied();
    assert!(first.is_some_and(|first| (first - value).abs() < 1e-9), "{said:?} is {value} {unit:?}, heard {heard:?}");
}

#[test]
fn every_sixty_fourth_to_three_hundred_inches_comes_back() {
    for language in Language::ALL {
        for n in -64..=300 * 64 {
            comes_back(language, f64::from(n) / 64.0, Unit::Inch, 1.0 / 64.0);
        }
    }
}

#[test]
fn every_twentieth_of_a_degree_comes_back() {
    for language in Language::ALL {
        for n in -180 * 20..=180 * 20 {
            comes_back(language, f64::from(n) / 20.0, Unit::Degree, 0.05);
        }
    }
}

#[test]
fn whole_numbers_and_thousandths_in_every_unit_come_back() {
    for language in Language::ALL {
        for unit in Unit::ALL {
            let most = match unit {
                Unit::Metre => 100,
                Unit::Degree => 360,
                Unit::Celsius => 1000,
                _ => 1300,
            };
            for n in 0..=most {
                comes_back(language, f64::from(n), unit, 1.0);
                if unit != Unit::One {
                    comes_back(language, f64::from(n) / 1000.0, unit, 0.001);
                    comes_back(language, -f64::from(n) / 10.0, unit, 0.1);
                }
            }
        }
        for n in 0..100_000 {
            comes_back(language, f64::from(n), Unit::One, 1.0);
        }
    }
}
