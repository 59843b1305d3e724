//! Whole numbers below a hundred, which each language makes in its own way.

use super::token::Token;
use super::whole::{Whole, Wholes, whole};
use crate::language::Language;

/// Tens and ones in an order, or without the word between, that the language does not have. People who slip and recognisers that
/// swallow a word say so.
const ORDER: u32 = 3;

impl Wholes<'_> {
    /// 0 to 99: "seven", "fifteen", "twenty", "twenty seven", "27".
    pub(super) fn below_hundred(self, start: usize) -> Vec<Whole> {
        let mut found = Vec::new();
        let Some(value) = self.value_at(start).filter(|&value| value < 100) else { return found };
        found.push(whole(value, start + 1));
        match self.language {
            Language::English => self.english(value, start + 1, &mut found),
            Language::German => self.german(value, start + 1, &mut found),
            Language::French => self.french(value, start + 1, &mut found),
            Language::Spanish => self.spanish(value, start + 1, &mut found),
        }
        found
    }

    /// "twenty seven"
    fn english(self, value: u32, at: usize, found: &mut Vec<Whole>) {
        if is_tens(value)
            && let Some(ones) = self.ones(at)
        {
            found.push(whole(value + ones, at + 1));
        }
    }

    /// "sieben und zwanzig"; by a slip "sieben zwanzig", "zwanzig sieben", "zwanzig und sieben".
    fn german(self, value: u32, at: usize, found: &mut Vec<Whole>) {
        let and = self.and(at);
        if (1..10).contains(&value)
            && let Some(tens) = self.value_at(at + and).filter(|&tens| is_tens(tens))
        {
            found.push(Whole { value: value + tens, end: at + and + 1, cost: if and == 1 { 0 } else { ORDER } });
        }
        if is_tens(value)
            && let Some(ones) = self.ones(at + and)
        {
            found.push(Whole { value: value + ones, end: at + and + 1, cost: ORDER });
        }
    }

    /// "207 und 20": the tens of a longer number apart from it.
    pub(super) fn ones_first(self, value: u32, at: usize, found: &mut Vec<Whole>) {
        if self.language == Language::German
            && (1..10).contains(&(value % 100))
            && self.and(at) == 1
            && let Some(tens) = self.value_at(at + 1).filter(|&tens| is_tens(tens))
        {
            found.push(whole(value + tens, at + 2));
        }
    }

    /// "vingt sept", "vingt et un", "soixante douze", "soixante et onze", "quatre vingt dix sept", "nonante sept".
    fn french(self, value: u32, at: usize, found: &mut Vec<Whole>) {
        match value {
            4 if self.is_four_score(at - 1) => {
                found.push(whole(80, at + 1));
                self.below_twenty(80, at + 1, found);
            }
            // A recogniser that writes as it hears: "80 12".
            60 | 80 => self.below_twenty(value, at, found),
            10 => {
                let ones = self.ones(at).filter(|&ones| ones >= 7);
                found.extend(ones.map(|ones| whole(10 + ones, at + 1)));
            }
            20 | 30 | 40 | 50 | 70 | 90 => {
                let and = self.and(at);
                let ones = self.ones(at + and).filter(|&ones| and == 0 || ones == 1);
                found.extend(ones.map(|ones| whole(value + ones, at + and + 1)));
            }
            _ => {}
        }
    }

    /// Sixty or eighty and 1 to 19.
    fn below_twenty(self, score: u32, at: usize, found: &mut Vec<Whole>) {
        let and = self.and(at);
        match self.value_at(at + and) {
            Some(rest @ (1 | 11)) => found.push(whole(score + rest, at + and + 1)),
            Some(rest @ 2..20) if and == 0 => found.push(whole(score + rest, at + 1)),
            _ => {}
        }
        if and == 0
            && self.value_at(at) == Some(10)
            && let Some(ones @ 7..) = self.ones(at + 1)
        {
            found.push(whole(score + 10 + ones, at + 2));
        }
    }

    /// "treinta y siete", "diez y seis", and without the "y" that recognisers swallow.
    fn spanish(self, value: u32, at: usize, found: &mut Vec<Whole>) {
        let and = self.and(at);
        let ones = self.ones(at + and);
        match ones {
            Some(ones) if is_tens(value) => found.push(whole(value + ones, at + and + 1)),
            Some(ones @ 6..) if value == 10 && and == 1 => found.push(whole(10 + ones, at + 2)),
            _ => {}
        }
    }

    fn ones(self, at: usize) -> Option<u32> {
        self.at(at).and_then(Token::one_to_nine)
    }

    /// 1 where "and" stands, else 0.
    fn and(self, at: usize) -> usize {
        usize::from(self.at(at) == Some(Token::And))
    }
}

/// 20, 30 … 90.
const fn is_tens(value: u32) -> bool {
    value >= 20 && value < 100 && value.is_multiple_of(10)
}
