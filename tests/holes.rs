//! A map of holes, folded: what counts, what is an open item, and what faulty entries do. The rules are ours (no source); that a bad one
//! shuts the closing step is common practice.

mod support;

use support::Logbook;
use trammel::procedure::{Hold, HoleState, HoleTool, RowsError, Run, State, Words, rows_of, rows_words};
use trammel::record::HoleMark::{Answered, Bad, Done, Open};
use trammel::record::{Body, Entry, HolePlace, Ledger, SpecValue};
use trammel::report::{ImportError, lines, read_json, write_json};

const MAP: &str = "set-pulled";

/// The riveting of an invented airframe with as many rivets as given, everything before the map confirmed.
fn riveting(rivets: Option<f64>) -> Logbook {
    let mut book = Logbook::example_without_run(0);
    let nominal = rivets.map(|number| trammel::quantity::Quantity::new(number, trammel::quantity::Unit::One, 1.0));
    book.specify("rivets", SpecValue { nominal, ..SpecValue::default() }, "page 7-1");
    book.begin("riveting", 0xC);
    for step in ["cautions", "closed-inside", "grip", "trial-pulled"] {
        book.confirm(step);
    }
    book.sign("hold-a", "B. Helper");
    book.confirm("first");
    book
}

fn finish(book: &mut Logbook) {
    for step in ["inside", "close"] {
        book.confirm(step);
    }
}

fn at(row: u32, hole: u32) -> HolePlace {
    HolePlace { row, hole }
}

fn state(run: &Run) -> State {
    run.step(MAP).expect("the map").state
}

fn hold(run: &Run) -> Hold {
    run.step("sign").and_then(|step| step.hold.clone()).expect("a hold point")
}

fn told(run: &Run) -> String {
    match hold(run) {
        Hold::Shut(missing) | Hold::Void(missing) => {
            missing.iter().map(|missing| Words::missing(missing, &run.steps)).collect::<Vec<_>>().join(" ")
        }
        other => panic!("{other:?}"),
    }
}

fn all_done(book: &mut Logbook, rows: &[u32]) {
    for (row, length) in (1..).zip(rows) {
        for hole in 1..=*length {
            book.mark(MAP, (row, hole), Done, "");
        }
    }
}

#[test]
fn done_when_all_are_and_as_many_as_the_sheet_says() {
    let mut book = riveting(Some(5.0));
    book.lay_out(MAP, &[3, 2]);
    all_done(&mut book, &[3, 1]);
    let run = book.fold_without_advice();
    assert_eq!(state(&run), State::Open);
    assert_eq!(run.step(MAP).expect("the map").holes.counts(), "4 of 5 done, 0 bad, 1 to go.");
    book.mark(MAP, (2, 2), Done, "");
    assert_eq!(state(&book.fold_without_advice()), State::Done);
    // Taken back, and done again.
    book.mark(MAP, (2, 2), Open, "");
    assert_eq!(state(&book.fold_without_advice()), State::Open);
    let again = book.mark(MAP, (2, 2), Done, "");
    assert_eq!(state(&book.fold_without_advice()), State::Done);
    book.put(Body::Struck { entry: again, reason: "not yet".to_owned() });
    assert_eq!(state(&book.fold_without_advice()), State::Open);
}

#[test]
fn a_map_that_does_not_add_up_is_not_done_and_says_so() {
    for (rows, words) in [
        (
            [3, 1],
            "Set them: 4 of 4 done, 0 bad, 0 to go. The map has 4, the sheet says 5. Count them again on the drawing.",
        ),
        (
            [3, 3],
            "Set them: 6 of 6 done, 0 bad, 0 to go. The map has 6, the sheet says 5. Count them again on the drawing.",
        ),
    ] {
        let mut book = riveting(Some(5.0));
        book.lay_out(MAP, &rows);
        all_done(&mut book, &rows);
        finish(&mut book);
        let run = book.fold_without_advice();
        assert_eq!(state(&run), State::Open);
        assert_eq!(told(&run), words);
    }
}

#[test]
fn without_a_number_on_the_sheet_it_is_recorded_and_whoever_signs_sees_that() {
    let mut book = riveting(None);
    book.lay_out(MAP, &[3]);
    all_done(&mut book, &[3]);
    finish(&mut book);
    let run = book.fold_without_advice();
    assert_eq!(state(&run), State::Done);
    assert_eq!(hold(&run), Hold::Ready(vec![run.place(MAP).expect("there")]));
}

#[test]
fn a_bad_one_shuts_the_hold_point_by_name_until_it_is_put_right() {
    let mut book = riveting(Some(5.0));
    book.lay_out(MAP, &[3, 2]);
    all_done(&mut book, &[3, 2]);
    finish(&mut book);
    book.sign("sign", "B. Helper");
    assert_eq!(hold(&book.fold_without_advice()), Hold::Signed);
    // Found bad afterwards: the signature no longer holds.
    book.mark(MAP, (2, 1), Bad, "tilted");
    let bare = book.mark(MAP, (1, 3), Bad, "");
    assert_eq!(told(&book.fold_without_advice()), "Set them: row 1, hole 3: bad; row 2, hole 1: tilted.");
    // Done, clear, or an answer without words do not hide it.
    for (mark, note) in [(Done, ""), (Open, ""), (Answered, "  ")] {
        book.mark(MAP, (2, 1), mark, note);
    }
    book.put(Body::Struck { entry: bare, reason: "It was not bad".to_owned() });
    let run = book.fold_without_advice();
    assert_eq!(told(&run), "Set them: row 2, hole 1: tilted.");
    assert_eq!(run.step(MAP).expect("the map").holes.state(at(1, 3)), HoleState::Done, "as it was before");
    book.mark(MAP, (2, 1), Answered, "replaced");
    let run = book.fold_without_advice();
    assert_eq!(state(&run), State::Done);
    assert_eq!(hold(&run), Hold::Ready(Vec::new()), "signed before that: to be signed again");
    let holes = &run.step(MAP).expect("the map").holes;
    assert_eq!(holes.counts(), "5 of 5 done (1 of them put right), 0 bad, 0 to go.");
    assert_eq!(holes.label(at(2, 1)), "Row 2, hole 1: put right, replaced");
    book.sign("sign", "B. Helper");
    assert_eq!(hold(&book.fold_without_advice()), Hold::Signed);
    // It can be found bad once more.
    book.mark(MAP, (2, 1), Bad, "tilted again");
    assert_eq!(told(&book.fold_without_advice()), "Set them: row 2, hole 1: tilted again.");
}

/// A hold point further on refuses too, where the one before it has served.
#[test]
fn a_bad_pilot_shuts_hold_points_beyond_the_next() {
    let mut book = Logbook::example_without_run(0);
    book.begin("drilling", 0xD);
    book.lay_out("corners", &[48]);
    book.mark("corners", (1, 9), Bad, "off its mark");
    // Signed and passed over: the work behind it has begun.
    for hold in ["hold-a", "hold-b"] {
        book.sign(hold, "B. Helper");
    }
    book.mark("drill", (1, 1), Done, "");
    book.sign("sign", "B. Helper");
    let run = book.fold_without_advice();
    assert_eq!(run.step("hold-b").and_then(|step| step.hold.clone()), Some(Hold::Spent));
    assert!(told(&run).contains("row 1, hole 9: off its mark"), "{}", told(&run));
}

#[test]
fn the_order_in_which_two_phones_are_merged_does_not_matter() {
    let mut book = riveting(Some(5.0));
    book.lay_out(MAP, &[3, 2]);
    let shared = book.ledger.clone();
    all_done(&mut book, &[3, 2]);
    book.lay_out(MAP, &[4, 1]);
    book.mark(MAP, (1, 4), Bad, "tilted");
    book.mark(MAP, (1, 4), Done, "");
    book.mark(MAP, (2, 1), Bad, "");
    book.mark(MAP, (2, 1), Answered, "replaced");
    let own: Vec<Entry> = book.ledger.entries().filter(|entry| shared.get(entry.id).is_none()).cloned().collect();
    let folded = book.fold_without_advice();
    let halves = [own.iter().step_by(2).cloned().collect::<Vec<_>>(), own.iter().skip(1).step_by(2).cloned().collect()];
    for order in [[0, 1], [1, 0]] {
        let mut merged = book.clone();
        merged.ledger = Ledger::default();
        for half in order {
            merged.ledger.merge(halves[half].iter().rev().cloned());
        }
        merged.ledger.merge(shared.entries().cloned());
        assert_eq!(merged.fold_without_advice(), folded);
    }
    assert_eq!(folded.step(MAP).expect("the map").holes.state(at(1, 4)), HoleState::Bad, "done does not win over bad");
}

/// Laid out anew, marks stay at their row and hole; a bad one whose row became shorter stays an open item.
#[test]
fn a_mark_stays_at_its_hole_when_rows_change() {
    let mut book = riveting(Some(5.0));
    book.lay_out(MAP, &[2, 3]);
    book.mark(MAP, (2, 1), Done, "");
    book.mark(MAP, (2, 3), Bad, "tilted");
    book.lay_out(MAP, &[3, 2]);
    all_done(&mut book, &[3, 2]);
    let run = book.fold_without_advice();
    assert_eq!(run.step(MAP).expect("the map").holes.state(at(2, 1)), HoleState::Done);
    assert_eq!(state(&run), State::Open);
    assert!(told(&run).contains("row 2, hole 3: tilted"), "{}", told(&run));
    book.mark(MAP, (2, 3), Answered, "there is no such hole: it was 2 of row 2, replaced");
    let run = book.fold_without_advice();
    assert_eq!(state(&run), State::Done);
    assert_eq!(run.step(MAP).expect("the map").holes.counts(), "5 of 5 done, 0 bad, 0 to go.");
}

#[test]
fn entries_that_no_map_can_have_change_nothing_and_are_refused_in_a_file() {
    let mut book = riveting(Some(5.0));
    book.lay_out(MAP, &[3, 2]);
    all_done(&mut book, &[3, 2]);
    let before = book.fold_without_advice();
    for rows in [&[] as &[u32], &[3, 0], &[2_001], &[1_000, 1_001], &[u32::MAX, u32::MAX]] {
        let mut tried = book.clone();
        tried.lay_out(MAP, rows);
        assert_eq!(tried.fold_without_advice(), before, "{rows:?}");
        let read = read_json(&write_json(tried.ledger.entries()));
        assert!(matches!(read, Err(ImportError::BadEntry(_, why)) if why.contains("a map without holes")));
    }
    for place in [(0, 1), (1, 0), (2_001, 1), (1, u32::MAX)] {
        let mut tried = book.clone();
        tried.mark(MAP, place, Bad, "far out");
        assert_eq!(tried.fold_without_advice(), before, "{place:?}");
        let read = read_json(&write_json(tried.ledger.entries()));
        assert!(matches!(read, Err(ImportError::BadEntry(_, why)) if why.contains("no map can have")));
    }
    // Steps without a map, and steps that are not there.
    for step in ["cautions", "hold-a", "nowhere"] {
        let mut tried = book.clone();
        tried.lay_out(step, &[3]);
        tried.mark(step, (1, 1), Bad, "not here");
        assert_eq!(tried.fold_without_advice(), before, "{step}");
    }
    // As many as there may be, and one beyond its row: done there counts for nothing.
    book.lay_out(MAP, &[1_000, 1_000]);
    book.mark(MAP, (1, 1_001), Done, "");
    let run = book.fold_without_advice();
    assert_eq!(run.step(MAP).expect("the map").holes.counts(), "5 of 2000 done, 0 bad, 1995 to go.");
    assert!(read_json(&write_json(book.ledger.entries())).is_ok());
}

#[test]
fn what_a_tap_says() {
    let mut book = riveting(Some(5.0));
    book.lay_out(MAP, &[3, 2]);
    book.mark(MAP, (1, 2), Done, "");
    book.mark(MAP, (1, 3), Bad, "tilted");
    book.mark(MAP, (2, 1), Bad, "tilted");
    book.mark(MAP, (2, 1), Answered, "replaced");
    let run = book.fold_without_advice();
    let holes = &run.step(MAP).expect("the map").holes;
    let said = |mark, note: &str| Ok(Some((mark, note.to_owned())));
    assert_eq!(holes.tap(HoleTool::Done, at(1, 1), ""), said(Done, ""));
    assert_eq!(holes.tap(HoleTool::Clear, at(1, 1), ""), Ok(None));
    assert_eq!(holes.tap(HoleTool::Bad, at(1, 1), " tilted "), said(Bad, "tilted"));
    assert_eq!(holes.tap(HoleTool::Done, at(1, 2), ""), Ok(None));
    assert_eq!(holes.tap(HoleTool::Clear, at(1, 2), ""), said(Open, ""));
    assert_eq!(holes.tap(HoleTool::Bad, at(1, 3), ""), Ok(None));
    assert_eq!(holes.tap(HoleTool::Bad, at(1, 3), "wrong grip"), said(Bad, "wrong grip"));
    assert!(holes.tap(HoleTool::Done, at(1, 3), "").is_err_and(|words| words.starts_with("Row 1, hole 3 is bad.")));
    assert!(holes.tap(HoleTool::Clear, at(1, 3), "").is_err());
    assert!(holes.tap(HoleTool::Clear, at(2, 1), "").is_err());
    assert_eq!(holes.tap(HoleTool::Bad, at(2, 1), ""), said(Bad, ""));
    assert_eq!(holes.rest_of_row(1), [at(1, 1)]);
    assert_eq!(holes.rest_of_row(2), [at(2, 2)], "what was put right is not marked anew");
    assert!(holes.rest_of_row(0).is_empty() && holes.rest_of_row(3).is_empty());
}

#[test]
fn rows_are_typed_with_spaces_between() {
    assert_eq!(rows_of(" 12 12, 8 "), Ok(vec![12, 12, 8]));
    assert_eq!(rows_words(&[12, 12, 8]), "12 12 8");
    for wrong in ["", "twelve", "12 0", "-3", "1.5", "99999999999"] {
        assert_eq!(rows_of(wrong), Err(RowsError::NotNumbers), "{wrong}");
    }
    assert_eq!(rows_of("2000"), Ok(vec![2_000]));
    assert_eq!(rows_of("1999 2"), Err(RowsError::TooMany));
    assert_eq!(rows_of("4294967295 4294967295"), Err(RowsError::TooMany));
}

/// The next map of the same holes is offered the rows of the last.
#[test]
fn the_next_map_begins_with_the_rows_of_the_last() {
    let mut book = Logbook::example_without_run(0);
    book.begin("drilling", 0xD);
    book.lay_out("corners", &[24, 24]);
    let run = book.fold_without_advice();
    assert_eq!(run.rows_to_begin("corners"), [24, 24]);
    assert_eq!(run.rows_to_begin("drill"), [24, 24]);
    assert!(run.rows_to_begin("cautions").is_empty());
    book.lay_out("drill", &[16, 16, 16]);
    let run = book.fold_without_advice();
    assert_eq!((run.rows_to_begin("corners"), run.rows_to_begin("drill")), (&[24, 24][..], &[16, 16, 16][..]));
}

#[test]
fn the_record_says_it_in_words() {
    let mut book = riveting(Some(5.0));
    book.lay_out(MAP, &[3, 2]);
    book.mark(MAP, (2, 1), Bad, "tilted");
    book.mark(MAP, (2, 1), Answered, "replaced");
    book.mark(MAP, (1, 1), Done, "");
    book.mark(MAP, (1, 1), Open, "");
    let said: Vec<String> = lines(&book.ledger, book.airframe).into_iter().map(|line| line.what).collect();
    assert_eq!(
        said[said.len() - 5..],
        [
            "Set them: laid out, holes in each row: 3 2",
            "Set them: row 2, hole 1: bad, tilted",
            "Set them: row 2, hole 1: put right, replaced",
            "Set them: row 1, hole 1: done",
            "Set them: row 1, hole 1: not done after all",
        ]
    );
}
