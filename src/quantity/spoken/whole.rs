//! Whole numbers as they are said.

use super::token::Token;

/// A whole number and where it ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Whole {
    pub(super) value: u32,
    pub(super) end: usize,
}

const fn whole(value: u32, end: usize) -> Whole {
    Whole { value, end }
}

/// Most digits of a number said digit by digit.
const MOST_DIGITS: usize = 6;

/// Every whole number below a million that begins at `start`, in every length.
pub(super) fn wholes(tokens: &[Token], start: usize) -> Vec<Whole> {
    let mut found = below_thousand(tokens, start);
    paired(tokens, start, &mut found);
    thousands(tokens, start, &mut found);
    digit_by_digit(tokens, start, &mut found);
    if let Some(&Token::Grouped { whole: value, .. }) = tokens.get(start) {
        found.push(whole(value, start + 1));
    }
    found
}

/// 0 to 99: "seven", "fifteen", "twenty", "twenty seven", "27".
pub(super) fn below_hundred(tokens: &[Token], start: usize) -> Vec<Whole> {
    let mut found = Vec::new();
    if let Some(value) = value_at(tokens, start).filter(|&value| value < 100) {
        found.push(whole(value, start + 1));
        if value >= 20 {
            rounded(tokens, start + 1, value, &mut found);
        }
    }
    found
}

/// Without "thousand" and without pairs of two digits: "two hundred and seven", "twelve hundred forty", "two twenty seven", "227".
pub(super) fn below_thousand(tokens: &[Token], start: usize) -> Vec<Whole> {
    let mut found = below_hundred(tokens, start);
    for multiplier in multipliers(tokens, start, below_hundred) {
        if tokens.get(multiplier.end) == Some(&Token::Hundred) {
            let value = multiplier.value * 100;
            found.push(whole(value, multiplier.end + 1));
            rounded(tokens, multiplier.end + 1, value, &mut found);
        }
    }
    match value_at(tokens, start) {
        Some(value @ 100..1000) => {
            found.push(whole(value, start + 1));
            rounded(tokens, start + 1, value, &mut found);
        }
        Some(hundreds @ 1..10) => {
            for rest in below_hundred(tokens, start + 1).into_iter().filter(|rest| rest.value >= 10) {
                found.push(whole(hundreds * 100 + rest.value, rest.end));
            }
        }
        _ => {}
    }
    found
}

/// Two and two digits: "twelve forty", "twelve oh five".
fn paired(tokens: &[Token], start: usize, found: &mut Vec<Whole>) {
    for first in below_hundred(tokens, start).into_iter().filter(|first| first.value >= 10) {
        let pairs = below_hundred(tokens, first.end).into_iter().filter(|second| second.value >= 10);
        found.extend(pairs.map(|second| whole(first.value * 100 + second.value, second.end)));
        if tokens.get(first.end) == Some(&Token::Oh)
            && let Some(ones) = tokens.get(first.end + 1).and_then(|token| token.one_to_nine())
        {
            found.push(whole(first.value * 100 + ones, first.end + 2));
        }
    }
}

/// "five thousand seven hundred eighty", "5000 780".
fn thousands(tokens: &[Token], start: usize, found: &mut Vec<Whole>) {
    for multiplier in multipliers(tokens, start, below_thousand) {
        if tokens.get(multiplier.end) == Some(&Token::Thousand) && multiplier.value < 1000 {
            let value = multiplier.value * 1000;
            found.push(whole(value, multiplier.end + 1));
            rounded(tokens, multiplier.end + 1, value, found);
        }
    }
    if let Some(value @ 1000..) = value_at(tokens, start) {
        found.push(whole(value, start + 1));
        rounded(tokens, start + 1, value, found);
    }
}

/// "two oh seven", "five seven eight zero".
fn digit_by_digit(tokens: &[Token], start: usize, found: &mut Vec<Whole>) {
    let Some(mut value) = tokens.get(start).and_then(|token| token.one_to_nine()) else { return };
    for (said, token) in tokens[start + 1..].iter().take(MOST_DIGITS - 1).enumerate() {
        let Some(digit) = token.digit() else { return };
        value = value * 10 + digit;
        found.push(whole(value, start + said + 2));
    }
}

/// What follows a round number and fills its zeros: 200 + "twenty seven", 5000 + "seven hundred", 220 + "seven".
fn rounded(tokens: &[Token], after: usize, round: u32, found: &mut Vec<Whole>) {
    let and = usize::from(tokens.get(after) == Some(&Token::And));
    let room = [1000, 100, 10].into_iter().find(|&room| round > 0 && round.is_multiple_of(room));
    let rests = match room {
        Some(1000) => below_thousand(tokens, after + and),
        Some(100) => below_hundred(tokens, after + and),
        Some(_) => below_hundred(tokens, after),
        None => Vec::new(),
    };
    let fitting = rests.into_iter().filter(|rest| rest.value > 0 && room.is_some_and(|room| rest.value < room));
    found.extend(fitting.map(|rest| whole(round + rest.value, rest.end)));
}

/// How many hundreds or thousands: "a" is one of them.
fn multipliers(tokens: &[Token], start: usize, numbers: fn(&[Token], usize) -> Vec<Whole>) -> Vec<Whole> {
    if tokens.get(start) == Some(&Token::A) {
        return vec![whole(1, start + 1)];
    }
    let mut found = numbers(tokens, start);
    found.retain(|multiplier| multiplier.value > 0);
    found
}

fn value_at(tokens: &[Token], at: usize) -> Option<u32> {
    tokens.get(at).and_then(|token| token.value())
}
