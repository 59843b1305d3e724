//! A number from what was typed.

use super::decimal::decimal;
use super::lex::{Name, Token, lex};
use super::{Dimension, ParseError, Quantity, Unit};
use crate::language::{self, Language};

/// Longer, in bytes, than any number that a person types.
const LONGEST: usize = 64;
/// Finest division of any tape, and so the largest top of a fraction that stands alone.
const FINEST: u32 = 64;
const INCHES_PER_FOOT: f64 = 12.0;
const MINUTES_PER_DEGREE: f64 = 60.0;
const SECONDS_PER_MINUTE: f64 = 60.0;
const SECONDS_PER_DEGREE: f64 = 3600.0;

/// Reads one number in the language that is spoken, asked for in `unit`, off a tool of resolution `step` (in `unit`).
///
/// Inches: "227 11/16", "227-11/16", "227½", "227.6875 in", `18' 11 11/16"`. Millimetres: "5780", "5,5 mm". Degrees:
/// "−2.6°", "2 1/2", "2° 36'", "45'". Counts: "48". Other units: "20 daN", "45.5 lb", "35 in-lb", "21.5 °C". The decimal mark is a point or a comma; in
/// English a comma before three digits is none, because it may part thousands. A number finer than the step is kept as it is.
///
/// # Errors
/// See [`ParseError`]. Nothing is guessed: what can be read in two ways is refused, and no unit is converted.
pub fn parse(text: &str, unit: Unit, step: f64) -> Result<Quantity, ParseError> {
    parse_in(language::current(), text, unit, step)
}

/// The same of what was typed where `language` is spoken.
///
/// # Errors
/// See [`ParseError`].
pub fn parse_in(language: Language, text: &str, unit: Unit, step: f64) -> Result<Quantity, ParseError> {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(ParseError::Empty);
    }
    if trimmed.len() > LONGEST {
        return Err(ParseError::NotANumber);
    }
    let tokens = lex(language, trimmed, unit).ok_or(ParseError::NotANumber)?;
    let mut reader = Reader { rest: &tokens, asked: unit };
    let negative = reader.sign();
    let magnitude = match unit {
        Unit::Inch => reader.inches(),
        Unit::Degree => reader.degrees(),
        Unit::One => reader.count(),
        _ => reader.plainly(),
    }?;
    // Zero has no sign, whatever was typed.
    let value = if negative && magnitude != 0.0 { -magnitude } else { magnitude };
    if !unit.enterable().contains(&value) {
        return Err(ParseError::OutOfRange);
    }
    Ok(Quantity::entered(text, value, unit, step))
}

/// A number before its unit.
struct Amount {
    value: f64,
    kind: Kind,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Whole,
    Decimal,
    Fraction,
}

impl Amount {
    /// The number, where only a whole one makes sense.
    fn whole(&self) -> Result<f64, ParseError> {
        if self.kind == Kind::Whole { Ok(self.value) } else { Err(ParseError::NotANumber) }
    }

    /// The number, where it follows a larger unit of which `limit` make one.
    fn below(&self, limit: f64) -> Result<f64, ParseError> {
        if self.value < limit { Ok(self.value) } else { Err(ParseError::FractionTooLarge) }
    }
}

/// Takes parts off the front of what is left to read.
struct Reader<'a> {
    rest: &'a [Token],
    asked: Unit,
}

impl Reader<'_> {
    /// Feet and inches, or inches.
    fn inches(&mut self) -> Result<f64, ParseError> {
        let first = self.amount()?;
        match self.name() {
            None | Some(Name::Unit(Unit::Inch)) => self.end(first.value),
            Some(Name::Foot) if self.rest.is_empty() => Ok(first.value * INCHES_PER_FOOT),
            Some(Name::Foot) => {
                self.hyphen();
                let inches = self.amount()?;
                if !matches!(self.name(), None | Some(Name::Unit(Unit::Inch))) {
                    return Err(ParseError::NotANumber);
                }
                self.end(first.whole()? * INCHES_PER_FOOT + inches.below(INCHES_PER_FOOT)?)
            }
            Some(other) => Err(self.wrong(other)),
        }
    }

    /// One amount in the unit asked for. A fraction of a length is inches unless it says otherwise.
    fn plainly(&mut self) -> Result<f64, ParseError> {
        let first = self.amount()?;
        match self.name() {
            None if first.kind == Kind::Fraction && self.asked.dimension() == Dimension::Length => {
                Err(self.wrong(Name::Unit(Unit::Inch)))
            }
            None => self.end(first.value),
            Some(Name::Unit(named)) if self.asked.is_meant_by(named) => self.end(first.value),
            Some(other) => Err(self.wrong(other)),
        }
    }

    /// Degrees, or degrees, minutes and seconds.
    fn degrees(&mut self) -> Result<f64, ParseError> {
        let first = self.amount()?;
        match self.name() {
            None => self.end(first.value),
            Some(Name::Unit(Unit::Degree)) if self.rest.is_empty() => Ok(first.value),
            Some(Name::Unit(Unit::Degree)) => {
                let minutes = self.amount()?;
                if self.name() != Some(Name::Minute) {
                    return Err(ParseError::NotANumber);
                }
                minutes.below(MINUTES_PER_DEGREE)?;
                Ok((first.whole()? * SECONDS_PER_DEGREE + self.seconds(&minutes)?) / SECONDS_PER_DEGREE)
            }
            Some(Name::Minute) => Ok(self.seconds(&first)? / SECONDS_PER_DEGREE),
            Some(Name::Second) => Err(ParseError::NotANumber),
            Some(other) => Err(self.wrong(other)),
        }
    }

    /// `minutes`, and the seconds that may follow, in seconds.
    fn seconds(&mut self, minutes: &Amount) -> Result<f64, ParseError> {
        if self.rest.is_empty() {
            return Ok(minutes.value * SECONDS_PER_MINUTE);
        }
        let seconds = self.amount()?;
        if self.name() != Some(Name::Second) {
            return Err(ParseError::NotANumber);
        }
        self.end(minutes.whole()? * SECONDS_PER_MINUTE + seconds.below(SECONDS_PER_MINUTE)?)
    }

    /// A whole number of things.
    fn count(&mut self) -> Result<f64, ParseError> {
        let first = self.amount()?;
        match self.name() {
            Some(name) => Err(self.wrong(name)),
            None => self.end(first.whole()?),
        }
    }

    /// A whole number, a decimal, a fraction, or a whole number and a fraction with a space or a hyphen between.
    fn amount(&mut self) -> Result<Amount, ParseError> {
        use Token::{Minus, Number, Slash};
        let (amount, rest) = match self.rest {
            [Number(top), Slash, Number(bottom), rest @ ..] => (fraction(None, top, bottom)?, rest),
            [Number(whole), Number(top), Slash, Number(bottom), rest @ ..]
            | [Number(whole), Minus { tight: true }, Number(top), Slash, Number(bottom), rest @ ..] => {
                (fraction(Some(whole), top, bottom)?, rest)
            }
            [Number(number), rest @ ..] => (plain(number)?, rest),
            _ => return Err(ParseError::NotANumber),
        };
        self.rest = rest;
        Ok(amount)
    }

    /// Takes the sign, if there is one; true for minus.
    fn sign(&mut self) -> bool {
        let (negative, rest) = match self.rest {
            [Token::Minus { .. }, rest @ ..] => (true, rest),
            [Token::Plus, rest @ ..] => (false, rest),
            _ => return false,
        };
        self.rest = rest;
        negative
    }

    /// Takes the hyphen of a drawing's 18'-11 11/16", if there is one.
    fn hyphen(&mut self) {
        if let [Token::Minus { .. }, rest @ ..] = self.rest {
            self.rest = rest;
        }
    }

    /// Takes the unit, if there is one.
    fn name(&mut self) -> Option<Name> {
        let [Token::Name(name), rest @ ..] = self.rest else { return None };
        self.rest = rest;
        Some(*name)
    }

    /// `value`, when nothing is left over.
    const fn end(&self, value: f64) -> Result<f64, ParseError> {
        if self.rest.is_empty() { Ok(value) } else { Err(ParseError::NotANumber) }
    }

    const fn wrong(&self, name: Name) -> ParseError {
        ParseError::WrongUnit { asked: self.asked, given: name.unit() }
    }
}

/// Digits with or without a decimal point.
fn plain(written: &str) -> Result<Amount, ParseError> {
    let value = decimal(written).ok_or(ParseError::NotANumber)?;
    Ok(Amount { value, kind: if written.contains('.') { Kind::Decimal } else { Kind::Whole } })
}

/// `whole` and `top`/`bottom`; exact, because the bottom is a power of two.
fn fraction(whole: Option<&str>, top: &str, bottom: &str) -> Result<Amount, ParseError> {
    if top.contains('.') || bottom.contains('.') {
        return Err(ParseError::NotANumber);
    }
    let bottom = match bottom.trim_start_matches('0') {
        "" => return Err(ParseError::ZeroDenominator),
        digits => digits.parse().ok().filter(|n| matches!(n, 2 | 4 | 8 | 16 | 32 | 64)),
    };
    let bottom: u32 = bottom.ok_or(ParseError::OddDenominator)?;
    let most = if whole.is_some() { bottom - 1 } else { FINEST };
    let top: u32 = top.parse().ok().filter(|&top| top <= most).ok_or(ParseError::FractionTooLarge)?;
    let whole = whole.map_or(Ok(0.0), |whole| plain(whole)?.whole())?;
    Ok(Amount { value: whole + f64::from(top) / f64::from(bottom), kind: Kind::Fraction })
}
