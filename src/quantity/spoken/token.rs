//! The parts of a spoken number.

use super::super::lex::Name;

/// One part of a spoken number. Words and digits are the same from here on: recognisers mix them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Token {
    /// A whole number, as one word or as digits.
    Number {
        /// The number.
        value: u32,
        /// How many digits it was written with: more than it has when zeros lead.
        digits: u32,
    },
    /// The letter o, said for a zero among other digits.
    Oh,
    /// Digits with a decimal point: "91.3", ".062".
    Decimal(Decimal),
    /// Digits with a comma before three digits: "1,240" is 1240 or 1.240.
    Grouped {
        /// The number when the comma groups thousands.
        whole: u32,
        /// The number when the comma is a decimal mark.
        decimal: Decimal,
    },
    Hundred,
    Thousand,
    /// "a" or "an".
    A,
    And,
    Of,
    Point,
    Minus,
    Plus,
    /// The line of a fraction.
    Slash,
    /// The line of a fraction, in words.
    Over,
    /// "half" to "sixty-fourth", and "tenth" to "thousandth".
    Part {
        /// How many of them make one.
        bottom: u32,
        /// With an s.
        plural: bool,
    },
    /// "fourth", which is a quarter or the end of "sixty-fourth".
    Fourth {
        /// With an s.
        plural: bool,
    },
    /// A part that no tape has: a third, a fifth.
    OddPart,
    /// A unit.
    Name(Name),
    /// "deca", apart from its unit.
    Deca,
    /// "force", after pounds.
    Force,
    /// A comma or a stop between two words.
    Pause,
    /// "um".
    Filler,
}

/// A decimal as written: `digits` / 10^`places`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Decimal {
    /// All digits as one number.
    pub(super) digits: u64,
    /// How many of them are after the point.
    pub(super) places: u32,
    /// Nothing stands before the point.
    pub(super) bare: bool,
}

/// Most digits before and after a point together; what is written with more is no reading.
pub(super) const MOST_DIGITS: u32 = 15;

impl Token {
    /// A number word.
    pub(super) const fn number(value: u32) -> Self {
        Self::Number { value, digits: if value == 0 { 1 } else { value.ilog10() + 1 } }
    }

    /// The number, without leading zeros.
    pub(super) const fn value(self) -> Option<u32> {
        match self {
            Self::Number { value, digits } if digits == 1 || value >= 10_u32.pow(digits - 1) => Some(value),
            _ => None,
        }
    }

    /// One digit, zero not among them.
    pub(super) fn one_to_nine(self) -> Option<u32> {
        self.value().filter(|value| (1..10).contains(value))
    }

    /// One digit, as said digit by digit.
    pub(super) fn digit(self) -> Option<u32> {
        if self == Self::Oh { Some(0) } else { self.value().filter(|&value| value < 10) }
    }
}
