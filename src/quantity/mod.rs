//! Lengths, angles and the numbers people enter: units, inch fractions, reading them typed and spoken, showing them.
//!
//! Two kinds of value live here. [`Length`], [`Angle`] and [`Torque`] are what the arithmetic of the other floors uses: SI inside,
//! no unit outside. [`Quantity`] is one number as somebody entered it: the text verbatim, the value in the unit of
//! the tool in hand (so that n/64 in stays exact), and the resolution of that tool.
//!
//! Deliberately absent:
//! - `From<f64>` for `Length`, `Angle` and `Torque`: a number without a unit is how an inch becomes a millimetre.
//! - `Length * Length`: no procedure needs an area, and a product that does not compile is a formula error found early.
//! - `Display` for `Length`, `Angle` and `Torque`: nothing can be shown without a unit and a step, see [`print()`].
//! - `serde` for `Length`, `Angle` and `Torque`: what is kept is what was entered, a `Quantity`, never a converted value.
//! - Conversion while parsing: millimetres typed where inches are asked for are refused, not converted.
//! - Thousands separators: "1,235" and "1 235" mean different numbers to different readers, so both are refused.
//! - Fractions other than n/2 to n/64: no tape has them.

mod aloud;
mod angle;
mod beside;
mod convert;
mod decimal;
mod entered;
mod length;
mod lex;
mod ops;
mod pad;
mod parse;
mod parse_error;
mod print;
mod round;
mod say;
mod sign;
mod spoken;
mod tape;
mod torque;
mod unit;
mod unit_facts;
mod words;

#[cfg(test)]
mod tests;

pub use aloud::aloud;
pub use angle::Angle;
pub use convert::{in_unit, scale};
pub use entered::Quantity;
pub use length::Length;
pub use pad::{Key, Pad, nearness, stepped};
pub use parse::{parse, parse_in};
pub use parse_error::ParseError;
pub use print::{decimal_mark, print, print_in, print_number, print_number_in};
pub(crate) use round::step_to_print;
pub use say::{say, say_in};
pub use spoken::{Command, Heard, Place, Unheard, hear, hear_in, label, taught, vocabulary};
pub use tape::{TapeTicks, Tick};
pub use torque::Torque;
pub use unit::{Dimension, Unit};
