//! Values and differences in other units of their dimension.

use proptest::prelude::*;

use super::super::{Quantity, Unit, in_unit, scale};

#[test]
fn only_units_of_one_dimension_convert() {
    for from in Unit::ALL {
        for to in Unit::ALL {
            let same = from.dimension() == to.dimension();
            assert_eq!(scale(from, to).is_some(), same, "{from:?} {to:?}");
            assert_eq!(in_unit(&Quantity::new(1.0, from, 0.0), to).is_some(), same, "{from:?} {to:?}");
        }
    }
}

#[test]
fn a_difference_of_temperature_is_scaled_and_a_temperature_converted() {
    let of = |value| Quantity::new(value, Unit::Celsius, 0.1);
    assert_eq!(scale(Unit::Celsius, Unit::Fahrenheit), Some(1.8));
    assert_eq!(in_unit(&of(20.0), Unit::Fahrenheit), Some(68.0));
    assert_eq!(in_unit(&of(-10.0), Unit::Fahrenheit), Some(14.0));
}

proptest! {
    #[test]
    fn the_same_unit_gives_the_number_back_untouched(value in -300.0..300.0_f64, unit in prop::sample::select(&Unit::ALL[..])) {
        let quantity = Quantity::new(value, unit, 0.0);
        prop_assert_eq!(in_unit(&quantity, unit).map(f64::to_bits), Some(quantity.value.to_bits()));
        prop_assert_eq!(scale(unit, unit), Some(1.0));
    }

    /// Six roundings of half a unit in the last place, and as many where a zero is taken off and added.
    #[test]
    fn there_and_back_is_the_same_number(
        value in 1.0..300.0_f64,
        from in prop::sample::select(&Unit::ALL[..]),
        to in prop::sample::select(&Unit::ALL[..]),
    ) {
        if let Some(factor) = scale(from, to) {
            let zero = |unit: Unit| unit.facts().zero;
            let there = (value - zero(from)) * factor + zero(to);
            let back = scale(to, from).map(|factor| (there - zero(to)) * factor + zero(from));
            prop_assert!(back.is_some_and(|back| (back - value).abs() <= 1e-12), "{value} {from:?} {to:?}: {back:?}");
        }
    }
}
