//! What the guards know of a reading, from a real folded run.

use trammel::procedure::{Context, Slip, Source, StepKind, context_of, doubt};
use trammel::quantity::Quantity;
use trammel::record::SpecValue;

use crate::support::Logbook;

/// What is known before the next reading of a slot.
fn known(book: &Logbook, path: &str, slot: &str) -> Context {
    let (run, airframe) = (book.fold(), book.airframe());
    let step = run.step(path).expect("a step");
    let StepKind::Measure { slots, .. } = &step.step.kind else { panic!("{path} is measured") };
    let slot = slots.iter().find(|known| known.id == slot).expect("a slot");
    let (instrument, _) = airframe.instruments.get(&slot.role).expect("accepted");
    context_of(book.procedure(), &airframe, &run, step, slot, instrument)
}

fn asked(context: &Context, value: f64) -> Option<Slip> {
    doubt(&Quantity::new(value, context.unit, context.step), context).map(|doubt| doubt.slip)
}

fn read_all(book: &mut Logbook, path: &str, readings: &[(&str, f64)]) {
    for (slot, value) in readings {
        book.read(path, slot, *value);
    }
}

const PITCH: [(&str, f64); 4] = [("direct", -2.9), ("direct", -2.9), ("reversed", -2.8), ("reversed", -2.8)];
const SQUARE: [(&str, f64); 6] =
    [("left", 227.5), ("left", 227.5), ("left", 227.5), ("right", 227.25), ("right", 227.25), ("right", 227.25)];

#[track_caller]
fn expects(context: &Context, source: Source, value: f64) {
    let expected = context.expected.expect("something is expected");
    assert_eq!(expected.source, source, "{expected:?}");
    assert!((expected.value - value).abs() < 1e-9, "{expected:?}");
}

#[test]
fn first_the_sheet_then_the_other_way_round_then_the_repeats() {
    let mut book = Logbook::example(0);
    let context = known(&book, "set/pitch", "direct");
    expects(&context, Source::Sheet, -2.6);
    assert_eq!(context.question.as_deref(), Some("Which end of the longeron is high?"));
    assert_eq!(asked(&context, 2.6), Some(Slip::Sign));
    book.read("set/pitch", "direct", -2.9);
    expects(&known(&book, "set/pitch", "direct"), Source::Repeats, -2.9);
    book.read("set/pitch", "direct", -2.9);
    let context = known(&book, "set/pitch", "reversed");
    expects(&context, Source::OtherWay, -2.9);
    assert_eq!(context.last.expect("typed last").title, "Pitch, display toward you");
}

#[test]
fn the_set_before_while_nothing_was_moved_and_what_the_move_should_give_after() {
    let mut book = Logbook::example(0);
    read_all(&mut book, "set/pitch", &PITCH);
    read_all(&mut book, "set/twist", &[("frame", 0.1), ("frame-reversed", 0.0), ("aft", 0.3), ("aft-reversed", 0.2)]);
    expects(&known(&book, "set/pitch", "reversed"), Source::SetBefore, -2.8);
    // 1.065 in at 122 in is 0.5°, by the trade's 122 in · tan 0.5° = 1.065 in; the check's own mean goes up by it, and so does
    // each of its readings.
    book.moved("set/pitch", "saddle", 1.065);
    let context = known(&book, "set/pitch", "direct");
    let expected = context.expected.expect("what the move should give");
    assert_eq!(expected.source, Source::Move);
    assert!((expected.value + 2.4).abs() < 0.01, "{expected:?}");
    // The saddle disturbs the twist by nobody knows how much: only the sheet is left.
    expects(&known(&book, "set/twist", "aft"), Source::Sheet, 0.0);
}

#[test]
fn the_gate_before_until_something_is_moved() {
    let mut book = Logbook::example(0);
    read_all(&mut book, "set/square", &SQUARE);
    let context = known(&book, "clamped/square", "right");
    expects(&context, Source::GateBefore, 227.25);
    assert_eq!(context.other_side, "LEFT distance");
    book.moved("set/square", "joint-left", 0.125);
    expects(&known(&book, "clamped/square", "right"), Source::Sheet, 227.452);
}

#[test]
fn left_and_right_typed_for_each_other_are_seen_once_they_were_known_apart() {
    let mut book = Logbook::example(0);
    read_all(&mut book, "set/square", &SQUARE);
    let context = known(&book, "set/square", "left");
    assert_eq!(asked(&context, 227.25), Some(Slip::Swapped));
    assert_eq!(asked(&context, 227.53125), None);
    // Closing the left side of the joint by 1/8 in takes about 0.08 in off the difference of 1/4 in, as in the trade's 0.096 in
    // of joint for 1/16 in: left typed as right shows when the right is read.
    book.moved("set/square", "joint-right", 0.125);
    for _ in 0..3 {
        book.read("set/square", "left", 227.28125);
    }
    let context = known(&book, "set/square", "right");
    assert_eq!(context.expected.expect("by the difference").source, Source::Move);
    assert_eq!(asked(&context, 227.46875), Some(Slip::Swapped));
    assert_eq!(asked(&context, 227.09375), None);
}

#[test]
fn a_limit_on_one_side_says_about_where() {
    let book = Logbook::example(0);
    let gap = known(&book, "gaps", "upper-left");
    assert_eq!(gap.expected.expect("the gap limit").source, Source::Limit);
    assert_eq!(asked(&gap, 0.0), None);
    assert_eq!(asked(&gap, 0.25), None, "twice the limit is a finding, not a slip");
    assert_eq!(asked(&gap, 1.0625), Some(Slip::TapeStart(1.0)));
    let edge = known(&book, "edge", "worst");
    assert_eq!(edge.expected.expect("the least edge distance").source, Source::Limit);
    assert_eq!(asked(&edge, 0.25), None, "too little is a finding, not a slip");
}

/// The first reader's values must not change a word that the second reader can see: two runs that differ in nothing else know the
/// same at every reading of the blind step.
#[test]
fn a_blind_reader_is_asked_nothing_by_the_first_readers_values() {
    let blind = [("direct", -2.6), ("reversed", -2.6), ("left", 227.4375), ("right", 227.5)];
    let books = [-2.6, -2.2].map(|pitch| {
        let mut book = Logbook::example(0);
        for gate in ["set", "clamped"] {
            for slot in ["direct", "direct", "reversed", "reversed"] {
                book.read(&format!("{gate}/pitch"), slot, pitch);
            }
            for slot in ["left", "left", "left", "right", "right", "right"] {
                book.read(&format!("{gate}/square"), slot, 224.0 - pitch);
            }
        }
        book
    });
    let [mut one, mut other] = books;
    for _ in 0..2 {
        for (slot, value) in blind {
            let context = known(&one, "reread", slot);
            assert_eq!(context, known(&other, "reread", slot), "{slot}");
            assert!(matches!(context.expected.expect("the sheet").source, Source::Sheet | Source::OtherSide), "{slot}");
            one.read("reread", slot, value);
            other.read("reread", slot, value);
        }
    }
    assert_eq!(asked(&known(&one, "reread", "direct"), 2.6), Some(Slip::Sign), "the sheet still guards");
}

#[test]
fn without_a_number_on_the_sheet_the_other_side_serves() {
    let mut book = Logbook::example(0);
    book.specify("diagonal", SpecValue::default(), "");
    assert_eq!(known(&book, "set/square", "left").expected, None);
    for _ in 0..3 {
        book.read("set/square", "left", 227.5);
    }
    let context = known(&book, "set/square", "right");
    expects(&context, Source::OtherSide, 227.5);
    assert_eq!(asked(&context, 237.5), Some(Slip::TapeStart(10.0)));
}
