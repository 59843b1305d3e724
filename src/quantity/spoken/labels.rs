//! The few words of each place that a recogniser is told to expect, in each language.
//!
//! Fewer than the grammar has: digits one after the other, tens for the numerators of a fine tape ("drei und zwanzig
//! Zweiunddreißigstel": ones, and, tens in German; tens, and, ones in Spanish and with one in French), one word for each part.

use crate::language::Language;

/// Where something is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// A reading off a scale with decimals is asked for.
    Decimals,
    /// A reading off a tape is asked for, whose finest part of the inch this is: 16 for sixteenths.
    Fractions(u32),
    /// A reading was read back.
    Answer,
    /// No reading is asked for.
    Commands,
}

/// English, German, French and Spanish; then the finest part of the inch whose tape the word is wanted for first: 1 for all tools, 0
/// for those with a decimal scale alone.
type Label = ([&'static str; 4], u32);

/// In the order of teaching.
const READINGS: [Label; 31] = [
    (["zero", "null", "zéro", "cero"], 1),
    (["one", "eins", "un", "uno"], 1),
    (["two", "zwei", "deux", "dos"], 1),
    (["three", "drei", "trois", "tres"], 1),
    (["four", "vier", "quatre", "cuatro"], 1),
    (["five", "fünf", "cinq", "cinco"], 1),
    (["six", "sechs", "six", "seis"], 1),
    (["seven", "sieben", "sept", "siete"], 1),
    (["eight", "acht", "huit", "ocho"], 1),
    (["nine", "neun", "neuf", "nueve"], 1),
    (["minus", "minus", "moins", "menos"], 1),
    (["point", "Komma", "virgule", "coma"], 0),
    (["and", "und", "et", "y"], 2),
    (["half", "halb", "demi", "medio"], 2),
    (["quarter", "Viertel", "quart", "cuarto"], 4),
    (["eighths", "Achtel", "huitièmes", "octavos"], 8),
    (["sixteenths", "Sechzehntel", "seizièmes", "dieciseisavos"], 16),
    (["eleven", "elf", "onze", "once"], 16),
    (["thirteen", "dreizehn", "treize", "trece"], 16),
    (["fifteen", "fünfzehn", "quinze", "quince"], 16),
    (["thirty-seconds", "Zweiunddreißigstel", "trente-deuxièmes", "treintaidosavos"], 32),
    (["seventeen", "siebzehn", "dix-sept", "diecisiete"], 32),
    (["nineteen", "neunzehn", "dix-neuf", "diecinueve"], 32),
    (["twenty", "zwanzig", "vingt", "veinte"], 32),
    (["thirty", "dreißig", "trente", "treinta"], 32),
    (["sixty-fourths", "Vierundsechzigstel", "soixante-quatrièmes", "sesentaicuatroavos"], 64),
    (["forty", "vierzig", "quarante", "cuarenta"], 64),
    (["fifty", "fünfzig", "cinquante", "cincuenta"], 64),
    (["sixty", "sechzig", "soixante", "sesenta"], 64),
    (["ten", "zehn", "dix", "diez"], 100),
    (["twelve", "zwölf", "douze", "doce"], 100),
];

const COMMANDS: [[&str; 4]; 5] = [
    ["keep it", "behalten", "garder", "guardar"],
    ["strike that", "streichen", "rayer", "tachar"],
    ["say again", "noch mal", "répéter", "otra vez"],
    ["next", "weiter", "suivant", "siguiente"],
    ["go back", "zurück", "retour", "atrás"],
];
const ANSWERS: [[&str; 4]; 2] = [["yes", "ja", "oui", "sí"], ["no", "nein", "non", "no"]];
const DONE: [&str; 4] = ["done", "fertig", "fait", "hecho"];

const fn column(language: Language) -> usize {
    match language {
        Language::English => 0,
        Language::German => 1,
        Language::French => 2,
        Language::Spanish => 3,
    }
}

/// The word of `language` that an English word of these places is; the word itself when it is none of them.
#[must_use]
pub fn label(language: Language, english: &'static str) -> &'static str {
    let readings = READINGS.iter().map(|(words, _)| words);
    let mut all = readings.chain(&COMMANDS).chain(&ANSWERS).chain([&DONE]);
    all.find(|words| words[0] == english).map_or(english, |words| words[column(language)])
}

/// What may be said at a place, 6 to 35 words.
#[must_use]
pub fn vocabulary(language: Language, place: Place) -> Vec<&'static str> {
    let is_said = |first: u32| match place {
        Place::Decimals => first <= 1,
        Place::Fractions(finest) => (1..=finest).contains(&first),
        Place::Answer | Place::Commands => false,
    };
    let readings = READINGS.iter().filter(|(_, first)| is_said(*first)).map(|(words, _)| words);
    let others: &[[&str; 4]] = match place {
        Place::Answer => &ANSWERS,
        Place::Commands => &[DONE],
        Place::Decimals | Place::Fractions(_) => &[],
    };
    readings.chain(&COMMANDS).chain(others).map(|words| words[column(language)]).collect()
}

#[cfg(test)]
mod tests {
    use super::super::super::Unit;
    use super::super::{Command, Heard, hear_in};
    use super::*;

    /// What is taught and what may be said are one list of words, wanted for the same tapes.
    #[test]
    fn what_is_taught_may_be_said() {
        for (word, _, first) in super::super::taught::TAUGHT {
            let reading = READINGS.iter().find(|(words, _)| words[0] == word).map(|(_, first)| *first);
            let command = COMMANDS.iter().find(|words| words[0] == word).map(|_| 1);
            assert_eq!(reading.or(command), Some(first), "{word}");
        }
    }

    /// A number below a hundred in the words of the table.
    fn below_hundred(language: Language, number: usize) -> String {
        let word = |value: usize| {
            let place = match value {
                0..=9 => value,
                11 => 17,
                13 => 18,
                15 => 19,
                17 => 21,
                19 => 22,
                20 => 23,
                30 => 24,
                40 => 26,
                50 => 27,
                60 => 28,
                _ => panic!("{value} is no word of a numerator"),
            };
            READINGS[place].0[column(language)]
        };
        let (tens, ones) = (number / 10 * 10, number % 10);
        let and = label(language, "and");
        match (language, tens, ones) {
            (_, 0 | 10, _) => word(number).into(),
            (Language::German, ..) => format!("{} {and} {}", word(ones), word(tens)),
            (Language::Spanish, ..) | (Language::French, _, 1) => format!("{} {and} {}", word(tens), word(ones)),
            _ => format!("{} {}", word(tens), word(ones)),
        }
    }

    #[test]
    fn every_fraction_of_every_tape_can_be_said_with_these_words() {
        let parts = [("quarter", 4), ("eighths", 8), ("sixteenths", 16), ("thirty-seconds", 32), ("sixty-fourths", 64)];
        for language in Language::ALL {
            let and = label(language, "and");
            for (part, bottom) in parts {
                for top in (1..bottom).step_by(2) {
                    let fraction = format!("{} {}", below_hundred(language, top), label(language, part));
                    let value = top as f64 / bottom as f64;
                    let two_two_seven = [2, 2, 7].map(|digit| READINGS[digit].0[column(language)]).join(" ");
                    let said =
                        [(fraction.clone(), value), (format!("{two_two_seven} {and} {fraction}"), 227.0 + value)];
                    for (said, value) in said {
                        let heard = hear_in(language, &said, Unit::Inch, 1.0 / 64.0, None);
                        let first = if let Heard::Reading(found) = &heard { found[0].value } else { f64::NAN };
                        assert_eq!(first, value, "{said}: {heard:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn every_decimal_can_be_said_with_these_words() {
        for language in Language::ALL {
            for n in 0..1000 {
                let digits = [n / 100, n / 10 % 10, n % 10].map(|digit| READINGS[digit].0[column(language)]);
                let [minus, point] = ["minus", "point"].map(|word| label(language, word));
                let said = format!("{minus} {} {point} {} {}", digits[0], digits[1], digits[2]);
                let heard = hear_in(language, &said, Unit::Degree, 0.01, None);
                let value = if n == 0 { 0.0 } else { -(n as f64) / 100.0 };
                assert!(matches!(&heard, Heard::Reading(found) if found[0].value == value), "{said}: {heard:?}");
            }
        }
    }

    #[test]
    fn commands_and_answers_are_understood_as_what_they_are() {
        use Command::{Again, Back, Done, Keep, Next, No, Strike, Yes};
        let heard = |language, said: &str| match hear_in(language, said, Unit::Inch, 0.0625, None) {
            Heard::Command(command) => command,
            other => panic!("{said}: {other:?}"),
        };
        for language in Language::ALL {
            let meant =
                |place| vocabulary(language, place).into_iter().map(|said| heard(language, said)).collect::<Vec<_>>();
            assert_eq!(meant(Place::Answer), [Keep, Strike, Again, Next, Back, Yes, No]);
            assert_eq!(meant(Place::Commands), [Keep, Strike, Again, Next, Back, Done]);
        }
    }

    #[test]
    fn a_place_has_few_words() {
        for language in Language::ALL {
            let count = |place| vocabulary(language, place).len();
            let counts = [Place::Decimals, Place::Fractions(16), Place::Fractions(64), Place::Answer].map(count);
            assert_eq!(counts, [17, 24, 33, 7], "{language:?}");
        }
    }
}
