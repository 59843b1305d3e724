//! The words that a builder teaches a recogniser which knows no language, and in what order readings are made of them.
//!
//! Fewer than the grammar of spoken numbers has: digits one after the other, a point, fractions of the inch with their numerators
//! in one word or two. Less to teach is sooner taught, and each word more is one more to be mistaken for.

use super::label;
use crate::language::{self, Language};

/// A word's part in a reading. The order of two words depends on their roles alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// "zero" to "nine".
    Digit = 1,
    /// "ten" to "nineteen": a numerator, or a whole number of its own.
    Teen = 2,
    /// "twenty" to "sixty", which a digit may follow.
    Ten = 3,
    /// Between whole number and decimals.
    Point = 4,
    /// Between whole number and fraction.
    And = 5,
    /// "minus".
    Sign = 6,
    /// "sixteenths": the end of a fraction.
    Part = 7,
    /// "half", "quarter": the end of a fraction, its numerator said before it or not.
    Portion = 8,
    /// A whole utterance.
    Command = 9,
}

impl Role {
    const ALL: [Self; 9] = [
        Self::Digit,
        Self::Teen,
        Self::Ten,
        Self::Point,
        Self::And,
        Self::Sign,
        Self::Part,
        Self::Portion,
        Self::Command,
    ];

    /// Whether an utterance may begin with it.
    const fn begins(self) -> bool {
        !matches!(self, Self::And | Self::Part)
    }

    /// Whether an utterance may end with it.
    const fn ends(self) -> bool {
        !matches!(self, Self::Point | Self::And | Self::Sign)
    }

    /// Whether it may follow `before`.
    const fn follows(self, before: Self) -> bool {
        match before {
            Self::Digit => !matches!(self, Self::Sign | Self::Command),
            Self::Teen => matches!(self, Self::Digit | Self::Point | Self::And | Self::Part),
            Self::Ten => matches!(self, Self::Digit | Self::Point | Self::And | Self::Part),
            Self::Point => matches!(self, Self::Digit),
            Self::And => matches!(self, Self::Digit | Self::Teen | Self::Ten | Self::Portion),
            Self::Sign => matches!(self, Self::Digit | Self::Teen | Self::Ten | Self::Point | Self::Portion),
            Self::Part | Self::Portion | Self::Command => false,
        }
    }
}

/// The words to teach, in the order of teaching, and the finest part of the inch whose tape they are wanted for first: 1 for all
/// tools, 0 for those with a decimal scale alone.
pub const TAUGHT: [(&str, Role, u32); 36] = [
    ("zero", Role::Digit, 1),
    ("one", Role::Digit, 1),
    ("two", Role::Digit, 1),
    ("three", Role::Digit, 1),
    ("four", Role::Digit, 1),
    ("five", Role::Digit, 1),
    ("six", Role::Digit, 1),
    ("seven", Role::Digit, 1),
    ("eight", Role::Digit, 1),
    ("nine", Role::Digit, 1),
    ("minus", Role::Sign, 1),
    ("point", Role::Point, 0),
    ("keep it", Role::Command, 1),
    ("strike that", Role::Command, 1),
    ("say again", Role::Command, 1),
    ("next", Role::Command, 1),
    ("go back", Role::Command, 1),
    ("and", Role::And, 2),
    ("half", Role::Portion, 2),
    ("quarter", Role::Portion, 4),
    ("eighths", Role::Part, 8),
    ("sixteenths", Role::Part, 16),
    ("eleven", Role::Teen, 16),
    ("thirteen", Role::Teen, 16),
    ("fifteen", Role::Teen, 16),
    ("thirty-seconds", Role::Part, 32),
    ("seventeen", Role::Teen, 32),
    ("nineteen", Role::Teen, 32),
    ("twenty", Role::Ten, 32),
    ("thirty", Role::Ten, 32),
    ("sixty-fourths", Role::Part, 64),
    ("forty", Role::Ten, 64),
    ("fifty", Role::Ten, 64),
    ("sixty", Role::Ten, 64),
    ("ten", Role::Teen, 100),
    ("twelve", Role::Teen, 100),
];

/// Readings to teach in one go after the single words, which sound otherwise among others: each word of a tape of sixteenths and of a
/// decimal scale is in one of them.
pub const PHRASES: [&str; 12] = [
    "three eight point one",
    "minus four point nine",
    "five zero six point seven",
    "two nine point eight",
    "one one three point zero",
    "six and one half",
    "four and one quarter",
    "nine and five sixteenths",
    "nine three and three eighths",
    "eight and eleven sixteenths",
    "one and thirteen sixteenths",
    "minus five and fifteen sixteenths",
];

/// Words to listen for at one place, as a recogniser takes them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listening {
    /// The words.
    pub labels: Vec<&'static str>,
    /// The role of each, from 1 up.
    pub roles: Vec<u8>,
    /// For each role from 0 (the edge of the utterance) up, a bit for each role that may follow it; bit 0 is the end.
    pub follows: Vec<u32>,
}

/// The word to teach at a place of [`TAUGHT`], in the language that is spoken: what the recogniser knows it by, and what the grammar of
/// that language reads.
pub fn word(place: usize) -> &'static str {
    label(language::current(), TAUGHT[place].0)
}

/// The reading at a place of [`PHRASES`], in the language that is spoken.
pub fn phrase(place: usize) -> String {
    phrase_in(language::current(), place)
}

fn phrase_in(language: Language, place: usize) -> String {
    let english = PHRASES[place];
    if language == Language::English {
        return english.to_owned();
    }
    // Nobody but English has a one before a half.
    let words = english.split(' ').zip(english.split(' ').skip(1).chain([""]));
    let said = words.filter(|(word, next)| *word != "one" || !matches!(*next, "half" | "quarter"));
    said.map(|(word, _)| label(language, word)).collect::<Vec<_>>().join(" ")
}

impl Listening {
    fn of(words: impl Iterator<Item = (&'static str, Role)>) -> Self {
        let language = language::current();
        let (labels, roles) = words.map(|(word, role)| (label(language, word), role as u8)).unzip();
        let bits = |may: &dyn Fn(Role) -> bool| -> u32 {
            Role::ALL.into_iter().filter(|&next| may(next)).map(|next| 1 << next as u32).sum()
        };
        let mut follows = vec![bits(&Role::begins)];
        for before in Role::ALL {
            follows.push(bits(&|next| next.follows(before)) | u32::from(before.ends()));
        }
        Self { labels, roles, follows }
    }
}

/// Where a reading is asked for: numbers and the commands of a step. `finest` is the finest part of the inch that the tool shows: 16
/// on a tape of sixteenths, none on a scale with decimals.
pub fn readings(finest: Option<u32>) -> Listening {
    let is_heard = |first: u32| first == 1 || finest.map_or(first == 0, |finest| (1..=finest).contains(&first));
    Listening::of(TAUGHT.into_iter().filter(|&(_, _, first)| is_heard(first)).map(|(label, role, _)| (label, role)))
}

/// After a reading was read back: commands and nothing else.
pub fn answers() -> Listening {
    let commands = TAUGHT.into_iter().filter(|&(_, role, _)| role == Role::Command);
    Listening::of(commands.map(|(label, role, _)| (label, role)))
}

#[cfg(test)]
mod tests {
    use super::super::super::Unit;
    use super::super::{Heard, hear, hear_in};
    use super::*;

    fn may(listening: &Listening, before: usize, next: usize) -> bool {
        listening.follows[before] >> next & 1 == 1
    }

    /// Draws sentences that the order of roles allows.
    fn sentences(listening: &Listening, count: usize) -> Vec<String> {
        let mut random = fastrand::Rng::with_seed(5);
        let mut drawn = Vec::new();
        while drawn.len() < count {
            let (mut words, mut role) = (Vec::new(), 0);
            while words.len() < 6 {
                if !words.is_empty() && may(listening, role, 0) && random.u8(0..3) == 0 {
                    break;
                }
                let next: Vec<usize> = (0..listening.labels.len())
                    .filter(|&word| may(listening, role, usize::from(listening.roles[word])))
                    .collect();
                let Some(&word) = random.choice(&next) else { break };
                words.push(listening.labels[word]);
                role = usize::from(listening.roles[word]);
            }
            if may(listening, role, 0) {
                drawn.push(words.join(" "));
            }
        }
        drawn
    }

    #[test]
    fn the_phrases_are_the_same_readings_in_every_language() {
        let readings = |language, said: &str| match hear_in(language, said, Unit::Inch, 1.0 / 16.0, None) {
            Heard::Reading(found) => found[0].value,
            other => panic!("{said}: {other:?}"),
        };
        for (place, english) in PHRASES.into_iter().enumerate() {
            let value = readings(Language::English, english);
            for language in Language::ALL {
                let said = phrase_in(language, place);
                assert_eq!(readings(language, &said), value, "{said}");
            }
        }
    }

    /// Otherwise a recogniser could not tell its words apart.
    #[test]
    fn every_taught_word_has_a_word_of_its_own_in_every_language() {
        for language in [Language::German, Language::French, Language::Spanish] {
            let words: std::collections::HashSet<_> = TAUGHT.iter().map(|(word, ..)| label(language, word)).collect();
            assert_eq!(words.len(), TAUGHT.len(), "{language:?}");
            let same = TAUGHT.iter().filter(|(word, ..)| label(language, word) == *word);
            assert!(same.clone().all(|(word, ..)| ["minus", "six"].contains(word)), "{language:?}");
        }
    }

    #[test]
    fn no_state_listens_for_more_than_thirty_five_words() {
        for (finest, count) in [(None, 17), (Some(16), 24), (Some(64), 33)] {
            assert_eq!(readings(finest).labels.len(), count, "{finest:?}");
        }
        assert_eq!(answers().labels.len(), 5);
    }

    #[test]
    fn the_phrases_are_readings_of_taught_words_and_hold_each_of_a_sixteenths_tape() {
        for phrase in PHRASES {
            assert!(matches!(hear(phrase, Unit::Inch, 1.0 / 16.0, None), Heard::Reading(_)), "{phrase}");
        }
        let said: Vec<&str> = PHRASES.iter().flat_map(|phrase| phrase.split(' ')).collect();
        for (label, role, finest) in TAUGHT {
            let wanted = finest <= 16 && role != Role::Command;
            assert_eq!(said.contains(&label), wanted, "{label}");
        }
    }

    /// What is taught is said the way the grammar of spoken numbers has it.
    #[test]
    fn every_reading_can_be_said_with_the_taught_words() {
        for (said, value) in [
            ("two two seven and eleven sixteenths", 227.6875),
            ("minus three quarter", -0.75),
            ("one quarter", 0.25),
            ("five and one half", 5.5),
            ("one sixteenths", 0.0625),
            ("four and twenty one thirty-seconds", 4.65625),
            ("sixty three sixty-fourths", 0.984_375),
            ("minus one point two", -1.2),
            ("zero", 0.0),
        ] {
            let Heard::Reading(found) = hear(said, Unit::Inch, 1.0 / 64.0, None) else { panic!("{said}") };
            assert!((found[0].value - value).abs() < 1e-12, "{said}: {}", found[0].value);
        }
    }

    #[test]
    fn what_the_order_allows_is_mostly_a_reading_or_a_command() {
        for (finest, share) in [(None, 0.8), (Some(16), 0.5)] {
            let all = sentences(&readings(finest), 500);
            let understood = |said: &&String| !matches!(hear(said, Unit::Inch, 1.0 / 16.0, None), Heard::Unheard(_));
            let good = all.iter().filter(understood).count() as f64 / all.len() as f64;
            assert!(good > share, "{finest:?}: {good}");
        }
    }
}
