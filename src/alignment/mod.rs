//! From readings to "what to move, which way, how far": a dozen readings adjusted together into where the assemblies sit, which of
//! them disagree, adjusters as exact effects on that, plans that bring every check in, gains learned from the answers; and the
//! closed forms of mating two assemblies.
//!
//! Frames and signs, used everywhere: fuselage station grows **aft**, buttock line is **right positive** (pilot's
//! right), waterline grows **up**. A slope is positive with its **aft end high**; a roll is positive with the **right
//! side low**; a lateral offset is positive when the aft end lies to the **right**. Pitch of the cone to the frame is
//! the slope of the cone minus the slope of the frame.
//!
//! The adjustment works in the fixed assembly's frame (x aft, y right, z up; right-handed), metres and radians. A
//! right-handed turn about +x is a negative roll, about +y a negative pitch, about +z a positive yaw.
//!
//! The closed forms are plane geometry derived in each item's documentation; the tests check them against the trade's
//! worked figures and, as a whole, against a rigid-body twin that shares no formula with this module
//! (`tests/mating_twin.rs`, `tests/coupled_twin.rs`).

mod adjust;
mod body;
mod checks;
mod effect;
mod factor;
mod free;
mod gain;
mod joint;
mod learn;
mod lever;
mod likeliest;
mod local;
mod model;
mod next;
mod observation;
mod placement;
mod plan;
mod pose;
mod pose_adjuster;
mod proposal;
mod quality;
mod search;
mod slip;
mod snoop;
mod solver;
mod space;
mod suspect;

pub use adjust::{AdjustError, Adjusted, Gravity, Network, NetworkError, adjust};
pub use body::{Assembly, Line, PointRef, Scene, SceneError, StationPoint};
pub use checks::{CheckValue, PoseCheck};
pub use effect::{Axis, Contact, Effect, Hinge};
pub use factor::Factor;
pub use free::FreeMotion;
pub use gain::Gain;
pub use joint::{JointGaps, JointShare, SideGap, share_between_sides};
pub use learn::{Cause, Earlier, Gains, Response, from_earlier};
pub use lever::{Change, Lever};
pub use next::{Candidate, Next};
pub use observation::{Observation, Observed};
pub use placement::{Layout, Level, Placement, Unknown};
pub use plan::{Aim, Answer, Blocked, Cost, Move, Outlook, Plan, Refused, Task};
pub use pose::{Displacement, Pose, Position, SmallMotion};
pub use pose_adjuster::{Dial, DialUnit, PoseAdjuster, Stop};
pub(crate) use proposal::geometric_change;
pub use proposal::{Proposal, propose, propose_shared};
pub use quality::{Checked, GlobalTest, Levels};
pub use slip::{Slip, Suspect, Taken};
pub use snoop::{Snooped, snoop};
pub use solver::{LeastSquares, NotSolved, Solved, solve};

pub use crate::rigging::Diagonals;
