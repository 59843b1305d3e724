//! How many spoken numbers are heard in a second, on one core, in each language.

use std::time::Instant;

use trammel::language::Language;
use trammel::quantity::{Unit, hear_in, say_in};

use super::tongues::utterances;
use crate::values;

/// How often every utterance is heard; the quickest time counts.
const ROUNDS: usize = 20;

/// A tape's and a protractor's readings as the app says them, and every utterance that the tests of the language hear.
fn said(language: Language) -> Vec<(String, Unit, f64)> {
    let tape = (0..=300 * 4).map(|n| (f64::from(n) / 4.0 + 1.0 / 64.0, Unit::Inch, 1.0 / 64.0));
    let protractor = (-180 * 5..=180 * 5).map(|n| (f64::from(n) / 5.0, Unit::Degree, 0.05));
    let read = tape.chain(protractor).map(|(value, unit, step)| (say_in(language, value, unit, step), unit, step));
    read.chain(utterances(language).map(|(said, unit, step)| (said.to_owned(), unit, step))).collect()
}

#[test]
#[ignore = "a measurement: run by `cargo xtask bench library`"]
fn speeds() {
    for language in Language::ALL {
        let all = said(language);
        let round = || {
            let begun = Instant::now();
            let numbers = all
                .iter()
                .filter(|(said, unit, step)| !values(&hear_in(language, said, *unit, *step, None)).is_empty())
                .count();
            assert_eq!(numbers, all.len(), "every utterance is a number");
            begun.elapsed().as_secs_f64()
        };
        let least = (0..ROUNDS).map(|_| round()).fold(f64::INFINITY, f64::min);
        let rate = all.len() as f64 / least;
        println!("figure: spoken_parses_per_second_{} = {rate:.0}", language.code());
    }
}
