//! A number is shown and said to the step of its tool: half away from zero, carried, never "−0".

use proptest::prelude::*;

use super::super::{Quantity, Unit, print, print_number, say};
use super::{rows, unit};

#[test]
fn every_case_is_printed_and_said_as_agreed() {
    for [value, ucum, step, printed, said] in rows(include_str!("shown.tsv")) {
        let (value, step): (f64, f64) = (value.parse().expect("a value"), step.parse().expect("a step"));
        assert_eq!(print(value, unit(ucum), step), printed, "{value} {ucum} to {step}");
        assert_eq!(say(value, unit(ucum), step), said, "{value} {ucum} to {step}");
    }
}

#[test]
fn the_number_alone_is_the_print_without_its_unit() {
    assert_eq!(print_number(-12.375, Unit::Inch, 0.125), "−12 3/8");
    assert_eq!(print_number(-2.6, Unit::Degree, 0.1), "−2.6");
}

#[test]
fn showing_a_quantity_uses_its_own_step_and_leaves_it_as_it_was() {
    let reading = Quantity { text: "227.7".into(), unit: Unit::Inch, value: 227.7, step: 0.0625 };
    let before = reading.clone();
    assert_eq!(reading.print(), "227 11/16 in");
    assert_eq!(reading.say(), "two twenty-seven and eleven sixteenths inches");
    assert_eq!(reading, before);
}

proptest! {
    #[test]
    fn what_is_shown_is_within_half_a_step_and_never_minus_zero(value in -3900.0..3900.0_f64, exponent in 0..=6) {
        let step = 0.5_f64.powi(exponent);
        let shown = print_number(value, Unit::Inch, step);
        prop_assert_ne!(&shown, "−0");
        let back = super::super::parse(&shown, Unit::Inch, step).map(|q| q.value);
        prop_assert!(back.is_ok_and(|back| (back - value).abs() <= step / 2.0), "{value}: {shown}");
    }

    #[test]
    fn no_number_panics(value in prop::num::f64::ANY, step in prop::num::f64::ANY) {
        for unit in Unit::ALL {
            prop_assert!(!print(value, unit, step).is_empty() && !say(value, unit, step).is_empty());
        }
    }
}
