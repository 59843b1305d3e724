//! What people say and what a run makes of it: deviations that may stand, what is left to do before a step, what waits for an answer.
//! Common practice, no source; the rules are those of `docs/decisions/0018`.

#[path = "waits/left.rs"]
mod left;
mod support;

use support::Logbook;
use trammel::metrology::{Beyond, Verdict};
use trammel::procedure::{Hold, Missing, Run, State, Words, departure, equipped};
use trammel::record::{
    About, Body, Deviation, DeviationAnswer, Entry, EntryId, Ledger, OpenItem, Question, SpecValue, Tolerance,
};

/// At the first hold point of the mating, read by two people, with the least edge distance as given, in inches; 5/16 in is asked for.
fn at_the_hold(edge: f64) -> Logbook {
    let mut book = Logbook::example(0);
    book.confirm("cautions");
    book.read("reversal", "first", 0.3);
    book.read("reversal", "turned", -0.1);
    for step in ["level-frame", "centre-line", "aft-point", "offer-up"] {
        book.confirm(step);
    }
    for slot in ["twin-left", "twin-right"] {
        book.read("twins", slot, 17.25);
    }
    for slot in ["upper-left", "upper-right", "lower-left", "lower-right"] {
        book.read("gaps", slot, 1.0 / 32.0);
    }
    pass(&mut book, "set");
    book.confirm("clamp");
    pass(&mut book, "clamped");
    book.read("edge", "worst", edge);
    book.by = "B. Helper".to_owned();
    for (slot, value) in [("direct", -2.6), ("reversed", -2.6), ("left", 227.4375), ("right", 227.4375)] {
        book.read("reread", slot, value);
    }
    book.by = "A. Builder".to_owned();
    book
}

fn pass(book: &mut Logbook, gate: &str) {
    for slot in ["direct", "direct", "reversed", "reversed"] {
        book.read(&format!("{gate}/pitch"), slot, -2.6);
    }
    for slot in ["frame", "frame-reversed", "aft", "aft-reversed"] {
        book.read(&format!("{gate}/twist"), slot, 0.1);
    }
    for slot in ["left", "left", "left", "right", "right", "right"] {
        book.read(&format!("{gate}/square"), slot, 227.4375);
    }
    for _ in 0..2 {
        book.read(&format!("{gate}/offset"), "string", 0.0);
    }
}

fn about(book: &Logbook, step: &str) -> About {
    About { run: Some(book.run), step: Some(step.to_owned()), entry: None }
}

fn raise(book: &mut Logbook, step: &str) -> EntryId {
    let (found, limit) = departure(book.procedure(), &book.airframe(), book.fold().step(step).expect("the step"))
        .unwrap_or_else(|| ("as it was".to_owned(), "as it was".to_owned()));
    let (reason, asked) = ("The doubler covers it.".to_owned(), "M. Mentor".to_owned());
    let about = about(book, step);
    book.put(Body::DeviationRaised(Deviation { about, found, limit, reason, asked }))
}

fn answer(book: &mut Logbook, deviation: EntryId, accepted: bool, name: &str) -> EntryId {
    let (name, answer) = (name.to_owned(), "It may stand, once.".to_owned());
    book.put(Body::DeviationAnswered(DeviationAnswer { deviation, accepted, name, answer }))
}

fn strike(book: &mut Logbook, entry: EntryId) {
    book.put(Body::Struck { entry, reason: "written by mistake".to_owned() });
}

/// The run as the app folds it: from the entries of the run alone.
fn run(book: &Logbook) -> Run {
    let whole = book.fold_without_advice();
    let entries = book.ledger.of_run(book.airframe, book.run);
    let alone = Run::without_advice(book.procedure(), &book.airframe(), book.run, &entries);
    assert_eq!(alone, whole, "what answers a run's entries belongs to what the run is folded from");
    alone
}

fn hold(book: &Logbook) -> Hold {
    run(book).step("hold-a").expect("the hold").hold.clone().expect("a hold point")
}

/// Ready to be signed: the protractor's reversal has no number to be judged by, and these stand beside it.
fn ready(seen: &[usize]) -> Hold {
    Hold::Ready([&[2], seen].concat())
}

fn missing(book: &Logbook) -> String {
    let run = run(book);
    match &run.step("hold-a").expect("the hold").hold {
        Some(Hold::Shut(missing) | Hold::Void(missing)) => {
            missing.iter().map(|missing| Words::missing(missing, &run.steps)).collect::<Vec<_>>().join(" ")
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn an_accepted_deviation_lets_what_is_out_stand_and_the_verdict_stays_out() {
    let mut book = at_the_hold(0.25);
    assert_eq!(missing(&book), "Edge distance: out.");
    let stop = |book: &Logbook| book.fold().step("edge").expect("the step").advice.clone().expect("advice").stop;
    assert!(stop(&book).expect("nothing may be moved for it").contains("Do not drill"));
    let raised = raise(&mut book, "edge");
    assert_eq!(missing(&book), "Edge distance: out.", "it is only asked for");
    answer(&mut book, raised, true, "M. Mentor");
    assert_eq!(stop(&book), None, "what was accepted is not to be stopped for");
    let run = run(&book);
    let place = run.place("edge").expect("the step");
    assert_eq!(run.steps[place].result().expect("complete").verdict, Verdict::Out(Beyond::Low));
    assert_eq!(run.steps[place].state, State::Done);
    assert_eq!(run.steps[place].waits_words(), ["Out, accepted by M. Mentor."]);
    assert_eq!(hold(&book), ready(&[place]), "the signer sees which");
    book.sign("hold-a", "B. Helper");
    assert_eq!(hold(&book), Hold::Signed);
}

#[test]
fn what_is_raised_says_what_the_screen_says() {
    let book = at_the_hold(0.25);
    let run = run(&book);
    let of = |step: &str| departure(book.procedure(), &book.airframe(), run.step(step).expect("the step"));
    let (found, limit) = of("edge").expect("out");
    assert!(found.starts_with("out: 1/4 in, give or take "), "{found}");
    assert!(limit.starts_with("at least 5/16 in"), "{limit}");
    assert_eq!(of("clamped/pitch"), None, "what is in needs nobody's word");
    assert_eq!(of("clamp"), None);
}

#[test]
fn what_was_declined_or_is_answered_by_who_raised_it_does_not_stand() {
    let mut book = at_the_hold(0.25);
    let raised = raise(&mut book, "edge");
    let own = answer(&mut book, raised, true, " a. builder ");
    assert_eq!(missing(&book), "Edge distance: out.");
    assert_eq!(run(&book).step("edge").expect("the step").waits.deviations, 1, "it still waits");
    strike(&mut book, own);
    answer(&mut book, raised, false, "M. Mentor");
    assert_eq!(missing(&book), "Edge distance: out.");
    assert_eq!(run(&book).step("edge").expect("the step").waits.deviations, 0, "it was answered");
}

#[test]
fn the_last_answer_in_force_counts() {
    let mut book = at_the_hold(0.25);
    let raised = raise(&mut book, "edge");
    answer(&mut book, raised, true, "M. Mentor");
    let second = answer(&mut book, raised, false, "N. Mentor");
    assert!(matches!(hold(&book), Hold::Shut(_)), "{:?}", hold(&book));
    strike(&mut book, second);
    assert!(matches!(hold(&book), Hold::Ready(_)), "{:?}", hold(&book));
    let again = raise(&mut book, "edge");
    assert!(matches!(hold(&book), Hold::Ready(_)), "what was accepted stands while more is asked");
    answer(&mut book, again, false, "M. Mentor");
    assert!(matches!(hold(&book), Hold::Shut(_)), "the last that was answered counts: {:?}", hold(&book));
}

#[test]
fn a_struck_answer_or_deviation_takes_its_leave_with_it() {
    for strikes_answer in [true, false] {
        let mut book = at_the_hold(0.25);
        let raised = raise(&mut book, "edge");
        let answered = answer(&mut book, raised, true, "M. Mentor");
        book.sign("hold-a", "B. Helper");
        assert_eq!(hold(&book), Hold::Signed);
        strike(&mut book, if strikes_answer { answered } else { raised });
        assert!(matches!(hold(&book), Hold::Void(_)), "{:?}", hold(&book));
        assert_eq!(missing(&book), "Edge distance: out.");
    }
}

#[test]
fn measured_again_it_has_to_be_accepted_again() {
    let mut book = at_the_hold(0.25);
    let raised = raise(&mut book, "edge");
    answer(&mut book, raised, true, "M. Mentor");
    let read = book.read("edge", "worst", 0.21875);
    assert_eq!(missing(&book), "Edge distance: out.");
    strike(&mut book, read);
    assert!(matches!(hold(&book), Hold::Ready(_)), "the reading that was accepted counts again: {:?}", hold(&book));
    book.read("edge", "worst", 0.375);
    assert_eq!(run(&book).step("edge").expect("the step").waits_words(), Vec::<String>::new(), "in by itself");
}

#[test]
fn a_changed_limit_has_to_be_accepted_again() {
    let mut book = at_the_hold(0.25);
    let raised = raise(&mut book, "edge");
    answer(&mut book, raised, true, "M. Mentor");
    let other = book.airframe().specification.item("twist").expect("entered").value.clone();
    book.specify("twist", other, "page 4-2");
    assert!(matches!(hold(&book), Hold::Ready(_)), "another check's number");
    let limit = trammel::quantity::Quantity::new(0.4375, trammel::quantity::Unit::Inch, 1.0 / 64.0);
    let tolerance = Tolerance::Limits { lower: Some(limit.clone()), upper: None };
    book.specify("edge-distance", SpecValue { nominal: Some(limit), tolerance, words: None }, "revision B");
    assert_eq!(missing(&book), "Edge distance: out.");
}

#[test]
fn what_is_stale_does_not_stand() {
    let mut book = at_the_hold(0.375);
    for slot in ["direct", "direct", "reversed", "reversed"] {
        book.read("clamped/pitch", slot, -2.9);
    }
    let raised = raise(&mut book, "clamped/pitch");
    answer(&mut book, raised, true, "M. Mentor");
    assert_eq!(run(&book).step("clamped/pitch").expect("the step").state, State::Done);
    book.moved("clamped/pitch", "saddle", 0.0625);
    let run = run(&book);
    let step = run.step("clamped/pitch").expect("the step");
    assert_eq!((step.state, step.accepted_words()), (State::Stale, None));
    assert!(missing(&book).contains("Pitch, clamped: stale."), "{}", missing(&book));
}

#[test]
fn a_deviation_raised_after_the_signature_has_to_be_signed_for() {
    let mut book = at_the_hold(0.25);
    let raised = raise(&mut book, "edge");
    answer(&mut book, raised, true, "M. Mentor");
    book.sign("hold-a", "B. Helper");
    assert_eq!(hold(&book), Hold::Signed);
    let again = raise(&mut book, "edge");
    assert_eq!(hold(&book), Hold::Signed, "what is only asked for changes nothing");
    answer(&mut book, again, true, "N. Mentor");
    assert!(matches!(hold(&book), Hold::Ready(_)), "{:?}", hold(&book));
}

fn open(book: &mut Logbook, found_at: &str, blocks: Option<&str>) -> EntryId {
    let about = about(book, found_at);
    let (what, blocks) = ("Deburr the skin.".to_owned(), blocks.map(str::to_owned));
    book.put(Body::ItemOpened(OpenItem { about, what, blocks }))
}

#[test]
fn an_open_item_keeps_a_hold_point_shut_until_it_is_closed() {
    let mut book = at_the_hold(0.375);
    assert_eq!(hold(&book), ready(&[]));
    let loose = open(&mut book, "clamp", None);
    assert_eq!(hold(&book), ready(&[]), "it names no step");
    let item = open(&mut book, "clamp", Some("hold-a"));
    let place = run(&book).place("clamp").expect("the step");
    assert_eq!(hold(&book), Hold::Shut(vec![Missing::Item(place, "Deburr the skin.".to_owned())]));
    assert!(missing(&book).ends_with("left to do: Deburr the skin."), "{}", missing(&book));
    let done = book.put(Body::ItemClosed { item, how: "Done by hand.".to_owned() });
    assert_eq!(hold(&book), ready(&[]));
    book.sign("hold-a", "B. Helper");
    strike(&mut book, done);
    assert!(matches!(hold(&book), Hold::Void(_)), "open again: {:?}", hold(&book));
    strike(&mut book, item);
    assert_eq!(hold(&book), Hold::Signed);
    assert_ne!(loose, item);
}

#[test]
fn an_open_item_keeps_a_step_shut_and_with_it_the_hold_point_behind_it() {
    let mut book = Logbook::example(0);
    for step in ["cautions", "level-frame"] {
        book.confirm(step);
    }
    book.read("reversal", "first", 0.3);
    book.read("reversal", "turned", -0.1);
    let item = open(&mut book, "level-frame", Some("centre-line"));
    let before = run(&book);
    let step = before.step("centre-line").expect("the step");
    assert_eq!(
        (step.state, step.waits_words()),
        (State::Blocked, vec!["Left to do before this: Deburr the skin.".to_owned()])
    );
    let next = &before.steps[before.current.expect("a step")];
    assert_eq!(next.state, State::Open, "the work goes on elsewhere: {}", next.path);
    let place = before.place("level-frame").expect("the step");
    let Some(Hold::Shut(shut)) = &before.step("hold-a").expect("the hold").hold else { panic!("shut") };
    assert!(shut.contains(&Missing::Item(place, "Deburr the skin.".to_owned())), "{shut:?}");
    book.put(Body::ItemClosed { item, how: "Done.".to_owned() });
    assert_eq!(run(&book).step("centre-line").expect("the step").state, State::Open);
}

#[test]
fn a_step_that_is_done_is_not_undone_by_what_is_found_later() {
    let mut book = at_the_hold(0.375);
    open(&mut book, "clamp", Some("level-frame"));
    assert_eq!(run(&book).step("level-frame").expect("the step").state, State::Done);
    assert_eq!(hold(&book), ready(&[]));
}

#[test]
fn what_is_shut_is_what_is_open_when_nothing_else_is() {
    let mut book = Logbook::example(0);
    book.works_on = "level-jig";
    book.begin("level-jig", 0xE);
    let first = run(&book).steps[0].path.clone();
    let all: Vec<String> = run(&book).steps.iter().map(|step| step.path.clone()).collect();
    for path in &all {
        open(&mut book, &first, Some(path));
    }
    let run = run(&book);
    assert!(run.current.is_some(), "a run with shut steps is not finished");
}

#[test]
fn what_is_asked_shuts_nothing() {
    let mut book = at_the_hold(0.375);
    let (question, to) = ("Is that near enough?".to_owned(), "M. Mentor".to_owned());
    let of_edge = about(&book, "edge");
    book.put(Body::QuestionAsked(Question { about: of_edge, question, to }));
    raise(&mut book, "edge");
    raise(&mut book, "edge");
    assert_eq!(run(&book).step("edge").expect("the step").waits_words(), ["2 deviations wait for an answer."]);
    assert_eq!(hold(&book), ready(&[]));
}

#[test]
fn what_is_worked_out_from_the_sheet_and_others_is_accepted_for_those_numbers_only() {
    let mut book = Logbook::example(0);
    book.works_on = "weighing";
    book.begin("weighing", 0xF);
    let all = equipped(&book.airframe(), book.procedure()).instruments;
    for role in &book.procedure().roles {
        book.accept(&role.role, all.get(&role.role).expect("a preset").0.clone());
    }
    weigh(&mut book);
    let of = |book: &Logbook| run(book).step("most-mass").cloned().expect("the step");
    assert!(matches!(of(&book).result().expect("worked out").verdict, Verdict::Out(_)), "{:?}", of(&book).result());
    let raised = raise(&mut book, "most-mass");
    answer(&mut book, raised, true, "M. Mentor");
    assert_eq!(of(&book).state, State::Done);
    weigh(&mut book);
    assert_ne!(of(&book).state, State::Done, "weighed again");
}

/// Every measured step of the weighing, far too heavy.
fn weigh(book: &mut Logbook) {
    use trammel::procedure::StepKind;
    let steps = run(book).steps;
    for step in steps {
        if let StepKind::Measure { slots, .. } = step.step.kind {
            for slot in slots {
                for _ in 0..slot.repeats {
                    book.read(&step.path, &slot.id, 900.0);
                }
            }
        }
    }
}

/// Merged from two copies in any order, any number of times, the same run comes out.
#[test]
fn the_order_of_arrival_changes_nothing() {
    let mut book = at_the_hold(0.25);
    let raised = raise(&mut book, "edge");
    let item = open(&mut book, "clamp", Some("hold-a"));
    answer(&mut book, raised, true, "M. Mentor");
    let wrong = answer(&mut book, raised, false, "N. Mentor");
    strike(&mut book, wrong);
    book.put(Body::ItemClosed { item, how: "Done.".to_owned() });
    let expected = run(&book);
    assert!(matches!(hold(&book), Hold::Ready(_)));
    let entries: Vec<Entry> = book.ledger.entries().cloned().collect();
    // Every seventh entry first, and so on: an order of arrival as far from the order of writing as it gets.
    for stride in [2, 3, 7, 11] {
        let mut other = book.clone();
        other.ledger = Ledger::default();
        for from in (0..stride).rev() {
            other.ledger.merge(entries.iter().rev().skip(from).step_by(stride).cloned());
        }
        other.ledger.merge(entries.iter().take(40).cloned());
        assert_eq!(run(&other), expected);
    }
}
