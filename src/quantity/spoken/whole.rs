//! Whole numbers as they are said.

use super::token::Token;
use crate::language::Language;

/// A whole number and where it ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Whole {
    pub(super) value: u32,
    pub(super) end: usize,
    /// How unlikely it is that this was meant; 0 for plain speech.
    pub(super) cost: u32,
}

pub(super) const fn whole(value: u32, end: usize) -> Whole {
    Whole { value, end, cost: 0 }
}

/// Most digits of a number said digit by digit.
const MOST_DIGITS: usize = 6;

/// Reads whole numbers out of tokens.
#[derive(Clone, Copy)]
pub(super) struct Wholes<'a> {
    pub(super) tokens: &'a [Token],
    pub(super) language: Language,
}

impl Wholes<'_> {
    /// Every whole number below a million that begins at `start`, in every length.
    pub(super) fn all(self, start: usize) -> Vec<Whole> {
        let mut found = self.below_thousand(start);
        self.paired(start, &mut found);
        self.thousands(start, &mut found);
        self.digit_by_digit(start, &mut found);
        if let Some(Token::Grouped { whole: value, .. }) = self.at(start) {
            found.push(whole(value, start + 1));
        }
        found
    }

    /// Without "thousand" and without pairs of two digits: "two hundred and seven", "twelve hundred forty", "two twenty seven", "227".
    pub(super) fn below_thousand(self, start: usize) -> Vec<Whole> {
        let mut found = self.below_hundred(start);
        for multiplier in self.multipliers(start, Token::Hundred, Self::below_hundred) {
            if self.at(multiplier.end) == Some(Token::Hundred) {
                let hundreds = Whole { value: multiplier.value * 100, end: multiplier.end + 1, ..multiplier };
                found.push(hundreds);
                self.rounded(hundreds, &mut found);
            }
        }
        match self.value_at(start) {
            Some(value @ 100..1000) => {
                found.push(whole(value, start + 1));
                self.rounded(whole(value, start + 1), &mut found);
                self.ones_first(value, start + 1, &mut found);
            }
            Some(hundreds @ 1..10) if !self.is_four_score(start) => {
                for rest in self.below_hundred(start + 1).into_iter().filter(|rest| rest.value >= 10) {
                    found.push(Whole { value: hundreds * 100 + rest.value, ..rest });
                }
            }
            _ => {}
        }
        found
    }

    /// Two and two digits: "twelve forty", "twelve oh five".
    fn paired(self, start: usize, found: &mut Vec<Whole>) {
        let alone = self.below_hundred(start);
        for &first in alone.iter().filter(|first| first.value >= 10) {
            for second in self.below_hundred(first.end).into_iter().filter(|second| second.value >= 10) {
                // "Soixante douze" is 72 and not 60 and 12.
                let one_number = self.language == Language::French && alone.iter().any(|one| one.end == second.end);
                if !one_number {
                    let (value, cost) = (first.value * 100 + second.value, first.cost + second.cost);
                    found.push(Whole { value, cost, end: second.end });
                }
            }
            if self.is_zero_between(first.end)
                && let Some(ones) = self.at(first.end + 1).and_then(Token::one_to_nine)
            {
                found.push(Whole { value: first.value * 100 + ones, end: first.end + 2, cost: first.cost });
            }
        }
    }

    /// "five thousand seven hundred eighty", "5000 780".
    fn thousands(self, start: usize, found: &mut Vec<Whole>) {
        for multiplier in self.multipliers(start, Token::Thousand, Self::below_thousand) {
            if self.at(multiplier.end) == Some(Token::Thousand) && multiplier.value < 1000 {
                let thousands = Whole { value: multiplier.value * 1000, end: multiplier.end + 1, ..multiplier };
                found.push(thousands);
                self.rounded(thousands, found);
            }
        }
        if let Some(value @ 1000..) = self.value_at(start) {
            found.push(whole(value, start + 1));
            self.rounded(whole(value, start + 1), found);
            self.ones_first(value, start + 1, found);
        }
    }

    /// "two oh seven", "five seven eight zero".
    fn digit_by_digit(self, start: usize, found: &mut Vec<Whole>) {
        let Some(mut value) = self.at(start).and_then(Token::one_to_nine) else { return };
        for (said, token) in self.tokens[start + 1..].iter().take(MOST_DIGITS - 1).enumerate() {
            let Some(digit) = token.digit() else { return };
            value = value * 10 + digit;
            found.push(whole(value, start + said + 2));
        }
    }

    /// What follows a round number and fills its zeros: 200 + "twenty seven", 5000 + "seven hundred", 220 + "seven".
    fn rounded(self, round: Whole, found: &mut Vec<Whole>) {
        let Whole { value, end: after, cost } = round;
        let is_and = self.at(after) == Some(Token::And);
        let joins = matches!(self.language, Language::English | Language::German);
        let and = usize::from(is_and && joins);
        let room = [1000, 100, 10].into_iter().find(|&room| value > 0 && value.is_multiple_of(room));
        let (rests, room) = match room {
            Some(1000) => (self.below_thousand(after + and), 1000),
            Some(100) => (self.below_hundred(after + and), 100),
            Some(_) => match (self.language, value % 100) {
                (Language::French, 60 | 80) => (self.below_hundred(after + usize::from(is_and)), 20),
                (Language::French | Language::Spanish, _) => (self.below_hundred(after + usize::from(is_and)), 10),
                _ => (self.below_hundred(after), 10),
            },
            None => return,
        };
        let fitting = rests.into_iter().filter(|rest| rest.value > 0 && rest.value < room);
        found.extend(fitting.map(|rest| Whole { value: value + rest.value, end: rest.end, cost: cost + rest.cost }));
    }

    /// How many hundreds or thousands: "a" is one of them, and in other languages the word alone.
    fn multipliers(self, start: usize, unit: Token, numbers: fn(Self, usize) -> Vec<Whole>) -> Vec<Whole> {
        if self.at(start) == Some(Token::A) {
            return vec![whole(1, start + 1)];
        }
        if self.language != Language::English && self.at(start) == Some(unit) {
            return vec![whole(1, start)];
        }
        let mut found = numbers(self, start);
        found.retain(|multiplier| multiplier.value > 0);
        found
    }

    /// A zero said between two pairs of digits.
    fn is_zero_between(self, at: usize) -> bool {
        let zero = self.language != Language::English && self.value_at(at) == Some(0);
        zero || self.at(at) == Some(Token::Oh)
    }

    /// "Quatre vingt": 80 and never 420.
    pub(super) fn is_four_score(self, at: usize) -> bool {
        self.language == Language::French && self.value_at(at) == Some(4) && self.value_at(at + 1) == Some(20)
    }

    pub(super) fn at(self, at: usize) -> Option<Token> {
        self.tokens.get(at).copied()
    }

    pub(super) fn value_at(self, at: usize) -> Option<u32> {
        self.at(at).and_then(Token::value)
    }
}
