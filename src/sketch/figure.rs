//! Drawings of what the measuring steps read, from a small language of shapes (`figures.txt`).
//!
//! A figure is data: lines of ink on a sheet 328 units wide, some of them tied to a reading by a word of its key, its step's key
//! or its instrument. What is read now is bold, what is read elsewhere in the step is thin. Points may be the airframe's own.
//!
//! A line is `conditions command ink points words`. Conditions: `?word` and `?!word` draw the line only while the word is there,
//! or only while it is not; `@word` and `@!word` make the ink `*` bold by the same rule, several together if all hold; `%` draws it a second
//! time, mirrored about the centre line, left for right. A point is `x,y`, or a name of [`Craft::above`] or [`Craft::behind`],
//! with `:x:y` to go on from there or `=y` for
//! the same x at another height.

use crate::language::{self, tr, words};
use crate::procedure::Picture;

use super::craft::{Craft, placed};
use super::sheet::{Sheet, Sketch, turn_all};
use super::zone::Zone;
use super::{Anchor, Ink, Lettering, instrument};

type Point = (f64, f64);

const FIGURES: &str = include_str!("figures.txt");
const WIDTH: f64 = 328.0;
const MIDDLE: f64 = WIDTH / 2.0;

/// A figure of the file, without its name.
pub(super) struct Figure {
    height: f64,
    pub(super) title: &'static str,
    pub(super) lines: Vec<&'static str>,
}

/// The figure of a picture; `None` for the pictures of two assemblies, which are drawn from a run.
pub(super) fn figure(picture: Picture) -> Option<Figure> {
    let mut lines = FIGURES.split("\n= ").nth(picture.figure()? + 1)?.lines();
    let mut heading = lines.next()?.splitn(3, ' ');
    // The name is for whoever reads the file.
    let (_, height, title) = (heading.next()?, whole(heading.next()?)?, heading.next()?);
    Some(Figure { height, title, lines: lines.filter(|line| !line.is_empty()).collect() })
}

/// Draws a figure. `words`: of the reading's key, its step's key and its instrument; `reading`: what is read now, if anything.
pub(super) fn draw(figure: &Figure, craft: &Craft, words: &[&str], reading: Option<&str>) -> Sketch {
    let mut pen = Pen {
        sheet: Sheet::new(WIDTH, figure.height),
        craft,
        words,
        reads: reading.is_some(),
        origin: (MIDDLE, 0.0),
        scale: 0.0,
    };
    for line in &figure.lines {
        pen.line(line);
    }
    let mut title = language::of_file(figure.title);
    if figure.lines.iter().any(|line| line.starts_with("sides")) {
        title.push(' ');
        title.push_str(words!("The pilot's left is on the left."));
    }
    if let Some(reading) = reading {
        title.push(' ');
        title.push_str(&tr!("Read now: {reading}.", reading));
    }
    pen.sheet.finish(title)
}

/// A whole number. (Reading fractions would bring tables into the program that nothing else there needs.)
fn whole(text: &str) -> Option<f64> {
    text.parse::<i32>().ok().map(f64::from)
}

/// Draws line by line.
pub(super) struct Pen<'a> {
    sheet: Sheet,
    craft: &'a Craft,
    words: &'a [&'a str],
    reads: bool,
    /// Where the propeller lies in a view from above, and how long the aircraft is there.
    origin: Point,
    scale: f64,
}

impl Pen<'_> {
    #[cfg(test)]
    pub(super) fn of<'a>(craft: &'a Craft, words: &'a [&'a str]) -> Pen<'a> {
        Pen { sheet: Sheet::new(WIDTH, 1000.0), craft, words, reads: true, origin: (MIDDLE, 0.0), scale: 100.0 }
    }

    /// Draws a line of the file, and its mirror image; `None` if it cannot be read.
    pub(super) fn line(&mut self, line: &str) -> Option<()> {
        let mut parts = line.split(' ').peekable();
        let (mut there, mut bold, mut twice) = ([true; 2], [self.reads; 2], false);
        while let Some(part) = parts.next_if(|part| part.starts_with(['?', '@', '%'])) {
            twice |= part == "%";
            let (which, word) = part.split_at(1);
            for (mirrored, (there, bold)) in there.iter_mut().zip(&mut bold).enumerate() {
                let holds = match word.strip_prefix('!') {
                    Some(word) => !self.has(word, mirrored == 1),
                    None => word.is_empty() || self.has(word, mirrored == 1),
                };
                *(if which == "?" { there } else { bold }) &= holds;
            }
        }
        let rest: Vec<&str> = parts.collect();
        for mirrored in [false, true] {
            let place = usize::from(mirrored);
            if (!mirrored || twice) && there[place] {
                self.shape(&rest, mirrored, bold[place])?;
            }
        }
        Some(())
    }

    /// Whether a word is there, for the right side of a mirrored line the other side's.
    fn has(&self, word: &str, mirrored: bool) -> bool {
        let word = match (word, mirrored) {
            ("left", true) => "right",
            ("right", true) => "left",
            _ => word,
        };
        self.words.contains(&word)
    }

    fn shape(&mut self, parts: &[&str], mirrored: bool, bold: bool) -> Option<()> {
        let (&command, rest) = parts.split_first()?;
        let (&ink, rest) = rest.split_first()?;
        if command == "sides" {
            self.sheet.sides(whole(ink)?);
            return Some(());
        }
        let ink = match ink {
            "f" => Ink::Frame,
            "i" => Ink::Inner,
            "s" => Ink::Support,
            "r" => Ink::Reference,
            "g" => Ink::Ghost,
            "p" => Ink::Post,
            "n" => Ink::Note,
            "*" if bold => Ink::Reading,
            "*" => Ink::Reference,
            _ => return None,
        };
        let (points, rest): (Vec<Option<Point>>, &[&str]) = {
            let count = rest.iter().take_while(|part| part.contains(',') || self.named(part).is_some()).count();
            let count = if matches!(command, "text" | "name") { count.min(1) } else { count };
            (rest[..count].iter().map(|part| self.point(part, mirrored)).collect(), &rest[count..])
        };
        let points: Vec<Point> = points.into_iter().collect::<Option<_>>()?;
        let &first = points.first()?;
        let number = |place: usize| rest.get(place).and_then(|part| whole(part));
        let way = if mirrored { -1.0 } else { 1.0 };
        match command {
            "line" => self.sheet.path(points, ink),
            "area" => self.sheet.area(points, ink),
            "dot" => self.sheet.circle(first, number(0)?, ink),
            "arrow" => self.sheet.arrow(first, *points.get(1)?, ink),
            "dim" => self.sheet.dimension(first, *points.get(1)?, ink),
            "box" => self.sheet.rectangle(first, *points.get(1)?, ink),
            "protractor" => {
                let is_turned = self.words.iter().any(|word| matches!(*word, "turned" | "reversed" | "swapped"));
                instrument::protractor(&mut self.sheet, first, number(0)? * way, is_turned, ink);
            }
            "level" => instrument::level(&mut self.sheet, first, first, number(0)?, 0.0, ink),
            // A wing's section: its leading edge, chord, and slope with the trailing edge down.
            "section" => {
                let shape = [
                    (0.0, 0.0),
                    (0.02, -0.04),
                    (0.12, -0.085),
                    (0.3, -0.1),
                    (0.6, -0.065),
                    (1.0, 0.0),
                    (0.4, 0.03),
                    (0.08, 0.03),
                ];
                let chord = number(0)?;
                let points = placed(shape.to_vec(), first, (chord, chord));
                self.sheet.area(turn_all(&points, first, number(1)?), ink);
            }
            // A control surface: its hinge, chord, and how far it is turned, trailing edge down.
            "surface" => {
                let chord = number(0)?;
                let points = [(-7.0, -5.0), (0.0, -9.0), (chord, 0.0), (0.0, 9.0), (-7.0, 5.0)];
                let points = placed(points.to_vec(), first, (1.0, 1.0));
                self.sheet.area(turn_all(&points, first, number(1)?), ink);
                self.sheet.circle(first, 2.5, Ink::Post);
            }
            "plane" => self.plane(first, number(0)?, rest.get(1).copied()),
            "behind" => self.behind(first),
            "profile" => self.profile(first, number(0)?),
            "text" | "name" => {
                let anchor = match *rest.first()? {
                    "s" => Anchor::Start,
                    "m" => Anchor::Middle,
                    "e" => Anchor::End,
                    _ => return None,
                };
                let size = if command == "text" { Lettering::Small } else { Lettering::Plain };
                self.sheet.text(first, anchor, size, ink, &language::of_file(&rest[1..].join(" ")));
            }
            _ => return None,
        }
        Some(())
    }

    fn point(&self, part: &str, mirrored: bool) -> Option<Point> {
        let (x, y) = match part.split_once(',') {
            Some((x, y)) => (whole(x)?, whole(y)?),
            None => self.named(part)?,
        };
        Some((if mirrored { WIDTH - x } else { x }, y))
    }

    /// A point of the airframe as the view was placed, with its `:x:y` or its `=y`; `-name` is its twin on the right.
    fn named(&self, part: &str) -> Option<Point> {
        let (part, down) = part.split_once('=').map_or((part, None), |(part, down)| (part, Some(down)));
        let mut parts = part.split(':');
        let name = parts.next()?;
        let (name, way) = name.strip_prefix('-').map_or((name, 1.0), |name| (name, -1.0));
        let (x, y) = match self.craft.above(name) {
            Some((x, y)) => (x * self.scale, y * self.scale),
            None => self.craft.behind(name)?,
        };
        let mut by = || parts.next().map_or(Some(0.0), whole);
        let (right, lower) = (by()?, by()?);
        let y = down.map_or(Some(self.origin.1 + y + lower), whole)?;
        Some((self.origin.0 + x * way + right, y))
    }

    /// The aircraft from above, so long; or its body alone, or the forward part of that.
    fn plane(&mut self, origin: Point, scale: f64, part: Option<&str>) {
        let widest = (WIDTH - 16.0) / (2.0 * self.craft.half_span);
        (self.origin, self.scale) = (origin, if part.is_some() { scale } else { scale.min(widest) });
        let shown = |zone: &Zone| match zone {
            Zone::Engine | Zone::Datum => true,
            Zone::Aft | Zone::Propeller => part != Some("fore"),
            _ => part.is_none(),
        };
        for (_, outline) in self.craft.plan().into_iter().filter(|(zone, _)| shown(zone)) {
            self.sheet.area(placed(outline, origin, (self.scale, self.scale)), Ink::Support);
        }
    }

    /// The aircraft from behind, its points round the middle of its body.
    fn behind(&mut self, origin: Point) {
        self.origin = origin;
        for (outline, ink) in self.craft.rear_view() {
            self.sheet.area(placed(outline, origin, (1.0, 1.0)), ink);
        }
    }

    /// The aircraft from the pilot's left, nose to the left: its propeller, and how long it is.
    fn profile(&mut self, origin: Point, scale: f64) {
        let shown =
            |zone: &Zone| !matches!(zone, Zone::Jig | Zone::Holes | Zone::Instruments | Zone::Weighing | Zone::Cables);
        for (_, outline) in self.craft.side().into_iter().filter(|(zone, _)| shown(zone)) {
            self.sheet.area(placed(outline, origin, (scale, -scale)), Ink::Support);
        }
    }
}
