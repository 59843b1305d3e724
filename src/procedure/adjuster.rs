//! Adjusters in a procedure file: what may be moved, and the numbers that size its effect.

use serde::{Deserialize, Serialize};

use crate::procedure::Condition;
use crate::quantity::{Dimension, Length, Unit};
use crate::record::{Side, Specification, Units};

/// Something that may be moved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Adjuster {
    /// Its key.
    pub id: String,
    /// What it is called.
    pub title: String,
    /// Its geometry.
    pub lever: LeverKind,
    /// The smallest amount that hands can set.
    pub settable: SettableStep,
    /// What moving it the positive way is, as an order: "Slide the block forward".
    pub plus: String,
    /// The negative way: "Slide the block aft".
    pub minus: String,
    /// Every check that goes stale when it is moved: of this procedure by its key, of another one as `procedure/check`.
    pub disturbs: Vec<String>,
    /// Only there when the condition holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub only_if: Option<Condition>,
}

impl Adjuster {
    /// The item of the specification over whose length it tilts what a check reads: two heights over it tell the same angle.
    #[must_use]
    pub(super) fn base(&self, check: &str) -> Option<&str> {
        match &self.lever {
            LeverKind::Saddle { distance } | LeverKind::SlopingTube { distance, .. } => Some(distance),
            LeverKind::Rock { width, .. } => Some(width),
            LeverKind::Effects(effects) => effects.on.iter().find_map(|effect| match &effect.by {
                How::OverBase { base } if effect.check == check => Some(base.as_str()),
                _ => None,
            }),
            LeverKind::Joint { .. } => None,
        }
    }
}

/// The smallest amount that can be set by hand: a length in each system of units, or turns of a thread.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SettableStep {
    /// Inches.
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub inches: f64,
    /// Millimetres.
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub millimetres: f64,
    /// Turns: a half, where a fork's lugs must line up.
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub turns: f64,
    /// The item of the specification with the thread's pitch, for an adjuster that is counted in turns.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pitch: Option<String>,
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
fn is_nothing(amount: &f64) -> bool {
    *amount == 0.0
}

/// What an amount of an adjuster is counted in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Counted {
    /// The smallest amount, in `unit`.
    pub step: f64,
    /// The airframe's unit of length; [`Unit::One`] for turns.
    pub unit: Unit,
    /// The length of one of `unit`: of a turn, the thread's pitch.
    pub each: Length,
}

impl Counted {
    /// The smallest amount as a length.
    #[must_use]
    pub fn smallest(self) -> Length {
        self.each * self.step
    }
}

impl SettableStep {
    /// What an amount is counted in on an airframe; the missing key when the sheet lacks the thread's pitch.
    ///
    /// # Errors
    /// The key of the specification that has no length above zero.
    pub fn counted(&self, units: Units, specification: &Specification) -> Result<Counted, String> {
        if let Some(key) = &self.pitch {
            let pitch = specification.nominal(key).and_then(crate::quantity::Quantity::length);
            let each = pitch.filter(|pitch| *pitch > Length::ZERO).ok_or_else(|| key.clone())?;
            return Ok(Counted { step: self.turns, unit: Unit::One, each });
        }
        Ok(match units {
            Units::Inches => Counted { step: self.inches, unit: Unit::Inch, each: Length::from_inches(1.0) },
            Units::Millimetres => {
                Counted { step: self.millimetres, unit: Unit::Millimetre, each: Length::from_millimetres(1.0) }
            }
        })
    }
}

/// An adjuster's geometry, by the items of the specification that size it. See [`crate::alignment::Lever`].
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum LeverKind {
    /// A block that slides under a sloping tube.
    SlopingTube {
        /// Joint to block.
        distance: String,
        /// Block top below the joint.
        below: String,
        /// The tube's slope at the block as first set up, rising forward positive.
        slope: String,
    },
    /// A saddle that is raised.
    Saddle {
        /// Joint to saddle.
        distance: String,
    },
    /// A saddle that is rocked.
    Rock {
        /// Between its lifting points.
        width: String,
        /// It carries the frame, not the cone: raising a side does the opposite to the twist.
        #[serde(default, rename = "under-frame")]
        under_frame: bool,
    },
    /// One side of the joint.
    Joint {
        /// Which.
        side: Side,
        /// Between the joint's sides.
        width: String,
        /// Joint to the aft centre point.
        #[serde(rename = "to-tail")]
        to_tail: String,
        /// Half the distance between the forward points.
        #[serde(rename = "half-width")]
        half_width: String,
        /// Forward point to the aft centre point.
        distance: String,
        /// The slots that measured this side's gaps, upper and lower.
        gaps: Vec<String>,
        /// The most that any gap may be.
        limit: String,
        /// How far the aft point may lie off the centre line: what the two distances may be too weak to prove.
        offset: String,
    },
    /// What it does to each check that it serves, one at a time.
    Effects(Effects),
}

/// What moving an adjuster does to checks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Effects {
    /// By check.
    pub on: Vec<Effect>,
    /// The most that it may stand away from where it started, by the specification: a length, or turns for a thread.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most: Option<String>,
    /// Other adjusters that move the same part, by id: what they were moved counts towards `most` too.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<String>,
}

/// What moving an adjuster does to one check.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Effect {
    /// The check.
    pub check: String,
    /// By which geometry.
    pub by: How,
    /// Moving it the positive way makes the check smaller.
    #[serde(default)]
    pub reversed: bool,
}

/// The geometry of an effect; the words are keys of the specification.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum How {
    /// One end of a base is raised: the angle is atan(amount / base).
    OverBase {
        /// The base.
        base: String,
    },
    /// A length changes by the amount.
    Along,
    /// One wing of two turns by amount / spacing: the mean of left and right, and half their difference, change by half of that.
    HalfTurn {
        /// Front root to rear root.
        spacing: String,
    },
    /// A length changes by the amount × of / to.
    InRatio {
        /// What it is multiplied by.
        of: String,
        /// What it is divided by.
        to: String,
    },
    /// A part that turns about its front root when its rear root is moved sideways, read by a point's distance to a mark: amount × arm /
    /// spacing × along / distance.
    SwingToMark {
        /// From the root to the point, across.
        arm: String,
        /// Front root to rear root.
        spacing: String,
        /// From the point to the mark, along the fuselage.
        along: String,
        /// From the point to the mark, as the tape goes.
        distance: String,
    },
    /// A rod pushes the end of an arm: the angle is amount / arm.
    ThreadOnArm {
        /// The arm.
        arm: String,
    },
    /// A strut lengthened by the amount raises a station: amount / sin(elevation) × station / strut station.
    StrutRise {
        /// The strut's elevation above the horizon.
        elevation: String,
        /// From the wing's pins to the strut's fitting.
        #[serde(rename = "strut-station")]
        strut_station: String,
        /// From the wing's pins to the station.
        station: String,
    },
    /// The same rise of one spar over the distance to the other one, as an angle.
    StrutWashout {
        /// The strut's elevation above the horizon.
        elevation: String,
        /// From the wing's pins to the strut's fitting.
        #[serde(rename = "strut-station")]
        strut_station: String,
        /// From the wing's pins to the station.
        station: String,
        /// Front spar to rear spar.
        spacing: String,
    },
}

impl How {
    /// What it changes.
    #[must_use]
    pub const fn changes(&self) -> Dimension {
        match self {
            Self::OverBase { .. } | Self::HalfTurn { .. } | Self::ThreadOnArm { .. } | Self::StrutWashout { .. } => {
                Dimension::Angle
            }
            Self::Along | Self::InRatio { .. } | Self::SwingToMark { .. } | Self::StrutRise { .. } => Dimension::Length,
        }
    }

    /// The items of the specification that size it.
    #[must_use]
    pub fn keys(&self) -> Vec<&String> {
        match self {
            Self::Along => Vec::new(),
            Self::OverBase { base: only } | Self::ThreadOnArm { arm: only } | Self::HalfTurn { spacing: only } => {
                vec![only]
            }
            Self::InRatio { of, to } => vec![of, to],
            Self::SwingToMark { arm, spacing, along, distance } => vec![arm, spacing, along, distance],
            Self::StrutRise { elevation, strut_station, station } => vec![elevation, strut_station, station],
            Self::StrutWashout { elevation, strut_station, station, spacing } => {
                vec![elevation, strut_station, station, spacing]
            }
        }
    }
}
