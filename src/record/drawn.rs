//! A signature as it was drawn with a finger: strokes in a box 300 wide and 100 high, as the text that an entry holds.

use std::fmt::Write as _;

use super::MAX_TEXT;

const WIDE: u16 = 300;
const HIGH: u16 = 100;

/// Points nearer to each other than this, along either way of the box, are one.
const NEAR: u16 = 2;

/// A point of the box, from its upper left corner.
type Point = (u16, u16);

/// The finger comes down, at these parts of the box's width and height (0 to 1): a stroke begins.
pub fn begin_stroke(drawn: &mut String, across: f64, down: f64) {
    let between = if drawn.is_empty() { "" } else { ";" };
    put(drawn, between, point(across, down));
}

/// The finger goes on to there. What is no further than a hair, or without a stroke begun, is left away.
pub fn go_on(drawn: &mut String, across: f64, down: f64) {
    let here = point(across, down);
    let last = drawn.rsplit([' ', ';']).next().and_then(read);
    if last.is_some_and(|(x, y)| x.abs_diff(here.0) >= NEAR || y.abs_diff(here.1) >= NEAR) {
        put(drawn, " ", here);
    }
}

/// Beyond what an entry holds nothing is added. The longest point is eight characters with what parts it from the last.
fn put(drawn: &mut String, between: &str, (x, y): Point) {
    if drawn.len() + 8 <= MAX_TEXT {
        // Writing to a text does not fail.
        let _ = write!(drawn, "{between}{x},{y}");
    }
}

/// The data of an SVG path (SVG 1.1, section 8.3) for what an entry holds; `None` for anything but whole numbers inside the box. A dot
/// is a stroke to where it began, which round ends make a dot.
#[must_use]
pub fn drawn_path(drawn: &str) -> Option<String> {
    let mut path = String::new();
    for stroke in drawn.split(';') {
        let mut first = None;
        for (place, text) in stroke.split(' ').enumerate() {
            let (x, y) = read(text)?;
            let _ = write!(path, "{}{x} {y}", if place == 0 { 'M' } else { 'L' });
            first = (place == 0).then_some((x, y));
        }
        if let Some((x, y)) = first {
            let _ = write!(path, "L{x} {y}");
        }
    }
    Some(path)
}

fn read(text: &str) -> Option<Point> {
    let number = |text: &str, most: u16| {
        let digits = (1..=3).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
        text.parse().ok().filter(|number| digits && *number <= most)
    };
    let (x, y) = text.split_once(',')?;
    Some((number(x, WIDE)?, number(y, HIGH)?))
}

/// Parts of the box, which are 0 to 1, as a point of it.
fn point(across: f64, down: f64) -> Point {
    let place = |part: f64, size: u16| {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "inside the box")]
        let place = (part.clamp(0.0, 1.0) * f64::from(size)).round() as u16;
        place
    };
    (place(across, WIDE), place(down, HIGH))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_drawn_is_read_as_it_was() {
        let mut drawn = String::new();
        go_on(&mut drawn, 0.5, 0.5);
        assert_eq!(drawn, "", "a finger that did not come down draws nothing");
        begin_stroke(&mut drawn, 0.0, 1.0);
        go_on(&mut drawn, 0.001, 0.999);
        go_on(&mut drawn, 0.5, 0.5);
        begin_stroke(&mut drawn, 1.2, -0.1);
        assert_eq!(drawn, "0,100 150,50;300,0", "a hair's breadth is no point, and the box is not left");
        assert_eq!(drawn_path(&drawn).as_deref(), Some("M0 100L150 50M300 0L300 0"));
    }

    #[test]
    fn what_is_no_stroke_is_refused() {
        let wrong =
            ["", ";", "1", "1,", "1,2,3", "301,0", "0,101", "1,2 ", "1,2;", "+1,2", "1.5,2", "0001,2", "1,2\"/>"];
        for text in wrong {
            assert_eq!(drawn_path(text), None, "{text}");
        }
    }

    #[test]
    fn however_long_it_is_drawn_an_entry_holds_it() {
        let mut drawn = String::new();
        for place in 0..3_000_u32 {
            if place % 100 == 0 {
                begin_stroke(&mut drawn, 1.0, 1.0);
            }
            go_on(&mut drawn, f64::from(place % 2), 1.0);
        }
        assert!(drawn.len() <= MAX_TEXT && drawn.len() > MAX_TEXT - 10, "{}", drawn.len());
        assert!(drawn_path(&drawn).is_some());
    }
}
