//! What is seen from two metres, for a second after a reading, and on the helper's screen: the numbers that the invented airframe's sheet
//! gives, and none of them for somebody who reads blind.

mod support;

use support::Logbook;
use trammel::metrology::{Beyond, Verdict};
use trammel::procedure::{Face, Far, HelperCard, Seen, StepKind, Words, flash, helper_cards, procedures, read_blind};
use trammel::quantity::{Quantity, Unit};

fn far_of(book: &Logbook, step: &str, again: bool, reader: Option<&str>, typed: &str) -> Far {
    let (airframe, run) = (book.airframe(), book.fold());
    let step = run.step(step).expect("a step");
    let face = Face::of(&run, step, again, reader);
    Far::of(book.procedure(), &airframe, &run, step, &face, typed)
}

fn far(book: &Logbook, step: &str, typed: &str) -> (String, String, Seen) {
    let found = far_of(book, step, false, Some("B. Helper"), typed);
    (found.number, found.word, found.seen)
}

/// Everything before the passes, so that nothing is shut.
fn ready() -> Logbook {
    let mut book = Logbook::example(0);
    for step in ["cautions", "level-frame", "centre-line", "aft-point", "offer-up"] {
        book.confirm(step);
    }
    book
}

/// The sheet's number for an item, as the sheet prints it.
fn nominal(book: &Logbook, key: &str) -> String {
    book.airframe().specification.nominal(key).map(|number| number.print()).expect("on the sheet")
}

#[test]
fn a_reading_shows_its_target_and_then_what_is_typed() {
    let book = ready();
    assert_eq!(far(&book, "set/pitch", ""), ("−2.6°".to_owned(), "target".to_owned(), Seen::Target));
    assert_eq!(far(&book, "set/square", ""), (nominal(&book, "diagonal"), "about".to_owned(), Seen::Target));
    assert_eq!(far(&book, "set/pitch", "−2.61°"), ("−2.61°".to_owned(), "typed".to_owned(), Seen::Typed));
    // The most that the invented sheet allows at a corner of the joint.
    let most =
        book.airframe().specification.item("gap-limit").map(|item| Words::tolerance(&item.value)).expect("entered");
    let (number, word, _) = far(&book, "gaps", "");
    assert_eq!(format!("{word} {number}"), most);
    assert_eq!(far(&book, "cautions", "").1, "done");
    assert_eq!(far(&book, "clamp", "").2, Seen::Place);
    let pieces = far_of(&book, "set/square", false, None, "227 11/16 in").pieces();
    assert_eq!(pieces, ["227", "11/16", "in"]);
}

#[test]
fn a_verdict_shows_its_value_and_its_word() {
    let mut book = ready();
    for slot in ["direct", "direct", "reversed", "reversed"] {
        book.read("set/pitch", slot, -3.2);
    }
    let (number, word, seen) = far(&book, "set/pitch", "");
    assert_eq!((number.as_str(), word.as_str()), ("−3.20°", "out"));
    assert_eq!(seen, Seen::Judged(Verdict::Out(Beyond::Low)));
    let run = book.fold();
    let shown = flash(book.procedure(), run.step("set/pitch").expect("a step")).expect("a verdict");
    assert_eq!(shown.word, "out");
    assert!(shown.way.as_deref().is_some_and(|way| way.starts_with("Tail end too low by ")), "{:?}", shown.way);
    assert_eq!(flash(book.procedure(), run.step("set/twist").expect("a step")), None, "nothing was read there");
}

/// A second reader sees the count and what they type: no number of the sheet, none of the first reader.
#[test]
fn blind_readings_stay_blind() {
    let mut book = ready();
    for slot in ["direct", "direct", "reversed", "reversed"] {
        book.read("clamped/pitch", slot, -2.6);
    }
    let run = book.fold();
    let step = run.step("reread").expect("a step");
    assert!(matches!(&step.step.kind, StepKind::Measure { blind: true, .. }));
    let StepKind::Measure { slots, .. } = &step.step.kind else { unreachable!() };
    for slot in slots {
        let (_, _, seen) = far(&book, "reread", "");
        assert_eq!(seen, Seen::Count, "{}", slot.id);
        for _ in 0..slot.repeats {
            let value = match slot.role.as_str() {
                "tape" => 227.5,
                _ => -2.6,
            };
            book.by = "B. Helper".to_owned();
            book.read("reread", &slot.id, value);
        }
    }
    let run = book.fold();
    assert_eq!(
        flash(book.procedure(), run.step("reread").expect("a step")),
        None,
        "whoever read blind sees no verdict"
    );
}

/// Every card of every procedure on both invented airframes: it says what to hold, where and how to call; and no number of the sheet
/// that is judged stands on it.
#[test]
fn the_helper_reads_blind_everywhere() {
    for which in 0..2 {
        let mut book = Logbook::example_without_run(which);
        for (number, procedure) in procedures().enumerate() {
            book.begin(&procedure.id, 0x100 + number as u128);
            let (airframe, run) = (book.airframe(), book.fold_without_advice());
            for step in &run.steps {
                let cards = helper_cards(procedure, &airframe, step);
                assert!(!cards.is_empty(), "{}: {}", procedure.id, step.path);
                for card in &cards {
                    let words = all_words(card);
                    if let Some(reading) = &card.reading {
                        assert!(!reading.hold.is_empty() && !reading.place.is_empty(), "{}: {card:?}", step.path);
                    }
                    let nominals =
                        procedure.specification.iter().filter_map(|item| airframe.specification.nominal(&item.key));
                    for number in nominals
                        .filter(|number| number.unit != Unit::One && number.value.abs() > 1.0 && card.reading.is_some())
                    {
                        let said = [number.print(), number.say()];
                        let spaced = words.replace(['“', '”', '.', ','], " ");
                        let there = said.iter().find(|said| spaced.contains(&format!(" {said} ")));
                        assert_eq!(there, None, "{}: {words}", step.path);
                    }
                }
            }
        }
    }
}

fn all_words(card: &HelperCard) -> String {
    let reading = card.reading.as_ref().map(|reading| {
        format!("{} {} {} {} {}", reading.title, reading.hold, reading.place, reading.look, reading.call.join(" "))
    });
    format!("{} {} {}", card.title, card.text.join(" "), reading.unwrap_or_default())
}

#[test]
fn a_card_says_how_to_call_a_number_of_this_tape() {
    let book = ready();
    let run = book.fold();
    let cards = helper_cards(book.procedure(), &book.airframe(), run.step("set/square").expect("a step"));
    let reading = cards[0].reading.as_ref().expect("something is read");
    assert_eq!(reading.title, "LEFT distance");
    assert_eq!(reading.call[0], "Call the number with its unit, like “eight and nine thirty-seconds inches”.");
    assert_eq!(reading.call[2], "3 times. Lift it off and lay it on anew each time, and forget the number before.");
    let cards = helper_cards(book.procedure(), &book.airframe(), run.step("set/pitch").expect("a step"));
    let call = &cards[0].reading.as_ref().expect("something is read").call;
    assert_eq!(call[0], "First say: Which end of the longeron is high? “Tail end high” or “Tail end low”.");
}

#[test]
fn a_number_of_the_helper_is_doubted_without_a_word_about_what_it_should_be() {
    let mut book = ready();
    for value in [227.4375, 227.4375, 227.5] {
        book.read("set/square", "left", value);
    }
    let (airframe, run) = (book.airframe(), book.fold());
    let step = run.step("set/square").expect("a step");
    let next = read_blind(book.procedure(), &airframe, &run, step, "B. Helper").expect("something to read");
    assert_eq!((next.slot.id.as_str(), next.repeat), ("right", 1));
    let of = |value: f64| Quantity::new(value, next.instrument.unit, next.instrument.step);
    assert!(next.doubts(&of(272.4375)), "two digits have changed places");
    assert!(!next.doubts(&of(227.4375)));
    assert_eq!(read_blind(book.procedure(), &airframe, &run, run.step("clamp").expect("a step"), "B. Helper"), None);
}
