//! From readings to "what to move, which way, how far": the closed forms of mating two assemblies.
//!
//! Frames and signs, used everywhere: fuselage station grows **aft**, buttock line is **right positive** (pilot's right),
//! waterline grows **up**. A slope is positive with its **aft end high**; a roll is positive with the **right side low**;
//! a lateral offset is positive when the aft end lies to the **right**. Pitch of the cone to the frame is the slope of the
//! cone minus the slope of the frame.
//!
//! The formulas are plane geometry derived in each item's documentation; the tests check them against the trade's worked
//! figures and, as a whole, against a rigid-body twin that shares no formula with this module (`tests/mating_twin.rs`).

mod diagonals;
mod gain;
mod joint;
mod lever;
mod proposal;

pub use diagonals::{Diagonals, slope_over_base};
pub use gain::Gain;
pub use joint::{JointGaps, JointShare, SideGap, share_between_sides};
pub use lever::{Change, Lever};
pub(crate) use proposal::geometric_change;
pub use proposal::{Proposal, propose};
