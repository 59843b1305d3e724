//! What an utterance means where a number is asked for.

use crate::language::{self, Language, tr, words};
use crate::procedure::Ask;
use crate::quantity::{Command, Heard, Quantity, Unheard, Unit, hear_in};

/// More readings than these are no question that can be asked.
const MOST: usize = 4;

/// What a recogniser makes of an utterance.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Utterance {
    /// The words, likeliest first.
    pub ways: Vec<String>,
    /// The recogniser stands by the likeliest. A recogniser that does not say is taken to.
    pub sure: bool,
    /// They are the labels of words that were taught ([`crate::quantity::taught`]), which are English whatever is spoken.
    pub labels: bool,
}

/// The number that is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// Its unit.
    pub unit: Unit,
    /// The instrument's step, in the unit.
    pub step: f64,
    /// About what is expected, in the unit: ranks, and nothing else.
    pub expected: Option<f64>,
    /// The physical question that gives it its sign.
    pub ask: Option<Ask>,
}

/// What an utterance means.
#[derive(Clone, Debug, PartialEq)]
pub enum Meaning {
    /// A number, to be read back. More than one, or one that the recogniser does not stand by, is a question.
    Reading {
        /// Likeliest first; never empty.
        readings: Vec<Quantity>,
        /// It need not be asked about, only read back.
        sure: bool,
    },
    /// The answer to the physical question: whether it makes the number negative.
    Sign(bool),
    /// A command.
    Command(Command),
    /// Nothing: why, in words. Nothing changes.
    Nothing(String),
}

/// What an utterance means; `asked` where a number is asked for.
///
/// A command is obeyed only as the likeliest way, and where the recogniser stands by it: it acts at once, and a number does not.
#[must_use]
pub fn understand(utterance: &Utterance, asked: Option<&Asked>) -> Meaning {
    let Some(first) = utterance.ways.first() else { return Meaning::Nothing(Unheard::Nothing.to_string()) };
    let language = if utterance.labels { Language::English } else { language::current() };
    let Some(asked) = asked else { return command_alone(language, first, utterance.sure) };
    if let Some(negative) = asked.ask.as_ref().and_then(|ask| answer(ask, first)) {
        return Meaning::Sign(negative);
    }
    let hear_one = |words: &String| hear_in(language, words, asked.unit, asked.step, asked.expected);
    let why = match hear_one(first) {
        Heard::Command(command) if utterance.sure => return Meaning::Command(command),
        Heard::Command(_) => return Meaning::Nothing(words!("That was not clear. Say it once more.").to_owned()),
        Heard::Unheard(why) => Some(why),
        Heard::Reading(_) => None,
    };
    let mut readings: Vec<Quantity> = Vec::new();
    for heard in utterance.ways.iter().map(hear_one) {
        let Heard::Reading(more) = heard else { continue };
        for reading in more {
            if readings.iter().all(|known| known.value != reading.value) {
                readings.push(reading);
            }
        }
    }
    readings.truncate(MOST);
    match why {
        Some(why) if readings.is_empty() => Meaning::Nothing(why.to_string()),
        // The likeliest way was no number: another one is no more than a guess.
        why => Meaning::Reading { sure: utterance.sure && why.is_none() && readings.len() == 1, readings },
    }
}

/// Where no number is asked for: a command or nothing.
fn command_alone(language: Language, words: &str, sure: bool) -> Meaning {
    match hear_in(language, words, Unit::One, 1.0, None) {
        Heard::Command(command) if sure => Meaning::Command(command),
        _ => Meaning::Nothing(words!("That is no command here. Say next, back, again or done.").to_owned()),
    }
}

/// Whether the words are one of the answers to the question; "plus" and "minus" are its answers too.
fn answer(ask: &Ask, words: &str) -> Option<bool> {
    let plain = |text: &str| {
        let letters = text.chars().map(|letter| if letter.is_alphanumeric() { letter } else { ' ' });
        letters.collect::<String>().to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let said = plain(words);
    let is = |answer: &str, sign: &str| said == sign || said == plain(answer);
    if is(&ask.plus, "plus") {
        Some(false)
    } else if is(&ask.minus, "minus") {
        Some(true)
    } else {
        None
    }
}

/// What is said back of a number that was heard, before anything is kept. `open`: the physical question, where nothing gave the number its
/// sign yet; it comes before "keep it".
#[must_use]
pub fn read_back(readings: &[Quantity], sure: bool, open: Option<&Ask>) -> Vec<String> {
    let Some(first) = readings.first() else { return Vec::new() };
    let mut words = Vec::new();
    if sure {
        words.push(format!("{}.", first.say()));
    } else {
        let asked = |number: String| tr!("Was it {number}?", number);
        let asked_too = |number: String| tr!("Or was it {number}?", number);
        words.push(asked(first.say()));
        words.extend(readings[1..].iter().map(|other| asked_too(other.say())));
    }
    match open {
        Some(ask) => words.push(question(ask)),
        None if sure => words.push(words!("Keep it?").to_owned()),
        None => {}
    }
    words
}

/// A physical question with its answers, to be heard.
pub(in crate::procedure) fn question(ask: &Ask) -> String {
    let Ask { question, plus, minus } = ask;
    tr!("{question} {plus}, or {minus}?", question, plus, minus)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(ways: &[&str], sure: bool) -> Utterance {
        Utterance { ways: ways.iter().map(|way| (*way).to_owned()).collect(), sure, labels: false }
    }

    fn pitch() -> Asked {
        let ask = Ask {
            question: "Which end is high?".to_owned(),
            plus: "Tail end high".to_owned(),
            minus: "Tail end low".to_owned(),
        };
        Asked { unit: Unit::Degree, step: 0.1, expected: Some(2.6), ask: Some(ask) }
    }

    fn values(meaning: &Meaning) -> (Vec<f64>, bool) {
        match meaning {
            Meaning::Reading { readings, sure } => (readings.iter().map(|reading| reading.value).collect(), *sure),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_number_is_read_back_and_asked_about_where_it_is_not_clear() {
        let asked = pitch();
        let clear = understand(&said(&["two point six"], true), Some(&asked));
        assert_eq!(values(&clear), (vec![2.6], true));
        let unsure = understand(&said(&["two point six"], false), Some(&asked));
        assert_eq!(values(&unsure), (vec![2.6], false));
        let two = understand(&said(&["two point six", "two point five", "2.6"], true), Some(&asked));
        assert_eq!(values(&two), (vec![2.6, 2.5], false), "each value once, and a question");
        let guessed = understand(&said(&["to the point", "two point nine"], true), Some(&asked));
        assert_eq!(values(&guessed), (vec![2.9], false), "what only a less likely way gives is a question");
    }

    #[test]
    fn what_is_neither_changes_nothing_and_says_why() {
        let asked = pitch();
        for ways in [&["the weather is fine"][..], &["", ""], &[], &["two hundred and"]] {
            let Meaning::Nothing(why) = understand(&said(ways, true), Some(&asked)) else { panic!("{ways:?}") };
            assert!(!why.is_empty());
        }
    }

    #[test]
    fn a_command_is_obeyed_only_when_it_is_clear() {
        let asked = pitch();
        assert_eq!(understand(&said(&["keep it"], true), Some(&asked)), Meaning::Command(Command::Keep));
        assert_eq!(understand(&said(&["Yes."], true), Some(&asked)), Meaning::Command(Command::Yes));
        assert!(matches!(understand(&said(&["keep it"], false), Some(&asked)), Meaning::Nothing(_)));
        assert!(matches!(understand(&said(&["keep at", "keep it"], true), Some(&asked)), Meaning::Nothing(_)));
        assert_eq!(understand(&said(&["done"], true), None), Meaning::Command(Command::Done));
        assert!(matches!(understand(&said(&["two point six"], true), None), Meaning::Nothing(_)));
    }

    #[test]
    fn the_physical_question_can_be_answered() {
        let asked = pitch();
        assert_eq!(understand(&said(&["tail end low"], true), Some(&asked)), Meaning::Sign(true));
        assert_eq!(understand(&said(&["Tail end high."], true), Some(&asked)), Meaning::Sign(false));
        assert_eq!(understand(&said(&["minus"], true), Some(&asked)), Meaning::Sign(true));
        let none = Asked { ask: None, ..asked };
        assert!(matches!(understand(&said(&["tail end low"], true), Some(&none)), Meaning::Nothing(_)));
    }

    #[test]
    fn what_is_said_back() {
        let two = [Quantity::new(227.6875, Unit::Inch, 1.0 / 16.0), Quantity::new(227.5, Unit::Inch, 1.0 / 16.0)];
        assert_eq!(read_back(&two[..1], true, None), ["two twenty-seven and eleven sixteenths inches.", "Keep it?"]);
        assert_eq!(
            read_back(&two, false, None),
            ["Was it two twenty-seven and eleven sixteenths inches?", "Or was it two twenty-seven and a half inches?"]
        );
        let open = pitch().ask;
        let words = read_back(&[Quantity::new(2.6, Unit::Degree, 0.1)], true, open.as_ref());
        assert_eq!(words, ["two point six degrees.", "Which end is high? Tail end high, or Tail end low?"]);
        assert!(read_back(&[], true, None).is_empty());
    }
}
