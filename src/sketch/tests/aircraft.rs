//! The picture of the whole aircraft.

use super::{Book, check_apart, check_inside, lettering, points};
use crate::procedure::{Progress, Work, aircraft, procedures};
use crate::record::Units;
use crate::sketch::zone::{ZONES, together};
use crate::sketch::{Ink, Sketch, whole_aircraft};

const ALL: [Progress; 5] = [Progress::NotStarted, Progress::Waits, Progress::UnderWay, Progress::Stale, Progress::Done];

fn works(book: &Book) -> Vec<Work> {
    let airframe = book.airframe();
    aircraft(&airframe, &book.ledger)
}

fn with(book: &Book, progress: impl Fn(&str) -> Progress) -> Sketch {
    let mut works = works(book);
    for work in &mut works {
        work.progress = progress(&work.procedure.id);
    }
    whole_aircraft(&book.airframe(), &works)
}

#[test]
fn every_procedure_belongs_to_one_zone() {
    for procedure in procedures() {
        let zones = ZONES.iter().filter(|(_, _, ids)| ids.contains(&procedure.id.as_str())).count();
        assert_eq!(zones, 1, "{}", procedure.id);
    }
    let known = |id: &str| procedures().any(|procedure| procedure.id == *id);
    assert!(ZONES.iter().flat_map(|(_, _, ids)| *ids).all(|id| known(id)));
}

#[test]
fn several_procedures_as_one() {
    use Progress::{Done, NotStarted, Stale, UnderWay, Waits};
    let cases: [(&[Progress], Option<Progress>); 8] = [
        (&[], None),
        (&[Done, Done], Some(Done)),
        (&[Done, Stale, UnderWay], Some(Stale)),
        (&[Done, Waits], Some(UnderWay)),
        (&[UnderWay, Waits], Some(UnderWay)),
        (&[NotStarted, Waits], Some(NotStarted)),
        (&[Waits, Waits], Some(Waits)),
        (&[Done, NotStarted], Some(UnderWay)),
    ];
    for (progress, expected) in cases {
        assert_eq!(together(progress), expected, "{progress:?}");
    }
}

#[test]
fn every_state_stays_on_the_sheet_with_its_words_apart() {
    let blank = Book::blank(Units::Inches);
    for (which, book) in [Book::example(0), Book::example(1), blank].iter().enumerate() {
        for progress in ALL {
            let sketch = with(book, |_| progress);
            check_inside(&sketch, &format!("airframe {which}, {progress:?}"));
            check_apart(&sketch, &format!("airframe {which}, {progress:?}"));
            for state in ALL {
                assert!(lettering(&sketch).contains(&state.words()), "the legend says {state:?}");
            }
        }
    }
}

#[test]
fn a_state_is_told_without_colour() {
    let book = Book::example(0);
    // Shading and marks of two states differ in more than the ink: count what a black print would show.
    let shapes: Vec<(usize, usize, usize)> = ALL
        .into_iter()
        .map(|progress| {
            let sketch = with(&book, |_| progress);
            let count = |ink| points(&sketch, ink).len();
            (count(Ink::Inner), count(Ink::Post), count(Ink::Ghost))
        })
        .collect();
    for (place, one) in shapes.iter().enumerate() {
        assert!(!shapes[place + 1..].contains(one), "{shapes:?}");
    }
}

#[test]
fn the_title_says_it_in_words() {
    let book = Book::example(0);
    let progress = |id: &str| match id {
        "establish-datum" | "qualify-points" => Progress::Done,
        "wing-dihedral" => Progress::Stale,
        "tailplane" => Progress::Waits,
        _ => Progress::NotStarted,
    };
    let sketch = with(&book, progress);
    for words in [" done: Datum;", " stale: Wings;", " waits: Tailplane;", "Nose wheel", "Struts"] {
        assert!(sketch.title.contains(words), "{}", sketch.title);
    }
    assert!(!sketch.title.contains("under way"));
    let cantilever = with(&Book::example(1), progress);
    assert!(!cantilever.title.contains("Struts") && cantilever.title.contains("Tail wheel"), "{}", cantilever.title);
    assert!(!lettering(&cantilever).contains(&"Struts"));
}

#[test]
fn the_outline_is_the_airframes_own() {
    let span = |book: &Book| {
        let wings =
            points(&with(book, |id| if id == "wing-sweep" { Progress::Stale } else { Progress::Done }), Ink::Reading);
        let across: Vec<f64> = wings.iter().filter(|part| part.len() == 4).flatten().map(|point| point.0).collect();
        across.iter().copied().fold(f64::MIN, f64::max) - across.iter().copied().fold(f64::MAX, f64::min)
    };
    // Span over length from the invented sheets: 402/258.75 and 7810/5290; both are drawn 172/1.08 units long.
    for (book, share) in [(Book::example(0), 402.0 / 258.75), (Book::example(1), 7810.0 / 5290.0)] {
        assert!((span(&book) - share * 172.0 / 1.08).abs() < 0.5, "{}", span(&book));
    }
}

#[test]
fn the_left_wing_is_drawn_left_and_like_the_right() {
    let sketch = with(&Book::example(1), |id| if id == "flaps" { Progress::Stale } else { Progress::NotStarted });
    let flaps: Vec<_> = points(&sketch, Ink::Reading).into_iter().filter(|points| points.len() == 4).collect();
    assert!(flaps.len() >= 2);
    let (left, right) = (&flaps[0], &flaps[1]);
    for (one, other) in left.iter().zip(right) {
        assert!(one.0 < 164.0 && (one.0 + other.0 - 328.0).abs() < 1e-9 && (one.1 - other.1).abs() < 1e-9);
    }
}
