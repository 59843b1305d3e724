//! Seen from behind, the pilot's left on the left: the frame, the aft bulkhead nearer, and twist.

use crate::language::{tr, words};
use crate::procedure::LeverKind;
use crate::record::Side;

use super::misfit::{Drawn, Misfit, Sense, drawn_amount, exaggerate, times_note};
use super::orders::{Order, orders_words};
use super::proportions::{SetUp, proportions};
use super::sheet::{Sheet, Sketch, turn_all};
use super::spot::Spot;
use super::{Anchor, Ink, Lettering, View, instrument};

type Point = (f64, f64);

const WIDTH: f64 = 328.0;
const HEIGHT: f64 = 252.0;
/// Middle of the frame and of the bulkhead, half their widths and heights.
const FRAME: (Point, Point) = ((164.0, 112.0), (88.0, 58.0));
pub(super) const BULKHEAD: (Point, Point) = ((164.0, 122.0), (46.0, 32.0));
const FLOOR_Y: f64 = 216.0;
/// What is allowed shows as about so many degrees; nothing is rolled by more than the most.
const CLEAR: f64 = 5.0;
const MOST: f64 = 11.0;

/// Draws it.
pub(super) fn draw(view: &View<'_>) -> Sketch {
    let View { procedure, airframe, now, .. } = *view;
    let off = view.misfit(Sense::Twist);
    let drawn = off.as_ref().map(|off| exaggerate(off, 1.0, CLEAR, MOST));
    let roll = drawn.map_or(0.0, |drawn| drawn.size);
    let set_up = proportions(procedure, airframe, 0.0).set_up;
    let orders = view.orders();
    let mut sheet = Sheet::new(WIDTH, HEIGHT);
    sheet.line((8.0, FLOOR_Y), (WIDTH - 8.0, FLOOR_Y), Ink::Support);
    supports(&mut sheet, set_up, roll);
    bodies(&mut sheet, roll, 0.0);
    let ink = |aft: bool| match now {
        Some(Spot::Roll { aft: reads, .. }) if reads == aft => Ink::Reading,
        _ => Ink::Reference,
    };
    if view.reads(|spot| matches!(spot, Spot::Roll { .. })) {
        let ((x, y), (half, high)) = FRAME;
        instrument::level(&mut sheet, FRAME.0, (x, y - high), half * 0.8, 0.0, ink(false));
        let ((x, y), (half, high)) = BULKHEAD;
        instrument::level(&mut sheet, BULKHEAD.0, (x, y - high), half * 0.8, roll, ink(true));
    }
    labels(&mut sheet, now);
    if let (Some(off), Some(drawn)) = (&off, drawn.filter(|drawn| drawn.size != 0.0)) {
        say_misfit(&mut sheet, off, drawn);
    }
    for order in &orders {
        say_order(&mut sheet, order);
    }
    sheet.sides(118.0);
    sheet.note((8.0, HEIGHT - 10.0), Anchor::Start, words!("seen from behind"));
    if let Some(times) = times_note(drawn) {
        sheet.note((WIDTH - 8.0, HEIGHT - 10.0), Anchor::End, &tr!("twist {times}", times));
    }
    sheet.you((WIDTH / 2.0 - 8.0, HEIGHT - 15.0));
    sheet.finish(title(now, off.as_ref().zip(drawn)) + &orders_words(&orders))
}

/// The corners of an outline, from the upper left, clockwise.
fn corners(((x, y), (half, high)): (Point, Point)) -> [Point; 4] {
    [(x - half, y - high), (x + half, y - high), (x + half * 0.94, y + high), (x - half * 0.94, y + high)]
}

/// The frame, and the bulkhead rolled; shaded, where it may lie when that leaves `open` degrees to either side.
pub(super) fn bodies(sheet: &mut Sheet, roll: f64, open: f64) {
    let frame = corners(FRAME);
    let nominal = corners(BULKHEAD);
    let bulkhead = turn_all(&nominal, BULKHEAD.0, roll);
    sheet.area(frame.to_vec(), Ink::Frame);
    if open > 0.0 {
        for end in [roll - open, roll + open] {
            sheet.area(turn_all(&nominal, BULKHEAD.0, end), Ink::Band);
        }
    }
    for (far, near) in frame.iter().zip(&bulkhead) {
        sheet.line(*far, *near, Ink::Inner);
    }
    sheet.area(bulkhead, Ink::Cone);
    if roll != 0.0 {
        sheet.area(nominal.to_vec(), Ink::Ghost);
    }
    sheet.circle(BULKHEAD.0, 3.0, Ink::Post);
}

fn supports(sheet: &mut Sheet, set_up: SetUp, roll: f64) {
    let (carried, roll) = match set_up {
        SetUp::Saddle { .. } => (BULKHEAD, roll),
        SetUp::Block { .. } => (FRAME, 0.0),
    };
    let ((x, y), (half, high)) = carried;
    let bar = turn_all(&[(x - half - 12.0, y + high + 6.0), (x + half + 12.0, y + high + 6.0)], carried.0, roll);
    sheet.line(bar[0], bar[1], Ink::Support);
    for end in bar {
        sheet.line(end, (end.0, FLOOR_Y), Ink::Support);
        sheet.rectangle((end.0 - 8.0, FLOOR_Y - 8.0), (end.0 + 8.0, FLOOR_Y), Ink::Support);
    }
}

fn labels(sheet: &mut Sheet, now: Option<Spot>) {
    let Some(Spot::Roll { aft, turned }) = now else { return };
    let text = match (aft, turned) {
        (true, false) => words!("across the aft bulkhead"),
        (true, true) => words!("across the aft bulkhead, turned"),
        (false, false) => words!("across the frame"),
        (false, true) => words!("across the frame, turned"),
    };
    sheet.text((WIDTH / 2.0, 22.0), Anchor::Middle, Lettering::Plain, Ink::Reading, text);
}

const fn low_side(off: f64) -> Side {
    if off > 0.0 { Side::Right } else { Side::Left }
}

fn say_misfit(sheet: &mut Sheet, off: &Misfit, drawn: Drawn) {
    let Some(amount) = &off.amount else { return };
    let text = match low_side(drawn.size) {
        Side::Left => tr!("tail LEFT LOW {amount}", amount),
        Side::Right => tr!("tail RIGHT LOW {amount}", amount),
    };
    sheet.text((WIDTH / 2.0, 22.0), Anchor::Middle, Lettering::Plain, Ink::Note, &text);
}

fn say_order(sheet: &mut Sheet, order: &Order<'_>) {
    let LeverKind::Rock { under_frame, .. } = order.adjuster.lever else { return };
    let side = if order.forward { Side::Right } else { Side::Left };
    let sign = if side == Side::Right { 1.0 } else { -1.0 };
    let ((x, _), (half, _)) = if under_frame { FRAME } else { BULKHEAD };
    // Between the two jacks, beside the one to raise.
    let x = x + sign * (half + 12.0 - 18.0);
    sheet.arrow((x, FLOOR_Y - 2.0), (x, FLOOR_Y - 44.0), Ink::Move);
    let (at, anchor) = if side == Side::Right { (x - 12.0, Anchor::End) } else { (x + 12.0, Anchor::Start) };
    sheet.text((at, FLOOR_Y - 12.0), anchor, Lettering::Plain, Ink::Move, &tr!("UP {amount}", amount = order.amount));
}

fn title(now: Option<Spot>, off: Option<(&Misfit, Drawn)>) -> String {
    let mut title = tr!(
        "Seen from behind, the pilot's left on the left: the forward frame and, nearer, the aft bulkhead, a level across each."
    );
    if let Some(Spot::Roll { aft, .. }) = now {
        title.push(' ');
        title.push_str(if aft { words!("Read across the aft bulkhead.") } else { words!("Read across the frame.") });
    }
    if let Some((off, drawn)) = off {
        let amount = off.amount.as_ref().filter(|_| drawn.size != 0.0).map(|amount| drawn_amount(amount, drawn));
        title.push(' ');
        title.push_str(&match (amount, low_side(drawn.size)) {
            (Some(amount), Side::Left) => tr!("The tail is twisted left side low by {amount}.", amount),
            (Some(amount), Side::Right) => tr!("The tail is twisted right side low by {amount}.", amount),
            (None, _) => tr!("The tail is not twisted."),
        });
    }
    title
}
