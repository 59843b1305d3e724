//! Amounts: whole numbers, fractions and decimals, without their unit.

use std::cell::Cell;

use super::super::{Unit, round::fraction_parts};
use super::decimals::written;
use super::token::Token;
use super::whole::{Whole, Wholes, whole};
use crate::language::Language;

/// A number before its unit: `top` / `bottom`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Amount {
    pub(super) top: u64,
    pub(super) bottom: u64,
    pub(super) kind: Kind,
    /// How unlikely it is that this was meant; 0 for plain speech.
    pub(super) cost: u32,
    /// Where it ends.
    pub(super) end: usize,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Whole,
    Decimal,
    /// A binary fraction, or a tenth to a thousandth, alone.
    Part,
    /// The same after a whole number.
    Mixed,
}

impl Amount {
    pub(super) fn value(&self) -> f64 {
        self.top as f64 / self.bottom as f64
    }

    /// Whether it is made of halves to sixty-fourths.
    pub(super) fn is_binary(&self) -> bool {
        matches!(self.kind, Kind::Part | Kind::Mixed) && self.bottom.is_power_of_two()
    }
}

/// Where a fraction stands, which decides how it may be said.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    /// Alone.
    Alone,
    /// Right after a whole number or a unit.
    After,
    /// After "and".
    AfterAnd,
}

/// "And" is left out.
const NO_AND: u32 = 1;
/// The line of a fraction is left out, after "and" and elsewhere.
const NO_LINE_AFTER_AND: u32 = 1;
const NO_LINE: u32 = 3;
/// A comma as a decimal mark where a recogniser writes one between thousands.
const COMMA: u32 = 2;
/// An "and" that joins tens and ones is taken for that of a fraction.
const CLAIMED: u32 = 1;
/// More parts than one whole has.
const IMPROPER: u32 = 4;
/// Finest division of any tape, and so the largest top of a fraction.
const FINEST: u32 = 64;

/// Reads amounts out of tokens, and notes what was wrong with what was none.
pub(super) struct Amounts<'a> {
    pub(super) tokens: &'a [Token],
    pub(super) wholes: Wholes<'a>,
    pub(super) unit: Unit,
    /// Whether the tool is divided in halves to sixty-fourths.
    pub(super) fractions: bool,
    /// Whether a fraction may have more parts than one whole.
    pub(super) improper: bool,
    /// A part was as large as one of what stands before it.
    pub(super) too_large: Cell<bool>,
    /// A fraction was on no tape.
    pub(super) odd: Cell<bool>,
}

impl<'a> Amounts<'a> {
    /// A reader of `tokens`, in `unit`, off a tool of resolution `step`.
    pub(super) fn new(language: Language, tokens: &'a [Token], unit: Unit, step: f64, improper: bool) -> Self {
        let wholes = Wholes { tokens, language };
        let fractions = unit == Unit::Inch && (step <= 0.0 || fraction_parts(0.0, unit, step).is_some());
        Self { tokens, wholes, unit, fractions, improper, too_large: Cell::new(false), odd: Cell::new(false) }
    }

    pub(super) fn at(&self, at: usize) -> Option<Token> {
        self.tokens.get(at).copied()
    }

    /// Every amount that begins at `start`, in every length.
    pub(super) fn all(&self, start: usize) -> Vec<Amount> {
        let mut found = Vec::new();
        match self.at(start) {
            Some(Token::Decimal(decimal)) => found.push(written(decimal, 0, start + 1)),
            Some(Token::Grouped { decimal, .. }) => found.push(written(decimal, COMMA, start + 1)),
            Some(Token::A) if matches!(self.at(start + 1), Some(Token::Name(_))) => {
                found.push(Amount { top: 1, bottom: 1, kind: Kind::Whole, cost: 0, end: start + 1 });
            }
            Some(Token::Oh) => self.decimal(whole(0, start + 1), &mut found),
            _ => self.decimal(whole(0, start), &mut found),
        }
        let spoken = self.wholes.all(start);
        for &number in &spoken {
            let Whole { value, end, cost } = number;
            found.push(Amount { top: value.into(), bottom: 1, kind: Kind::Whole, cost, end });
            self.decimal(number, &mut found);
            // The "and" of "sieben und zwanzig Zweiunddreißigstel" is first of all that of 27.
            let joined = self.wholes.language != Language::English && spoken.iter().any(|longer| longer.end > end);
            let claimed = cost + if joined && self.at(end) == Some(Token::And) { CLAIMED } else { 0 };
            found.extend(
                self.mixed(value, end, NO_AND).into_iter().map(|mixed| Amount { cost: mixed.cost + claimed, ..mixed }),
            );
        }
        found.extend(self.fractions(start, Place::Alone).into_iter().filter(|part| self.stands_alone(part)).map(
            |part| {
                let cost = if part.top >= part.bottom { IMPROPER } else { 0 };
                Amount { cost: part.cost + cost, ..part }
            },
        ));
        found
    }

    /// `whole` with each fraction that follows at `at`, "and" or not.
    pub(super) fn mixed(&self, whole: u32, at: usize, no_and: u32) -> Vec<Amount> {
        let (place, start, cost) = match self.at(at) {
            Some(Token::And) => (Place::AfterAnd, at + 1, 0),
            _ => (Place::After, at, no_and),
        };
        let mut found = self.fractions(start, place);
        let count = found.len();
        found.retain(|part| part.top < part.bottom);
        self.too_large.set(self.too_large.get() || found.len() < count);
        for part in &mut found {
            part.top += u64::from(whole) * part.bottom;
            part.cost += cost;
            part.kind = Kind::Mixed;
        }
        found
    }

    fn stands_alone(&self, part: &Amount) -> bool {
        let proper = part.top < part.bottom;
        let fits = proper || (part.bottom.is_power_of_two() && part.top <= FINEST.into());
        self.too_large.set(self.too_large.get() || !fits);
        proper || (fits && self.improper)
    }

    /// Every fraction that begins at `start`.
    fn fractions(&self, start: usize, place: Place) -> Vec<Amount> {
        let mut found = Vec::new();
        let mut add = |top: u32, bottom: u32, cost: u32, end: usize| {
            found.push(Amount { top: top.into(), bottom: bottom.into(), kind: Kind::Part, cost, end });
        };
        let one_part = match (self.at(start), self.at(start + 1)) {
            (Some(Token::A), Some(Token::Part { bottom, plural: false })) => Some((bottom, start + 2)),
            (Some(Token::Part { bottom, plural: false }), _) if place != Place::After => Some((bottom, start + 1)),
            _ => None,
        };
        if let Some((bottom, end)) = one_part.filter(|&(bottom, _)| self.is_said(bottom)) {
            add(1, bottom, 0, end);
        }
        for Whole { value: top, end, cost } in self.wholes.below_hundred(start).into_iter().filter(|top| top.value > 0)
        {
            match self.at(end) {
                Some(Token::Part { bottom: bottom @ ..1000, .. }) if self.is_said(bottom) => {
                    add(top, bottom, cost, end + 1);
                }
                Some(Token::OddPart) => self.odd.set(true),
                // What is written at a line is one number: "20 1/64" is not 21/64.
                Some(Token::Slash) if end > start + 1 => {}
                Some(Token::Slash | Token::Over) => {
                    if let Some((bottom, end)) = self.under_the_line(end + 1) {
                        add(top, bottom, cost, end);
                    }
                }
                _ => {
                    let cost = cost + if place == Place::AfterAnd { NO_LINE_AFTER_AND } else { NO_LINE };
                    let bottoms = self.wholes.below_hundred(end);
                    let lost = bottoms.into_iter().filter(|bottom| self.is_lost_line(top, bottom.value, place));
                    lost.for_each(|bottom| add(top, bottom.value, cost + bottom.cost, bottom.end));
                }
            }
        }
        for Whole { value: top, end, cost } in self.wholes.below_thousand(start).into_iter().filter(|top| top.value > 0)
        {
            if let Some(Token::Part { bottom: bottom @ 1000, .. }) = self.at(end)
                && self.is_said(bottom)
            {
                add(top, bottom, cost, end + 1);
            }
        }
        found
    }

    /// The bottom of a written fraction, and where it ends.
    fn under_the_line(&self, at: usize) -> Option<(u32, usize)> {
        let mut bottoms = self.wholes.below_hundred(at);
        if let Some(Token::Part { bottom, .. }) = self.at(at) {
            bottoms.push(whole(bottom, at + 1));
        }
        // "Over thirty two" is 32 and not 30.
        let bottom = bottoms.last().copied()?;
        let on_a_tape = self.unit != Unit::One && is_binary(bottom.value);
        self.odd.set(self.odd.get() || !on_a_tape);
        on_a_tape.then_some((bottom.value, bottom.end))
    }

    /// Whether parts of this size are spoken of in the unit.
    fn is_said(&self, bottom: u32) -> bool {
        match self.unit {
            Unit::One => false,
            Unit::Inch => true,
            _ => bottom <= 10 || bottom == 100 || bottom == 1000,
        }
    }

    /// Whether `top` and `bottom` one after the other can be a fraction whose line was lost.
    fn is_lost_line(&self, top: u32, bottom: u32, place: Place) -> bool {
        let reduced = is_binary(bottom) && top < bottom && top % 2 == 1;
        self.unit == Unit::Inch && reduced && (place == Place::AfterAnd || (self.fractions && bottom >= 4))
    }
}

const fn is_binary(bottom: u32) -> bool {
    bottom.is_power_of_two() && bottom > 1 && bottom <= FINEST
}
