//! A signature as it was drawn with a finger: strokes in a box 300 wide and 100 high.

use std::fmt::Write as _;
use std::sync::Arc;

use super::MAX_TEXT;

const WIDE: f64 = 300.0;
const HIGH: f64 = 100.0;

/// Points nearer to each other than this, along either way of the box, are one.
const NEAR: u16 = 2;

/// A point of the box, from its upper left corner.
type Point = (u16, u16);

/// Strokes, each where the finger went without being lifted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Drawn {
    strokes: Vec<Vec<Point>>,
    /// How many bytes it is as text.
    size: usize,
}

impl Drawn {
    /// The finger comes down, at these parts of the box's width and height (0 to 1).
    pub fn begin(&mut self, across: f64, down: f64) {
        if self.has_room() {
            self.strokes.push(Vec::new());
            self.point(point(across, down));
        }
    }

    /// The finger goes on. What is not further than a hair, or beyond what an entry holds, is left away.
    pub fn to(&mut self, across: f64, down: f64) {
        let here = point(across, down);
        let last = self.strokes.last().and_then(|stroke| stroke.last());
        let Some((x, y)) = last.filter(|_| self.has_room()) else { return };
        if x.abs_diff(here.0) >= NEAR || y.abs_diff(here.1) >= NEAR {
            self.point(here);
        }
    }

    fn point(&mut self, (x, y): Point) {
        if let Some(stroke) = self.strokes.last_mut() {
            stroke.push((x, y));
            self.size += format!(" {x},{y}").len();
        }
    }

    /// The longest point is eight characters with what parts it from the next.
    const fn has_room(&self) -> bool {
        self.size + 8 <= MAX_TEXT
    }

    /// Nothing is drawn.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.strokes.is_empty()
    }

    /// As an entry holds it; `None` when nothing is drawn.
    #[must_use]
    pub fn text(&self) -> Option<Arc<str>> {
        let stroke = |stroke: &Vec<Point>| stroke.iter().map(|(x, y)| format!("{x},{y}")).collect::<Vec<_>>().join(" ");
        (!self.is_empty()).then(|| self.strokes.iter().map(stroke).collect::<Vec<_>>().join(";").into())
    }

    /// Reads what an entry holds: whole numbers inside the box, and nothing else.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let number = |text: &str, most: f64| {
            let digits = (1..=3).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
            text.parse::<u16>().ok().filter(|number| digits && f64::from(*number) <= most)
        };
        let point = |text: &str| {
            let (x, y) = text.split_once(',')?;
            Some((number(x, WIDE)?, number(y, HIGH)?))
        };
        let strokes = text.split(';').map(|stroke| stroke.split(' ').map(point).collect());
        Some(Self { strokes: strokes.collect::<Option<_>>()?, size: text.len() })
    }

    /// The data of an SVG path (SVG 1.1, section 8.3). A dot is a stroke to where it began, which round ends make a dot.
    #[must_use]
    pub fn path(&self) -> String {
        let mut path = String::new();
        for stroke in &self.strokes {
            for (place, (x, y)) in stroke.iter().chain(stroke.first().filter(|_| stroke.len() == 1)).enumerate() {
                // Writing to a text does not fail.
                let _ = write!(path, "{}{x} {y}", if place == 0 { 'M' } else { 'L' });
            }
        }
        path
    }
}

/// A part of the box, which is 0 to 1, as a point of it.
fn point(across: f64, down: f64) -> Point {
    let place = |part: f64, size: f64| {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "inside the box")]
        let place = (part.clamp(0.0, 1.0) * size).round() as u16;
        place
    };
    (place(across, WIDE), place(down, HIGH))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_drawn_is_read_as_it_was() {
        let mut drawn = Drawn::default();
        assert_eq!(drawn.text(), None);
        drawn.to(0.5, 0.5);
        assert!(drawn.is_empty(), "a finger that did not come down draws nothing");
        drawn.begin(0.0, 1.0);
        drawn.to(0.001, 0.999);
        drawn.to(0.5, 0.5);
        drawn.begin(1.2, -0.1);
        let text = drawn.text().expect("drawn");
        assert_eq!(&*text, "0,100 150,50;300,0", "a hair's breadth is no point, and the box is not left");
        let read = Drawn::parse(&text).expect("reads");
        assert_eq!(read.strokes, drawn.strokes);
        assert_eq!(read.path(), "M0 100L150 50M300 0L300 0");
    }

    #[test]
    fn what_is_no_stroke_is_refused() {
        let wrong =
            ["", ";", "1", "1,", "1,2,3", "301,0", "0,101", "1,2 ", "1,2;", "+1,2", "1.5,2", "0001,2", "1,2\"/>"];
        for text in wrong {
            assert_eq!(Drawn::parse(text), None, "{text}");
        }
    }

    #[test]
    fn however_long_it_is_drawn_an_entry_holds_it() {
        let mut drawn = Drawn::default();
        for place in 0..3_000_u32 {
            if place % 100 == 0 {
                drawn.begin(1.0, 1.0);
            }
            drawn.to(f64::from(place % 2), 1.0);
        }
        let text = drawn.text().expect("drawn");
        assert!(text.len() <= MAX_TEXT && text.len() > MAX_TEXT - 10, "{}", text.len());
        assert!(Drawn::parse(&text).is_some());
    }
}
