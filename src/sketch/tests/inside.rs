//! Whatever is typed into a specification and whatever is read, a drawing is made of numbers and stays on its sheet.

use proptest::prelude::*;

use super::{Book, check_inside, procedure_};
use crate::procedure::{StepKind, StepState};
use crate::quantity::Unit;
use crate::record::Units;
use crate::sketch::{attempts_chart, step_sketch};

const LENGTHS: [&str; 10] = [
    "half-width",
    "diagonal",
    "joint-width",
    "joint-to-tail",
    "saddle-distance",
    "saddle-width",
    "block-distance",
    "block-below",
    "gap-limit",
    "offset",
];

/// Every drawing of every step of a run, with nothing read now and with each slot read now, and every chart.
fn check_all(book: &Book, context: &str) {
    let (airframe, run) = (book.airframe(), book.run());
    for step in &run.steps {
        for slot in slots(step) {
            if let Some(sketch) = step_sketch(procedure_(), &airframe, &run, step, slot.as_deref()) {
                check_inside(&sketch, &format!("{context}, {} {slot:?}", step.path));
            }
        }
        if let Some(chart) = attempts_chart(step) {
            check_inside(&chart.sketch(), &format!("{context}, chart of {}", step.path));
        }
    }
}

fn slots(step: &StepState) -> Vec<Option<String>> {
    let read = match &step.step.kind {
        StepKind::Measure { slots, .. } => slots.iter().map(|slot| Some(slot.id.clone())).collect(),
        _ => Vec::new(),
    };
    [vec![None], read].concat()
}

/// Numbers that nobody means and somebody types: tiny, huge, nothing, less than nothing, and no number at all.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => 0.01_f64..10_000.0,
        1 => -10_000.0_f64..0.0,
        1 => prop_oneof![Just(0.0), Just(1e-12), Just(1e300), Just(-1e300), Just(f64::NAN), Just(f64::INFINITY)],
    ]
}

fn any_reading() -> impl Strategy<Value = f64> {
    prop_oneof![3 => -5.0_f64..5.0, 1 => -360.0_f64..360.0, 1 => Just(0.0)]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn everything_stays_on_the_sheet(
        lengths in proptest::collection::vec(proptest::option::of((any_number(), proptest::option::of(any_number()))), LENGTHS.len()),
        slope in proptest::option::of(any_number()),
        pitch in proptest::option::of((any_number(), proptest::option::of(any_number()))),
        on_block in any::<bool>(),
        inches in any::<bool>(),
        readings in proptest::collection::vec(any_reading(), 9),
        distance in 0.1_f64..100_000.0,
        moves in proptest::collection::vec(-500.0_f64..500.0, 3),
        repeats in 1_usize..5,
    ) {
        let mut book = Book::blank(if inches { Units::Inches } else { Units::Millimetres });
        let unit = book.units.length();
        for (key, number) in LENGTHS.iter().zip(&lengths) {
            if let Some((nominal, tolerance)) = number {
                book.number(key, *nominal, unit, *tolerance);
            }
        }
        if let Some(slope) = slope {
            book.number("tube-slope", slope, Unit::Degree, None);
        }
        if let Some((nominal, tolerance)) = pitch {
            book.number("pitch", nominal, Unit::Degree, tolerance);
        }
        book.words("set-up", if on_block { "frame on a block" } else { "cone in a saddle" });
        for _ in 0..repeats {
            book.read_gaps([readings[0].abs(), readings[1].abs(), readings[2].abs(), readings[3].abs()]);
            book.read_pitch("set", readings[4]);
            book.read_twist("set", readings[5], readings[6]);
            book.read_square("set", distance, distance + readings[7]);
            book.read("set/offset", &[("string", readings[8])]);
            book.moved(if on_block { "block" } else { "saddle" }, moves[0]);
            book.moved("joint-left", moves[1]);
        }
        check_all(&book, "stale");
        book.read_pitch("set", readings[4]);
        book.read_twist("set", readings[5], readings[6]);
        book.read_square("set", distance + readings[7], distance);
        book.read("set/offset", &[("string", readings[8])]);
        check_all(&book, "fresh");
    }
}

/// The order of every adjuster, both ways, on the invented airframes.
#[test]
fn ordered_moves_stay_on_the_sheet() {
    for (mut book, name) in
        [(Book::example(0), "saddle"), (Book::on_a_block(), "block"), (Book::example(1), "millimetres")]
    {
        check_all(&book, name);
        let distance = if book.units == Units::Inches { 227.5 } else { 4468.5 };
        for sign in [-1.0, 1.0] {
            for off in [0.05, 0.3, 1.5, 20.0] {
                book.read_pitch("set", -1.3 + sign * off);
                book.read_twist("set", 0.1, 0.1 + sign * off);
                book.read_square("set", distance + sign * off, distance);
                book.read("set/offset", &[("string", sign * off)]);
                check_all(&book, name);
            }
        }
    }
}

#[test]
fn sixty_attempts_stay_on_the_sheet() {
    let mut book = Book::example(0);
    for attempt in 0..60 {
        book.read_pitch("set", -3.0 + f64::from(attempt) / 100.0);
        book.moved("saddle", 0.03125);
    }
    check_all(&book, "sixty");
}
