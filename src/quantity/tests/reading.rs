//! What people type is read as they mean it.

use super::super::{Quantity, parse};
use super::{rows, unit};

#[test]
fn every_accepted_form_gives_its_value_and_keeps_its_text() {
    for [ucum, typed, value] in rows(include_str!("reading.tsv")) {
        let unit = unit(ucum);
        let value: f64 = value.parse().expect("a number in the case file");
        let read = parse(typed, unit, 0.0625);
        assert_eq!(read, Ok(Quantity { text: typed.into(), unit, value, step: 0.0625 }), "{typed:?} in {ucum}");
        assert!(value != 0.0 || read.is_ok_and(|q| q.value.is_sign_positive()), "{typed:?} is a negative zero");
    }
}

#[test]
fn space_around_a_number_is_kept_in_the_text_and_ignored_in_the_value() {
    let read = parse(" 12 3/8\n", unit("[in_i]"), 0.125).expect("a number with space around it");
    assert_eq!((read.text.as_str(), read.value), (" 12 3/8\n", 12.375));
}

#[test]
fn a_step_that_is_no_resolution_is_kept_as_none() {
    for step in [-0.5, f64::NAN, f64::INFINITY] {
        assert_eq!(parse("5", unit("mm"), step).map(|q| q.step), Ok(0.0));
    }
}
