//! The airframe's own dimensions, as shares of the joint-to-tail length, kept where a drawing can still be read.

use crate::procedure::{Adjuster, LeverKind, Procedure};
use crate::quantity::Quantity;
use crate::record::Airframe;

/// How the two assemblies are carried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum SetUp {
    /// The frame on trestles, the cone in a saddle.
    Saddle {
        /// Joint to saddle.
        at: f64,
    },
    /// The cone on the bench, the frame on a block under its lower tube.
    Block {
        /// Joint to block, with what it was slid since.
        at: f64,
        /// The tube below the joint where the block was first put, and where that was.
        below: f64,
        first_at: f64,
        /// The tube's slope in degrees, rising forward positive.
        slope: f64,
    },
}

/// Shares of the joint-to-tail length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Proportions {
    /// Length of the frame, from the joint to the forward points.
    pub(super) frame: f64,
    /// Half the joint's width as a share of the forward points' half-width.
    pub(super) joint_half: f64,
    /// How it is carried.
    pub(super) set_up: SetUp,
    /// Every number was there and none had to be bent for the drawing.
    pub(super) to_scale: bool,
}

/// Takes numbers out of a specification and remembers whether one was missing or had to be bent.
struct Reader<'a> {
    airframe: &'a Airframe,
    to_scale: bool,
}

impl Reader<'_> {
    fn length(&mut self, key: &str) -> Option<f64> {
        let found = length(self.airframe, key);
        self.to_scale &= found.is_some();
        found
    }

    /// The share if there is one and it can be drawn, else the nearest that can.
    fn share(&mut self, share: Option<f64>, usual: f64, (least, most): (f64, f64)) -> f64 {
        let share = share.filter(|share| share.is_finite());
        self.to_scale &= share.is_some_and(|share| (least..=most).contains(&share));
        share.unwrap_or(usual).clamp(least, most)
    }
}

/// A positive length of the specification in metres.
pub(super) fn length(airframe: &Airframe, key: &str) -> Option<f64> {
    let metres = airframe.specification.nominal(key)?.length()?.metres();
    (metres.is_finite() && metres > 0.0).then_some(metres)
}

/// Whether an adjuster is there on this airframe.
pub(super) fn there(adjuster: &Adjuster, airframe: &Airframe) -> bool {
    adjuster
        .only_if
        .as_ref()
        .is_none_or(|condition| airframe.specification.words(&condition.key) == Some(condition.is.as_str()))
}

/// The airframe's proportions; `slid` is how far the block was slid forward since it was first put, in metres.
pub(super) fn proportions(procedure: &Procedure, airframe: &Airframe, slid: f64) -> Proportions {
    let mut reader = Reader { airframe, to_scale: true };
    let joint = procedure.adjusters.iter().find_map(|adjuster| match &adjuster.lever {
        LeverKind::Joint { width, to_tail, half_width, distance, .. } => Some((width, to_tail, half_width, distance)),
        _ => None,
    });
    let (mut tail, mut forward, mut joint_half) = (None, None, None);
    if let Some((width, to_tail, half_width, distance)) = joint {
        let (width, half) = (reader.length(width), reader.length(half_width));
        tail = reader.length(to_tail);
        // The distance runs aslant: its share along the centre line, height left aside.
        forward = reader.length(distance).zip(half).map(|(long, half)| (long * long - half * half).max(0.0).sqrt());
        joint_half = width.zip(half).map(|(width, half)| width / (2.0 * half));
    }
    let frame = reader.share(forward.zip(tail).map(|(forward, tail)| forward / tail - 1.0), 0.6, (0.4, 1.1));
    let joint_half = reader.share(joint_half, 0.95, (0.4, 1.15));
    let set_up = set_up(procedure, airframe, &mut reader, tail, frame, slid);
    Proportions { frame, joint_half, set_up, to_scale: reader.to_scale }
}

fn set_up(
    procedure: &Procedure,
    airframe: &Airframe,
    reader: &mut Reader<'_>,
    tail: Option<f64>,
    frame: f64,
    slid: f64,
) -> SetUp {
    for adjuster in procedure.adjusters.iter().filter(|adjuster| there(adjuster, airframe)) {
        match &adjuster.lever {
            LeverKind::Saddle { distance } => {
                let at = reader.length(distance).zip(tail).map(|(at, tail)| at / tail);
                return SetUp::Saddle { at: reader.share(at, 0.86, (0.3, 0.9)) };
            }
            LeverKind::SlopingTube { distance, below, slope } => {
                let (distance, below) = (reader.length(distance).zip(tail), reader.length(below).zip(tail));
                let first_at = distance.map(|(at, tail)| at / tail);
                let at = distance.map(|(at, tail)| (at + slid) / tail);
                let slope =
                    airframe.specification.nominal(slope).and_then(Quantity::angle).map(|angle| angle.degrees());
                let reach = (frame * 0.3, frame * 0.95);
                let below = reader.share(below.map(|(below, tail)| below / tail), 0.25, (0.16, 0.32));
                let first_at = reader.share(first_at, frame * 0.8, reach);
                let slope = reader.share(slope, 8.0, (-12.0, 12.0));
                return SetUp::Block { at: reader.share(at, first_at, reach), below, first_at, slope };
            }
            LeverKind::Rock { .. } | LeverKind::Joint { .. } | LeverKind::Effects(_) => {}
        }
    }
    reader.to_scale = false;
    SetUp::Saddle { at: 0.86 }
}
