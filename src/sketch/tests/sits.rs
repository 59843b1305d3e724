//! Where the cone sits, drawn: the right way, by as much as the sheet says, with what is left open, and nothing over anything else.
//!
//! Directions are the field's conventions (common practice, no source); sizes are plane geometry on the sheet's units.

use proptest::prelude::*;

use super::{Book, check_inside, lettering, points, procedure_};
use crate::metrology::{Estimate, Limits, Verdict, judge};
use crate::procedure::{FittedCheck, fit};
use crate::quantity::Unit;
use crate::sketch::{Ink, Shape, Sketch, seat_sketches};

fn fitted(check: &str, value: f64, expanded: f64, unit: Unit, limits: Option<(f64, f64)>) -> FittedCheck {
    let estimate = Estimate::new(value, expanded / 2.0, unit);
    let limits = limits.map(|(lower, upper)| Limits { lower: Some(lower), upper: Some(upper), unit });
    let verdict = judge(estimate, limits);
    FittedCheck {
        check: check.to_owned(),
        title: check.to_owned(),
        estimate,
        limits,
        verdict,
        words: "words".to_owned(),
    }
}

/// The one view that a check gives on the invented inch airframe.
fn view(check: &FittedCheck) -> Sketch {
    let mut found = seat_sketches(procedure_(), &Book::example(0).airframe(), std::slice::from_ref(check));
    assert_eq!(found.len(), 1);
    found.remove(0)
}

fn direction(from: (f64, f64), to: (f64, f64)) -> f64 {
    (to.1 - from.1).atan2(to.0 - from.0).to_degrees()
}

#[test]
fn a_low_tail_hangs_by_the_factor_that_the_sheet_states() {
    let sketch = view(&fitted("pitch", -2.9, 0.06, Unit::Degree, Some((-2.8, -2.4))));
    let (cone, ghost) = (&points(&sketch, Ink::Cone)[0], &points(&sketch, Ink::Ghost)[0]);
    // 9° of room over 0.30° + 0.06° is 25 times: cut to 20. 0.3° is then 6°, clockwise on the sheet.
    assert!((direction(cone[0], cone[1]) - direction(ghost[0], ghost[1]) - 6.0).abs() < 1e-9);
    assert!(cone[1].1 > ghost[1].1, "lower on the sheet");
    for words in ["tail LOW 0.30°", "×20", "nose"] {
        assert!(lettering(&sketch).contains(&words), "{words}: {:?}", lettering(&sketch));
    }
    assert!(
        sketch.title.contains("by all readings together: tail LOW 0.30°, drawn ×20. pitch words."),
        "{}",
        sketch.title
    );
    let high = view(&fitted("pitch", -2.3, 0.06, Unit::Degree, Some((-2.8, -2.4))));
    assert!(points(&high, Ink::Cone)[0][1].1 < points(&high, Ink::Ghost)[0][1].1);
    assert!(lettering(&high).contains(&"tail HIGH 0.30°"));
}

#[test]
fn what_is_left_open_is_shaded_to_both_sides_of_the_tail() {
    for expanded in [0.02, 0.06, 0.2] {
        let sketch = view(&fitted("pitch", -2.7, expanded, Unit::Degree, Some((-2.8, -2.4))));
        let (bands, cone) = (points(&sketch, Ink::Band), &points(&sketch, Ink::Cone)[0]);
        let times: f64 = times_of(&sketch);
        // About the middle of the joint, counter-clockwise for high.
        let pivot = ((cone[0].0 + cone[3].0) / 2.0, (cone[0].1 + cone[3].1) / 2.0);
        let turn = |end: usize| direction(pivot, bands[end][1]) - direction(pivot, cone[1]);
        let (down, up) = (turn(0), -turn(1));
        assert!((up - expanded * times).abs() < 1e-9 && (down - expanded * times).abs() < 1e-9, "{up} {down} {times}");
    }
}

fn times_of(sketch: &Sketch) -> f64 {
    let note = lettering(sketch).into_iter().find_map(|words| words.strip_prefix('×'));
    note.expect("a factor").parse().expect("a number")
}

#[test]
fn seen_from_above_the_tail_lies_on_the_side_that_it_was_read_on() {
    for (value, side) in [(0.2, "RIGHT"), (-0.2, "LEFT")] {
        let sketch = view(&fitted("offset", value, 0.04, Unit::Inch, Some((-0.125, 0.125))));
        let (cone, ghost) = (&points(&sketch, Ink::Cone)[0], &points(&sketch, Ink::Ghost)[0]);
        // 17.25 in across is 68 · 0.57 units of the sheet.
        let expected = value * times_of(&sketch) * 68.0 * 0.57 / 17.25;
        assert!((cone[2].0 - ghost[2].0 - expected).abs() < 1e-9, "{side}");
        assert!(lettering(&sketch).contains(&format!("{side} 0.20 in").as_str()), "{:?}", lettering(&sketch));
        assert!(sketch.title.contains(&format!("together: {side} 0.20 in, drawn ×")), "{}", sketch.title);
    }
}

#[test]
fn seen_from_behind_the_low_side_is_low_on_the_sheet() {
    for (value, side) in [(0.3, "RIGHT"), (-0.3, "LEFT")] {
        let sketch = view(&fitted("twist", value, 0.05, Unit::Degree, Some((-0.15, 0.15))));
        let bulkhead = &points(&sketch, Ink::Cone)[0];
        let roll = direction(bulkhead[0], bulkhead[1]);
        assert!((roll - value * times_of(&sketch)).abs() < 1e-9, "{roll}");
        assert!(lettering(&sketch).contains(&format!("{side} LOW 0.30°").as_str()), "{:?}", lettering(&sketch));
        let nearest = |letter: &str| {
            sketch.shapes.iter().find_map(|shape| match shape {
                Shape::Text { at, text, .. } if text == letter => Some(at.0),
                _ => None,
            })
        };
        assert!(nearest("L") < nearest("R"), "the pilot's left is on the left");
    }
}

/// The bar between the posts is in, beyond one is out, over one is can't tell: as the verdict's mark.
#[test]
fn the_bar_beside_the_tail_says_what_the_verdict_says() {
    for hundredth in -60..=60 {
        let check = fitted("twist", f64::from(hundredth) / 100.0, 0.045, Unit::Degree, Some((-0.153, 0.153)));
        let sketch = view(&check);
        let centre = sketch.width / 2.0;
        let right_of = |ink: Ink| -> Vec<Vec<(f64, f64)>> {
            points(&sketch, ink).into_iter().filter(|shape| shape.iter().all(|point| point.0 > centre)).collect()
        };
        let mut posts: Vec<f64> =
            right_of(Ink::Post).iter().map(|post| direction((centre, 122.0 * 0.57 + 22.0), post[0])).collect();
        posts.sort_by(f64::total_cmp);
        let [lower, upper] = posts.as_slice() else { panic!("{hundredth}: {posts:?}") };
        let bars = [right_of(Ink::Bar), right_of(Ink::Ghost)].concat();
        let [bar] = bars.as_slice() else { panic!("{hundredth}: {bars:?}") };
        let (low, high) =
            (direction((centre, 122.0 * 0.57 + 22.0), bar[0]), direction((centre, 122.0 * 0.57 + 22.0), bar[1]));
        let seen = if low >= *lower && high <= *upper {
            Verdict::In
        } else if low > *upper {
            Verdict::Out(crate::metrology::Beyond::High)
        } else if high < *lower {
            Verdict::Out(crate::metrology::Beyond::Low)
        } else {
            Verdict::CantTell
        };
        assert_eq!(seen, check.verdict, "{hundredth}: {low} to {high} between {lower} and {upper}");
        assert_eq!(right_of(Ink::Ghost).is_empty(), check.verdict != Verdict::CantTell, "hollow where it is not sure");
    }
}

#[test]
fn a_place_as_asked_for_is_said_so_and_one_that_is_no_number_is_not_drawn() {
    let sketch = view(&fitted("pitch", -2.6, 0.05, Unit::Degree, Some((-2.8, -2.4))));
    assert!(lettering(&sketch).contains(&"as specified"), "{:?}", lettering(&sketch));
    assert!(sketch.title.contains("together: as specified, drawn ×"), "{}", sketch.title);
    let airframe = Book::example(0).airframe();
    for value in [f64::NAN, f64::INFINITY] {
        let check = fitted("pitch", value, 0.05, Unit::Degree, None);
        assert!(seat_sketches(procedure_(), &airframe, &[check]).is_empty());
    }
}

/// Read and adjusted, on both invented airframes and both set-ups: three views, in inches and in millimetres.
#[test]
fn a_fit_gives_all_three_views() {
    for (mut book, distance) in
        [(Book::example(0), 227.4375), (Book::on_a_block(), 227.4375), (Book::example(1), 4468.5)]
    {
        book.read_pitch("set", -2.2);
        book.read_twist("set", 0.1, 0.4);
        book.read_square("set", distance, distance);
        book.read("set/offset", &[("string", 0.125)]);
        let found = fit(procedure_(), &book.airframe(), &book.run()).expect("a place");
        let views = seat_sketches(procedure_(), &book.airframe(), &found.checks);
        assert_eq!(views.len(), 3);
        for sketch in &views {
            check_inside(sketch, "a fit");
            check_apart(sketch, "a fit");
        }
        let of = |view: usize, words: &str| lettering(&views[view]).iter().any(|text| text.starts_with(words));
        assert!(
            of(0, "tail ") && of(1, "RIGHT ") && of(2, "RIGHT LOW "),
            "{:?}",
            views.iter().map(lettering).collect::<Vec<_>>()
        );
    }
}

/// No lettering lies on other lettering, on a limit, on the bar, or on a part.
fn check_apart(sketch: &Sketch, context: &str) {
    let apart =
        |one: [f64; 4], two: [f64; 4]| one[0] >= two[2] || two[0] >= one[2] || one[1] >= two[3] || two[1] >= one[3];
    for (place, text) in sketch.shapes.iter().enumerate() {
        if !matches!(text, Shape::Text { .. }) {
            continue;
        }
        for (other, shape) in sketch.shapes.iter().enumerate().filter(|(other, _)| *other != place) {
            let counts = match shape {
                Shape::Text { .. } => other > place,
                Shape::Line { ink: Ink::Post, .. } | Shape::Polyline { ink: Ink::Bar, .. } => true,
                Shape::Polyline { ink: Ink::Frame | Ink::Cone | Ink::Band | Ink::Ghost, .. } => {
                    // A part's box is larger than the part: its own corners count.
                    let [left, top, right, bottom] = text.reach();
                    let hit = match shape {
                        Shape::Polyline { points, .. } => {
                            points.iter().any(|(x, y)| *x > left && *x < right && *y > top && *y < bottom)
                        }
                        _ => false,
                    };
                    assert!(!hit, "{context}: a corner of {shape:?} in {text:?}");
                    false
                }
                _ => false,
            };
            assert!(!counts || apart(text.reach(), shape.reach()), "{context}: {text:?} on {shape:?}");
        }
    }
}

fn any_value() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => -5.0_f64..5.0,
        2 => -0.05_f64..0.05,
        1 => -1e6_f64..1e6,
        1 => prop_oneof![Just(0.0), Just(1e-12), Just(-1e300), Just(1e300), Just(f64::MIN_POSITIVE)],
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn everything_stays_on_the_sheet_and_apart(
        values in proptest::array::uniform3(any_value()),
        open in proptest::array::uniform3(any_value()),
        limits in proptest::collection::vec(proptest::option::of((any_value(), any_value())), 3),
        which in 0_usize..3,
        inches in any::<bool>(),
    ) {
        let book = if which == 2 { Book::on_a_block() } else { Book::example(which) };
        let length = if inches { Unit::Inch } else { Unit::Millimetre };
        let units = [("pitch", Unit::Degree), ("offset", length), ("twist", Unit::Degree)];
        let checks: Vec<FittedCheck> = units
            .into_iter()
            .enumerate()
            .map(|(place, (check, unit))| fitted(check, values[place], open[place].abs(), unit, limits[place]))
            .collect();
        for sketch in seat_sketches(procedure_(), &book.airframe(), &checks) {
            check_inside(&sketch, "any");
            // An amount that is cut at the sheet's edge may run into what is drawn.
            if values.iter().all(|value| value.abs() <= 1e6) {
                check_apart(&sketch, "any");
            }
        }
    }
}
