//! Values and differences in another unit of the same dimension.
//!
//! A value and a difference are not the same thing: 20 °C is 68 °F, and 20 °C warmer is 36 °F warmer. [`in_unit`] is for
//! values, [`scale`] for differences, steps, tolerances and uncertainties.

use super::{Quantity, Unit};

/// The value of a quantity in another unit of the same dimension; `None` across dimensions. The same unit gives the number
/// back untouched, so that n/64 in stays exact.
pub fn in_unit(quantity: &Quantity, unit: Unit) -> Option<f64> {
    if quantity.unit == unit {
        return Some(quantity.value);
    }
    let factor = scale(quantity.unit, unit)?;
    Some((quantity.value - quantity.unit.facts().zero) * factor + unit.facts().zero)
}

/// How many of `to` a difference of one `from` is, from exact factors; `None` across dimensions, 1 for the same unit.
///
/// Mass and force are different dimensions: no weight is assumed.
pub fn scale(from: Unit, to: Unit) -> Option<f64> {
    let (one, other) = (from.facts(), to.facts());
    // Both products are whole numbers (of up to 100 bits), so that this rounds three times at most.
    (one.dimension == other.dimension).then(|| (one.size * other.per) / (one.per * other.size))
}
