//! Seen from the pilot's left, nose to the left: the two assemblies, what carries them, and pitch.

use crate::language::{self, tr, words};
use crate::procedure::{LeverKind, Procedure};
use crate::record::Airframe;

use super::misfit::{Drawn, Misfit, Sense, drawn_amount, exaggerate, times_note};
use super::orders::{Order, orders_words, slid};
use super::proportions::{Proportions, SetUp, proportions};
use super::sheet::{Sheet, Sketch, turn_all, turned};
use super::spot::Spot;
use super::{Anchor, Ink, Lettering, View, instrument};

type Point = (f64, f64);

const WIDTH: f64 = 328.0;
const HEIGHT: f64 = 222.0;
/// The aftmost and the foremost x, the joint's upper corner's y, the floor's y.
const TAIL_X: f64 = 312.0;
const LEFT_X: f64 = 30.0;
const TOP_Y: f64 = 78.0;
const FLOOR_Y: f64 = 196.0;
/// A block is drawn at least so high.
const LEAST_BLOCK: f64 = 9.0;
/// Height of the joint as a share of the joint-to-tail length, where the set-up does not give it.
const JOINT_HEIGHT: f64 = 0.27;
/// What is allowed shows as about so many degrees; nothing is turned by more than the most.
const CLEAR: f64 = 4.0;
const MOST: f64 = 6.5;

/// The two assemblies on the sheet, neither turned.
pub(super) struct Bodies {
    /// Units of the sheet to the joint-to-tail length.
    scale: f64,
    joint_x: f64,
    /// Upper and lower corner of the joint.
    lower_y: f64,
    frame: Vec<Point>,
    lattice: Vec<[Point; 2]>,
    pub(super) cone: Vec<Point>,
}

/// Draws it.
pub(super) fn draw(view: &View<'_>) -> Sketch {
    let View { procedure, airframe, now, .. } = *view;
    let sizes = proportions(procedure, airframe, slid(procedure, view.run));
    let off = view.misfit(Sense::Pitch);
    let drawn = off.as_ref().map(|off| exaggerate(off, 1.0, CLEAR, MOST));
    let orders = view.orders();
    let bodies = bodies(&sizes, nominal_pitch(procedure, airframe), TOP_Y);
    let mut sheet = Sheet::new(WIDTH, HEIGHT);
    sheet.line((8.0, FLOOR_Y), (WIDTH - 8.0, FLOOR_Y), Ink::Support);
    let turn = drawn.map_or(0.0, |drawn| drawn.size);
    let (frame_turn, cone_turn) = match sizes.set_up {
        SetUp::Saddle { .. } => (0.0, -turn),
        SetUp::Block { .. } => (turn, 0.0),
    };
    let pivot = (bodies.joint_x, (TOP_Y + bodies.lower_y) / 2.0);
    supports(&mut sheet, &bodies, &sizes, pivot, frame_turn + cone_turn);
    if turn != 0.0 {
        let ghost = if cone_turn == 0.0 { &bodies.frame } else { &bodies.cone };
        sheet.area(ghost.clone(), Ink::Ghost);
    }
    assemblies(&mut sheet, &bodies, pivot, frame_turn, cone_turn);
    let pitch = view.reads(|spot| matches!(spot, Spot::Pitch { .. }));
    if pitch && off.is_none() {
        faces(&mut sheet, airframe, &bodies, pivot, (frame_turn, cone_turn), now);
    }
    if let (Some(off), Some(drawn)) = (&off, drawn) {
        say_misfit(&mut sheet, &bodies, &sizes, off, drawn, pivot);
    }
    for order in &orders {
        say_order(&mut sheet, &bodies, &sizes, order, pivot, frame_turn);
    }
    notes(&mut sheet, airframe, &sizes, pitch, drawn);
    sheet.finish(title(airframe, &sizes, pitch, off.as_ref().zip(drawn)) + &orders_words(&orders))
}

/// The slope of the cone's upper line in degrees, bent to what can be drawn.
pub(super) fn nominal_pitch(procedure: &Procedure, airframe: &Airframe) -> f64 {
    let check = procedure.checks.iter().find(|check| super::misfit::sense(procedure, check) == Some(Sense::Pitch));
    let nominal = check.and_then(|check| airframe.specification.nominal(check.judged_by.as_deref()?));
    nominal.map(|pitch| pitch.value).filter(|pitch| pitch.is_finite()).unwrap_or(-2.5).clamp(-5.0, 2.0)
}

/// Both as they would stand, the joint's upper corner at `top_y`.
pub(super) fn bodies(sizes: &Proportions, pitch: f64, top_y: f64) -> Bodies {
    let scale = (TAIL_X - LEFT_X) / (1.0 + sizes.frame);
    let joint_x = LEFT_X + sizes.frame * scale;
    let at = |forward: f64, up: f64| (joint_x - forward * scale, top_y - up * scale);
    let front = sizes.frame;
    let (aft_low, front_low) = match sizes.set_up {
        SetUp::Saddle { .. } => (-JOINT_HEIGHT, -JOINT_HEIGHT),
        SetUp::Block { below, first_at, slope, .. } => {
            let rise = slope.to_radians().tan();
            let low = |forward: f64| (-below + (forward - first_at) * rise).clamp(-0.36, -0.12);
            (low(0.0), low(front))
        }
    };
    let middle = front * 0.55;
    let middle_low = aft_low + (front_low - aft_low) * 0.55;
    let frame = vec![at(0.0, 0.0), at(0.0, aft_low), at(front, front_low), at(front, -0.04), at(middle, 0.07)];
    let lattice = vec![
        [at(middle, 0.07), at(middle, middle_low)],
        [at(0.0, aft_low), at(middle, 0.07)],
        [at(middle, middle_low), at(front, -0.04)],
    ];
    let tail_top = match sizes.set_up {
        SetUp::Saddle { .. } => pitch.to_radians().tan(),
        SetUp::Block { .. } => aft_low + 0.14,
    };
    let cone = vec![at(0.0, 0.0), at(-1.0, tail_top), at(-1.0, tail_top - 0.14), at(0.0, aft_low)];
    Bodies { scale, joint_x, lower_y: at(0.0, aft_low).1, frame, lattice, cone }
}

/// A point of the cone: how far aft of the joint, and how far down from its upper line to its lower, 0 to 1.
fn on_cone(bodies: &Bodies, aft: f64, down: f64) -> Point {
    let [top, tail_top, tail_low, low] = [bodies.cone[0], bodies.cone[1], bodies.cone[2], bodies.cone[3]];
    let between =
        |from: Point, to: Point, share: f64| (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share);
    between(between(top, tail_top, aft), between(low, tail_low, aft), down)
}

/// The frame's lower line at a distance forward of the joint, turned.
fn under_frame(bodies: &Bodies, forward: f64, pivot: Point, turn: f64) -> Point {
    let (aft, front) = (turned(bodies.frame[1], pivot, turn), turned(bodies.frame[2], pivot, turn));
    let x = bodies.joint_x - forward * bodies.scale;
    (x, aft.1 + (x - aft.0) * (front.1 - aft.1) / (front.0 - aft.0))
}

pub(super) fn assemblies(sheet: &mut Sheet, bodies: &Bodies, pivot: Point, frame_turn: f64, cone_turn: f64) {
    sheet.area(turn_all(&bodies.cone, pivot, cone_turn), Ink::Cone);
    for station in [0.22, 0.42, 0.61, 0.78, 0.92] {
        let ends = turn_all(&[on_cone(bodies, station, 0.0), on_cone(bodies, station, 1.0)], pivot, cone_turn);
        sheet.line(ends[0], ends[1], Ink::Inner);
    }
    sheet.area(turn_all(&bodies.frame, pivot, frame_turn), Ink::Frame);
    for bar in &bodies.lattice {
        let ends = turn_all(bar, pivot, frame_turn);
        sheet.line(ends[0], ends[1], Ink::Frame);
    }
    let tail = turned(on_cone(bodies, 1.0, 0.55), pivot, cone_turn);
    sheet.circle(tail, 2.5, Ink::Post);
}

fn supports(sheet: &mut Sheet, bodies: &Bodies, sizes: &Proportions, pivot: Point, turn: f64) {
    match sizes.set_up {
        SetUp::Saddle { at } => {
            for forward in [sizes.frame * 0.2, sizes.frame * 0.82] {
                let (x, y) = under_frame(bodies, forward, pivot, 0.0);
                trestle(sheet, x, y);
            }
            let (x, y) = turned(on_cone(bodies, at, 1.0), pivot, turn);
            sheet.path(
                vec![(x - 13.0, y - 5.0), (x - 9.0, y + 4.0), (x + 9.0, y + 4.0), (x + 13.0, y - 5.0)],
                Ink::Support,
            );
            sheet.line((x, y + 4.0), (x, FLOOR_Y - 12.0), Ink::Support);
            sheet.area(
                vec![(x - 4.0, FLOOR_Y - 26.0), (x + 4.0, FLOOR_Y - 26.0), (x + 12.0, FLOOR_Y), (x - 12.0, FLOOR_Y)],
                Ink::Support,
            );
        }
        SetUp::Block { at, .. } => {
            let bench = bench_y(bodies, at, pivot, turn);
            sheet.rectangle((8.0, bench), (WIDTH - 8.0, bench + 5.0), Ink::Support);
            for x in [24.0, WIDTH - 24.0] {
                sheet.line((x, bench + 5.0), (x, FLOOR_Y), Ink::Support);
            }
            let lowest = bodies.cone[3].1;
            if bench - lowest > 1.0 {
                for aft in [0.12, 0.8] {
                    let (x, y) = on_cone(bodies, aft, 1.0);
                    sheet.rectangle((x - 8.0, y), (x + 8.0, bench), Ink::Support);
                }
            }
            let (x, y) = under_frame(bodies, at, pivot, turn);
            // End grain, as a drawing shows timber.
            sheet.rectangle((x - 10.0, y), (x + 10.0, bench), Ink::Frame);
            sheet.line((x - 10.0, y), (x + 10.0, bench), Ink::Inner);
            sheet.line((x + 10.0, y), (x - 10.0, bench), Ink::Inner);
        }
    }
}

/// The bench stands under the cone, and low enough to leave room for the block and the frame's foremost corner, as it is and
/// as it should be.
fn bench_y(bodies: &Bodies, at: f64, pivot: Point, turn: f64) -> f64 {
    let block = under_frame(bodies, at, pivot, turn).1 + LEAST_BLOCK;
    let foremost = turned(bodies.frame[2], pivot, turn).1.max(bodies.frame[2].1) + 2.0;
    let corner = turned(bodies.frame[1], pivot, turn).1;
    [bodies.cone[3].1, block, foremost, corner].into_iter().fold(bodies.cone[2].1, f64::max)
}

fn trestle(sheet: &mut Sheet, x: f64, y: f64) {
    sheet.line((x, y + 1.0), (x - 11.0, FLOOR_Y), Ink::Support);
    sheet.line((x, y + 1.0), (x + 11.0, FLOOR_Y), Ink::Support);
    sheet.line((x - 7.0, FLOOR_Y - 16.0), (x + 7.0, FLOOR_Y - 16.0), Ink::Support);
    sheet.line((x - 9.0, y + 1.0), (x + 9.0, y + 1.0), Ink::Support);
}

/// Where the protractor is zeroed and where it is read.
fn faces(sheet: &mut Sheet, airframe: &Airframe, bodies: &Bodies, pivot: Point, turns: (f64, f64), now: Option<Spot>) {
    let ink = if now.is_some() { Ink::Reading } else { Ink::Reference };
    let is_turned = now == Some(Spot::Pitch { turned: true });
    let words = |key: &str| airframe.specification.words(key).unwrap_or_default().to_ascii_lowercase();
    let upright =
        ["bulkhead", "firewall", "upright", "flange"].iter().any(|word| words("pitch-zero-face").contains(word));
    if upright {
        let (top, low) = (bodies.frame[3], bodies.frame[2]);
        let at = turned((top.0, top.1 + (low.1 - top.1) * 0.4), pivot, turns.0);
        instrument::protractor(sheet, at, -90.0 + turns.0, is_turned, ink);
        instrument::label(sheet, (6.0, TOP_Y - 8.0), Anchor::Start, ink, words!("1 zero"));
    } else {
        let at = turned(midway(bodies.frame[0], bodies.frame[4], 0.5), pivot, turns.0);
        let face = slope(bodies.frame[4], bodies.frame[0]) + turns.0;
        instrument::protractor(sheet, at, face, is_turned, ink);
        instrument::label(sheet, (at.0, at.1 - 22.0), Anchor::Middle, ink, words!("1 zero"));
    }
    let lower = words("pitch-read-face").contains("lower");
    let at = turned(on_cone(bodies, 0.42, if lower { 1.0 } else { 0.0 }), pivot, turns.1);
    let face =
        if lower { 180.0 + slope(bodies.cone[3], bodies.cone[2]) } else { slope(bodies.cone[0], bodies.cone[1]) };
    instrument::protractor(sheet, at, face + turns.1, is_turned, ink);
    let label = if is_turned { words!("2 read, turned") } else { words!("2 read") };
    let y = if lower { at.1 + 34.0 } else { at.1 - 22.0 };
    instrument::label(sheet, (at.0, y), Anchor::Middle, ink, label);
}

pub(super) fn midway(from: Point, to: Point, share: f64) -> Point {
    (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share)
}

/// Direction in degrees, clockwise on the sheet.
fn slope(from: Point, to: Point) -> f64 {
    (to.1 - from.1).atan2(to.0 - from.0).to_degrees()
}

/// The misfit at the end that is drawn off: the tail in its saddle, the frame's front on its block.
fn say_misfit(sheet: &mut Sheet, bodies: &Bodies, sizes: &Proportions, off: &Misfit, drawn: Drawn, pivot: Point) {
    let Some(amount) = off.amount.as_ref().filter(|_| drawn.size != 0.0) else { return };
    let text = if off.off < 0.0 { tr!("tail LOW {amount}", amount) } else { tr!("tail HIGH {amount}", amount) };
    let cone_turn = if matches!(sizes.set_up, SetUp::Saddle { .. }) { -drawn.size } else { 0.0 };
    // Clear of the cone over the whole of its length.
    let from = (WIDTH - 6.0 - Lettering::Plain.width(&text) - bodies.joint_x) / bodies.scale;
    let over = [from.clamp(0.0, 1.0), 1.0].map(|aft| on_cone(bodies, aft, 0.0));
    let y =
        over.into_iter().chain(turn_all(&over, pivot, cone_turn)).map(|point| point.1).fold(f64::INFINITY, f64::min)
            - 9.0;
    sheet.text((WIDTH - 6.0, y), Anchor::End, Lettering::Plain, Ink::Note, &text);
}

fn say_order(sheet: &mut Sheet, bodies: &Bodies, sizes: &Proportions, order: &Order<'_>, pivot: Point, turn: f64) {
    match (&order.adjuster.lever, sizes.set_up) {
        (LeverKind::Saddle { .. }, SetUp::Saddle { at }) => {
            let x = bodies.joint_x + at * bodies.scale - 24.0;
            let (low, high) = ((x, FLOOR_Y - 4.0), (x, FLOOR_Y - 44.0));
            let amount = &order.amount;
            let (ends, words) = if order.forward {
                ([low, high], tr!("UP {amount}", amount))
            } else {
                ([high, low], tr!("DOWN {amount}", amount))
            };
            sheet.arrow(ends[0], ends[1], Ink::Move);
            sheet.text((x - 12.0, FLOOR_Y - 12.0), Anchor::End, Lettering::Plain, Ink::Move, &words);
        }
        (LeverKind::SlopingTube { .. }, SetUp::Block { at, .. }) => {
            let x = bodies.joint_x - at * bodies.scale;
            let y = bench_y(bodies, at, pivot, turn) + 17.0;
            let (ahead, behind) = ((x - 22.0, y), (x + 22.0, y));
            let amount = &order.amount;
            let (ends, words) = if order.forward {
                ([behind, ahead], tr!("FORWARD {amount}", amount))
            } else {
                ([ahead, behind], tr!("AFT {amount}", amount))
            };
            sheet.arrow(ends[0], ends[1], Ink::Move);
            sheet.text((x + 30.0, y + 6.0), Anchor::Start, Lettering::Plain, Ink::Move, &words);
        }
        _ => {}
    }
}

fn notes(sheet: &mut Sheet, airframe: &Airframe, sizes: &Proportions, pitch: bool, drawn: Option<Drawn>) {
    let y = HEIGHT - 10.0;
    sheet.arrow((74.0, y - 5.0), (54.0, y - 5.0), Ink::Note);
    sheet.note((8.0, y), Anchor::Start, words!("nose"));
    let mut right = Vec::new();
    if !sizes.to_scale {
        right.push(words!("not to scale").to_owned());
    }
    if let Some(times) = times_note(drawn).filter(|times| !right.contains(times)) {
        right.push(tr!("pitch {times}", times));
    }
    sheet.note((WIDTH - 8.0, y), Anchor::End, &right.join(", "));
    if let Some(side) = airframe.specification.words("pitch-side").filter(|side| pitch && !side.is_empty()) {
        let text = match side {
            "left" => tr!("LEFT side only"),
            "right" => tr!("RIGHT side only (far side here)"),
            other => tr!("{side} side only", side = language::of_file(other).to_uppercase()),
        };
        sheet.text((WIDTH / 2.0, 20.0), Anchor::Middle, Lettering::Plain, Ink::Note, &text);
    }
}

fn title(airframe: &Airframe, sizes: &Proportions, pitch: bool, off: Option<(&Misfit, Drawn)>) -> String {
    let mut title = match sizes.set_up {
        SetUp::Saddle { .. } => tr!(
            "Seen from the pilot's left, nose to the left: the forward frame on trestles, the cone behind it in a saddle."
        ),
        SetUp::Block { .. } => tr!(
            "Seen from the pilot's left, nose to the left: the cone flat on the bench, the forward frame on a block under its lower tube."
        ),
    };
    if pitch {
        let words = |key: &str| airframe.specification.words(key).filter(|words| !words.is_empty());
        title.push(' ');
        title.push_str(&match words("pitch-side") {
            Some("left") => tr!("The protractor is held on the left side: 1, zeroed; 2, read."),
            Some("right") => tr!("The protractor is held on the right side: 1, zeroed; 2, read."),
            Some(other) => {
                tr!("The protractor is held on the {side} side: 1, zeroed; 2, read.", side = language::of_file(other))
            }
            None => tr!("The protractor is held on the manual's side: 1, zeroed; 2, read."),
        });
    }
    if let Some((off, drawn)) = off {
        let amount = off.amount.as_ref().filter(|_| drawn.size != 0.0).map(|amount| drawn_amount(amount, drawn));
        title.push(' ');
        title.push_str(&match amount {
            Some(amount) if off.off < 0.0 => tr!("The tail end is low by {amount}.", amount),
            Some(amount) => tr!("The tail end is high by {amount}.", amount),
            None => tr!("The tail end is where the sheet puts it."),
        });
    }
    title
}
