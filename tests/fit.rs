//! Every fresh reading adjusted together: where the cone sits, which reading the others contradict, what to measure next.

mod support;

use support::Logbook;
use trammel::metrology::Verdict;
use trammel::procedure::{Fit, NoFit, ProposedMove, fit};

/// The first invented airframe with a pass of readings: pitch, twist, left and right distance (three pulls each), the string.
fn read(pitch: f64, twist: f64, left: [f64; 3], right: [f64; 3], string: f64) -> Logbook {
    let mut book = Logbook::example(0);
    for (slot, value) in [("direct", pitch), ("direct", pitch), ("reversed", pitch), ("reversed", pitch)] {
        book.read("set/pitch", slot, value);
    }
    for (slot, value) in [("frame", 0.1), ("frame-reversed", 0.1), ("aft", 0.1 + twist), ("aft-reversed", 0.1 + twist)]
    {
        book.read("set/twist", slot, value);
    }
    for (slot, values) in [("left", left), ("right", right)] {
        for value in values {
            book.read("set/square", slot, value);
        }
    }
    for _ in 0..2 {
        book.read("set/offset", "string", string);
    }
    book
}

fn fitted(book: &Logbook) -> Result<Fit, NoFit> {
    fit(book.procedure(), &book.airframe(), &book.fold())
}

/// The sheet's diagonal, to the tape's graduation.
const AS_DRAWN: [f64; 3] = [227.4375, 227.46875, 227.4375];

#[test]
fn what_was_read_as_drawn_sits_as_drawn_and_is_known_better_than_by_any_one_reading() {
    let found = fitted(&read(-2.6, 0.0, AS_DRAWN, AS_DRAWN, 0.0)).expect("a place");
    let of = |check: &str| found.checks.iter().find(|fitted| fitted.check == check).expect("fitted");
    assert!((of("pitch").estimate.value + 2.6).abs() < 0.01 && of("pitch").verdict == Verdict::In, "{:?}", of("pitch"));
    assert!(of("twist").estimate.value.abs() < 0.01, "{:?}", of("twist"));
    assert!(of("offset").estimate.value.abs() < 0.01, "{:?}", of("offset"));
    // The string decides what the two distances are too weak for: by themselves they leave about 0.2 in open at the tail.
    assert!(of("offset").estimate.expanded() < 0.04, "{:?}", of("offset"));
    assert!(found.suspects.is_empty(), "{:?}", found.suspects);
    let readings = 2 + 2 + 6 + 2 + 3;
    assert_eq!(found.readings.len(), readings, "angles in pairs, every length, the three things that the set-up says");
}

/// A protractor that shows 0.2° too much one way round and 0.2° too little the other contradicts nothing.
#[test]
fn a_zero_error_is_no_slip() {
    let mut book = Logbook::example(0);
    for (slot, value) in [("direct", -2.4), ("direct", -2.4), ("reversed", -2.8), ("reversed", -2.8)] {
        book.read("set/pitch", slot, value);
    }
    for (slot, value) in [("frame", 0.3), ("frame-reversed", -0.1), ("aft", 0.4), ("aft-reversed", 0.0)] {
        book.read("set/twist", slot, value);
    }
    for slot in ["left", "right"] {
        for value in AS_DRAWN {
            book.read("set/square", slot, value);
        }
    }
    let found = fitted(&book).expect("a place");
    assert!(found.suspects.is_empty(), "{:?}", found.suspects);
    let of = |check: &str| found.checks.iter().find(|fitted| fitted.check == check).expect("fitted").estimate.value;
    assert!((of("pitch") + 2.6).abs() < 0.01 && (of("twist") - 0.1).abs() < 0.01, "{:?}", found.checks);
    assert!(found.readings.iter().any(|row| row.read == "0.3° and \u{2212}0.1°"), "{:?}", found.readings);
}

/// Two sets with nothing moved between them count together, as in the step's own verdict; after a move only what was read since.
#[test]
fn sets_between_which_nothing_was_moved_count_together() {
    let square = |book: &mut Logbook, value: f64| {
        for (slot, value) in [("left", value), ("right", 227.4375)] {
            for _ in 0..3 {
                book.read("set/square", slot, value);
            }
        }
    };
    let known = |found: &Fit| found.checks.iter().find(|fitted| fitted.check == "square").expect("fitted").estimate;
    let mut book = read(-2.6, 0.0, AS_DRAWN, AS_DRAWN, 0.0);
    let once = fitted(&book).expect("a place");
    square(&mut book, 227.46875);
    let twice = fitted(&book).expect("a place");
    assert_eq!(twice.readings.len(), once.readings.len() + 6);
    assert!(known(&twice).u < known(&once).u, "{:?} {:?}", known(&twice), known(&once));
    assert!(known(&twice).value > known(&once).value, "the left was read longer the second time");
    book.moved("set/square", "joint-right", 1.0 / 64.0);
    square(&mut book, 227.4375);
    let after = book.fold();
    assert_eq!(after.step("set/square").and_then(|step| step.result()).map(|result| result.sets), Some(1));
    assert!(fit(book.procedure(), &book.airframe(), &after).is_err(), "pitch, twist and the string were disturbed");
}

/// 0.41 in to the right at the tail makes the left distance longer by 2·17.25/227.452·0.41 = 0.062 in (plane geometry).
#[test]
fn a_tail_to_the_right_is_seen_by_string_and_distances_together() {
    let left = AS_DRAWN.map(|pull| pull + 0.03125);
    let right = AS_DRAWN.map(|pull| pull - 0.03125);
    let found = fitted(&read(-2.6, 0.0, left, right, 0.40625)).expect("a place");
    let of = |check: &str| found.checks.iter().find(|fitted| fitted.check == check).expect("fitted");
    assert!((of("offset").estimate.value - 0.41).abs() < 0.02, "{:?}", of("offset"));
    assert!((of("square").estimate.value - 0.062).abs() < 0.004, "{:?}", of("square"));
    assert!(found.suspects.is_empty(), "{:?}", found.suspects);
}

#[test]
fn a_pull_from_the_inch_mark_is_named_and_left_out() {
    let mut left = AS_DRAWN;
    left[1] += 1.0;
    let found = fitted(&read(-2.6, 0.0, left, AS_DRAWN, 0.0)).expect("a place");
    let [words] = found.suspects.as_slice() else { panic!("{:?}", found.suspects) };
    assert!(words.contains("the LEFT forward point") && words.contains("Did the tape start at 1 in?"), "{words}");
    let marked: Vec<_> = found.readings.iter().filter(|row| row.words == "does not agree with the others").collect();
    assert_eq!(marked.len(), 1);
    assert_eq!(marked[0].read, "228 15/32 in");
    let square = found.checks.iter().find(|fitted| fitted.check == "square").expect("fitted");
    assert!(square.estimate.value.abs() < 0.01, "without it the two sides agree: {square:?}");
}

#[test]
fn nothing_read_gives_no_place_and_says_what_to_measure() {
    let mut book = Logbook::example(0);
    assert_eq!(fitted(&book), Err(NoFit::NothingRead));
    book.read("set/offset", "string", 0.0);
    book.read("set/offset", "string", 0.0);
    let error = fitted(&book).expect_err("pitch and more are free");
    assert!(matches!(&error, NoFit::Free(motions) if motions.len() >= 2), "{error:?}");
    assert!(error.to_string().contains("the roll of the cone"), "{error}");
}

/// The closed forms of one check at a time (plane geometry, tested in `tests/mating.rs`) and the exact bodies must push the same way,
/// and agree on what a move does: for a saddle, a block under a sloping tube, a rock and a joint opened.
#[test]
fn the_bodies_move_as_the_closed_forms_say() {
    let cases: [(usize, &str, f64, f64, f64); 6] = [
        (0, "pitch", -3.6, 0.0, 0.0),
        (0, "pitch", -1.7, 0.0, 0.0),
        (0, "twist", -2.6, 0.6, 0.0),
        (0, "square", -2.6, 0.0, 0.125),
        (1, "pitch", -4.0, 0.0, 0.0),
        (1, "twist", -2.6, -0.7, 0.0),
    ];
    for (which, check, pitch, twist, square) in cases {
        let book = out_of(which, pitch, twist, square);
        let run = book.fold();
        let step = run.step(&format!("set/{check}")).expect("a step");
        let advice = step.advice.as_ref().expect("advice");
        let Some(closed) = advice.correction.as_ref() else { panic!("{which} {check}: {advice:?}") };
        let found = fitted(&book).expect("a place");
        let together = &found.moves;
        assert!(together.blocked.is_empty(), "{which} {check}: {:?}", together.blocked);
        let adjusters = together.what_if.adjusters();
        let same = |made: &ProposedMove| {
            let twin = closed.moves.iter().find(|other| other.adjuster == made.adjuster);
            twin.map(|other| other.amount.value.signum() == made.amount.value.signum())
        };
        let agreed: Vec<Option<bool>> = together.moves.iter().map(same).collect();
        assert!(agreed.contains(&Some(true)) && !agreed.contains(&Some(false)), "{which} {check}: {together:?}");
        assert!(together.after.iter().all(|after| !after.contains(": out")), "{:?}", together.after);
        // The closed form's own move, told to the bodies.
        let steps: Vec<i32> = adjusters
            .iter()
            .map(|(id, _)| {
                let made = closed.moves.iter().find(|made| made.adjuster == *id);
                made.map_or(0, |made| (made.amount.value / made.amount.step).round() as i32)
            })
            .collect();
        let forecast = together.what_if.forecast(&steps).expect("within the stops");
        let title = &found.checks.iter().find(|fitted| fitted.check == check).expect("fitted").title;
        let line = forecast.iter().find(|line| line.starts_with(title.as_str())).expect("a line");
        let number = line[title.len()..].trim_start().replace('\u{2212}', "-");
        let after: f64 = number.split([' ', '\u{b0}']).next().expect("a number").parse().expect("a number");
        let near = if check == "square" { 0.006 * if which == 0 { 1.0 } else { 25.4 } } else { 0.03 };
        assert!(
            (after - closed.predicted.value).abs() < near,
            "{which} {check}: {line}, closed form {:?}",
            closed.predicted
        );
    }
}

#[test]
fn a_gap_that_may_not_open_any_further_stops_the_plan_and_the_proposal() {
    let found = fitted(&out_of(0, -2.6, 0.0, 0.75)).expect("a place");
    assert!(found.moves.moves.is_empty(), "{:?}", found.moves);
    let why = found.moves.blocked.join(" ");
    assert!(why.contains("the gap limit") && why.contains("ask the kit's support"), "{why}");
    let right = found.moves.what_if.adjusters().iter().position(|(id, _)| id == "joint-right").expect("an adjuster");
    let mut steps = vec![0; right + 1];
    steps[right] = 64;
    let refused = found.moves.what_if.forecast(&steps).expect_err("an inch of gap");
    assert!(refused.contains("the gap limit"), "{refused}");
}

/// A set of readings on one of the invented airframes, out by so much; `square` is left minus right, inches.
fn out_of(which: usize, pitch: f64, twist: f64, square: f64) -> Logbook {
    let mut book = Logbook::example(which);
    let airframe = book.airframe();
    let inches = which == 0;
    let nominal = |key: &str| airframe.specification.nominal(key).map_or(0.0, |number| number.value);
    for (slot, gap) in [("upper-left", 3.0), ("upper-right", 0.0), ("lower-left", 3.0), ("lower-right", 1.0)] {
        book.read("gaps", slot, if inches { gap / 32.0 } else { gap });
    }
    let pitch = if inches { pitch } else { nominal("pitch") + pitch + 2.6 };
    for slot in ["direct", "direct", "reversed", "reversed"] {
        book.read("set/pitch", slot, pitch);
    }
    for (slot, value) in [("frame", 0.1), ("frame-reversed", 0.1), ("aft", 0.1 + twist), ("aft-reversed", 0.1 + twist)]
    {
        book.read("set/twist", slot, value);
    }
    let step = if inches { 1.0 / 32.0 } else { 0.5 };
    let diagonal = (nominal("diagonal") / step).round() * step;
    let half = (square / 2.0 * if inches { 1.0 } else { 25.4 } / step).round() * step;
    for (slot, value) in [("left", diagonal + half), ("right", diagonal - half)] {
        for _ in 0..3 {
            book.read("set/square", slot, value);
        }
    }
    if inches {
        // The tail lies to the right by the difference times D / 2a (plane geometry).
        let tail = (square * nominal("diagonal") / (2.0 * nominal("half-width")) * 64.0).round() / 64.0;
        for _ in 0..2 {
            book.read("set/offset", "string", tail);
        }
    }
    book
}
