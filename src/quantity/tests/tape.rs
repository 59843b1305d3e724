//! The picture of the tape is the tape: marks where a tape has them, tall where it has them tall.

use super::super::{TapeTicks, Unit};

fn picture(value: f64, unit: Unit, step: f64, width: f64) -> TapeTicks {
    TapeTicks::around(value, unit, step, width).unwrap_or_else(|| panic!("no picture of {value} at {step}"))
}

#[test]
fn a_reading_stands_in_the_middle_of_its_window() {
    let tape = picture(227.6875, Unit::Inch, 0.0625, 3.0);
    assert_eq!((tape.width, tape.pointer), (3.0, 1.5));
    assert_eq!(tape.ticks.len(), 49);
    let labels: Vec<_> = tape.ticks.iter().filter_map(|t| Some((t.label.clone()?, t.offset))).collect();
    assert_eq!(labels, [("227".into(), 0.8125), ("228".into(), 1.8125), ("229".into(), 2.8125)]);
}

#[test]
fn between_two_inches_the_heights_are_those_of_a_ruler() {
    let heights = |step, from: usize| -> Vec<u8> {
        let tape = picture(0.5, Unit::Inch, step, 1.0);
        tape.ticks[from..].iter().map(|tick| tick.class).collect()
    };
    assert_eq!(heights(0.0625, 0), [0, 4, 3, 4, 2, 4, 3, 4, 1, 4, 3, 4, 2, 4, 3, 4, 0]);
    assert_eq!(heights(0.015625, 60), [4, 6, 5, 6, 0]);
    assert_eq!(heights(0.5, 0), [0, 1, 0]);
}

#[test]
fn the_tick_under_the_pointer_is_the_value() {
    for n in 0..300 * 16 {
        let tape = picture(f64::from(n) / 16.0, Unit::Inch, 0.0625, 3.0);
        let under = tape.ticks.iter().filter(|tick| tick.offset == tape.pointer).count();
        assert_eq!(under, 1, "{n}/16 in");
    }
}

#[test]
fn near_the_hook_the_window_starts_at_zero() {
    let tape = picture(0.1875, Unit::Inch, 0.0625, 3.0);
    assert_eq!((tape.pointer, tape.ticks[0].offset, tape.ticks[0].label.as_deref()), (0.1875, 0.0, Some("0")));
}

#[test]
fn a_negative_displacement_is_read_off_the_same_tape() {
    assert_eq!(picture(-5.25, Unit::Inch, 0.125, 3.0), picture(5.25, Unit::Inch, 0.125, 3.0));
}

#[test]
fn millimetres_have_tens_fives_ones_and_halves() {
    let classes = |step| -> Vec<u8> {
        let tape = picture(5785.0, Unit::Millimetre, step, 10.0);
        tape.ticks.iter().map(|tick| tick.class).collect()
    };
    assert_eq!(classes(1.0), [0, 2, 2, 2, 2, 1, 2, 2, 2, 2, 0]);
    assert_eq!(classes(0.5)[..4], [0, 3, 2, 3]);
    assert_eq!(picture(5785.0, Unit::Millimetre, 1.0, 10.0).ticks[10].label.as_deref(), Some("5790"));
}

#[test]
fn ticks_are_never_finer_than_the_tool_nor_than_a_tape() {
    let count = |unit, step| picture(2.0, unit, step, 1.0).ticks.len();
    assert_eq!(count(Unit::Inch, 0.1), 9);
    assert_eq!(count(Unit::Inch, 0.001), 65);
    assert_eq!(count(Unit::Inch, 5.0), 1);
}

#[test]
fn what_is_no_tape_has_no_picture() {
    for (value, unit, step, width) in [
        (2.6, Unit::Degree, 0.1, 3.0),
        (f64::NAN, Unit::Inch, 0.0625, 3.0),
        (f64::INFINITY, Unit::Inch, 0.0625, 3.0),
        (5.0, Unit::Inch, f64::NAN, 3.0),
        (5.0, Unit::Inch, 0.0625, 0.0),
        (5.0, Unit::Inch, 0.0625, f64::NAN),
        (5.0, Unit::Inch, 0.0625, 1e9),
    ] {
        assert_eq!(TapeTicks::around(value, unit, step, width), None, "{value} {unit:?} {step} {width}");
    }
}
