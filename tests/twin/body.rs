//! The two rigid bodies and their station points: the invented Veldrin H2, inches, pilot's left and right.

use super::space::{Rotation, Vec3, vec3};

/// The pilot's left or right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    Left,
    Right,
}

impl Side {
    /// Buttock lines are negative on the left.
    pub(crate) fn sign(self) -> f64 {
        match self {
            Self::Left => -1.0,
            Self::Right => 1.0,
        }
    }
}

/// Half the joint's width at the upper corners.
pub(crate) const JOINT_HALF_WIDTH: f64 = 16.5;
/// Half the joint's width at the lower corners.
pub(crate) const LOWER_JOINT_HALF_WIDTH: f64 = 15.5;
/// Height between the upper and the lower joint corners.
pub(crate) const JOINT_HEIGHT: f64 = 38.0;
/// The middle of the upper joint, on both bodies as drawn.
pub(crate) const JOINT: Vec3 = vec3(121.0, 0.0, 90.0);
/// What the manual asks of the cone's upper longeron against the frame, side view, degrees.
pub(crate) const NOMINAL_PITCH_DEG: f64 = -2.6;

/// TP1: frame, lower firewall corner.
pub(crate) fn firewall_corner(side: Side) -> Vec3 {
    vec3(37.0, 17.25 * side.sign(), 52.0)
}

/// TP2: lower joint corner, on both bodies as drawn.
pub(crate) fn lower_joint(side: Side) -> Vec3 {
    vec3(121.0, LOWER_JOINT_HALF_WIDTH * side.sign(), 52.0)
}

/// TP5: upper joint corner, on both bodies as drawn.
pub(crate) fn upper_joint(side: Side) -> Vec3 {
    JOINT + vec3(0.0, JOINT_HALF_WIDTH * side.sign(), 0.0)
}

/// End of a straight 10 ft bar laid across the front wing pins (TP3): their station and waterline, BL ±60.
pub(crate) fn bar_end(side: Side) -> Vec3 {
    vec3(70.5, 60.0 * side.sign(), 101.0)
}

/// TP6: the centre punch in the tail post.
pub(crate) const TAIL_POST: Vec3 = vec3(263.0, 0.0, 71.0);

/// TP7: cone aft bulkhead, upper corner.
pub(crate) fn aft_bulkhead(side: Side) -> Vec3 {
    vec3(247.0, 5.25 * side.sign(), 84.278)
}

/// A rigid body somewhere: where each of its drawn points is now. `at` is where the drawn joint middle stands.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pose {
    pub(crate) turn: Rotation,
    pub(crate) at: Vec3,
}

impl Pose {
    /// The world position of a point given as drawn.
    pub(crate) fn point(&self, drawn: Vec3) -> Vec3 {
        self.at + self.turn.apply(drawn - JOINT)
    }

    /// The world direction of a direction given as drawn.
    pub(crate) fn direction(&self, drawn: Vec3) -> Vec3 {
        self.turn.apply(drawn)
    }

    /// Where a world point lies in this body's own drawn coordinates.
    pub(crate) fn drawn(&self, world: Vec3) -> Vec3 {
        JOINT + self.turn.inverse().apply(world - self.at)
    }
}

/// Both bodies as they stand.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Assembly {
    pub(crate) frame: Pose,
    pub(crate) cone: Pose,
}

impl Assembly {
    /// A cone point in the frame's own coordinates.
    pub(crate) fn cone_in_frame(&self, drawn: Vec3) -> Vec3 {
        self.frame.drawn(self.cone.point(drawn))
    }

    /// A cone direction in the frame's own coordinates.
    pub(crate) fn cone_direction_in_frame(&self, drawn: Vec3) -> Vec3 {
        self.frame.turn.inverse().apply(self.cone.direction(drawn))
    }

    /// Side-view slope of the cone against the frame minus the manual's, degrees, tail high +.
    pub(crate) fn pitch_error_deg(&self) -> f64 {
        let axis = self.cone_direction_in_frame(vec3(1.0, 0.0, 0.0));
        axis.wl.atan2(axis.fs).to_degrees()
    }

    /// Roll of the cone's cross-members against the frame's, degrees, right side low +.
    pub(crate) fn twist_deg(&self) -> f64 {
        let across = self.cone_direction_in_frame(vec3(0.0, 1.0, 0.0));
        (-across.wl).atan2(across.bl).to_degrees()
    }

    /// How far the tail post lies from the frame's centre plane, inches, right +.
    pub(crate) fn tail_offset(&self) -> f64 {
        self.cone_in_frame(TAIL_POST).bl
    }

    /// Straight distance from a frame point to the tail post, inches.
    pub(crate) fn tail_post_from(&self, frame_point: Vec3) -> f64 {
        (self.cone.point(TAIL_POST) - self.frame.point(frame_point)).length()
    }

    /// Opening between a frame corner and the cone corner drawn at the same place, along the frame, inches.
    pub(crate) fn opening(&self, drawn: Vec3) -> f64 {
        self.cone_in_frame(drawn).fs - drawn.fs
    }
}
