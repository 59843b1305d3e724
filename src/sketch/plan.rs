//! Seen from above, nose up the page, so that the pilot's left is the reader's left: squareness, offset, gaps, twins.

use crate::language::{tr, words};
use crate::procedure::{LeverKind, Procedure, StepKind};
use crate::quantity::Quantity;
use crate::record::{Airframe, Side};

use super::joint_gaps::{Gaps, gaps};
use super::misfit::{Drawn, Misfit, Sense, drawn_amount, exaggerate, times_note};
use super::orders::{Order, orders_words};
use super::proportions::{self, Proportions, proportions};
use super::sheet::{Sheet, Sketch};
use super::spot::{Corner, Spot};
use super::{Anchor, Ink, Lettering, View};

type Point = (f64, f64);

const WIDTH: f64 = 328.0;
const HEIGHT: f64 = 328.0;
const CENTRE: f64 = WIDTH / 2.0;
/// The forward points' y and the aft centre point's.
const FORWARD_Y: f64 = 44.0;
const AFT_Y: f64 = 258.0;
/// The forward points stand so far from the centre line, whatever the airframe's width.
const HALF: f64 = 68.0;
/// What is allowed at the tail shows as about so much; nothing is moved by more than the most.
const CLEAR: f64 = 13.0;
const MOST: f64 = 34.0;

/// Where things are on the sheet.
pub(super) struct Places {
    joint_y: f64,
    joint_half: f64,
    /// How far the tail is drawn to the right.
    tail: f64,
    gaps: Gaps,
}

impl Places {
    /// Of an airframe whose joint nobody has read.
    pub(super) fn new(sizes: &Proportions, tail: f64) -> Self {
        let joint_y = FORWARD_Y + (AFT_Y - FORWARD_Y) * sizes.frame / (1.0 + sizes.frame);
        Self { joint_y, joint_half: HALF * sizes.joint_half, tail, gaps: Gaps::default() }
    }

    /// What the cone covers when its tail lies up to `open` to either side.
    pub(super) fn covered(&self, open: f64) -> Vec<Point> {
        let (left, right) = (self.cone_corner(Side::Left), self.cone_corner(Side::Right));
        let (x, y) = self.aft();
        vec![left, right, (x + 9.0 + open, y), (x - 9.0 - open, y)]
    }

    fn forward(side: Side) -> Point {
        (CENTRE + sign(side) * HALF, FORWARD_Y)
    }

    pub(super) const fn aft(&self) -> Point {
        (CENTRE + self.tail, AFT_Y)
    }

    /// The cone's corner at the joint, its gap open.
    fn cone_corner(&self, side: Side) -> Point {
        (CENTRE + sign(side) * self.joint_half, self.joint_y + self.gaps.drawn(side))
    }
}

const fn sign(side: Side) -> f64 {
    match side {
        Side::Left => -1.0,
        Side::Right => 1.0,
    }
}

fn side_word(side: Side) -> &'static str {
    match side {
        Side::Left => words!("LEFT"),
        Side::Right => words!("RIGHT"),
    }
}

/// Draws it.
pub(super) fn draw(view: &View<'_>) -> Sketch {
    let View { procedure, airframe, run, now, .. } = *view;
    let sizes = proportions(procedure, airframe, 0.0);
    let off = view.misfit(Sense::Lateral);
    let drawn = off.as_ref().map(|off| exaggerate(off, lateral_scale(procedure, airframe), CLEAR, MOST));
    let orders = view.orders();
    let mut places = Places::new(&sizes, drawn.map_or(0.0, |drawn| drawn.size));
    places.gaps = gaps(procedure, airframe, run, (AFT_Y - places.joint_y) / to_tail(procedure, airframe));
    let mut sheet = Sheet::new(WIDTH, HEIGHT);
    let taped = view.reads(|spot| matches!(spot, Spot::Distance(_)));
    bodies(&mut sheet, &places, taped);
    let twins = view.reads(|spot| matches!(spot, Spot::Twin(_)));
    references(&mut sheet, twins);
    if taped {
        distances(&mut sheet, view, &places);
    }
    if view.reads(|spot| matches!(spot, Spot::String)) {
        string(&mut sheet, now, &places);
    }
    if twins {
        twin_dimensions(&mut sheet, now);
    }
    if let Some(Spot::Gap(side, corner)) = now {
        gap_pointer(&mut sheet, &places, side, corner);
    }
    sheet.circle(places.aft(), 3.0, Ink::Post);
    if let (Some(off), Some(drawn)) = (&off, drawn.filter(|drawn| drawn.size != 0.0)) {
        say_misfit(&mut sheet, off, &places, drawn);
    }
    for order in &orders {
        say_order(&mut sheet, &places, order);
    }
    notes(&mut sheet, &sizes, &places, drawn);
    if let Some(spot) = now {
        reader(&mut sheet, spot, &places);
    }
    sheet.finish(title(view, off.as_ref().zip(drawn), twins) + &orders_words(&orders))
}

/// Joint to the aft centre point in metres; an ordinary one where the sheet gives none.
fn to_tail(procedure: &Procedure, airframe: &Airframe) -> f64 {
    let found = procedure.adjusters.iter().find_map(|adjuster| match &adjuster.lever {
        LeverKind::Joint { to_tail, .. } => proportions::length(airframe, to_tail),
        _ => None,
    });
    found.unwrap_or(3.0)
}

/// Units of the sheet to one metre across.
pub(super) fn lateral_scale(procedure: &Procedure, airframe: &Airframe) -> f64 {
    let half = procedure.adjusters.iter().find_map(|adjuster| match &adjuster.lever {
        LeverKind::Joint { half_width, .. } => proportions::length(airframe, half_width),
        _ => None,
    });
    HALF / half.unwrap_or(0.45)
}

/// The frame, its lattice left out where tapes run through it, and the cone.
pub(super) fn bodies(sheet: &mut Sheet, places: &Places, taped: bool) {
    let (left, right) = (places.cone_corner(Side::Left), places.cone_corner(Side::Right));
    let aft = places.aft();
    if places.tail != 0.0 {
        let nominal = [CENTRE - places.joint_half, CENTRE + places.joint_half];
        let y = places.joint_y;
        sheet.area(vec![(nominal[0], y), (nominal[1], y), (CENTRE + 9.0, AFT_Y), (CENTRE - 9.0, AFT_Y)], Ink::Ghost);
    }
    let tail = [(aft.0 - 9.0, aft.1), (aft.0 + 9.0, aft.1)];
    sheet.area(vec![left, right, tail[1], tail[0]], Ink::Cone);
    for station in [0.25, 0.48, 0.68, 0.85] {
        let along = |from: Point, to: Point| (from.0 + (to.0 - from.0) * station, from.1 + (to.1 - from.1) * station);
        sheet.line(along(left, tail[0]), along(right, tail[1]), Ink::Inner);
    }
    let (front_left, front_right) = (Places::forward(Side::Left), Places::forward(Side::Right));
    let (aft_left, aft_right) =
        ((CENTRE - places.joint_half, places.joint_y), (CENTRE + places.joint_half, places.joint_y));
    sheet.area(vec![front_left, front_right, aft_right, aft_left], Ink::Frame);
    if !taped {
        sheet.line(front_left, aft_right, Ink::Inner);
        sheet.line(front_right, aft_left, Ink::Inner);
    }
}

/// Centre line and straightedge.
fn references(sheet: &mut Sheet, twins: bool) {
    let (top, bottom) = (if twins { FORWARD_Y - 6.0 } else { FORWARD_Y - 20.0 }, AFT_Y + 14.0);
    let mut y = top;
    // Long and short dashes: a centre line.
    while y < bottom {
        sheet.line((CENTRE, y), (CENTRE, (y + 14.0).min(bottom)), Ink::Reference);
        if y + 20.0 < bottom {
            sheet.line((CENTRE, y + 18.0), (CENTRE, y + 20.0), Ink::Reference);
        }
        y += 24.0;
    }
    sheet.rectangle((CENTRE - HALF - 24.0, FORWARD_Y - 7.0), (CENTRE + HALF + 24.0, FORWARD_Y), Ink::Support);
    for side in [Side::Left, Side::Right] {
        sheet.circle(Places::forward(side), 3.0, Ink::Post);
    }
}

fn distances(sheet: &mut Sheet, view: &View<'_>, places: &Places) {
    let now = view.now;
    // The one being read goes on top.
    let top = if now == Some(Spot::Distance(Side::Left)) { Side::Left } else { Side::Right };
    for side in [top.other(), top] {
        let ink = if now == Some(Spot::Distance(side)) { Ink::Reading } else { Ink::Reference };
        let from = Places::forward(side);
        sheet.dimension(from, places.aft(), ink);
        let (x, anchor) = if side == Side::Left { (6.0, Anchor::Start) } else { (WIDTH - 6.0, Anchor::End) };
        let y = AFT_Y - 38.0;
        sheet.text((x, y), anchor, Lettering::Plain, ink_of_label(ink), side_word(side));
        if let Some(value) = value(view, side) {
            sheet.text((x, y + 20.0), anchor, Lettering::Plain, ink_of_label(ink), &value);
        }
    }
}

fn ink_of_label(ink: Ink) -> Ink {
    if ink == Ink::Reading { Ink::Reading } else { Ink::Note }
}

/// The middle one of a side's readings, once the attempt is complete and while it holds; never of a blind reading.
fn value(view: &View<'_>, side: Side) -> Option<String> {
    let step = view.step;
    let blind = matches!(step.step.kind, StepKind::Measure { blind: true, .. });
    let attempt = step.attempt().filter(|attempt| attempt.complete && attempt.stale.is_none() && !blind)?;
    let (slot, _) = view.spots.iter().find(|(_, spot)| *spot == Spot::Distance(side))?;
    let mut readings: Vec<&Quantity> = Vec::new();
    for reading in attempt.of(slot) {
        let place = readings.partition_point(|lower| lower.value <= reading.value.value);
        readings.insert(place, &reading.value);
    }
    Some(readings.get(readings.len() / 2)?.print())
}

fn string(sheet: &mut Sheet, now: Option<Spot>, places: &Places) {
    let ink = if now == Some(Spot::String) { Ink::Reading } else { Ink::Reference };
    sheet.line((CENTRE, FORWARD_Y - 18.0), (CENTRE, AFT_Y + 16.0), ink);
    let (x, y) = places.aft();
    // A rule flat at the aft point, square to the string.
    sheet.rectangle((CENTRE.min(x) - 34.0, y + 2.0), (CENTRE.max(x) + 34.0, y + 11.0), ink);
    let mut tick = CENTRE.min(x) - 28.0;
    while tick < CENTRE.max(x) + 32.0 {
        sheet.line((tick, y + 2.0), (tick, y + 6.0), Ink::Inner);
        tick += 6.0;
    }
    sheet.text((CENTRE - 10.0, FORWARD_Y - 13.0), Anchor::End, Lettering::Small, ink_of_label(ink), words!("string"));
}

fn twin_dimensions(sheet: &mut Sheet, now: Option<Spot>) {
    for side in [Side::Left, Side::Right] {
        let ink = if now == Some(Spot::Twin(side)) { Ink::Reading } else { Ink::Reference };
        let y = FORWARD_Y + 22.0;
        let (x, _) = Places::forward(side);
        sheet.line((x, FORWARD_Y), (x, y + 7.0), ink);
        sheet.dimension((CENTRE, y), (x, y), ink);
        let middle = (CENTRE + x) / 2.0;
        sheet.text((middle, y + 22.0), Anchor::Middle, Lettering::Plain, ink_of_label(ink), side_word(side));
    }
}

fn gap_pointer(sheet: &mut Sheet, places: &Places, side: Side, corner: Corner) {
    let (x, y) = places.cone_corner(side);
    let y = (y + places.joint_y) / 2.0;
    sheet.arrow((x + sign(side) * 44.0, y), (x + sign(side) * 4.0, y), Ink::Reading);
    let (at, anchor) = if side == Side::Left { (6.0, Anchor::Start) } else { (WIDTH - 6.0, Anchor::End) };
    let height = if corner == Corner::Upper { words!("upper") } else { words!("lower") };
    sheet.text((at, y + 24.0), anchor, Lettering::Plain, Ink::Reading, height);
    sheet.text((at, y + 44.0), anchor, Lettering::Plain, Ink::Reading, side_word(side));
}

fn say_misfit(sheet: &mut Sheet, off: &Misfit, places: &Places, drawn: Drawn) {
    let words = match (&off.amount, drawn.size > 0.0) {
        (Some(amount), true) => tr!("tail RIGHT {amount}", amount),
        (Some(amount), false) => tr!("tail LEFT {amount}", amount),
        (None, true) => tr!("tail RIGHT"),
        (None, false) => tr!("tail LEFT"),
    };
    let (x, y) = places.aft();
    sheet.dimension((CENTRE, y + 18.0), (x, y + 18.0), Ink::Reference);
    sheet.text(((CENTRE + x) / 2.0, y + 42.0), Anchor::Middle, Lettering::Plain, Ink::Note, &words);
}

fn say_order(sheet: &mut Sheet, places: &Places, order: &Order<'_>) {
    let LeverKind::Joint { side, .. } = order.adjuster.lever else { return };
    let (x, y) = places.cone_corner(side);
    // Inside the cone, so that the words outside stay clear of it.
    let x = x - sign(side) * 15.0;
    let (ends, word) = if order.forward {
        ([(x, y - 8.0), (x, y + 34.0)], words!("OPEN"))
    } else {
        ([(x, y + 36.0), (x, y - 4.0)], words!("CLOSE"))
    };
    sheet.arrow(ends[0], ends[1], Ink::Move);
    let (at, anchor) = if side == Side::Left { (6.0, Anchor::Start) } else { (WIDTH - 6.0, Anchor::End) };
    sheet.text((at, places.joint_y + 16.0), anchor, Lettering::Plain, Ink::Move, word);
    sheet.text((at, places.joint_y + 37.0), anchor, Lettering::Plain, Ink::Move, &order.amount);
}

fn notes(sheet: &mut Sheet, sizes: &Proportions, places: &Places, drawn: Option<Drawn>) {
    sheet.arrow((20.0, 46.0), (20.0, 26.0), Ink::Note);
    sheet.note((6.0, 18.0), Anchor::Start, words!("nose"));
    sheet.sides(places.joint_y - 14.0);
    let mut lines = Vec::new();
    if let Some(times) = times_note(drawn) {
        lines.push(tr!("tail {times}", times));
    }
    if let Some(times) = places.gaps.times_note() {
        lines.push(tr!("gaps {times}", times));
    }
    sheet.note((WIDTH - 6.0, HEIGHT - 8.0), Anchor::End, &lines.join(", "));
    let scale = if sizes.to_scale { words!("width not to scale") } else { words!("not to scale") };
    sheet.note((6.0, HEIGHT - 8.0), Anchor::Start, scale);
}

/// Where the reader stands, and what that does to left and right.
fn reader(sheet: &mut Sheet, spot: Spot, places: &Places) {
    match spot {
        Spot::Distance(_) | Spot::String => sheet.you((CENTRE - 6.0, AFT_Y + 30.0)),
        Spot::Twin(_) => {
            sheet.you((CENTRE - 6.0, 22.0));
            sheet.note((WIDTH - 6.0, 20.0), Anchor::End, words!("facing aft,"));
            sheet.note((WIDTH - 6.0, 36.0), Anchor::End, words!("R is on your left"));
        }
        Spot::Gap(side, _) => {
            let (x, _) = places.cone_corner(side);
            let x = if side == Side::Left { x - 56.0 } else { x + 22.0 };
            sheet.you((x, places.joint_y + 68.0));
        }
        Spot::Pitch { .. } | Spot::Roll { .. } => {}
    }
}

fn title(view: &View<'_>, off: Option<(&Misfit, Drawn)>, twins: bool) -> String {
    let mut title = tr!(
        "Seen from above, nose up the page, the pilot's left on the left: the forward frame, the joint, the cone and its aft centre point."
    );
    let reads = if twins {
        words!("You stand at the front, facing aft: the pilot's right is on your left.")
    } else if view.reads(|spot| matches!(spot, Spot::Distance(_))) {
        words!("A tape runs from each forward point to the one aft centre point.")
    } else if view.reads(|spot| matches!(spot, Spot::String)) {
        words!("A string runs along the centre line; a rule lies square to it at the aft centre point.")
    } else if view.reads(|spot| matches!(spot, Spot::Gap(..))) {
        words!("Gaps are read at the corners of the joint.")
    } else {
        ""
    };
    if !reads.is_empty() {
        title.push(' ');
        title.push_str(reads);
    }
    if let Some((off, drawn)) = off {
        let right = drawn.size > 0.0;
        let amount = off.amount.as_ref().map(|amount| drawn_amount(amount, drawn));
        title.push(' ');
        title.push_str(&match amount {
            _ if drawn.size == 0.0 => tr!("The tail lies on the centre line."),
            Some(amount) if right => tr!("The tail lies to the right by {amount}.", amount),
            Some(amount) => tr!("The tail lies to the left by {amount}.", amount),
            None if right => tr!("The tail lies to the right."),
            None => tr!("The tail lies to the left."),
        });
    }
    title
}
