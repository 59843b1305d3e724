//! Rigging: the trade's closed-form arithmetic of wings, tails, engines, wheels, controls, cables, fasteners and balance.
//!
//! Frames and signs are those of [`crate::alignment`], one floor up: fuselage station **aft**, buttock line **right**, waterline
//! **up**; pilot's left and right. A datum's slope is positive **aft end high** (so nose-up is minus), a roll **right side low**, a
//! yaw **aft side to the right**. Incidence is positive leading edge high, washout with the tip's less than the root's, sweep tips
//! aft, dihedral tips up, down- and right-thrust as their names, toe-in front of the wheel inboard, camber top outboard, a fin's lean
//! top to the right, a thread turned out (longer).
//!
//! What has an uncertainty is an [`crate::metrology::Estimate`] in its own unit, and formulas convert; what is set or given is a
//! `Length` or an `Angle`. Nothing panics: what has no answer is an error that says why.
//!
//! Deliberately absent: tolerances (they are the kit's), a conversion table of any tensiometer (it belongs to the instrument), a word
//! that a part is fit to fly.

mod blind;
mod bolt;
mod cable;
mod diagonals;
mod drill;
mod edge;
mod envelope;
mod error;
mod fin;
mod gear;
mod incidence;
mod loading;
mod prop;
mod reckoning;
mod rivet;
mod shim;
mod square;
mod strut;
mod surface_balance;
mod thread;
mod thrust;
mod torque;
mod travel;
mod weighing;
mod wing;
mod wrench;

pub use blind::{BlindRivet, GripError, Range};
pub use bolt::{Bolt, BoltError, BoltSeries};
pub use cable::{CableError, TensiometerTable, TensionChart, ThreadsShowing, plus_minus, turnbuckle_shortens};
pub use diagonals::Diagonals;
pub use drill::Drill;
pub use edge::{COUNTERSUNK, EdgeVerdict, LEAST_PITCH, Layer, MOST_PITCH, PROTRUDING, judge_edges};
pub use envelope::{Corner, Envelope, EnvelopeError, Margin, Outside, Placed};
pub use error::RiggingError;
pub use fin::{FinTop, pack_right};
pub use gear::{Stance, WheelStraightedge, wedge};
pub use incidence::{LimitsAbout, OnBlock, TwoHeights, limits_about, raise_rear, shown_askew};
pub use loading::{Place, Toward, extreme, extreme_about};
pub use prop::{BladeAndFlange, Track, TrackLimit};
pub use reckoning::{Given, Reckoning, reckoning, reckonings};
pub use rivet::{HeadRule, SolidRivet};
pub use shim::{Stack, lift_for, stack_for, turn_by};
pub use square::{MarkAt, SquareTo};
pub use strut::{Pin, Strut};
pub use surface_balance::{HeavyEnd, hinge_moment, set_back};
pub use thread::{ThreadedEnd, TurnError, Turning, length_for, turn_per_turn};
pub use thrust::{BladeSwing, Feet, ThrustChange, UnderFeet, change_by, down_thrust, under_feet};
pub use torque::{Nut, ThreadTorque, TorqueRange};
pub use travel::{
    TakenAs, Travel, TravelError, across_swept_hinge, deflection_of, distance_of, flap_differences, from_neutral,
    square_to_hinge,
};
pub use weighing::{Balance, BalanceError, Item, MeanChord, OnScale, ThirdWheel, from_third_wheel};
pub use wing::{
    PanelAngles, TipOffsets, TipRise, dihedral_under_string, gap_under_level, left_less_right, rear_root_outboard,
    slope_under_level, washout,
};
pub use wrench::Adapter;
