//! Where a reading is taken, worked out from what the procedure says of its slot.

use crate::procedure::{Check, Formula, LeverKind, Procedure, Run, Slot, StepKind, StepState};
use crate::record::Side;

use super::misfit::{Sense, sense};

/// Where an instrument is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Spot {
    /// A protractor zeroed on one face and read on another.
    Pitch {
        /// Turned end for end.
        turned: bool,
    },
    /// A level across.
    Roll {
        /// Across the aft bulkhead, not the frame.
        aft: bool,
        /// Turned end for end.
        turned: bool,
    },
    /// A tape from the forward point of a side to the aft centre point.
    Distance(Side),
    /// A rule from the string to the aft centre point.
    String,
    /// A feeler in a corner of the joint.
    Gap(Side, Corner),
    /// A tape from the centre line to the forward point of a side.
    Twin(Side),
}

/// Upper or lower corner of a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Corner {
    Upper,
    Lower,
}

/// Where each reading of a step is taken, in order; readings that no drawing knows are left out.
pub(super) fn spots(procedure: &Procedure, run: &Run, step: &StepState) -> Vec<(String, Spot)> {
    let StepKind::Measure { check, slots, .. } = &step.step.kind else { return Vec::new() };
    let Some(check) = procedure.check(check) else { return Vec::new() };
    slots
        .iter()
        .filter_map(|slot| {
            let reread = reread(procedure, run, check, slot).unwrap_or(check);
            Some((slot.id.clone(), spot(procedure, reread, slot)?))
        })
        .collect()
}

/// The first reader's check, where the slot reads it again.
fn reread<'p>(procedure: &'p Procedure, run: &Run, check: &Check, slot: &Slot) -> Option<&'p Check> {
    let Formula::Agreement { with } = &check.formula else { return None };
    with.iter().find_map(|path| match &run.step(path)?.step.kind {
        StepKind::Measure { check, slots, .. } => {
            slots.iter().any(|first| first.id == slot.id).then(|| procedure.check(check))?
        }
        _ => None,
    })
}

/// The step in which a reading was taken first, where a check holds a second person's readings against it.
pub(super) fn read_first<'r>(run: &'r Run, check: &Check, slot: &Slot) -> Option<&'r StepState> {
    let Formula::Agreement { with } = &check.formula else { return None };
    with.iter().filter_map(|path| run.step(path)).find(|step| match &step.step.kind {
        StepKind::Measure { slots, .. } => slots.iter().any(|first| first.id == slot.id),
        _ => false,
    })
}

fn spot(procedure: &Procedure, check: &Check, slot: &Slot) -> Option<Spot> {
    if let Some(corner) = gap(procedure, slot) {
        return Some(corner);
    }
    let Formula::Balance { plus, minus, .. } = &check.formula else { return None };
    let (plus, minus) = (place(plus, slot), place(minus, slot));
    let side = || plus.map(|_| Side::Left).or(minus.map(|_| Side::Right));
    match sense(procedure, check) {
        Some(Sense::Pitch) => Some(Spot::Pitch { turned: plus? > 0 }),
        Some(Sense::Twist) => Some(Spot::Roll { aft: plus.is_some(), turned: plus.or(minus)? > 0 }),
        Some(Sense::Lateral) if check.reads_tail_directly => Some(Spot::String),
        Some(Sense::Lateral) => side().map(Spot::Distance),
        None if slot.near.as_deref() == Some(half_width(procedure)?) => side().map(Spot::Twin),
        None => None,
    }
}

fn place(slots: &[String], slot: &Slot) -> Option<usize> {
    slots.iter().position(|id| *id == slot.id)
}

fn half_width(procedure: &Procedure) -> Option<&str> {
    procedure.adjusters.iter().find_map(|adjuster| match &adjuster.lever {
        LeverKind::Joint { half_width, .. } => Some(half_width.as_str()),
        _ => None,
    })
}

/// A slot that measures a gap of the joint: upper first, then lower.
fn gap(procedure: &Procedure, slot: &Slot) -> Option<Spot> {
    procedure.adjusters.iter().find_map(|adjuster| match &adjuster.lever {
        LeverKind::Joint { side, gaps, .. } => {
            let corner = if place(gaps, slot)? == 0 { Corner::Upper } else { Corner::Lower };
            Some(Spot::Gap(*side, corner))
        }
        _ => None,
    })
}
