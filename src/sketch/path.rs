//! Shapes as paths in the language of SVG's `d`.

use std::fmt::Write;

/// Length and half-width of an arrow's head.
const ARROW: (f64, f64) = (12.0, 7.0);
/// Length and half-width of a dimension line's heads, and half the length of its ticks.
const DIMENSION: (f64, f64) = (8.0, 2.6);
const TICK: f64 = 5.0;

type Point = (f64, f64);

/// A path through points.
pub(super) fn through(points: &[Point], closed: bool) -> String {
    let mut d = String::new();
    for (place, &(x, y)) in points.iter().enumerate() {
        let _ = write!(d, "{}{x:.1} {y:.1}", if place == 0 { 'M' } else { 'L' });
    }
    if closed {
        d.push('Z');
    }
    d
}

/// A circle of two half-turns.
pub(super) fn round((x, y): Point, radius: f64) -> String {
    let (left, right) = (x - radius, x + radius);
    format!(
        "M{left:.1} {y:.1}A{radius:.1} {radius:.1} 0 1 0 {right:.1} {y:.1}A{radius:.1} {radius:.1} 0 1 0 {left:.1} {y:.1}Z"
    )
}

/// An arrow's shaft, which ends inside its head, and the head.
pub(super) fn arrow([from, to]: [Point; 2]) -> (String, String) {
    let along = direction(from, to);
    let neck = step(to, along, -ARROW.0.min(length(from, to)) * 0.8);
    (through(&[from, neck], false), head(to, along, ARROW, length(from, to)))
}

/// A dimension line with its ticks, and its two heads; no heads where there is no room for them.
pub(super) fn dimension([from, to]: [Point; 2]) -> (String, String) {
    let along = direction(from, to);
    let across = (-along.1, along.0);
    let mut lines = through(&[from, to], false);
    for end in [from, to] {
        lines.push_str(&through(&[step(end, across, -TICK), step(end, across, TICK)], false));
    }
    let room = length(from, to);
    if room < 2.5 * DIMENSION.0 {
        return (lines, String::new());
    }
    let back = (-along.0, -along.1);
    (lines, head(to, along, DIMENSION, room) + &head(from, back, DIMENSION, room))
}

fn head(tip: Point, along: Point, (long, half): (f64, f64), room: f64) -> String {
    let long = long.min(room);
    let across = (-along.1, along.0);
    let base = step(tip, along, -long);
    through(&[tip, step(base, across, half), step(base, across, -half)], true)
}

fn length(from: Point, to: Point) -> f64 {
    (to.0 - from.0).hypot(to.1 - from.1)
}

fn direction(from: Point, to: Point) -> Point {
    let length = length(from, to);
    if length > 0.0 { ((to.0 - from.0) / length, (to.1 - from.1) / length) } else { (0.0, -1.0) }
}

fn step(from: Point, along: Point, by: f64) -> Point {
    (from.0 + along.0 * by, from.1 + along.1 * by)
}
