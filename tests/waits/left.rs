//! The list of what is left to do, and what its forms refuse.

use trammel::procedure::State;
use trammel::record::{Body, Question, Remark};
use trammel::report::{LeftKind, answer_to, left_at, left_to_do, steps_ahead};

use super::support::Logbook;
use super::{about, answer, at_the_hold, open, raise, run, strike};

#[test]
fn what_is_left_is_listed_until_it_is_answered_or_closed() {
    let mut book = at_the_hold(0.25);
    let raised = raise(&mut book, "edge");
    let item = open(&mut book, "clamp", Some("hold-a"));
    let (question, to) = ("Is that near enough?".to_owned(), "M. Mentor".to_owned());
    let of_edge = about(&book, "edge");
    let asked = book.put(Body::QuestionAsked(Question { about: of_edge.clone(), question, to }));
    let left = |book: &Logbook| {
        left_to_do(&book.ledger, book.airframe).into_iter().map(|left| (left.entry, left.kind)).collect::<Vec<_>>()
    };
    let all = [(raised, LeftKind::Deviation), (item, LeftKind::Item), (asked, LeftKind::Question)];
    assert_eq!(left(&book), all);
    let of_item = left_to_do(&book.ledger, book.airframe).remove(1);
    assert_eq!(of_item.at, Some(("mate-aft-fuselage".to_owned(), "clamp".to_owned())));
    assert_eq!(of_item.what, "Clamp: Left to do: Deburr the skin; before Hold: before any drilling");
    let at = |book: &Logbook, step: &str| {
        let of_step = about(book, step);
        left_at(&book.ledger, book.airframe, &of_step).into_iter().map(|left| left.entry).collect::<Vec<_>>()
    };
    assert_eq!((at(&book, "edge"), at(&book, "clamp"), at(&book, "hold-a")), (vec![raised], vec![item], vec![item]));
    assert_eq!(at(&book, "offer-up"), []);

    answer(&mut book, raised, true, "A. BUILDER");
    assert_eq!(left(&book), all, "whoever raised it has answered nothing");
    answer(&mut book, raised, false, "M. Mentor");
    let text = "It is.".to_owned();
    book.put(Body::RemarkMade(Remark { about: of_edge, answers: Some(asked), text, proposes: None }));
    let closed = book.put(Body::ItemClosed { item, how: "Done.".to_owned() });
    assert_eq!(left(&book), []);
    strike(&mut book, closed);
    assert_eq!(left(&book), [(item, LeftKind::Item)]);
}

#[test]
fn an_answer_that_is_none_is_refused() {
    let mut book = at_the_hold(0.25);
    let raised = raise(&mut book, "edge");
    let said = |name: &str, words: &str| answer_to(&book.ledger, raised, true, name, words);
    assert!(said(" ", "It may stand.").is_err_and(|why| why.contains("write both")));
    assert!(said("M. Mentor", "  ").is_err_and(|why| why.contains("write both")));
    assert!(said("a. Builder", "It may stand.").is_err_and(|why| why.contains("somebody else")));
    assert!(said("M. Mentor", &"x".repeat(4_001)).is_err_and(|why| why.contains("too long")));
    let answer = said(" M. Mentor ", " It may stand. ").expect("an answer");
    assert_eq!((answer.name.as_str(), answer.answer.as_str(), answer.accepted), ("M. Mentor", "It may stand.", true));
}

#[test]
fn only_steps_that_are_not_done_are_offered_to_be_kept_shut() {
    let book = at_the_hold(0.375);
    let ahead = steps_ahead(&book.ledger, &book.airframe(), book.procedure(), book.run);
    let run = run(&book);
    let expected = run.steps.iter().filter(|step| step.state != State::Done).map(|step| step.path.clone());
    assert_eq!(ahead.iter().map(|(path, _)| path.clone()).collect::<Vec<_>>(), expected.collect::<Vec<_>>());
    assert!(ahead.contains(&("hold-a".to_owned(), "Hold: before any drilling".to_owned())), "{ahead:?}");
}
