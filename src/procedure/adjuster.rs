//! Adjusters in a procedure file: what may be moved, and the numbers that size its effect.

use serde::{Deserialize, Serialize};

use crate::procedure::Condition;
use crate::quantity::{Length, Unit};
use crate::record::{Side, Units};

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
    /// Every check that goes stale when it is moved.
    pub disturbs: Vec<String>,
    /// Only there when the condition holds.
    #[serde(default)]
    pub only_if: Option<Condition>,
}

/// The smallest amount that can be set by hand, in each system of units.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SettableStep {
    /// Inches.
    pub inches: f64,
    /// Millimetres.
    pub millimetres: f64,
}

impl SettableStep {
    /// In the airframe's unit: the step and its size.
    #[must_use]
    pub fn in_units(self, units: Units) -> (f64, Unit, Length) {
        match units {
            Units::Inches => (self.inches, Unit::Inch, Length::from_inches(self.inches)),
            Units::Millimetres => (self.millimetres, Unit::Millimetre, Length::from_millimetres(self.millimetres)),
        }
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
}
