//! The whole aircraft as one picture: from above and from the side, every zone shaded by how far the work on it has come.

use crate::language::{tr, words};
use crate::procedure::{Progress, Work};
use crate::record::Airframe;

use super::craft::{Craft, FLOOR, placed};
use super::hatch::hatch;
use super::sheet::{Sheet, Sketch};
use super::zone::{Zone, states};
use super::{Anchor, Ink, Lettering};

type Point = (f64, f64);

const WIDTH: f64 = 328.0;
const HEIGHT: f64 = 420.0;
const MIDDLE: f64 = WIDTH / 2.0;
/// Top of the view from above, and its largest height.
const PLAN_Y: f64 = 14.0;
const PLAN_HEIGHT: f64 = 172.0;
/// The propeller and the thrust line of the view from the side, and its length.
const SIDE: Point = (40.0, 284.0);
const SIDE_LENGTH: f64 = 238.0;
/// Radius of the mark before a name, and from its middle to the name.
const DISC: (f64, f64) = (5.0, 10.0);
const STATES: [Progress; 5] =
    [Progress::Done, Progress::UnderWay, Progress::Stale, Progress::Waits, Progress::NotStarted];

/// The picture of an airframe and of what has been done on it. Each state has its shading and its mark, so that it is told
/// without colour; the title tells all of it in words.
#[must_use]
pub fn whole_aircraft(airframe: &Airframe, works: &[Work]) -> Sketch {
    let craft = Craft::of(airframe);
    let zones = states(works);
    let state = |wanted: Zone| zones.iter().find(|(zone, ..)| *zone == wanted).map(|(.., progress)| *progress);
    let mut sheet = Sheet::new(WIDTH, HEIGHT);
    let scale = (PLAN_HEIGHT / 1.08).min((WIDTH - 12.0) / (2.0 * craft.half_span));
    let above = |(x, y): Point| (MIDDLE + x * scale, PLAN_Y + y * scale);
    let floor = SIDE.1 - FLOOR * SIDE_LENGTH;
    sheet.line((8.0, floor), (WIDTH - 8.0, floor), Ink::Inner);
    let mut drawn: Vec<(Zone, Vec<Point>)> = Vec::new();
    drawn.extend(
        craft.plan().into_iter().map(|(zone, points)| (zone, placed(points, (MIDDLE, PLAN_Y), (scale, scale)))),
    );
    let from_side = drawn.len();
    drawn.extend(
        craft.side().into_iter().map(|(zone, points)| (zone, placed(points, SIDE, (SIDE_LENGTH, -SIDE_LENGTH)))),
    );
    for (zone, outline) in &drawn {
        if let Some(progress) = state(*zone) {
            shade(&mut sheet, outline, progress);
        }
    }
    if let Some(progress) = state(Zone::Trammel) {
        trammel(&mut sheet, &craft, above, progress);
    }
    for (zone, name, progress) in &zones {
        let (at, seen) = label_place(*zone, &craft);
        let parts = if seen == View::Above { &drawn[..from_side] } else { &drawn[from_side..] };
        let target = parts.iter().find(|(found, _)| found == zone).map_or_else(
            || craft.above("tip").map(|(x, y)| above((-x / 2.0, y / 2.0 + 0.01))),
            |(_, outline)| Some(middle(outline)),
        );
        label(&mut sheet, at, target, name_of(*zone, name, airframe), *progress);
    }
    legend(&mut sheet);
    sheet.text((WIDTH - 6.0, PLAN_Y + 112.0), Anchor::End, Lettering::Plain, Ink::Note, words!("R"));
    sheet.text((6.0, PLAN_Y + 112.0), Anchor::Start, Lettering::Plain, Ink::Note, words!("L"));
    sheet.finish(title(&zones, airframe))
}

/// The third wheel by its own name, once it is known.
fn name_of<'a>(zone: Zone, name: &'a str, airframe: &Airframe) -> &'a str {
    match (zone, airframe.specification.words("third-wheel")) {
        (Zone::ThirdWheel, Some("tail wheel")) => words!("Tail wheel"),
        (Zone::ThirdWheel, Some("nose wheel")) => words!("Nose wheel"),
        _ => name,
    }
}

#[derive(PartialEq)]
enum View {
    Above,
    Beside,
}

/// Where a zone's name stands (middle of its mark), and in which view its line ends.
fn label_place(zone: Zone, craft: &Craft) -> (Point, View) {
    let low = |row: f64| SIDE.1 + 66.0 + row * 20.0;
    match zone {
        Zone::Wings => ((12.0, 14.0), View::Above),
        Zone::Trammel => ((240.0, 14.0), View::Above),
        Zone::Controls => ((12.0, 140.0), View::Above),
        Zone::Flaps => ((12.0, 162.0), View::Above),
        Zone::Aft => ((216.0, 142.0), View::Above),
        Zone::Tailplane => ((12.0, 198.0), View::Above),
        Zone::Engine => ((12.0, 222.0), View::Beside),
        Zone::Datum => ((82.0, 222.0), View::Beside),
        Zone::Holes => ((150.0, 207.0), View::Beside),
        Zone::Fin => ((282.0, 222.0), View::Beside),
        Zone::Instruments => ((160.0, 234.0), View::Beside),
        Zone::Propeller => ((12.0, low(0.0)), View::Beside),
        Zone::Struts => ((112.0, low(0.0)), View::Beside),
        Zone::Cables => ((188.0, low(0.0)), View::Beside),
        Zone::Jig => ((276.0, low(0.0)), View::Beside),
        Zone::MainGear => ((if craft.tail_wheel { 12.0 } else { 124.0 }, low(1.0)), View::Beside),
        Zone::ThirdWheel => ((if craft.tail_wheel { 218.0 } else { 12.0 }, low(1.0)), View::Beside),
        Zone::Weighing => ((if craft.tail_wheel { 116.0 } else { 226.0 }, low(1.0)), View::Beside),
    }
}

fn middle(outline: &[Point]) -> Point {
    let count = outline.len() as f64;
    let sum = outline.iter().fold((0.0, 0.0), |sum, point| (sum.0 + point.0, sum.1 + point.1));
    (sum.0 / count, sum.1 / count)
}

/// An outline in the shading of its state.
fn shade(sheet: &mut Sheet, outline: &[Point], progress: Progress) {
    let ink = match progress {
        Progress::NotStarted => Ink::Support,
        Progress::Waits => Ink::Ghost,
        Progress::UnderWay => Ink::Frame,
        Progress::Stale => Ink::Reading,
        Progress::Done => Ink::Post,
    };
    sheet.area(outline.to_vec(), ink);
    let ways: &[bool] = match progress {
        Progress::UnderWay => &[true],
        Progress::Stale => &[true, false],
        _ => &[],
    };
    for up in ways {
        for [from, to] in hatch(outline, 4.0, *up) {
            sheet.line(from, to, Ink::Inner);
        }
    }
}

/// The lines of the last trammel: nose to tips, tips to tail post.
fn trammel(sheet: &mut Sheet, craft: &Craft, above: impl Fn(Point) -> Point, progress: Progress) {
    let ink = match progress {
        Progress::Done => Ink::Frame,
        Progress::Stale => Ink::Reading,
        Progress::UnderWay => Ink::Reference,
        Progress::Waits | Progress::NotStarted => Ink::Ghost,
    };
    let (Some(nose), Some(tip), Some(post)) = (craft.above("nose"), craft.above("tip"), craft.above("post")) else {
        return;
    };
    for side in [1.0, -1.0] {
        sheet.path([nose, (tip.0 * side, tip.1), post].map(&above).to_vec(), ink);
    }
}

/// A state's mark: full is done, half full under way, a cross stale, a bar waits, empty not started.
fn disc(sheet: &mut Sheet, (x, y): Point, progress: Progress) {
    let radius = DISC.0;
    sheet.circle((x, y), radius, if progress == Progress::Done { Ink::Post } else { Ink::Support });
    let reach = radius * std::f64::consts::FRAC_1_SQRT_2;
    match progress {
        Progress::UnderWay => {
            let half = (0..=8).map(|part| {
                let (sin, cos) = (std::f64::consts::PI * f64::from(part) / 8.0).sin_cos();
                (x - radius * sin, y - radius * cos)
            });
            sheet.area(half.collect(), Ink::Post);
        }
        Progress::Stale => {
            sheet.line((x - reach, y - reach), (x + reach, y + reach), Ink::Reading);
            sheet.line((x - reach, y + reach), (x + reach, y - reach), Ink::Reading);
        }
        Progress::Waits => sheet.line((x - radius, y), (x + radius, y), Ink::Bar),
        Progress::Done | Progress::NotStarted => {}
    }
}

/// A zone's mark and name, with a line from there to the zone.
fn label(sheet: &mut Sheet, at: Point, target: Option<Point>, name: &str, progress: Progress) {
    if let Some(target) = target {
        let end = at.0 + DISC.1 + Lettering::Small.width(name) * 0.85;
        let from = (target.0.max(at.0).min(end), at.1 + if target.1 < at.1 { -8.0 } else { 8.0 });
        sheet.line(from, target, Ink::Inner);
        sheet.circle(target, 1.8, Ink::You);
    }
    disc(sheet, at, progress);
    sheet.note((at.0 + DISC.1, at.1 + 5.0), Anchor::Start, name);
}

/// What shading and mark mean, in the words of the list.
fn legend(sheet: &mut Sheet) {
    let places = [(0.0, 0.0), (92.0, 0.0), (224.0, 0.0), (92.0, 1.0), (186.0, 1.0)];
    for (progress, (x, row)) in STATES.into_iter().zip(places) {
        let y = HEIGHT - 32.0 + row * 20.0;
        let (left, right) = (8.0 + x, 30.0 + x);
        shade(sheet, &[(left, y - 6.0), (right, y - 6.0), (right, y + 6.0), (left, y + 6.0)], progress);
        disc(sheet, (right + 10.0, y), progress);
        sheet.note((right + 18.0, y + 5.0), Anchor::Start, progress.words());
    }
}

fn title(zones: &[(Zone, &'static str, Progress)], airframe: &Airframe) -> String {
    let said: Vec<String> = STATES
        .into_iter()
        .filter_map(|progress| {
            let found = zones.iter().filter(|(.., found)| *found == progress);
            let names: Vec<&str> = found.map(|(zone, name, _)| name_of(*zone, name, airframe)).collect();
            (!names.is_empty()).then(|| tr!("{state}: {parts}", state = progress.words(), parts = names.join(", ")))
        })
        .collect();
    tr!("The whole aircraft, from above and from the pilot's left. {parts}.", parts = said.join("; "))
}
