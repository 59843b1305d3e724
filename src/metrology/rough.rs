//! Uncertainties in words.

use crate::quantity::Unit;

/// An uncertainty, printed: two figures are all that it is worth.
pub(crate) fn rough(number: f64, unit: Unit) -> String {
    let decimals = match unit {
        Unit::Metre => 4,
        Unit::Degree => 2,
        Unit::Inch if number.abs() < 0.1 => 3,
        Unit::Inch => 2,
        Unit::One => return format!("{:.0} %", number * 100.0),
        _ => 1,
    };
    let symbol = unit.symbol();
    let space = if unit == Unit::Degree { "" } else { " " };
    format!("{number:.decimals$}{space}{symbol}")
}
