//! Where the cone sits against the forward frame by all readings together: from the left, from above, from behind.

use crate::language::{tr, words};
use crate::metrology::{Verdict, in_unit, prints_as_zero, rough};
use crate::procedure::{FittedCheck, Procedure};
use crate::record::Airframe;

use super::misfit::{Sense, metres, sense};
use super::plan::{self, Places, lateral_scale};
use super::proportions::proportions;
use super::sheet::{Sheet, Sketch, turn_all, turned};
use super::side::{assemblies, bodies, midway, nominal_pitch};
use super::{Anchor, Ink, Lettering, rear};

type Point = (f64, f64);

/// Width of the view from the left, which is cut to what is drawn; and the two views that stand beside each other: drawn as beside a
/// step, then so much smaller.
const WIDE: f64 = 328.0;
const HIGHEST: f64 = 200.0;
const NARROW: (f64, f64) = (160.0, 208.0);
const SMALLER: f64 = 0.57;
/// The gauge of twist stands so far from the middle, before that is made smaller.
const GAUGE: f64 = 94.0;
/// The joint's upper corner seen from the left.
const TOP_Y: f64 = 38.0;
/// Nothing is drawn further off than this: degrees from the left, units of the sheet from above, degrees from behind.
const MOST: [f64; 3] = [9.0, 50.0, 11.0];

/// The views for which there is a check, each with the place as the sheet asks for it dashed, the place that was found in ink, where
/// it may lie at 95 % shaded, and beside the tail its limits as posts and the same uncertainty as a bar. Drawn larger than life by
/// a round number that the sheet states.
#[must_use]
pub fn seat_sketches(procedure: &Procedure, airframe: &Airframe, checks: &[FittedCheck]) -> Vec<Sketch> {
    let mut views = Vec::new();
    for (place, wanted) in [Sense::Pitch, Sense::Lateral, Sense::Twist].into_iter().enumerate() {
        for fitted in checks {
            let Some(check) = procedure.check(&fitted.check).filter(|check| sense(procedure, check) == Some(wanted))
            else {
                continue;
            };
            if wanted == Sense::Lateral && !check.reads_tail_directly {
                continue;
            }
            let nominal = check.judged_by.as_deref().and_then(|key| airframe.specification.nominal(key));
            let asked = nominal.and_then(|nominal| in_unit(nominal, fitted.estimate.unit));
            let asked = asked.or_else(|| fitted.limits?.middle()).unwrap_or_default();
            let natural = match wanted {
                Sense::Lateral => lateral_scale(procedure, airframe) * metres(fitted.estimate.unit),
                _ => 1.0,
            };
            let Some(seat) = Seat::of(fitted, asked, natural, MOST[place]) else { continue };
            views.push(match wanted {
                Sense::Pitch => from_the_left(procedure, airframe, &seat),
                Sense::Lateral => from_above(procedure, airframe, &seat),
                Sense::Twist => from_behind(&seat),
            });
        }
    }
    views
}

/// A check in a drawing's own measure, larger than life.
struct Seat<'a> {
    fitted: &'a FittedCheck,
    /// "×40".
    times: String,
    /// How far off it is, and how far to either side of that it may lie.
    off: f64,
    by: f64,
    limits: [Option<f64>; 2],
    /// How far off it is, printed; empty where that prints as nothing.
    amount: String,
}

impl<'a> Seat<'a> {
    /// `natural` is the drawing's measure of one unit of the check. `None` where there is no number to draw.
    fn of(fitted: &'a FittedCheck, asked: f64, natural: f64, most: f64) -> Option<Self> {
        let estimate = fitted.estimate;
        let off = estimate.value - asked;
        let mut amount = rough(off.abs(), estimate.unit);
        if prints_as_zero(&amount) {
            amount.clear();
        }
        let (off, by) = (off * natural, estimate.expanded() * natural);
        let reach = Some(off.abs() + by).filter(|reach| reach.is_finite())?;
        // A limit that lies beyond the sheet even at life size is left away.
        let ends = fitted.limits.map_or([None; 2], |limits| [limits.lower, limits.upper]);
        let limits = ends.map(|end| Some((end? - asked) * natural).filter(|post| post.abs() <= most));
        let furthest = limits.iter().flatten().fold(reach, |furthest, post| furthest.max(post.abs()));
        let room = (most / furthest).min(1000.0);
        let factor = if room < 1.0 { room } else { round_down(room) };
        let times = if room < 1.0 { words!("not to scale").to_owned() } else { format!("×{factor:.0}") };
        let limits = limits.map(|post| Some(post? * factor));
        Some(Self { fitted, times, off: off * factor, by: by * factor, limits, amount })
    }

    /// Says where the tail is, in the drawing and in its accessible name, and how much larger that is drawn. `ways` are the words for
    /// minus and plus.
    fn finish(
        &self,
        mut sheet: Sheet,
        view: &str,
        ways: [&str; 2],
        (at, anchor): (Point, Anchor),
        times: (Point, Anchor),
    ) -> Sketch {
        let Self { fitted, amount, .. } = self;
        let way = ways[usize::from(self.off > 0.0)];
        let words = if amount.is_empty() { tr!("as specified") } else { tr!("{way} {amount}", way, amount) };
        let plain = Lettering::Plain.width(&words) < NARROW.0 - 12.0;
        sheet.text(at, anchor, if plain { Lettering::Plain } else { Lettering::Small }, Ink::Note, &words);
        sheet.note(times.0, times.1, &self.times);
        sheet.finish(tr!(
            "{view}, by all readings together: {place}, drawn {times}. {check} {verdict}.",
            view,
            place = words,
            times = self.times,
            check = fitted.title,
            verdict = fitted.words
        ))
    }

    /// Limits and uncertainty beside the tail. `at` gives the point of the sheet so far off and so far outward of the tail.
    fn gauge(&self, sheet: &mut Sheet, at: &dyn Fn(f64, f64) -> Point) {
        for post in self.limits.into_iter().flatten() {
            sheet.line(at(post, 2.0), at(post, 13.0), Ink::Post);
        }
        let sure = matches!(self.fitted.verdict, Verdict::In | Verdict::Out(_));
        let (low, high) = (self.off - self.by, self.off + self.by);
        let ink = if sure { Ink::Bar } else { Ink::Ghost };
        sheet.area(vec![at(low, 5.0), at(high, 5.0), at(high, 10.0), at(low, 10.0)], ink);
    }
}

/// A number not below 1 cut to its first figure: 47 to 40.
fn round_down(number: f64) -> f64 {
    let mut decade = 1.0;
    while decade * 10.0 <= number {
        decade *= 10.0;
    }
    (number / decade).floor() * decade
}

fn from_the_left(procedure: &Procedure, airframe: &Airframe, seat: &Seat<'_>) -> Sketch {
    let bodies = bodies(&proportions(procedure, airframe, 0.0), nominal_pitch(procedure, airframe), TOP_Y);
    let cone = &bodies.cone;
    let (pivot, tail) = (midway(cone[0], cone[3], 0.5), midway(cone[1], cone[2], 0.5));
    let mut sheet = Sheet::new(WIDE, HIGHEST);
    // Tail end high is plus, and counter-clockwise on the sheet.
    for end in [seat.off - seat.by, seat.off + seat.by] {
        sheet.area(turn_all(cone, pivot, -end), Ink::Band);
    }
    assemblies(&mut sheet, &bodies, pivot, 0.0, -seat.off);
    sheet.area(cone.clone(), Ink::Ghost);
    seat.gauge(&mut sheet, &|off, out| turned((tail.0 + out, tail.1), pivot, -off));
    let bottom = sheet.lowest() + 26.0;
    sheet.arrow((74.0, bottom - 5.0), (54.0, bottom - 5.0), Ink::Note);
    sheet.note((8.0, bottom), Anchor::Start, words!("nose"));
    let view = words!("Seen from the pilot's left, nose to the left");
    let right = ((WIDE - 8.0, bottom), Anchor::End);
    seat.finish(
        sheet.shrunk((WIDE, bottom + 8.0), 1.0, 0.0),
        view,
        [words!("tail LOW"), words!("tail HIGH")],
        ((6.0, 16.0), Anchor::Start),
        right,
    )
}

fn from_above(procedure: &Procedure, airframe: &Airframe, seat: &Seat<'_>) -> Sketch {
    let sizes = proportions(procedure, airframe, 0.0);
    let places = Places::new(&sizes, seat.off);
    let mut sheet = Sheet::new(WIDE, HIGHEST);
    sheet.area(places.covered(seat.by), Ink::Band);
    plan::bodies(&mut sheet, &places, false);
    let (x, y) = places.aft();
    seat.gauge(&mut sheet, &|off, out| (x - seat.off + off, y + out / SMALLER));
    let view = words!("Seen from above, nose up the page, the pilot's left on the left");
    let ways = [words!("LEFT"), words!("RIGHT")];
    narrow(sheet.shrunk(NARROW, SMALLER, 5.0), seat, words!("from above"), view, ways)
}

fn from_behind(seat: &Seat<'_>) -> Sketch {
    let mut sheet = Sheet::new(WIDE, HIGHEST);
    rear::bodies(&mut sheet, seat.off, seat.by);
    let (middle, (half, _)) = rear::BULKHEAD;
    // Outside the frame, with a needle from the bulkhead, so that a few degrees can be seen.
    let at = |off: f64, out: f64| turned((middle.0 + out, middle.1), middle, off);
    sheet.line(at(seat.off, half), at(seat.off, GAUGE), Ink::Reference);
    seat.gauge(&mut sheet, &|off, out| at(off, GAUGE + out / SMALLER));
    let view = words!("Seen from behind, the pilot's left on the left");
    let ways = [words!("LEFT LOW"), words!("RIGHT LOW")];
    narrow(sheet.shrunk(NARROW, SMALLER, 22.0), seat, words!("from behind"), view, ways)
}

/// What stands on both narrow sheets.
fn narrow(mut sheet: Sheet, seat: &Seat<'_>, from: &str, view: &str, ways: [&str; 2]) -> Sketch {
    let (centre, bottom) = (NARROW.0 / 2.0, NARROW.1);
    sheet.note((centre, 16.0), Anchor::Middle, from);
    sheet.sides(bottom - 47.0);
    let at = |y: f64| ((centre, y), Anchor::Middle);
    seat.finish(sheet, view, ways, at(bottom - 24.0), at(bottom - 6.0))
}
