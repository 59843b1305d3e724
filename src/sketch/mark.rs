//! The verdict's mark as shapes.

use crate::metrology::{Mark, Verdict};

use super::Ink;
use super::sheet::{Sheet, Sketch};

const WIDTH: f64 = 120.0;
const HEIGHT: f64 = 32.0;
/// Clear of the sheet's edge on both sides, so that a post's foot and an arrow's point have room.
const MARGIN: f64 = 8.0;
const MIDDLE: f64 = HEIGHT / 2.0;

/// The tolerance band as posts whose feet point to the allowed side, the reading as a bar as wide as its uncertainty; with an
/// arrow when it lies further out than the drawing reaches. The bar is solid where the verdict is sure, hollow where it is
/// not, so that the mark says the same without colour. `label` is its accessible name: the verdict in words.
#[must_use]
pub fn verdict_mark(mark: Mark, verdict: Verdict, label: String) -> Sketch {
    let mut sheet = Sheet::new(WIDTH, HEIGHT);
    let at = |share: f64| MARGIN + share.clamp(0.0, 1.0) * (WIDTH - 2.0 * MARGIN);
    sheet.line((2.0, MIDDLE), (WIDTH - 2.0, MIDDLE), Ink::Inner);
    let posts = [(mark.lower_post, 5.0), (mark.upper_post, -5.0)];
    for (post, foot) in posts.into_iter().filter_map(|(post, foot)| Some((at(post?), foot))) {
        sheet.path(vec![(post + foot, 3.0), (post, 3.0), (post, HEIGHT - 3.0), (post + foot, HEIGHT - 3.0)], Ink::Post);
    }
    let (left, right) = (at(mark.bar_start), at(mark.bar_end));
    let ink = match verdict {
        Verdict::In | Verdict::Out(_) => Ink::Bar,
        Verdict::CantTell | Verdict::NotJudged => Ink::Ghost,
    };
    sheet.rectangle((left, MIDDLE - 7.0), (right, MIDDLE + 7.0), ink);
    if mark.off_scale {
        let low = mark.bar_start + mark.bar_end < 1.0;
        let (base, tip) = if low { (left + 14.0, 2.0) } else { (right - 14.0, WIDTH - 2.0) };
        sheet.area(vec![(base, MIDDLE - 12.0), (tip, MIDDLE), (base, MIDDLE + 12.0)], Ink::Bar);
    }
    sheet.finish(label)
}
