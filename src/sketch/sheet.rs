//! The sheet that a drawing is made on.

use super::{Anchor, Element, Ink, Lettering, Shape};
use crate::language::words;

/// Lettering keeps this far from the sheet's edge.
const MARGIN: f64 = 3.0;

/// A finished drawing. One unit is one CSS pixel on a phone 360 px wide.
#[derive(Clone, Debug, PartialEq)]
pub struct Sketch {
    /// What is drawn and which way it is off, in sentences: its accessible name.
    pub title: String,
    /// Width of the sheet.
    pub width: f64,
    /// Height of the sheet.
    pub height: f64,
    /// Its shapes, the hindmost first.
    pub shapes: Vec<Shape>,
}

impl Sketch {
    /// Its shapes as a drawing surface takes them.
    #[must_use]
    pub fn elements(&self) -> Vec<Element> {
        self.shapes.iter().flat_map(Shape::elements).collect()
    }
}

type Point = (f64, f64);

/// A drawing being made.
pub(super) struct Sheet {
    width: f64,
    height: f64,
    shapes: Vec<Shape>,
}

impl Sheet {
    pub(super) const fn new(width: f64, height: f64) -> Self {
        Self { width, height, shapes: Vec::new() }
    }

    pub(super) fn finish(self, title: String) -> Sketch {
        Sketch { title, width: self.width, height: self.height, shapes: self.shapes }
    }

    pub(super) fn line(&mut self, from: Point, to: Point, ink: Ink) {
        self.shapes.push(Shape::Line { ends: [from, to], ink });
    }

    pub(super) fn path(&mut self, points: Vec<Point>, ink: Ink) {
        self.shapes.push(Shape::Polyline { points, closed: false, ink });
    }

    pub(super) fn area(&mut self, points: Vec<Point>, ink: Ink) {
        self.shapes.push(Shape::Polyline { points, closed: true, ink });
    }

    /// An upright rectangle by two opposite corners.
    pub(super) fn rectangle(&mut self, from: Point, to: Point, ink: Ink) {
        self.area(vec![from, (to.0, from.1), to, (from.0, to.1)], ink);
    }

    pub(super) fn circle(&mut self, centre: Point, radius: f64, ink: Ink) {
        self.shapes.push(Shape::Circle { centre, radius, ink });
    }

    pub(super) fn arrow(&mut self, from: Point, to: Point, ink: Ink) {
        self.shapes.push(Shape::Arrow { ends: [from, to], ink });
    }

    pub(super) fn dimension(&mut self, from: Point, to: Point, ink: Ink) {
        self.shapes.push(Shape::Dimension { ends: [from, to], ink });
    }

    /// How far down anything reaches.
    pub(super) fn lowest(&self) -> f64 {
        self.shapes.iter().fold(0.0, |lowest, shape| shape.reach()[3].max(lowest))
    }

    /// A smaller sheet: everything drawn so far `by` times as large about the middle of the width, and `down` from the top.
    pub(super) fn shrunk(mut self, (width, height): (f64, f64), by: f64, down: f64) -> Self {
        let middle = self.width / 2.0;
        let put = |(x, y): &mut Point| (*x, *y) = ((*x - middle) * by + width / 2.0, *y * by + down);
        for shape in &mut self.shapes {
            match shape {
                Shape::Line { ends, .. } | Shape::Arrow { ends, .. } | Shape::Dimension { ends, .. } => {
                    ends.iter_mut().for_each(put);
                }
                Shape::Polyline { points, .. } => points.iter_mut().for_each(put),
                Shape::Circle { centre, .. } => put(centre),
                Shape::Text { at, .. } => put(at),
            }
        }
        Self { width, height, ..self }
    }

    /// Lettering, slid sideways where it would leave the sheet and cut where the sheet is too narrow for it.
    pub(super) fn text(&mut self, at: Point, anchor: Anchor, lettering: Lettering, ink: Ink, text: &str) {
        let room = self.width - 2.0 * MARGIN;
        let mut text = text.to_owned();
        if lettering.width(&text) > room {
            text = text.chars().take((room / lettering.width("n")) as usize - 1).collect();
            text.push('…');
        }
        let width = lettering.width(&text);
        let left = (at.0 - width * anchor.share()).clamp(MARGIN, (self.width - MARGIN - width).max(MARGIN));
        let at = (left + width * anchor.share(), at.1);
        self.shapes.push(Shape::Text { at, anchor, lettering, ink, text });
    }

    pub(super) fn note(&mut self, at: Point, anchor: Anchor, text: &str) {
        self.text(at, anchor, Lettering::Small, Ink::Note, text);
    }

    /// The dot where the reader stands.
    pub(super) fn you(&mut self, at: Point) {
        self.circle(at, 6.0, Ink::You);
        self.text((at.0 + 11.0, at.1 + 5.0), Anchor::Start, Lettering::Small, Ink::You, words!("you"));
    }

    /// The pilot's left and right in large letters at the sheet's edges.
    pub(super) fn sides(&mut self, y: f64) {
        self.text((6.0, y), Anchor::Start, Lettering::Large, Ink::Note, words!("L"));
        self.text((self.width - 6.0, y), Anchor::End, Lettering::Large, Ink::Note, words!("R"));
    }
}

/// A point turned about a pivot; positive is clockwise on the sheet.
pub(super) fn turned((x, y): Point, (px, py): Point, degrees: f64) -> Point {
    let (sin, cos) = degrees.to_radians().sin_cos();
    let (dx, dy) = (x - px, y - py);
    (px + dx * cos - dy * sin, py + dx * sin + dy * cos)
}

/// Several points turned about a pivot.
pub(super) fn turn_all(points: &[Point], pivot: Point, degrees: f64) -> Vec<Point> {
    points.iter().map(|point| turned(*point, pivot, degrees)).collect()
}
