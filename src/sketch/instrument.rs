//! Instruments as they are drawn.

use super::sheet::{Sheet, turn_all, turned};
use super::{Anchor, Ink, Lettering};

type Point = (f64, f64);

/// Half the base of a protractor, and its height.
const PROTRACTOR: (f64, f64) = (15.0, 15.0);

/// A digital protractor lying on a face: the middle of its base, the face's direction (degrees, clockwise on the sheet), and
/// whether it is turned end for end, which shows in the side on which its display sits.
pub(super) fn protractor(sheet: &mut Sheet, at: Point, face: f64, is_turned: bool, ink: Ink) {
    let (half, height) = PROTRACTOR;
    let place = |points: &[Point]| {
        let moved: Vec<Point> = points.iter().map(|(x, y)| (at.0 + x, at.1 + y)).collect();
        turn_all(&moved, at, face)
    };
    let outline: Vec<Point> = (0..=10)
        .map(|part| {
            let angle = std::f64::consts::PI * f64::from(part) / 10.0;
            (-half * angle.cos(), -2.0 - (height - 2.0) * angle.sin())
        })
        .collect();
    sheet.area(place(&[vec![(-half, 0.0)], outline, vec![(half, 0.0)]].concat()), ink);
    let side = if is_turned { -1.0 } else { 1.0 };
    let display = [(side * 1.0, -4.5), (side * 9.0, -4.5), (side * 9.0, -8.5), (side * 1.0, -8.5)];
    sheet.area(place(&display), Ink::Inner);
}

/// A level across two blocks on an edge that may be rolled: the middle of the edge, half its length.
pub(super) fn level(sheet: &mut Sheet, pivot: Point, edge: Point, half: f64, roll: f64, ink: Ink) {
    let place = |points: &[Point]| {
        let moved: Vec<Point> = points.iter().map(|(x, y)| (edge.0 + x, edge.1 + y)).collect();
        turn_all(&moved, pivot, roll)
    };
    for side in [-1.0, 1.0] {
        let (inner, outer) = (side * (half * 0.72 - 5.0), side * (half * 0.72 + 5.0));
        sheet.area(place(&[(inner, 0.0), (outer, 0.0), (outer, -8.0), (inner, -8.0)]), Ink::Support);
    }
    sheet.area(place(&[(-half, -8.0), (half, -8.0), (half, -19.0), (-half, -19.0)]), ink);
    sheet.area(place(&[(-8.0, -10.5), (8.0, -10.5), (8.0, -16.5), (-8.0, -16.5)]), Ink::Inner);
    let bubble = turned((edge.0, edge.1 - 13.5), pivot, roll);
    sheet.circle(bubble, 2.0, Ink::Inner);
}

/// A numbered label: "1 zero".
pub(super) fn label(sheet: &mut Sheet, at: Point, anchor: Anchor, ink: Ink, text: &str) {
    sheet.text(at, anchor, Lettering::Plain, ink, text);
}
