//! Whole readings: an amount with its unit, feet and inches, degrees and minutes.

use super::super::lex::Name;
use super::super::{Dimension, ParseError, Unit};
use super::amount::{Amount, Amounts, Kind};
use super::heard::Unheard;
use super::token::Token;
use crate::language::Language;

/// A word was taken for the one that it is mistaken for.
pub(super) const SWAPPED: u32 = 10;
/// The less likely of two meanings of "a foot and a half".
const HALF_AN_INCH: u32 = 1;

/// The less likely of two meanings of "deux mètres cinq".
const TENTHS: u32 = 2;

const INCHES_PER_FOOT: f64 = 12.0;
const MINUTES_PER_DEGREE: f64 = 60.0;
const SECONDS_PER_MINUTE: f64 = 60.0;
const SECONDS_PER_DEGREE: f64 = 3600.0;

/// A value in the unit asked for, and how unlikely it is; 0 for plain speech.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Candidate {
    pub(super) value: f64,
    pub(super) cost: u32,
}

/// Everything that the grammar gives, and what was wrong with the rest.
#[derive(Default)]
pub(super) struct Outcome {
    pub(super) found: Vec<Candidate>,
    out_of_range: bool,
    too_large: bool,
    odd: bool,
    /// A fraction of a millimetre or a metre without its unit, which is inches.
    inches: bool,
}

impl Outcome {
    /// Why nothing was found.
    pub(super) fn why(&self, asked: Unit) -> Unheard {
        if self.out_of_range {
            ParseError::OutOfRange.into()
        } else if self.inches {
            ParseError::WrongUnit { asked, given: Unit::Inch }.into()
        } else if self.odd {
            ParseError::OddDenominator.into()
        } else if self.too_large {
            Unheard::PartTooLarge
        } else {
            Unheard::NoNumber
        }
    }

    fn add(&mut self, value: f64, cost: u32, unit: Unit) {
        if unit.enterable().contains(&value) {
            self.found.push(Candidate { value, cost });
        } else {
            self.out_of_range = true;
        }
    }
}

/// Adds to `outcome` every reading of `tokens` as a whole, each dearer by `cost`.
pub(super) fn read(language: Language, tokens: &[Token], (unit, step): (Unit, f64), cost: u32, outcome: &mut Outcome) {
    let (negative, tokens) = match tokens {
        [Token::Minus, rest @ ..] => (true, rest),
        [Token::Plus, rest @ ..] => (false, rest),
        _ => (false, tokens),
    };
    let amounts = Amounts::new(language, tokens, unit, step, cost == 0);
    let reader = Reader { amounts, found: Vec::new(), inches: false };
    let (found, inches, amounts) = reader.read();
    for candidate in found {
        // Zero has no sign, whatever was said.
        let value = if negative && candidate.value != 0.0 { -candidate.value } else { candidate.value };
        outcome.add(value, candidate.cost + cost, unit);
    }
    outcome.inches |= inches;
    outcome.too_large |= amounts.too_large.get();
    outcome.odd |= amounts.odd.get() || tokens.contains(&Token::OddPart);
}

struct Reader<'a> {
    amounts: Amounts<'a>,
    found: Vec<Candidate>,
    inches: bool,
}

impl<'a> Reader<'a> {
    fn read(mut self) -> (Vec<Candidate>, bool, Amounts<'a>) {
        for first in self.amounts.all(0) {
            match self.amounts.unit {
                Unit::Inch => self.inches(&first),
                Unit::Degree => self.degrees(&first),
                Unit::One if first.kind != Kind::Whole => {}
                _ => self.plain(&first),
            }
        }
        (self.found, self.inches, self.amounts)
    }

    fn plain(&mut self, first: &Amount) {
        if self.is_end(first.end) {
            if first.is_binary() && self.amounts.unit.dimension() == Dimension::Length {
                self.inches = true;
            } else {
                self.add(first.value(), first.cost);
            }
        } else if let Some((_, end)) = self.name(first) {
            self.in_unit(first, end, 0.0);
            if self.amounts.unit == Unit::Metre && self.amounts.wholes.language != Language::English {
                self.centimetres(first, end);
            }
        }
    }

    /// "zwei Meter siebenundzwanzig", "deux mètres cinq": what follows whole metres without a unit is centimetres; a digit alone may
    /// be tenths, too.
    fn centimetres(&mut self, metres: &Amount, end: usize) {
        if metres.kind != Kind::Whole {
            return;
        }
        for rest in self.amounts.wholes.below_hundred(end) {
            if !self.is_end(rest.end) {
                continue;
            }
            let (metres, rest, cost) = (metres.value(), f64::from(rest.value), metres.cost + rest.cost);
            self.add((metres * 100.0 + rest) / 100.0, cost);
            if (1.0..10.0).contains(&rest) {
                self.add((metres * 10.0 + rest) / 10.0, cost + TENTHS);
            }
        }
    }

    fn inches(&mut self, first: &Amount) {
        if self.is_end(first.end) {
            return self.add(first.value(), first.cost);
        }
        let Some((name, end)) = self.name(first) else { return };
        if name != Name::Foot {
            return self.in_unit(first, end, 0.0);
        }
        let feet = first.value() * INCHES_PER_FOOT;
        if self.is_end(end) {
            return self.add(feet, first.cost);
        }
        let and = self.amounts.at(end) == Some(Token::And);
        for inches in self.smaller(first, end, INCHES_PER_FOOT) {
            let cost = first.cost + inches.cost;
            if let Some((_, end)) = self.name(&inches) {
                self.in_unit(&Amount { cost, ..inches }, end, feet);
            } else if self.is_end(inches.end) {
                let either = and && inches.kind == Kind::Part;
                if either {
                    self.add(feet + inches.value() * INCHES_PER_FOOT, cost);
                }
                self.add(feet + inches.value(), cost + if either { HALF_AN_INCH } else { 0 });
            }
        }
    }

    fn degrees(&mut self, first: &Amount) {
        if self.is_end(first.end) {
            return self.add(first.value(), first.cost);
        }
        match self.name(first) {
            Some((Name::Minute, end)) => self.minutes(first, end, 0.0),
            Some((Name::Unit(_), end)) => {
                self.in_unit(first, end, 0.0);
                for minutes in self.smaller(first, end, MINUTES_PER_DEGREE) {
                    if let Some((Name::Minute, end)) = self.name(&minutes) {
                        self.minutes(&minutes, end, first.value() * SECONDS_PER_DEGREE);
                    }
                }
            }
            _ => {}
        }
    }

    /// `minutes`, whose unit ends at `end`, and the seconds that may follow; `before` is in seconds of arc.
    fn minutes(&mut self, minutes: &Amount, end: usize, before: f64) {
        let before = before + minutes.value() * SECONDS_PER_MINUTE;
        if self.is_end(end) {
            return self.add(before / SECONDS_PER_DEGREE, minutes.cost);
        }
        for seconds in self.smaller(minutes, end, SECONDS_PER_MINUTE) {
            match self.name(&seconds) {
                Some((Name::Second, end)) if self.is_end(end) => {
                    self.add((before + seconds.value()) / SECONDS_PER_DEGREE, minutes.cost + seconds.cost);
                }
                _ => {}
            }
        }
    }

    /// `amount`, whose unit ends at `end`, or with the fraction that follows its unit; `before` is in the unit.
    fn in_unit(&mut self, amount: &Amount, end: usize, before: f64) {
        if self.is_end(end) {
            self.add(before + amount.value(), amount.cost);
        } else if amount.kind == Kind::Whole {
            for mixed in self.amounts.mixed(amount.top as u32, end, 0) {
                if self.is_end(mixed.end) {
                    self.add(before + mixed.value(), amount.cost + mixed.cost);
                }
            }
        }
    }

    /// The amounts of a smaller unit after `larger`, of which `limit` make one; "and" may stand between.
    fn smaller(&self, larger: &Amount, end: usize, limit: f64) -> Vec<Amount> {
        if larger.kind != Kind::Whole || self.is_end(end) {
            return Vec::new();
        }
        let mut found = self.amounts.all(end + usize::from(self.amounts.at(end) == Some(Token::And)));
        let count = found.len();
        found.retain(|amount| amount.value() < limit);
        if found.is_empty() && count > 0 {
            self.amounts.too_large.set(true);
        }
        found
    }

    /// The unit after an amount, and where it ends: "inches", and after a fraction "of an inch".
    fn name(&self, amount: &Amount) -> Option<(Name, usize)> {
        let mut at = amount.end;
        let of = matches!(amount.kind, Kind::Part | Kind::Mixed) && self.amounts.at(at) == Some(Token::Of);
        at += usize::from(of);
        if of || amount.kind == Kind::Part {
            let article = if self.amounts.wholes.language == Language::English { Token::A } else { Token::number(1) };
            at += usize::from((of || article == Token::A) && self.amounts.at(at) == Some(article));
        }
        if let Some(Token::Name(name)) = self.amounts.at(at) { Some((name, at + 1)) } else { None }
    }

    const fn is_end(&self, at: usize) -> bool {
        at == self.amounts.tokens.len()
    }

    fn add(&mut self, value: f64, cost: u32) {
        self.found.push(Candidate { value, cost });
    }
}
