//! The same checks at one gate after another, and a move that is taken back.
//!
//! Expected changes are differences of the readings and the sheet's tolerances (±0.20° pitch, ±0.15° twist, ±1/16 in square), by hand.

mod support;

use support::Logbook;
use trammel::metrology::Verdict;
use trammel::procedure::{AtGate, State, drift, fresh_move, not_moved};
use trammel::record::{Body, EntryId, Instrument, InstrumentKind};

fn pitch(book: &mut Logbook, gate: &str, value: f64) {
    for slot in ["direct", "direct", "reversed", "reversed"] {
        book.read(&format!("{gate}/pitch"), slot, value);
    }
}

fn twist(book: &mut Logbook, gate: &str, value: f64) {
    for (slot, value) in [("frame", 0.1), ("frame-reversed", 0.1), ("aft", 0.1 + value), ("aft-reversed", 0.1 + value)]
    {
        book.read(&format!("{gate}/twist"), slot, value);
    }
}

/// A check at its gates.
fn across(book: &Logbook, check: &str) -> Vec<AtGate> {
    let rows = drift(book.procedure(), &book.fold());
    rows.into_iter().find(|row| row.check == check).map(|row| row.gates).unwrap_or_default()
}

#[test]
fn one_gate_alone_shows_no_change() {
    let mut book = Logbook::example(0);
    assert!(drift(book.procedure(), &book.fold()).is_empty());
    pitch(&mut book, "set", -2.6);
    twist(&mut book, "set", 0.0);
    assert!(drift(book.procedure(), &book.fold()).is_empty());
}

#[test]
fn every_gate_says_its_value_its_verdict_and_what_changed_since_the_gate_before() {
    let mut book = Logbook::example(0);
    for (gate, value) in [("set", -2.6), ("clamped", -2.5), ("piloted", -2.7), ("drilled", -2.7)] {
        pitch(&mut book, gate, value);
    }
    twist(&mut book, "set", 0.0);
    twist(&mut book, "drilled", 0.0);
    let found = across(&book, "pitch");
    let words: Vec<&str> = found.iter().map(|at| at.words.as_str()).collect();
    assert_eq!(words, ["set: −2.60°, in", "clamped: −2.50°, in", "piloted: −2.70°, in", "drilled: −2.70°, in"]);
    assert_eq!(found[0].change, "");
    assert!(matches!(found[0].mark, Some((_, Verdict::In))));
    // 0.10° of ±0.20° is half of it, not more.
    assert!(found[1].change.starts_with("+0.10° since set") && !found[1].large, "{:?}", found[1]);
    assert!(found[2].change.starts_with("−0.20° since clamped: more than half the tolerance"), "{:?}", found[2]);
    assert!(found[2].large);
    assert_eq!(found[3].change, "unchanged since piloted");
    // What was left out at two gates is held against the last gate at which it was read.
    let twisted = across(&book, "twist");
    assert_eq!(twisted[1].words, "clamped: not read");
    assert_eq!((twisted[1].mark, twisted[1].change.as_str(), twisted[1].large), (None, "", false));
    assert!(twisted[3].change.contains("since set"), "{:?}", twisted[3]);
}

/// Two angles, each read four times on a 0.1° display: by themselves they leave more open than 0.04°.
#[test]
fn a_change_that_the_readings_cannot_show_is_said_to_be_one() {
    let mut book = Logbook::example(0);
    twist(&mut book, "set", 0.0);
    twist(&mut book, "clamped", 0.1);
    let found = &across(&book, "twist")[1];
    assert!(found.large, "0.10° is more than half of 0.15°: {found:?}");
    assert_eq!(found.change, "+0.10° since set: more than half the tolerance, within what the readings leave open");
}

#[test]
fn what_was_moved_on_purpose_is_no_drift_and_what_was_corrected_afterwards_still_is() {
    let mut book = Logbook::example(0);
    pitch(&mut book, "set", -2.9);
    book.moved("set/pitch", "saddle", 0.625);
    pitch(&mut book, "clamped", -2.6);
    let found = &across(&book, "pitch")[1];
    assert_eq!((found.change.as_str(), found.large), ("+0.30° since set, moved in between", false));
    // Drilling pulls it by 0.3°; it is put back at that gate.
    pitch(&mut book, "piloted", -2.9);
    book.moved("piloted/pitch", "saddle", 0.625);
    pitch(&mut book, "piloted", -2.6);
    let found = &across(&book, "pitch")[2];
    assert_eq!(found.words, "piloted: −2.60°, in");
    assert_eq!(found.change, "−0.30° since clamped: more than half the tolerance; corrected here");
    assert!(found.large);
    // Once more with nothing moved: what was first read stays what the drilling did.
    pitch(&mut book, "piloted", -2.6);
    assert_eq!(across(&book, "pitch")[2].change, found.change);
}

#[test]
fn a_value_that_something_was_moved_after_is_marked_stale() {
    let mut book = Logbook::example(0);
    pitch(&mut book, "set", -2.6);
    pitch(&mut book, "clamped", -2.6);
    book.moved("clamped/pitch", "saddle", 0.0625);
    assert_eq!(across(&book, "pitch")[1].words, "clamped: −2.60°, in, stale");
}

#[test]
fn a_check_without_a_tolerance_drifts_without_a_mark() {
    let mut book = Logbook::example(0);
    book.specify("pitch", trammel::record::SpecValue::default(), "");
    pitch(&mut book, "set", -2.6);
    pitch(&mut book, "clamped", -1.6);
    let found = &across(&book, "pitch")[1];
    assert_eq!(
        (found.words.as_str(), found.change.as_str(), found.large),
        ("clamped: −1.60°, not judged", "+1.00° since set", false)
    );
}

fn fresh(book: &Logbook) -> Option<EntryId> {
    fresh_move(book.procedure(), &book.fold()).map(|fresh| fresh.entry)
}

fn strike(book: &mut Logbook, entry: EntryId) {
    book.put(Body::Struck { entry, reason: not_moved().to_owned() });
}

#[test]
fn a_move_is_taken_back_while_nothing_was_done_since_and_the_checks_come_back() {
    let mut book = Logbook::example(0);
    assert_eq!(fresh(&book), None);
    pitch(&mut book, "set", -2.9);
    twist(&mut book, "set", 0.0);
    assert_eq!(fresh(&book), None, "nothing was moved");
    let before = book.fold();
    let moved = book.moved("set/pitch", "saddle", 0.625);
    let state = |book: &Logbook| book.fold().step("set/pitch").map(|step| step.state);
    assert_eq!(state(&book), Some(State::Stale));
    let found = fresh_move(book.procedure(), &book.fold()).expect("fresh");
    assert_eq!((found.entry, found.words.as_str()), (moved, "Written down: Raise the saddle 5/8 in."));
    strike(&mut book, found.entry);
    assert_eq!(book.fold(), before, "as if it had never been written");
    assert_eq!(fresh(&book), None);
}

#[test]
fn two_moves_are_taken_back_one_after_the_other_the_last_first() {
    let mut book = Logbook::example(0);
    let first = book.moved("set/square", "joint-left", -0.03125);
    let second = book.moved("set/square", "joint-right", 0.03125);
    assert_eq!(fresh(&book), Some(second));
    strike(&mut book, second);
    assert_eq!(fresh(&book), Some(first));
    strike(&mut book, first);
    assert_eq!(fresh(&book), None);
}

#[test]
fn whatever_was_done_after_a_move_makes_it_past() {
    let after: [fn(&mut Logbook); 4] = [
        |book| {
            book.read("set/pitch", "direct", -2.6);
        },
        |book| {
            book.confirm("clamp");
        },
        |book| {
            book.count("pilot", 4, 0);
        },
        |book| {
            book.sign("hold-a", "B. Helper");
        },
    ];
    for act in after {
        let mut book = Logbook::example(0);
        pitch(&mut book, "set", -2.9);
        let moved = book.moved("set/pitch", "saddle", 0.625);
        assert_eq!(fresh(&book), Some(moved));
        act(&mut book);
        assert_eq!(fresh(&book), None);
    }
    // Another instrument answers no move.
    let mut book = Logbook::example(0);
    let moved = book.moved("set/pitch", "saddle", 0.625);
    book.accept(
        "rule",
        Instrument::new(InstrumentKind::Rule, "other".to_owned(), trammel::quantity::Unit::Inch, 1.0 / 64.0, 0.01),
    );
    assert_eq!(fresh(&book), Some(moved));
}
