//! Procedures that belong to an airframe: which version counts where, and that a run stays on the one that it began with.

mod support;

use serde_json::{Value, json};
use support::Logbook;
use trammel::procedure::writing::{self, Part};
use trammel::procedure::{
    Progress, Run, StepState, Words, about_file, aircraft, in_use, newest, next_version, procedure, read_procedure,
    taken_in, unreadable, write_procedure,
};
use trammel::quantity::Quantity;
use trammel::record::{Body, Reading, RunId};
use trammel::report::{lines, read_json, write_json};
use uuid::Uuid;

const FIN: &str = "fin";

fn begin(book: &mut Logbook, id: &str, number: u128) -> RunId {
    let run = RunId(Uuid::from_u128(number));
    let airframe = book.airframe();
    let begun = newest(&airframe, id).expect("a procedure");
    let file = Some(write_procedure(begun).into());
    book.put(Body::RunStarted { run, procedure: id.to_owned(), version: begun.version, file });
    run
}

/// The fin's procedure with its first step called something else, kept for the airframe.
fn change(book: &mut Logbook, title: &str) -> u32 {
    let airframe = book.airframe();
    let mut changed = newest(&airframe, FIN).expect("a procedure").clone();
    let first = Part::Step(writing::StepAt { group: None, place: 0 });
    writing::set(&mut changed, first, "title", title).expect("words");
    changed.version = next_version(&airframe, FIN);
    let file = write_procedure(&changed).into();
    book.put(Body::ProcedureKept { procedure: FIN.to_owned(), version: changed.version, file });
    changed.version
}

fn first_title(book: &Logbook) -> String {
    in_use(&book.airframe(), FIN).expect("a procedure").steps[0].title.clone()
}

#[test]
fn a_run_stays_on_the_version_that_it_began_with() {
    let mut book = Logbook::example_without_run(0);
    let built_in = procedure(FIN).expect("built in");
    begin(&mut book, FIN, 1);
    let version = change(&mut book, "Read this first");
    assert_eq!(version, built_in.version + 1);
    assert_eq!(first_title(&book), built_in.steps[0].title, "the run is what it was");
    assert_eq!(newest(&book.airframe(), FIN).expect("there").version, version);
    let run = begin(&mut book, FIN, 2);
    assert_eq!(first_title(&book), "Read this first", "a new run has the change");
    change(&mut book, "Read that first");
    assert_eq!(first_title(&book), "Read this first");

    let airframe = book.airframe();
    let folded = Run::fold(in_use(&airframe, FIN).expect("there"), &airframe, run, &book.ledger.in_force(airframe.id));
    assert_eq!(folded.steps[0].step.title, "Read this first");
    let works = aircraft(&airframe, &book.ledger);
    assert_eq!(works.iter().filter(|work| work.procedure.id == FIN).count(), 1, "in the place of the app's own");
}

/// The version before counts again once the last one is struck out, and runs do not mind.
#[test]
fn a_version_that_is_struck_out_counts_no_more() {
    let mut book = Logbook::example_without_run(0);
    change(&mut book, "Read this first");
    let kept = book.ledger.entries().last().expect("an entry").id;
    begin(&mut book, FIN, 1);
    book.put(Body::Struck { entry: kept, reason: "wrong".to_owned() });
    let airframe = book.airframe();
    assert_eq!(newest(&airframe, FIN), procedure(FIN));
    assert_eq!(first_title(&book), "Read this first", "the run holds its own file");
}

#[test]
fn a_new_procedure_stands_at_the_end_of_the_list_and_travels_with_the_record() {
    let mut book = Logbook::example_without_run(0);
    let mut new = writing::blank();
    writing::set(&mut new, Part::About, "title", "Oil the hinges").expect("words");
    writing::add(&mut new, writing::Kind::Step(None), "Oil them");
    new.id = writing::free_id(&book.airframe(), "Oil the hinges");
    let body = taken_in(&book.airframe(), new);
    book.put(body);
    let airframe = book.airframe();
    let works = aircraft(&airframe, &book.ledger);
    let last = works.last().expect("works");
    assert_eq!((last.procedure.id.as_str(), last.progress), ("oil-the-hinges", Progress::NotStarted));
    assert_eq!(writing::free_id(&airframe, "Oil the hinges"), "oil-the-hinges-2", "a name is taken once");

    let file = write_json(book.ledger.entries());
    let mut other = trammel::record::Ledger::default();
    other.merge(read_json(&file).expect("reads"));
    assert_eq!(write_json(other.entries()), file);
    let there = other.airframe(airframe.id).expect("there");
    assert_eq!(newest(&there, "oil-the-hinges"), newest(&airframe, "oil-the-hinges"));
    let said = lines(&other, airframe.id).last().expect("a line").what.clone();
    assert_eq!(said, "Procedure kept for this airframe: Oil the hinges (version 1)");
}

#[test]
fn a_file_says_what_it_would_replace_and_gets_a_number_of_its_own() {
    let mut book = Logbook::example_without_run(0);
    let file = procedure(FIN).expect("built in").clone();
    let says = |book: &Logbook, words: &str| {
        let all = about_file(&book.airframe(), &file);
        assert!(all.iter().any(|line| line.contains(words)), "{all:?}");
    };
    says(&book, "the same as the one that is here");
    let version = change(&mut book, "Read this first");
    says(&book, &format!("instead of version {version} that is here; it is kept as version {}", version + 1));
    let body = taken_in(&book.airframe(), file.clone());
    book.put(body);
    assert_eq!(newest(&book.airframe(), FIN).expect("there").version, version + 1);
    assert_eq!(first_title(&book), file.steps[0].title);
}

/// What cannot be read is left in the record, counted, and used by nothing.
#[test]
fn a_kept_file_that_does_not_hold_together_is_passed_over() {
    let mut book = Logbook::example_without_run(0);
    let built_in = procedure(FIN).expect("built in");
    let broken = write_procedure(built_in).replace("\"plumb\"", "\"lead\"").replace("\"checks\":[", "\"checks\":[7,");
    assert!(read_procedure(&broken).is_err());
    book.put(Body::ProcedureKept { procedure: FIN.to_owned(), version: 9, file: broken.into() });
    // One that says that it is another procedure than its entry does is no version of either.
    let other = write_procedure(procedure("tailplane").expect("built in"));
    book.put(Body::ProcedureKept { procedure: FIN.to_owned(), version: 10, file: other.into() });
    let airframe = book.airframe();
    assert_eq!(unreadable(&airframe), 1);
    assert_eq!(newest(&airframe, FIN), Some(built_in));
    assert_eq!(next_version(&airframe, FIN), 11, "their numbers are not given again");
}

/// A procedure file may be long; nothing else may hide behind its name, and it may not be longer than any can be.
/// A plain number is shown as it is; only how far two readers agree is a percentage.
#[test]
fn a_plain_number_of_an_own_procedure_is_no_percentage() {
    let mut book = Logbook::example_without_run(0);
    let mut file: Value =
        serde_json::from_str(include_str!("../fuzz/corpus/procedure/the-guide-s-example")).expect("JSON");
    file["checks"][0] = json!({
        "id": "level", "title": "Differential", "dimension": "count",
        "formula": { "reckoned": { "by": "differential", "from": {
            "up": { "slot": "one-way" }, "down": { "slot": "other-way" } } } }
    });
    file["adjusters"] = json!([]);
    let own = read_procedure(&file.to_string()).expect("a procedure");
    let id = own.id.clone();
    let text = write_procedure(&own).into();
    book.put(Body::ProcedureKept { procedure: id.clone(), version: own.version, file: text });
    let run = begin(&mut book, &id, 3);
    for (slot, degrees) in [("one-way", 25.0), ("other-way", 20.0)] {
        let instrument = book.airframe().instruments.get("protractor").expect("accepted").0.clone();
        let value = Quantity::new(degrees, instrument.unit, instrument.step);
        let (step, slot) = ("set/level".to_owned(), slot.to_owned());
        book.put(Body::ReadingTaken(Reading { run, step, slot, value, instrument, asked: None }));
    }
    let airframe = book.airframe();
    let folded = Run::fold(in_use(&airframe, &id).expect("there"), &airframe, run, &book.ledger.in_force(airframe.id));
    let result = folded.steps.iter().find_map(StepState::result).expect("worked out");
    // One step of 0.1° is worth 0.006 here: printed by 0.005.
    assert_eq!(Words::value(result), "1.250");
    // The protractor's limit of error is in both and all but cancels; half a step of 0.1° is in each by itself (JCGM 100:2008, 5.2.2
    // and F.2.2.1): 2 × √(1.25² × 0.1²/12 × (1/25² + 1/20²) + (0.1²/3) × (1/20 − 25/20²)²) = 0.0048.
    assert_eq!(Words::uncertainty(result), "give or take 0.005");
}

#[test]
fn only_a_procedure_may_be_long() {
    let mut book = Logbook::example_without_run(0);
    begin(&mut book, "weighing", 1);
    let file = write_json(book.ledger.entries());
    assert!(read_json(&file).is_ok());
    let long = "x".repeat(300_000);
    let longer = file.replacen("\"file\":\"{", &format!("\"file\":\"{{{long}"), 1);
    assert!(read_json(&longer).is_err_and(|error| error.to_string().contains("a procedure that is too long")));
    let elsewhere = file.replacen("\"by\":\"", &format!("\"by\":\"{}", "x".repeat(5_000)), 1);
    assert!(read_json(&elsewhere).is_err_and(|error| error.to_string().contains("a text that is too long")));
}
