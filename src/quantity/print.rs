//! A number for the eye.

use super::Unit;
use super::round::{Magnitude, Rounded, round};
use crate::language::{self, Language};

/// The minus sign of typography, U+2212: as wide as the plus sign, and read aloud as "minus".
const MINUS: char = '−';

/// `value` rounded to `step` (both in `unit`), with the unit: "227 11/16 in", "−3/16 in", "5780 mm", "−2.6°".
///
/// Rounds half away from zero, and only for show. Inches show as a reduced fraction when the step is 1/2 to 1/64 in or
/// 1 in, else as a decimal; decimals have as many places as the step, so that a trailing zero tells the resolution.
/// Without a step (0) all digits are shown. The decimal mark is that of the language that is spoken ([`decimal_mark`]).
pub fn print(value: f64, unit: Unit, step: f64) -> String {
    print_in(language::current(), value, unit, step)
}

/// The same with the decimal mark of `language`; what goes into the record has that of English, whoever writes it.
pub fn print_in(language: Language, value: f64, unit: Unit, step: f64) -> String {
    unit.behind(&print_number_in(language, value, unit, step))
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
    print_number_in(language::current(), value, unit, step)
}

/// The decimal mark on screens where `language` is spoken: a comma, in English a point. (ISO 80000-1, 7.3.2, has both.)
pub const fn decimal_mark(language: Language) -> char {
    match language {
        Language::English => '.',
        Language::German | Language::French | Language::Spanish => ',',
    }
}

/// The same with the decimal mark of `language`; what reads the digits again asks for that of English.
pub fn print_number_in(language: Language, value: f64, unit: Unit, step: f64) -> String {
    let Rounded { negative, magnitude } = round(value, unit, step);
    let digits = match magnitude {
        Magnitude::Fraction { whole, top: 0, .. } => format!("{whole}"),
        Magnitude::Fraction { whole: 0, top, bottom } => format!("{top}/{bottom}"),
        Magnitude::Fraction { whole, top, bottom } => format!("{whole} {top}/{bottom}"),
        Magnitude::Decimal { before, after } if after.is_empty() => before,
        Magnitude::Decimal { before, after } => format!("{before}{}{after}", decimal_mark(language)),
    };
    if negative { format!("{MINUS}{digits}") } else { digits }
}
