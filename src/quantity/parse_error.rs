//! Why a text is not a reading, in the words the builder reads.

use std::fmt;

use super::Unit;

/// Why a text is not a reading. `Display` is the sentence that the builder reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ParseError {
    /// Nothing but space.
    Empty,
    /// Not one number, or one that can be read in two ways.
    NotANumber,
    /// A fraction over zero.
    ZeroDenominator,
    /// A part as large as one of what stands before it: 17/16 after a whole number, 14 in after feet, 75' after
    /// degrees; or a fraction alone with more than 64 on top, which is a missing space.
    FractionTooLarge,
    /// A fraction that is on no tape: not over 2, 4, 8, 16, 32 or 64.
    OddDenominator,
    /// The text names another unit than the one asked for.
    WrongUnit {
        /// The unit asked for.
        asked: Unit,
        /// The unit in the text.
        given: Unit,
    },
    /// Outside any physical range: beyond 100 m, 360°, 10 t, 100 kN, 1000 °C, 10 kN·m or 10 000 L, below absolute zero, or a
    /// count that is not from 0 to 100 000.
    OutOfRange,
}

impl fmt::Display for ParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Empty => "Nothing is entered yet.",
            Self::NotANumber => {
                "That is not one plain number. Enter it like 27 11/16, 27.6875 or 5780, with no comma or space between \
                 thousands."
            }
            Self::ZeroDenominator => "A fraction cannot go over zero.",
            Self::FractionTooLarge => {
                "One part is too large: 11/16, not 17/16, after a whole number; less than 12 inches after feet; less \
                 than 60 minutes after degrees. Check the space before the fraction."
            }
            Self::OddDenominator => {
                "A tape has halves, quarters, eighths, sixteenths, thirty-seconds and sixty-fourths: the fraction goes \
                 over 2, 4, 8, 16, 32 or 64."
            }
            Self::WrongUnit { asked: Unit::One, given } => {
                return write!(f, "This is a plain count, and that is in {}.", given.plural());
            }
            Self::WrongUnit { asked, given } => {
                return write!(f, "This is asked for in {}, and that is in {}.", asked.plural(), given.plural());
            }
            Self::OutOfRange => "That is outside anything measured on an airframe. Check the digits and the unit.",
        })
    }
}

impl std::error::Error for ParseError {}
