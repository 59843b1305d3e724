//! A number for the eye.

use super::Unit;
use super::round::{Magnitude, Rounded, round};

/// The minus sign of typography, U+2212: as wide as the plus sign, and read aloud as "minus".
const MINUS: char = '−';

/// `value` rounded to `step` (both in `unit`), with the unit: "227 11/16 in", "−3/16 in", "5780 mm", "−2.6°".
///
/// Rounds half away from zero, and only for show. Inches show as a reduced fraction when the step is 1/2 to 1/64 in or
/// 1 in, else as a decimal; decimals have as many places as the step, so that a trailing zero tells the resolution.
/// Without a step (0) all digits are shown.
pub fn print(value: f64, unit: Unit, step: f64) -> String {
    unit.behind(&print_number(value, unit, step))
}

impl Unit {
    /// A number as it is shown, with the unit behind it.
    #[must_use]
    pub fn behind(self, number: &str) -> String {
        let space = match self {
            Self::Degree | Self::One => "",
            _ => " ",
        };
        format!("{number}{space}{}", self.symbol())
    }
}

/// The same as [`print()`], without the unit.
pub fn print_number(value: f64, unit: Unit, step: f64) -> String {
    let Rounded { negative, magnitude } = round(value, unit, step);
    let digits = match magnitude {
        Magnitude::Fraction { whole, top: 0, .. } => format!("{whole}"),
        Magnitude::Fraction { whole: 0, top, bottom } => format!("{top}/{bottom}"),
        Magnitude::Fraction { whole, top, bottom } => format!("{whole} {top}/{bottom}"),
        Magnitude::Decimal { before, after } if after.is_empty() => before,
        Magnitude::Decimal { before, after } => format!("{before}.{after}"),
    };
    if negative { format!("{MINUS}{digits}") } else { digits }
}
