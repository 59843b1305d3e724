//! Phrases that a recogniser is told to expect.

use crate::language;
use crate::procedure::listen::Asked;
use crate::quantity::{Place, Unit, say, vocabulary};

/// What may be said at a step: the commands, the digits, the fractions of the tape in hand, the answers to its question. The number that is
/// expected is not among them: a recogniser that is led toward it would hear what it should only measure.
#[must_use]
pub fn phrases(asked: Option<&Asked>) -> Vec<String> {
    let words = |place| vocabulary(language::current(), place).into_iter().map(str::to_owned);
    let mut phrases: Vec<String> = words(Place::Commands).collect();
    let Some(asked) = asked else { return phrases };
    phrases.extend(words(Place::Answer).chain(words(Place::Decimals)));
    phrases.sort_unstable();
    phrases.dedup();
    if asked.unit == Unit::Inch && asked.step > 0.0 && asked.step < 1.0 {
        let parts = (1.0 / asked.step).round() as u32;
        let fractions = (1..parts.min(64)).map(|top| say(f64::from(top) * asked.step, asked.unit, asked.step));
        phrases.extend(fractions);
    }
    if let Some(ask) = &asked.ask {
        phrases.extend([ask.plus.clone(), ask.minus.clone()]);
    }
    phrases
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tape_in_hand_gives_its_fractions_and_the_expected_number_nothing() {
        let tape = Asked { unit: Unit::Inch, step: 1.0 / 16.0, expected: Some(227.4375), ask: None };
        let all = phrases(Some(&tape));
        assert!(all.iter().any(|phrase| phrase == "eleven sixteenths of an inch"), "{all:?}");
        assert!(all.iter().all(|phrase| !phrase.contains("twenty-seven")), "{all:?}");
        assert_eq!(all, phrases(Some(&Asked { expected: None, ..tape })));
        assert_eq!(phrases(None), ["keep it", "strike that", "say again", "next", "go back", "done"]);
    }
}
