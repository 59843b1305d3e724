//! Why a text is not a reading, in the words the builder reads.

use std::fmt;

use super::Unit;
use crate::language::{tr, words};

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
            Self::Empty => words!("Nothing is entered yet."),
            Self::NotANumber => words!(
                "That is not one plain number. Enter it like 27 11/16, 27.6875 or 5780, with no comma or space between \
                 thousands."
            ),
            Self::ZeroDenominator => words!("A fraction cannot go over zero."),
            Self::FractionTooLarge => words!(
                "One part is too large: 11/16, not 17/16, after a whole number; less than 12 inches after feet; less \
                 than 60 minutes after degrees. Check the space before the fraction."
            ),
            Self::OddDenominator => words!(
                "A tape has halves, quarters, eighths, sixteenths, thirty-seconds and sixty-fourths: the fraction goes \
                 over 2, 4, 8, 16, 32 or 64."
            ),
            Self::WrongUnit { asked: Unit::One, given } => {
                return f.write_str(&tr!("This is a plain count, and that is in {given}.", given = units(*given)));
            }
            Self::WrongUnit { asked, given } => {
                return f.write_str(&tr!(
                    "This is asked for in {asked}, and that is in {given}.",
                    asked = units(*asked),
                    given = units(*given)
                ));
            }
            Self::OutOfRange => {
                words!("That is outside anything measured on an airframe. Check the digits and the unit.")
            }
        })
    }
}

/// A unit, several of it, as a sentence names it; nothing for a count.
fn units(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => words!("inches"),
        Unit::Millimetre => words!("millimetres"),
        Unit::Metre => words!("metres"),
        Unit::Degree => words!("degrees"),
        Unit::Pound => words!("pounds"),
        Unit::Kilogram => words!("kilograms"),
        Unit::PoundForce => words!("pounds of force"),
        Unit::Newton => words!("newtons"),
        Unit::Decanewton => words!("decanewtons"),
        Unit::Celsius => words!("degrees Celsius"),
        Unit::Fahrenheit => words!("degrees Fahrenheit"),
        Unit::NewtonMetre => words!("newton metres"),
        Unit::FootPoundForce => words!("foot pounds"),
        Unit::InchPoundForce => words!("inch pounds"),
        Unit::Litre => words!("litres"),
        Unit::Gallon => words!("gallons"),
        Unit::One => "",
    }
}

impl std::error::Error for ParseError {}
