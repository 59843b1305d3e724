//! What earlier airframes of the type say before the first move on this one.
//!
//! Figures marked "trade" are plane geometry on the invented airframe's coordinates (common practice, no source).

mod support;

use support::Logbook;
use trammel::procedure::{Precedent, Run};
use trammel::record::{AirframeId, Body, Entry, EntryId, Ledger};
use uuid::Uuid;

fn read_pitch(book: &mut Logbook, value: f64) {
    for slot in ["direct", "direct", "reversed", "reversed"] {
        book.read("set/pitch", slot, value);
    }
}

/// Trade: 1.0° over the 122 in to the saddle is 2 1/8 in; this one gave 0.7° of it, and the rest brought it in.
fn earlier() -> Logbook {
    let mut book = Logbook::example(0);
    read_pitch(&mut book, -3.6);
    book.moved("set/pitch", "saddle", 2.125);
    read_pitch(&mut book, -2.9);
    book.moved("set/pitch", "saddle", 0.90625);
    read_pitch(&mut book, -2.6);
    book
}

/// The entries as another airframe's, with what changes its details.
fn as_another(book: &Logbook, number: u128, change: impl Fn(&mut Body)) -> Vec<Entry> {
    let entries = book.ledger.entries().cloned();
    entries
        .map(|mut entry| {
            entry.id = EntryId(Uuid::from_u128(entry.id.0.as_u128() | number));
            entry.airframe = AirframeId(Uuid::from_u128(0xA00 + number));
            change(&mut entry.body);
            entry
        })
        .collect()
}

fn folded(book: &Logbook, others: impl IntoIterator<Item = Entry>) -> (Run, Vec<String>) {
    let mut ledger = Ledger::default();
    ledger.merge(book.ledger.entries().cloned());
    ledger.merge(others);
    let airframe = book.airframe();
    let precedent = Precedent::of(book.procedure(), &ledger, &airframe);
    let run = Run::fold_after(book.procedure(), &airframe, book.run, &ledger.in_force(book.airframe), precedent);
    let starts = run.precedent.starts(book.procedure(), &airframe, &run, "offer-up");
    (run, starts)
}

/// The first order, its amount in inches, and what is said of earlier airframes.
fn first_move(run: &Run) -> (f64, Option<String>) {
    let advice = run.step("set/pitch").expect("the step").advice.clone().expect("advice");
    let correction = advice.correction.expect("a correction");
    (correction.moves[0].amount.value, correction.precedent)
}

#[test]
fn an_earlier_airframe_of_the_type_sizes_the_first_move_and_says_where_to_begin() {
    let mut book = Logbook::example(0);
    read_pitch(&mut book, -2.9);
    let (alone, words) = first_move(&folded(&book, []).0);
    assert!((alone - 0.625).abs() < 1e-9 && words.is_none(), "geometry alone: {alone} {words:?}");

    let (run, starts) = folded(&book, as_another(&earlier(), 1, |_| ()));
    let (after_one, words) = first_move(&run);
    assert!(after_one > alone, "it answered less than geometry, so more is moved: {after_one}");
    assert!(words.as_ref().is_some_and(|words| words.starts_with("An earlier airframe of this type")), "{words:?}");
    assert_eq!(starts, ["Raise the saddle 3\u{a0}1/32 in"], "2 1/8 + 29/32");
    assert!(run.precedent.starts(book.procedure(), &book.airframe(), &run, "aft-point").is_empty(), "said once");

    // More of them are believed more: 0.3° at 0.7 of geometry is 0.91 in (trade).
    let three = [1, 2, 3].into_iter().flat_map(|number| as_another(&earlier(), number, |_| ()));
    let (after_three, words) = first_move(&folded(&book, three).0);
    assert!(after_three >= after_one && after_three <= 0.91 + 1.0 / 32.0, "{after_one} {after_three}");
    assert!(words.is_some_and(|words| words.starts_with("3 earlier airframes")));
}

#[test]
fn another_type_or_an_example_teaches_a_real_one_nothing() {
    let mut book = Logbook::example(0);
    read_pitch(&mut book, -2.9);
    let alone = first_move(&folded(&book, []).0);
    let of_another_type = as_another(&earlier(), 1, |body| {
        if let Body::AirframeMade { details } = body {
            details.model = "Okalune T1".to_owned();
        }
    });
    let real = as_another(&earlier(), 2, |body| {
        if let Body::AirframeMade { details } = body {
            details.invented = false;
        }
    });
    for others in [of_another_type, real] {
        let (run, starts) = folded(&book, others);
        assert_eq!(first_move(&run), alone);
        assert!(starts.is_empty());
    }
}

#[test]
fn a_support_that_never_came_to_rest_gives_no_start() {
    let mut unfinished = Logbook::example(0);
    read_pitch(&mut unfinished, -3.6);
    unfinished.moved("set/pitch", "saddle", 2.125);
    let (_, starts) = folded(&Logbook::example(0), as_another(&unfinished, 1, |_| ()));
    assert!(starts.is_empty(), "{starts:?}");
}

/// Once something was moved here, this airframe speaks for itself.
#[test]
fn the_words_are_gone_once_this_airframe_has_answered() {
    let mut book = Logbook::example(0);
    read_pitch(&mut book, -3.6);
    book.moved("set/pitch", "saddle", 1.5);
    read_pitch(&mut book, -3.0);
    let (run, _) = folded(&book, as_another(&earlier(), 1, |_| ()));
    assert_eq!(first_move(&run).1, None);
}
