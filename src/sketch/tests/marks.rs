//! The verdict's mark and the tape.

use super::{check_inside, lettering, points};
use crate::metrology::{Estimate, Limits, Mark, Verdict, judge};
use crate::quantity::Unit;
use crate::sketch::{Ink, Sketch, tape_picture, verdict_mark};

fn mark(value: f64, lower: Option<f64>, upper: Option<f64>) -> Sketch {
    let limits = (lower.is_some() || upper.is_some()).then_some(Limits { lower, upper, unit: Unit::Degree });
    let estimate = Estimate::new(value, 0.04, Unit::Degree);
    let sketch = verdict_mark(Mark::of(estimate, limits), judge(estimate, limits), "words".to_owned());
    check_inside(&sketch, &format!("{value} in {lower:?} to {upper:?}"));
    sketch
}

#[test]
fn solid_where_it_is_sure_hollow_where_it_is_not() {
    let hollow = |sketch: &Sketch| !points(sketch, Ink::Ghost).is_empty();
    let (lower, upper) = (Some(-0.2), Some(0.2));
    assert!(!hollow(&mark(0.0, lower, upper)), "in");
    assert!(!hollow(&mark(0.5, lower, upper)), "out");
    assert!(hollow(&mark(0.2, lower, upper)), "can't tell");
    let not_judged = mark(0.2, None, None);
    assert!(hollow(&not_judged) && points(&not_judged, Ink::Post).is_empty(), "no posts without a tolerance");
}

#[test]
fn a_posts_feet_point_to_the_allowed_side() {
    let posts = points(&mark(0.0, Some(-0.2), Some(0.2)), Ink::Post);
    assert!(posts[0][0].0 > posts[0][1].0 && posts[1][0].0 < posts[1][1].0, "{posts:?}");
    let at_most = points(&mark(0.1, None, Some(0.2)), Ink::Post);
    assert!(at_most.len() == 1 && at_most[0][0].0 < at_most[0][1].0, "{at_most:?}");
}

#[test]
fn far_out_is_an_arrow_at_the_edge_that_it_left_by() {
    let tip = |sketch: &Sketch| points(sketch, Ink::Bar).last().expect("an arrow")[1].0;
    let high = mark(9.0, Some(-0.2), Some(0.2));
    let low = mark(-9.0, Some(-0.2), Some(0.2));
    assert!(tip(&high) > high.width - 5.0 && tip(&low) < 5.0);
    assert_eq!(points(&mark(0.0, Some(-0.2), Some(0.2)), Ink::Bar).len(), 1, "no arrow inside");
}

#[test]
fn a_mark_is_drawn_for_any_numbers() {
    for thousandth in (-3_000..3_000).step_by(7) {
        let value = f64::from(thousandth) / 1000.0;
        for (lower, upper) in
            [(Some(-0.2), Some(0.2)), (None, Some(0.5)), (Some(-0.5), None), (None, None), (Some(0.0), Some(0.0))]
        {
            mark(value, lower, upper);
        }
    }
    let numbers =
        Mark { lower_post: Some(-4.0), upper_post: Some(7.0), bar_start: -1.0, bar_end: 2.0, off_scale: true };
    check_inside(&verdict_mark(numbers, Verdict::CantTell, String::new()), "beyond the edges");
}

#[test]
fn the_pointer_stands_where_the_tape_reads_the_value() {
    let sketch = tape_picture(227.6875, Unit::Inch, 1.0 / 16.0).expect("a tape");
    // Whole inches are the lines of the heavier ink; the pointer is where 227 11/16 falls between two of them.
    let inches: Vec<f64> = points(&sketch, Ink::Frame).iter().map(|line| line[0].0).collect();
    let after_227 = inches[1] + (inches[2] - inches[1]) * 11.0 / 16.0;
    assert!((points(&sketch, Ink::Reading)[0][0].0 - after_227).abs() < 1e-9, "{inches:?}");
    assert_eq!(lettering(&sketch), ["226", "227", "228", "229"]);
    assert_eq!(sketch.title, "The tape at 227 11/16 in.");
}

#[test]
fn a_tape_is_drawn_for_any_length_and_for_nothing_else() {
    for unit in [Unit::Inch, Unit::Millimetre] {
        for step in [0.0, 1.0 / 64.0, 1.0 / 32.0, 1.0 / 16.0, 0.1, 0.5, 1.0, 2.0] {
            for value in [0.0, 0.01, 0.5, 3.999, 227.6875, 4468.5, 99_999.0, -3.0] {
                let sketch = tape_picture(value, unit, step).expect("a tape");
                check_inside(&sketch, &format!("{value} {unit:?} by {step}"));
            }
        }
    }
    assert_eq!(tape_picture(1.0, Unit::Degree, 0.1), None);
    assert_eq!(tape_picture(f64::NAN, Unit::Inch, 1.0 / 16.0), None);
}
