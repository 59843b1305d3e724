//! An adjuster's geometry filled in with an airframe's numbers and with what has happened in the run so far.

use crate::alignment::Lever;
use crate::procedure::{Adjuster, Check, Effects, How, LeverKind};
use crate::quantity::{Angle, Length, Quantity};
use crate::record::{Side, Specification};

/// Where a sloping tube and its block stand now compared with the set-up that the specification describes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct SinceSetUp {
    /// How far the block has been slid in all, forward positive.
    pub(super) slid: Length,
    /// How far the pitch has turned in all, which is how far the tube has turned.
    pub(super) turned: Angle,
}

/// Numbers of the sheet, with what is missing.
struct Sheet<'s> {
    specification: &'s Specification,
    missing: Vec<String>,
}

impl Sheet<'_> {
    /// A length. A lever of no length moves nothing: as good as not entered.
    fn length(&mut self, key: &str) -> Length {
        let found = self.specification.nominal(key).and_then(Quantity::length);
        found.filter(|length| *length > Length::ZERO).unwrap_or_else(|| self.lacks(key, Length::ZERO))
    }

    fn angle(&mut self, key: &str) -> Angle {
        let found = self.specification.nominal(key).and_then(Quantity::angle);
        found.unwrap_or_else(|| self.lacks(key, Angle::ZERO))
    }

    fn lacks<T>(&mut self, key: &str, instead: T) -> T {
        self.missing.push(key.to_owned());
        instead
    }
}

/// The adjuster's lever as it acts on a check, or the keys of the specification that are missing; none are named when it does not
/// act on the check.
pub(super) fn lever_of(
    check: &Check,
    adjuster: &Adjuster,
    specification: &Specification,
    since: SinceSetUp,
) -> Result<Lever, Vec<String>> {
    let mut sheet = Sheet { specification, missing: Vec::new() };
    let lever = match &adjuster.lever {
        LeverKind::SlopingTube { distance, below, slope } => Lever::SlopingTube {
            distance: sheet.length(distance) + since.slid,
            below_joint: sheet.length(below),
            slope: sheet.angle(slope) + since.turned,
        },
        LeverKind::Saddle { distance } => Lever::Saddle { distance: sheet.length(distance) },
        LeverKind::Rock { width, .. } => Lever::Rock { width: sheet.length(width) },
        LeverKind::Joint { width, to_tail, half_width, distance, .. } => {
            let (width, to_tail, distance) = (sheet.length(width), sheet.length(to_tail), sheet.length(distance));
            // Read directly, the tail's swing is the change itself: 2a / D̄ = 1.
            let half_width = if check.reads_tail_directly { distance / 2.0 } else { sheet.length(half_width) };
            Lever::Joint { width, to_tail, half_width, distance }
        }
        LeverKind::Effects(effects) => effects
            .on
            .iter()
            .find(|effect| effect.check == check.id)
            .map(|effect| sheet.effect(&effect.by))
            .ok_or_else(Vec::new)?,
    };
    if sheet.missing.is_empty() { Ok(lever) } else { Err(sheet.missing) }
}

impl Sheet<'_> {
    fn effect(&mut self, by: &How) -> Lever {
        match by {
            How::OverBase { base } => Lever::Saddle { distance: self.length(base) },
            How::HalfTurn { spacing } => Lever::Turn { arm: self.length(spacing) * 2.0 },
            How::Along => Lever::Shift { ratio: 1.0 },
            How::InRatio { of, to } => Lever::Shift { ratio: self.length(of) / self.length(to) },
            How::SwingToMark { arm, spacing, along, distance } => {
                let swing = self.length(arm) / self.length(spacing);
                Lever::Shift { ratio: swing * (self.length(along) / self.length(distance)) }
            }
            How::ThreadOnArm { arm } => Lever::Turn { arm: self.length(arm) },
            How::StrutRise { elevation, strut_station, station } => {
                Lever::Shift { ratio: self.rise(elevation, strut_station, station) }
            }
            How::StrutWashout { elevation, strut_station, station, spacing } => {
                let rise = self.rise(elevation, strut_station, station);
                Lever::Turn { arm: self.length(spacing) / rise }
            }
        }
    }

    /// Rise of a station for each length of the strut.
    fn rise(&mut self, elevation: &str, strut_station: &str, station: &str) -> f64 {
        let sine = self.angle(elevation).sin();
        if sine <= 0.0 && !self.missing.iter().any(|key| key == elevation) {
            self.missing.push(elevation.to_owned());
        }
        self.length(station) / self.length(strut_station) / sine
    }
}

/// The amount as the lever counts it on a check: the lever of a joint counts the right side opened as positive, so that a left side
/// opened counts negative; raising a side of the frame's support turns the twist the other way from raising the cone's; and an effect
/// may be reversed. The same turns it back.
pub(super) fn along_lever(adjuster: &Adjuster, check: &str, amount: Length) -> Length {
    match &adjuster.lever {
        LeverKind::Joint { side: Side::Left, .. } | LeverKind::Rock { under_frame: true, .. } => -amount,
        LeverKind::Effects(Effects { on, .. }) if on.iter().any(|effect| effect.check == check && effect.reversed) => {
            -amount
        }
        _ => amount,
    }
}
