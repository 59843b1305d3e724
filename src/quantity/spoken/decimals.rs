//! Decimals: digits after a point, said one by one, in pairs, or written.

use super::amount::{Amount, Amounts, Kind};
use super::token::{Decimal, MOST_DIGITS, Token};
use super::whole::Whole;
use crate::language::Language;

/// Most digits of a whole number.
const MOST_BEFORE: u32 = 6;

impl Amounts<'_> {
    /// Adds `whole` with the digits after a point where it ends.
    pub(super) fn decimal(&self, whole: Whole, found: &mut Vec<Amount>) {
        let Whole { value, end: at, cost } = whole;
        let mut top = u64::from(value);
        let mut at = match self.at(at) {
            Some(Token::Point) => at + 1,
            // "91 .3"
            Some(Token::Decimal(Decimal { digits, places, bare: true })) if places + MOST_BEFORE <= MOST_DIGITS => {
                let digits = top * 10_u64.pow(places) + digits;
                found.push(written(Decimal { digits, places, bare: false }, cost, at + 1));
                return;
            }
            _ => return,
        };
        let mut places = 0;
        while let Some((digits, length, tokens)) = self.digits(at) {
            places += length;
            if places + MOST_BEFORE > MOST_DIGITS {
                return;
            }
            top = top * 10_u64.pow(length) + u64::from(digits);
            at += tokens;
        }
        if places > 0 {
            found.push(written(Decimal { digits: top, places, bare: false }, cost, at));
        }
    }

    /// The digits at `at` after a point, how many they are, and how many tokens: "six", "oh", "062", "sixty" "two".
    fn digits(&self, at: usize) -> Option<(u32, u32, usize)> {
        if self.wholes.language != Language::English {
            let numbers = self.wholes.below_thousand(at).into_iter().filter(|number| number.cost == 0);
            // "Virgule soixante-quinze" is 75 after the comma, and not 60 and 15.
            if let Some(Whole { value, end, .. }) = numbers.max_by_key(|number| number.end) {
                return Some((value, value.checked_ilog10().unwrap_or(0) + 1, end - at));
            }
        }
        match (self.at(at)?, self.at(at + 1)) {
            (Token::Oh, _) => Some((0, 1, 1)),
            (Token::Number { value: tens @ 20..100, digits: 2 }, Some(next)) if tens % 10 == 0 => {
                Some(next.one_to_nine().map_or((tens, 2, 1), |ones| (tens + ones, 2, 2)))
            }
            (Token::Number { value, digits }, _) => Some((value, digits, 1)),
            _ => None,
        }
    }
}

/// A written decimal as an amount.
pub(super) fn written(decimal: Decimal, cost: u32, end: usize) -> Amount {
    let Decimal { digits, places, .. } = decimal;
    Amount { top: digits, bottom: 10_u64.pow(places), kind: Kind::Decimal, cost, end }
}
