//! Uncertainties in words.

use crate::language;
use crate::quantity::{Unit, decimal_mark};

/// Whether a printed number shows as zero.
pub(crate) fn prints_as_zero(printed: &str) -> bool {
    !printed.bytes().any(|byte| (b'1'..=b'9').contains(&byte))
}

/// An uncertainty, printed: two figures are all that it is worth.
pub(crate) fn rough(number: f64, unit: Unit) -> String {
    let decimals = match unit {
        Unit::Metre => 4,
        Unit::Degree => 2,
        Unit::Inch | Unit::One if number.abs() < 0.1 => 3,
        Unit::Inch | Unit::One => 2,
        _ => 1,
    };
    let symbol = unit.symbol();
    let space = if unit == Unit::Degree || symbol.is_empty() { "" } else { " " };
    let number = format!("{number:.decimals$}");
    let number = number.replace('.', decimal_mark(language::current()).encode_utf8(&mut [0; 4]));
    format!("{number}{space}{symbol}")
}
