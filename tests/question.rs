//! The question's extract and its answer, over random histories of a mating, another procedure, strikes and changed numbers: what is
//! worked out from the extract is what is worked out from the whole record. Our own properties; there is no outside source for them.

mod support;

use proptest::prelude::*;
use support::Logbook;
use trammel::metrology::Verdict;
use trammel::procedure::Run;
use trammel::quantity::{Quantity, Unit};
use trammel::record::{
    About, Body, Deviation, DeviationAnswer, Digest, Entry, EntryId, Integrity, Ledger, MovedAdjuster, Photo, Question,
    Remark, RunId,
};
use trammel::report::{
    MAX_QUESTION, RecordFile, answer, extract, lines_about, not_sent, photos_about, question_name, read_record,
    with_photos, write_record,
};
use uuid::Uuid;

const STEP: &str = "set/pitch";

fn about(book: &Logbook) -> About {
    About { run: Some(book.run), step: Some(STEP.to_owned()), entry: None }
}

fn ask(book: &mut Logbook) -> EntryId {
    let (about, question) = (about(book), "The pitch does not come in. What would you move?".to_owned());
    book.put(Body::QuestionAsked(Question { about, question, to: "C. Mentor".to_owned() }))
}

/// One event of a history, and a number for whatever it has to choose.
fn happen(book: &mut Logbook, kind: u8, number: usize) {
    let nth = |book: &Logbook| book.ledger.entries().nth(number % book.ledger.len()).map(|entry| entry.id);
    let own = book.run;
    match kind {
        0 => drop(book.read(STEP, "direct", -2.0 - number as f64 / 50.0)),
        1 => drop(book.read(STEP, "reversed", 2.0 + number as f64 / 50.0)),
        2 => drop(book.read("set/square", ["left", "right"][number % 2], 227.0 + number as f64 / 64.0)),
        3 => drop(book.moved(STEP, ["block", "saddle"][number % 2], 1.0 / 16.0)),
        4 => {
            // Anything may be struck out here, the airframe itself and the run aside.
            let target = nth(book).and_then(|id| book.ledger.get(id));
            let founds = |entry: &&Entry| !matches!(entry.body, Body::AirframeMade { .. } | Body::RunStarted { .. });
            if let Some(target) = target.filter(founds).map(|entry| entry.id) {
                book.put(Body::Struck { entry: target, reason: "not so".to_owned() });
            }
        }
        5 => {
            let keys: Vec<String> = book.airframe().specification.items().map(|(key, _)| key.to_owned()).collect();
            if let Some(key) = keys.get(number % keys.len().max(1)) {
                let value = book.airframe().specification.item(key).expect("there").value.clone();
                book.specify(key, value, &format!("page {number}"));
            }
        }
        6 => {
            let set =
                book.airframe().specification.items().nth(number % 20).map(|(key, item)| (key.to_owned(), item.entry));
            if let Some((key, entry)) = set {
                "B. Helper".clone_into(&mut book.by);
                book.put(Body::SpecificationReread { key, entry });
                "A. Builder".clone_into(&mut book.by);
            }
        }
        7 => {
            book.run = RunId(Uuid::from_u128(0xC0 + number as u128 % 2));
            let (run, step) = (book.run, "x".to_owned());
            let procedure = ["mate-aft-fuselage", "level-jig"][number % 2].to_owned();
            if number.is_multiple_of(3) {
                book.put(Body::RunStarted { run, procedure, version: 1, file: None });
            }
            let adjuster = ["block", "saddle", "foot-front"][number % 3].to_owned();
            let amount = Quantity::new(0.25, Unit::Inch, 1.0 / 32.0);
            book.put(Body::AdjusterMoved(MovedAdjuster { run, step, adjuster, amount }));
            book.run = own;
        }
        8 => {
            let instrument = book.airframe().instruments.get("protractor").map(|(instrument, _)| instrument.clone());
            if let Some(mut instrument) = instrument {
                instrument.accuracy = 0.1 + (number % 3) as f64 / 10.0;
                book.accept("protractor", instrument);
            }
        }
        9 => {
            let text = format!("note {number}");
            let about = if number.is_multiple_of(2) { about(book) } else { About::default() };
            book.put(Body::NoteMade { about, text, spoken: false });
        }
        10 => {
            let [found, limit, reason] = ["out", "in", "it flies straight"].map(str::to_owned);
            let raised = Deviation { about: about(book), found, limit, reason, asked: "C. Mentor".to_owned() };
            let deviation = book.put(Body::DeviationRaised(raised));
            let (name, answer) = ("C. Mentor".to_owned(), "It may stand.".to_owned());
            book.put(Body::DeviationAnswered(DeviationAnswer { deviation, accepted: true, name, answer }));
        }
        _ => drop(book.confirm("level-frame")),
    }
}

fn histories() -> impl Strategy<Value = Vec<(u8, usize)>> {
    prop::collection::vec((0..12_u8, 0..200_usize), 0..60)
}

fn history(events: &[(u8, usize)]) -> (Logbook, EntryId) {
    let mut book = Logbook::example(0);
    for (kind, number) in events {
        happen(&mut book, *kind, *number);
    }
    let question = ask(&mut book);
    (book, question)
}

fn folded(book: &Logbook, ledger: &Ledger) -> Run {
    let airframe = ledger.airframe(book.airframe).expect("made");
    Run::fold(book.procedure(), &airframe, book.run, &ledger.of_run(book.airframe, book.run))
}

fn opened(file: &RecordFile) -> Ledger {
    let mut there = Ledger::default();
    there.merge(read_record(&write_record(file)).expect("reads").entries);
    there
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn the_mentors_phone_works_out_what_the_builders_does(events in histories()) {
        let (book, question) = history(&events);
        let file = extract(&book.ledger, question).expect("a question");
        let there = opened(&file);
        prop_assert_eq!(folded(&book, &there), folded(&book, &book.ledger));
        let said = |ledger: &Ledger| lines_about(ledger, book.airframe, &about(&book));
        prop_assert_eq!(said(&there), said(&book.ledger));
        // What was struck out is struck out there as well, and the sheet says the same.
        for entry in there.of(book.airframe) {
            let struck = |ledger: &Ledger| ledger.struck(book.airframe).get(entry.id);
            prop_assert_eq!(struck(&there), struck(&book.ledger), "{:?}", entry.body);
        }
        let sheet = |ledger: &Ledger| {
            let airframe = ledger.airframe(book.airframe).expect("made");
            let mut items: Vec<_> = airframe.specification.items().map(|(key, item)| (key.to_owned(), item.clone())).collect();
            items.sort_by(|one, two| one.0.cmp(&two.0));
            (items, airframe.instruments, airframe.people)
        };
        prop_assert_eq!(sheet(&there), sheet(&book.ledger));
        // Nothing in it is called altered, and what is missing is counted to the entry.
        let found = Integrity::of(&there, book.airframe);
        prop_assert!(found.as_written(), "{:?}", found.breaks);
        prop_assert_eq!(found.missing() as usize, book.ledger.len() - there.len());
        prop_assert_eq!(not_sent(&found).is_empty(), there.len() == book.ledger.len());
    }

    /// Builder, mentor, builder: both hold the same of the run; opening either file again adds nothing; a file that is opened by
    /// somebody who has everything adds only what the other wrote.
    #[test]
    fn there_and_back_both_hold_the_same(events in histories(), later in histories()) {
        let (mut book, question) = history(&events);
        let mut there = opened(&extract(&book.ledger, question).expect("a question"));
        let mut mentor = book.clone();
        mentor.ledger = there.clone();
        (mentor.device, mentor.by) = (Uuid::from_u128(0xEE), "C. Mentor".to_owned());
        for _ in 0..3 {
            mentor.put(Body::NoteMade { about: About::default(), text: "on the mentor's phone".to_owned(), spoken: false });
        }
        let proposes = MovedAdjuster {
            run: book.run,
            step: STEP.to_owned(),
            adjuster: "saddle".to_owned(),
            amount: Quantity::new(0.125, Unit::Inch, 1.0 / 64.0),
        };
        let remark = Remark { about: about(&book), answers: Some(question), text: "Up.".to_owned(), proposes: Some(proposes) };
        let remark = mentor.put(Body::RemarkMade(remark));
        there = mentor.ledger.clone();
        let back = answer(&there, question, mentor.device).expect("an answer");
        prop_assert_eq!(back.entries.len(), 5, "the question, and all that the mentor's phone wrote");
        for (kind, number) in later {
            happen(&mut book, kind, number);
        }
        let before = folded(&book, &book.ledger);
        let merged = book.ledger.merge(back.entries.clone());
        prop_assert_eq!((merged.added.len(), merged.known, merged.conflicts.len()), (4, 1, 0));
        prop_assert_eq!(folded(&book, &book.ledger), before, "a proposal moves nothing");
        prop_assert!(lines_about(&book.ledger, book.airframe, &about(&book)).iter().any(|line| line.entry == remark));
        prop_assert!(Integrity::of(&book.ledger, book.airframe).unbroken());
        prop_assert_eq!(book.ledger.merge(back.entries).added.len(), 0);
        // The extract, taken again, brings the mentor level.
        there.merge(extract(&book.ledger, question).expect("a question").entries);
        prop_assert_eq!(folded(&book, &there), folded(&book, &book.ledger));
    }
}

#[test]
fn what_the_question_does_not_need_stays_at_home() {
    let (mut book, _) = history(&[(0, 1), (5, 0), (5, 0), (7, 0), (9, 1), (9, 2)]);
    let own = book.run;
    book.begin("tailplane", 0xF0);
    let other = book.run;
    book.run = own;
    let question = ask(&mut book);
    let file = extract(&book.ledger, question).expect("a question");
    let texts = write_record(&file);
    assert!(!texts.contains(&other.to_string()), "another run");
    assert!(!texts.contains("note 1\"") && texts.contains("note 2\""), "what is said of the airframe at large");
    assert!(file.entries.len() < book.ledger.len());
    assert_eq!(extract(&book.ledger, file.entries[0].id), None, "what asks nothing");
    assert_eq!(answer(&book.ledger, file.entries[0].id, book.device), None);
}

#[test]
fn a_file_stays_under_its_size_and_says_what_was_left_out() {
    let (mut book, _) = history(&[]);
    let mut photos: Vec<(Digest, Vec<u8>)> = Vec::new();
    for number in 0..8_u8 {
        // Only the size counts here: no reader sees these.
        let bytes = vec![number; 700_000];
        let photo = Photo { digest: Digest::of(&bytes), bytes: 700_000, width: 2000, height: 1500 };
        photos.push((photo.digest, bytes));
        let about = About { step: Some(if number == 7 { "set/square" } else { STEP }.to_owned()), ..about(&book) };
        book.put(Body::PhotoAttached { about, photo, caption: number.to_string() });
    }
    let struck = book.ledger.entries().last().map(|entry| entry.id).expect("a photo");
    let question = ask(&mut book);
    let found = photos_about(&book.ledger, book.airframe, &about(&book));
    let captions: Vec<&str> = found.iter().map(|(_, _, caption)| caption.as_str()).collect();
    assert_eq!(captions, ["6", "5", "4", "3", "2", "1", "0"], "of the step, the newest first");
    assert!(found.iter().all(|(entry, ..)| *entry != struck));
    let of = |digest: Digest| photos.iter().find(|(known, _)| *known == digest).cloned().expect("there");
    let wanted = found.iter().map(|(_, photo, _)| of(photo.digest)).collect();
    let (text, left) = with_photos(extract(&book.ledger, question).expect("a question"), wanted);
    assert!(text.len() < MAX_QUESTION, "{}", text.len());
    assert_eq!((left, text.matches("\"jpeg\":").count()), (2, 5));
    assert!(text.len() + 940_000 > MAX_QUESTION, "one more would not have fitted");
}

#[test]
fn names_sort_by_the_day() {
    let (book, question) = history(&[]);
    let name = question_name(&book.airframe(), book.ledger.get(question).expect("asked"), "question");
    assert_eq!(name, "2025-10-09-veldrin-h2-example-1-question.json");
}

/// The verdict that the mentor sees is the builder's: out, with the same number.
#[test]
fn an_out_verdict_is_out_on_the_other_phone() {
    let mut book = Logbook::example(0);
    for (slot, value) in [("direct", -4.0), ("direct", -4.1), ("reversed", -4.0), ("reversed", -4.1)] {
        book.read(STEP, slot, value);
    }
    let question = ask(&mut book);
    let there = opened(&extract(&book.ledger, question).expect("a question"));
    let run = folded(&book, &there);
    let result = run.step(STEP).and_then(trammel::procedure::StepState::result).expect("measured");
    assert!(matches!(result.verdict, Verdict::Out(_)), "{:?}", result.verdict);
}
