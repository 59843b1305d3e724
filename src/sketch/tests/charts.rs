//! The chart of attempts.

use super::{Book, check_inside, lettering, points};
use crate::metrology::Verdict;
use crate::sketch::{Chart, Ink, attempts_chart};

fn chart(book: &Book, step: &str) -> Option<Chart> {
    attempts_chart(book.run().step(step).expect("a step"))
}

#[test]
fn no_chart_before_the_first_complete_attempt() {
    let mut book = Book::example(0);
    assert_eq!(chart(&book, "set/pitch"), None);
    book.read("set/pitch", &[("direct", -2.9)]);
    assert_eq!(chart(&book, "set/pitch"), None, "half an attempt");
    assert_eq!(chart(&book, "cautions"), None);
}

#[test]
fn attempts_run_into_the_band() {
    let mut book = Book::example(0);
    for (value, by) in [(-3.6, 2.125), (-2.9, 0.625), (-2.6, 0.0)] {
        book.read_pitch("set", value);
        if by != 0.0 {
            book.moved("saddle", by);
        }
    }
    let chart = chart(&book, "set/pitch").expect("three attempts");
    let ((upper, upper_words), (lower, lower_words)) =
        (chart.upper.clone().expect("a limit"), chart.lower.clone().expect("a limit"));
    let [first, second, last] = chart.points.as_slice() else { panic!("{:?}", chart.points) };
    assert!(upper < lower, "larger is higher");
    assert!(first.y > second.y && second.y > lower && lower > last.y && last.y > upper, "{chart:?}");
    assert!((last.y - f64::midpoint(upper, lower)).abs() < 1e-9, "−2.6° is the middle of the band");
    // One scale: 1.0° from the first to the last, 0.4° from limit to limit.
    assert!(((first.y - last.y) / (lower - upper) - 1.0 / 0.4).abs() < 1e-9);
    assert!(first.x < second.x && second.x < last.x);
    assert!(last.top < last.y && last.y < last.bottom, "an uncertainty to both sides");
    assert_eq!((upper_words.as_str(), lower_words.as_str()), ("−2.40°", "−2.80°"));
    assert_eq!((first.verdict, last.verdict), (Verdict::Out(crate::metrology::Beyond::Low), Verdict::In));
    assert!(chart.title.contains("1: −3.60°, out; 2: −2.90°, out; 3: −2.60°, in."), "{}", chart.title);
    let sketch = chart.sketch();
    check_inside(&sketch, "chart");
    assert_eq!(points(&sketch, Ink::Reference).len(), 2, "each move joins two attempts");
    assert!(lettering(&sketch).contains(&"−2.60°"));
    assert_eq!(
        points(&sketch, Ink::Bar).last().expect("the last point")[0],
        (last.x, last.y),
        "the last is the bold one"
    );
}

#[test]
fn attempts_with_nothing_moved_in_between_are_not_joined() {
    let mut book = Book::example(0);
    book.read_pitch("set", -2.5);
    book.read_pitch("set", -2.5);
    let chart = chart(&book, "set/pitch").expect("two attempts");
    assert_eq!(chart.points.len(), 2);
    assert!(points(&chart.sketch(), Ink::Reference).is_empty());
}

#[test]
fn one_limit_gives_a_band_to_the_edge_and_none_gives_no_band() {
    let mut book = Book::example(0);
    book.read_gaps([0.0625, 0.0, 0.03125, 0.0]);
    let gaps = chart(&book, "gaps").expect("an attempt");
    let upper = gaps.upper.clone().expect("at most").0;
    assert!(gaps.points[0].y > upper, "inside");
    let band = &points(&gaps.sketch(), Ink::Band)[0];
    assert!(band.iter().any(|corner| corner.1 > gaps.points[0].bottom), "down to below the reading");

    let mut book = Book::example(0);
    book.read("reversal", &[("first", 0.3), ("turned", -0.1)]);
    let reversal = chart(&book, "reversal").expect("an attempt");
    assert!(reversal.upper.is_none() && reversal.lower.is_none());
    check_inside(&reversal.sketch(), "no limits");
    assert!(points(&reversal.sketch(), Ink::Band).is_empty());
}
