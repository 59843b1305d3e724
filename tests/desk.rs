//! The desk over several airframes of a type. The middle of the values is held against R's `median` as its documentation gives it
//! (type 7: the mean of the two middle values of an even number); the rest is our own rule, there is no outside source for it.

mod support;

use support::Logbook;
use trammel::metrology::Verdict;
use trammel::record::{About, AirframeId, Body, Deviation, DeviationAnswer, Ledger, Question, Remark, RunId};
use trammel::report::{on_desk, pending, spreads, types};
use uuid::Uuid;

const STEP: &str = "set/pitch";

/// Airframes of the example's type, each with its own pitch in degrees, written by its own device.
fn fleet(pitches: &[f64]) -> (Ledger, Vec<AirframeId>) {
    let mut all = Ledger::default();
    let mut ids = Vec::new();
    for (place, pitch) in pitches.iter().enumerate() {
        let mut book = Logbook::example(0);
        let number = place as u128 + 1;
        book = rewritten(&book, number);
        for value in [("direct", *pitch), ("direct", *pitch), ("reversed", *pitch), ("reversed", *pitch)] {
            book.read(STEP, value.0, value.1);
        }
        ids.push(book.airframe);
        all.merge(book.ledger.entries().cloned());
    }
    (all, ids)
}

/// The same book for another airframe on another device.
fn rewritten(book: &Logbook, number: u128) -> Logbook {
    let mut other = Logbook::empty();
    other.airframe = AirframeId(Uuid::from_u128(0xA00 + number));
    other.run = RunId(Uuid::from_u128(0xB00 + number));
    other.device = Uuid::from_u128(0x20 + number);
    for entry in book.ledger.entries() {
        let mut body = entry.body.clone();
        match &mut body {
            Body::RunStarted { run, .. } => *run = other.run,
            Body::AirframeMade { details } => details.serial = format!("no. {number}"),
            _ => {}
        }
        other.put(body);
    }
    other
}

#[test]
fn each_check_spreads_from_its_least_to_its_greatest() {
    let (ledger, ids) = fleet(&[-2.6, -2.4, -2.9]);
    assert_eq!(types(&ledger), [("Veldrin H2 (invented)".to_owned(), ids.clone())]);
    let spreads = spreads(&ledger, &ids);
    let [pitch] = spreads.as_slice() else { panic!("one check was measured: {spreads:?}") };
    assert_eq!(pitch.check, "Pitch");
    let each: Vec<(&str, &str)> = pitch.each.iter().map(|one| (one.serial.as_str(), one.value.as_str())).collect();
    assert_eq!(each, [("no. 3", "−2.90°"), ("no. 1", "−2.60°"), ("no. 2", "−2.40°")]);
    assert_eq!((pitch.least.as_str(), pitch.middle.as_str(), pitch.greatest.as_str()), ("−2.90°", "−2.60°", "−2.40°"));
    let verdicts: Vec<Verdict> = pitch.each.iter().map(|one| one.verdict).collect();
    assert!(matches!(verdicts[..], [Verdict::Out(_), Verdict::In, _]), "{verdicts:?}");
}

#[test]
fn of_an_even_number_the_middle_lies_between_two() {
    let (ledger, ids) = fleet(&[-2.6, -2.4]);
    assert_eq!(spreads(&ledger, &ids)[0].middle, "−2.500°");
    assert!(spreads(&ledger, &ids[..1]).is_empty(), "one airframe spreads over nothing");
    assert!(types(&fleet(&[-2.6]).0).is_empty());
}

/// A check that was moved since is not a value of the airframe any more.
#[test]
fn what_went_stale_is_left_away() {
    let (mut ledger, ids) = fleet(&[-2.6, -2.4, -2.9]);
    let mut book = Logbook::empty();
    (book.airframe, book.run, book.ledger) = (ids[2], RunId(Uuid::from_u128(0xB03)), ledger.clone());
    book.device = Uuid::from_u128(0x77);
    for _ in 0..ledger.len() {
        book.put(Body::NoteMade { about: About::default(), text: "later".to_owned(), spoken: false });
    }
    book.moved(STEP, "saddle", 0.25);
    ledger.merge(book.ledger.entries().cloned());
    assert_eq!(spreads(&ledger, &ids)[0].each.len(), 2);
}

#[test]
fn what_waits_is_what_nobody_answered_the_newest_first() {
    let (ledger, ids) = fleet(&[-2.6, -2.4]);
    let mut book = Logbook::empty();
    (book.airframe, book.run, book.ledger) = (ids[0], RunId(Uuid::from_u128(0xB01)), ledger);
    let about = About { run: Some(book.run), step: Some(STEP.to_owned()), entry: None };
    let ask = |book: &mut Logbook, words: &str| {
        let (about, question) = (about.clone(), words.to_owned());
        book.put(Body::QuestionAsked(Question { about, question, to: "C. Mentor".to_owned() }))
    };
    let first = ask(&mut book, "Which way?");
    let second = ask(&mut book, "And how far?");
    let [found, limit, reason] = ["−2.9°", "−2.6° ± 0.2°", "it flies straight"].map(str::to_owned);
    let raised = Deviation { about: about.clone(), found, limit, reason, asked: "C. Mentor".to_owned() };
    let deviation = book.put(Body::DeviationRaised(raised));
    let waits = |book: &Logbook| pending(&book.ledger).iter().map(|waits| waits.entry).collect::<Vec<_>>();
    assert_eq!(waits(&book), [deviation, second, first]);
    let lines = on_desk(&book.ledger);
    assert_eq!(lines.iter().map(|line| line.waiting).collect::<Vec<_>>(), [3, 0]);
    assert!(lines[0].matches("veldrin 1") && lines[0].matches("") && !lines[0].matches("veldrin okalune"));

    let text = "Up.".to_owned();
    let remark = book.put(Body::RemarkMade(Remark { about, answers: Some(second), text, proposes: None }));
    assert_eq!(waits(&book), [deviation, first]);
    let (name, answer) = ("C. Mentor".to_owned(), "It may stand.".to_owned());
    book.put(Body::DeviationAnswered(DeviationAnswer { deviation, accepted: true, name, answer }));
    book.put(Body::Struck { entry: remark, reason: "another airframe".to_owned() });
    assert_eq!(waits(&book), [second, first], "an answer that was struck out answers nothing");
}
