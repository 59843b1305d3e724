//! An adjuster's geometry filled in with an airframe's numbers and with what has happened in the run so far.

use crate::alignment::Lever;
use crate::procedure::{Adjuster, Check, LeverKind};
use crate::quantity::{Angle, Length};
use crate::record::{Side, Specification};

/// Where a sloping tube and its block stand now compared with the set-up that the specification describes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct SinceSetUp {
    /// How far the block has been slid in all, forward positive.
    pub(super) slid: Length,
    /// How far the pitch has turned in all, which is how far the tube has turned.
    pub(super) turned: Angle,
}

/// The adjuster's lever as it acts on a check, or the keys of the specification that are missing.
pub(super) fn lever_of(
    check: &Check,
    adjuster: &Adjuster,
    specification: &Specification,
    since: SinceSetUp,
) -> Result<Lever, Vec<String>> {
    let mut missing = Vec::new();
    let mut length = |key: &str| {
        let found = specification.nominal(key).and_then(crate::quantity::Quantity::length);
        // A lever of no length moves nothing: as good as not entered.
        found.filter(|length| *length > Length::ZERO).unwrap_or_else(|| {
            missing.push(key.to_owned());
            Length::ZERO
        })
    };
    let lever = match &adjuster.lever {
        LeverKind::SlopingTube { distance, below, slope } => {
            let (distance, below_joint) = (length(distance) + since.slid, length(below));
            let measured = specification.nominal(slope).and_then(crate::quantity::Quantity::angle);
            if measured.is_none() {
                missing.push(slope.clone());
            }
            Lever::SlopingTube { distance, below_joint, slope: measured.unwrap_or_default() + since.turned }
        }
        LeverKind::Saddle { distance } => Lever::Saddle { distance: length(distance) },
        LeverKind::Rock { width, .. } => Lever::Rock { width: length(width) },
        LeverKind::Joint { width, to_tail, half_width, distance, .. } => {
            let (width, to_tail, distance) = (length(width), length(to_tail), length(distance));
            // Read directly, the tail's swing is the change itself: 2a / D̄ = 1.
            let half_width = if check.reads_tail_directly { distance / 2.0 } else { length(half_width) };
            Lever::Joint { width, to_tail, half_width, distance }
        }
    };
    if missing.is_empty() { Ok(lever) } else { Err(missing) }
}

/// The amount as the lever counts it: the lever of a joint counts the right side opened as positive, so that a left side
/// opened counts negative; and raising a side of the frame's support turns the twist the other way from raising the cone's.
pub(super) fn along_lever(adjuster: &Adjuster, amount: Length) -> Length {
    match adjuster.lever {
        LeverKind::Joint { side: Side::Left, .. } | LeverKind::Rock { under_frame: true, .. } => -amount,
        _ => amount,
    }
}
