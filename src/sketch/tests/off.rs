//! What is drawn off is off the right way, by as much as the sheet says, and nothing is shown that would lead the eye.
//!
//! Expected directions are the field's conventions (common practice, no source): the pilot's left and right, tail end high is
//! plus, right side low is plus. Expected sizes are plane geometry on the invented airframe's numbers.

use super::{Book, arrows, lettering, points};
use crate::quantity::Unit;
use crate::record::Units;
use crate::sketch::{Ink, Shape, Sketch};

/// Direction from a point to another in degrees, clockwise on the sheet.
fn direction(from: (f64, f64), to: (f64, f64)) -> f64 {
    (to.1 - from.1).atan2(to.0 - from.0).to_degrees()
}

/// The cone's upper line in the side view.
fn upper_line(outline: &[(f64, f64)]) -> f64 {
    direction(outline[0], outline[1])
}

fn where_is(sketch: &Sketch, words: &str) -> (f64, f64) {
    sketch
        .shapes
        .iter()
        .find_map(|shape| match shape {
            Shape::Text { at, text, .. } if text == words => Some(*at),
            _ => None,
        })
        .unwrap_or_else(|| panic!("{words} stands nowhere: {:?}", lettering(sketch)))
}

#[test]
fn a_low_tail_hangs_by_what_the_sheet_says_and_the_saddle_goes_up() {
    let mut book = Book::example(0);
    book.read_pitch("set", -2.9);
    let sketch = book.sketch("set/pitch", None);
    let (cone, ghost) = (&points(&sketch, Ink::Cone)[0], &points(&sketch, Ink::Ghost)[0]);
    assert!(cone[1].1 > ghost[1].1, "the tail lies lower than it should");
    // 0.3° drawn 20 times larger.
    assert!((upper_line(cone) - upper_line(ghost) - 6.0).abs() < 1e-6, "{}", upper_line(cone) - upper_line(ghost));
    assert!((upper_line(ghost) - 2.6).abs() < 1e-6, "the sheet's own slope, not exaggerated");
    for words in ["tail LOW 0.30°", "UP 5/8 in", "pitch ×20", "LEFT side only"] {
        assert!(lettering(&sketch).contains(&words), "{words}: {:?}", lettering(&sketch));
    }
    let [from, to] = arrows(&sketch, Ink::Move)[0];
    assert!(to.1 < from.1, "up the page");
    assert!(sketch.title.contains("low by 0.30°, drawn 20 times larger"), "{}", sketch.title);
    assert!(sketch.title.ends_with("Raise the saddle 5/8 in."), "{}", sketch.title);
}

#[test]
fn a_high_tail_stands_up_and_the_saddle_goes_down() {
    let mut book = Book::example(0);
    book.read_pitch("set", -2.2);
    let sketch = book.sketch("set/pitch", None);
    assert!(points(&sketch, Ink::Cone)[0][1].1 < points(&sketch, Ink::Ghost)[0][1].1);
    let [from, to] = arrows(&sketch, Ink::Move)[0];
    assert!(to.1 > from.1, "down the page");
    assert!(lettering(&sketch).contains(&"tail HIGH 0.40°"));
}

#[test]
fn on_a_block_the_frame_is_drawn_off_and_the_block_goes_aft_to_lift_it() {
    let mut book = Book::on_a_block();
    book.read_pitch("set", -2.95);
    let sketch = book.sketch("set/pitch", None);
    let (frame, ghost) = (&points(&sketch, Ink::Frame)[0], &points(&sketch, Ink::Ghost)[0]);
    // Tail low to the frame with the cone on the bench: the frame's nose hangs.
    assert!(frame[2].1 > ghost[2].1 && frame[2].0 < 60.0, "{frame:?}");
    let [from, to] = arrows(&sketch, Ink::Move)[0];
    assert!(to.0 > from.0, "aft is to the right when the nose is to the left");
    assert!(lettering(&sketch).iter().any(|words| words.starts_with("AFT ")), "{:?}", lettering(&sketch));
}

#[test]
fn the_saddle_stands_where_the_sheet_puts_it() {
    let sketch = Book::example(0).sketch("level-frame", None);
    let cone = &points(&sketch, Ink::Cone)[0];
    let (joint, tail) = (cone[0].0, cone[1].0);
    // Forward points to the aft point √(227.452² − 17.25²) = 226.8 in, joint to tail 142 in, joint to saddle 122 in.
    let front = points(&sketch, Ink::Frame)[0][2].0;
    assert!(((joint - front) / (tail - joint) - 84.8 / 142.0).abs() < 1e-3);
    let share =
        (points(&sketch, Ink::Support).iter().find(|shape| shape[0].0 > joint && shape.len() == 2).expect("a post")[0]
            .0
            - joint)
            / (tail - joint);
    assert!((share - 122.0 / 142.0).abs() < 1e-6, "{share}");
    assert!(!lettering(&sketch).contains(&"not to scale"));
    assert!(lettering(&Book::blank(Units::Inches).sketch("offer-up", None)).contains(&"not to scale"));
}

#[test]
fn a_longer_left_distance_draws_the_tail_to_the_right() {
    for (left, right, side, sign) in [(15.0, 13.0, "RIGHT", 1.0), (13.0, 15.0, "LEFT", -1.0)] {
        let mut book = Book::example(0);
        book.read_square("set", 227.0 + left / 32.0, 227.0 + right / 32.0);
        let sketch = book.sketch("set/square", None);
        let words = format!("tail {side} 0.41 in");
        assert!(lettering(&sketch).contains(&words.as_str()), "{:?}", lettering(&sketch));
        let aft = points(&sketch, Ink::Post).last().expect("the aft point")[0].0 - sketch.width / 2.0;
        // e = 0.41205 in, 20 times larger, on a drawing where 17.25 in across is 68 units.
        assert!((aft - sign * 0.41205 * 20.0 * 68.0 / 17.25).abs() < 0.1, "{aft}");
        assert!(lettering(&sketch).contains(&"227 15/32 in"), "the values stand by their sides once all are in");
    }
}

#[test]
fn the_joint_is_opened_on_the_side_that_the_advice_names() {
    let mut book = Book::example(1);
    book.read_square("set", 4470.0, 4467.0);
    let sketch = book.sketch("set/square", None);
    let [from, to] = arrows(&sketch, Ink::Move)[0];
    assert!(from.0 > sketch.width / 2.0 && to.1 > from.1, "the right side, pulled aft");
    assert!(lettering(&sketch).contains(&"OPEN"), "{:?}", lettering(&sketch));
    assert!(sketch.title.contains("Open the RIGHT side of the joint"), "{}", sketch.title);
}

#[test]
fn twist_turns_the_bulkhead_and_the_support_that_is_raised_is_under_the_right_body() {
    for (aft, side, sign) in [(0.4, "RIGHT", 1.0), (-0.2, "LEFT", -1.0)] {
        let mut book = Book::example(0);
        book.read_twist("set", 0.1, aft);
        let sketch = book.sketch("set/twist", None);
        let bulkhead = &points(&sketch, Ink::Cone)[0];
        assert!((bulkhead[1].1 - bulkhead[0].1) * sign > 0.0, "the {side} corner hangs: {bulkhead:?}");
        let words = format!("tail {side} LOW 0.30°");
        assert!(lettering(&sketch).contains(&words.as_str()), "{:?}", lettering(&sketch));
        let [from, to] = arrows(&sketch, Ink::Move)[0];
        assert!((from.0 - sketch.width / 2.0) * sign > 0.0 && to.1 < from.1, "the low side of the cone is raised");
    }
    let mut book = Book::on_a_block();
    book.read_twist("set", 0.1, 0.4);
    let sketch = book.sketch("set/twist", None);
    let [from, to] = arrows(&sketch, Ink::Move)[0];
    assert!(from.0 < sketch.width / 2.0 && to.1 < from.1, "under the frame it is the other side");
}

#[test]
fn no_misfit_is_drawn_before_it_is_read_while_it_is_read_or_after_a_move() {
    let drawn = |sketch: &Sketch| lettering(sketch).iter().any(|words| words.contains('×') || words.contains("tail "));
    let mut book = Book::example(0);
    assert!(!drawn(&book.sketch("set/pitch", None)), "unread");
    book.read_pitch("set", -2.9);
    assert!(!drawn(&book.sketch("set/pitch", Some("direct"))), "while it is read again");
    assert!(!drawn(&book.sketch("clamped/pitch", None)), "at the next gate");
    assert!(drawn(&book.sketch("clamp", None)), "a step that measures nothing shows the last that is known");
    book.moved("saddle", 0.5);
    assert!(!drawn(&book.sketch("set/pitch", None)), "stale");
    assert!(!drawn(&book.sketch("clamp", None)), "stale everywhere");
}

#[test]
fn the_second_reader_is_shown_no_first_value() {
    let mut book = Book::example(0);
    book.read_pitch("clamped", -2.9);
    book.read_square("clamped", 227.46875, 227.40625);
    for slot in ["direct", "reversed", "left", "right"] {
        let sketch = book.sketch("reread", Some(slot));
        let words = lettering(&sketch).join(" ");
        assert!(!words.contains("tail ") && !words.contains("227") && !words.contains('°'), "{slot}: {words}");
        let by_protractor = matches!(slot, "direct" | "reversed");
        assert_eq!(words.contains("side only"), by_protractor, "{slot} is drawn where it is read: {words}");
    }
}

#[test]
fn the_reading_of_now_is_the_bold_one() {
    let mut book = Book::example(0);
    book.read_gaps([0.0; 4]);
    let middle = |sketch: &Sketch| sketch.width / 2.0;
    for (step, left, right) in
        [("set/square", "left", "right"), ("twins", "twin-left", "twin-right"), ("gaps", "lower-left", "lower-right")]
    {
        let (left, right) = (book.sketch(step, Some(left)), book.sketch(step, Some(right)));
        assert!(points(&left, Ink::Reading).iter().flatten().all(|point| point.0 <= middle(&left)), "{step} left");
        assert!(points(&right, Ink::Reading).iter().flatten().all(|point| point.0 >= middle(&right)), "{step} right");
        assert!(!points(&left, Ink::Reading).is_empty() && !points(&right, Ink::Reading).is_empty(), "{step}");
    }
    let (frame, aft) = (book.sketch("set/twist", Some("frame")), book.sketch("set/twist", Some("aft")));
    assert!(
        points(&frame, Ink::Reading)[0][0].1 < points(&aft, Ink::Reading)[0][0].1,
        "the frame's level stands higher"
    );
    assert_eq!(
        points(&book.sketch("set/pitch", Some("reversed")), Ink::Reading).len(),
        2,
        "a face to zero on, one to read on"
    );
    assert!(lettering(&book.sketch("set/pitch", Some("reversed"))).contains(&"2 read, turned"));
    assert!(points(&book.sketch("set/square", None), Ink::Reading).is_empty(), "nothing is read");
}

#[test]
fn left_is_left_and_you_stand_where_you_read() {
    let book = Book::example(0);
    let square = book.sketch("set/square", Some("left"));
    let (you, twins) = (where_is(&square, "you"), book.sketch("twins", Some("twin-left")));
    assert!(where_is(&square, "L").0 < where_is(&square, "R").0);
    let aft = points(&square, Ink::Post).last().expect("the aft point")[0];
    assert!(you.1 > aft.1, "behind the tail");
    let forward = points(&twins, Ink::Post)[0][0];
    assert!(where_is(&twins, "you").1 < forward.1, "in front of the forward points");
    assert!(lettering(&twins).contains(&"R is on your left"));
    let rear = book.sketch("set/twist", Some("aft"));
    assert!(where_is(&rear, "L").0 < where_is(&rear, "R").0);
}

#[test]
fn without_the_forward_points_only_the_side_is_said() {
    let mut book = Book::blank(Units::Inches);
    book.number("square", 0.0, Unit::Inch, Some(0.0625));
    book.read_square("set", 100.5, 100.0);
    let sketch = book.sketch("set/square", None);
    assert!(lettering(&sketch).contains(&"tail RIGHT"), "{:?}", lettering(&sketch));
    assert!(sketch.title.ends_with("The tail lies to the right."), "{}", sketch.title);
}
