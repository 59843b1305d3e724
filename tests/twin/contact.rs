//! Where the movable body comes to rest: hung at the joint, lying on two pads.
//!
//! Six conditions fix a rigid body. The middle of its upper joint stands where the gaps put it (three), the joint's two
//! corners are apart by the difference of the gaps (one), and a flat sole drawn on the body passes through two pads, left
//! and right (two). The three angles are found by Newton's method on the rotated body itself.

use super::body::{Assembly, JOINT, JOINT_HALF_WIDTH, Pose};
use super::config::SetUp;
use super::space::{Rotation, Vec3, newton3, vec3};

/// Half the width over which the pads stand apart: the saddle is 24 in wide.
pub(crate) const PAD_HALF_WIDTH: f64 = 12.0;
/// The saddle stands this far aft of the joint.
pub(crate) const SADDLE_AFT_OF_JOINT: f64 = 122.0;
/// The saddle's sole lies this far below the joint, as drawn.
pub(crate) const SADDLE_BELOW_JOINT: f64 = 30.0;
/// The block stands this far forward of the joint at the start.
pub(crate) const BLOCK_FORWARD_OF_JOINT: f64 = 74.0;
/// The block's top lies this far below the joint.
pub(crate) const BLOCK_BELOW_JOINT: f64 = 38.0;
/// Slope of the frame's lower tubes against the frame's datum, degrees, rising forward.
pub(crate) const TUBE_SLOPE_DEG: f64 = 9.0;

/// The flat underside by which the movable body lies on its pads, in drawn coordinates.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sole {
    normal: Vec3,
    through: Vec3,
}

impl Sole {
    /// As drawn: the cradle under the cone is level across and along; the tubes rise forward by their slope.
    pub(crate) fn drawn(set_up: SetUp) -> Self {
        match set_up {
            SetUp::Saddle => Self {
                normal: vec3(0.0, 0.0, 1.0),
                through: JOINT + vec3(SADDLE_AFT_OF_JOINT, 0.0, -SADDLE_BELOW_JOINT),
            },
            SetUp::Block => {
                let (sin, cos) = TUBE_SLOPE_DEG.to_radians().sin_cos();
                Self {
                    normal: vec3(sin, 0.0, cos),
                    through: JOINT + vec3(-BLOCK_FORWARD_OF_JOINT, 0.0, -BLOCK_BELOW_JOINT),
                }
            }
        }
    }

    /// The same sole lying this much lower on its body, inches.
    pub(crate) fn lowered(mut self, inches: f64) -> Self {
        self.through.wl -= inches;
        self
    }

    fn height_over(&self, drawn: Vec3) -> f64 {
        self.normal.dot(drawn - self.through)
    }
}

/// Where everything that can be set now stands.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Supports {
    /// Station of the pads.
    pub(crate) station: f64,
    /// Mean height of the pads.
    pub(crate) height: f64,
    /// Right pad over left pad.
    pub(crate) rock: f64,
    /// Opening of the upper joint, left and right, shims and skewed faces together.
    pub(crate) gaps: [f64; 2],
}

impl Supports {
    /// Pads where the drawing puts them, the joint closed.
    pub(crate) fn drawn(set_up: SetUp) -> Self {
        let through = Sole::drawn(set_up).through;
        Self { station: through.fs, height: through.wl, rock: 0.0, gaps: [0.0; 2] }
    }
}

/// Both bodies at rest, the fixed one turned by `fixed` about its own joint.
pub(crate) fn settle(set_up: SetUp, fixed: Rotation, sole: Sole, supports: Supports) -> Assembly {
    let fixed = Pose { turn: fixed, at: JOINT };
    // The cone moves aft out of the joint; the frame moves forward out of it.
    let out = match set_up {
        SetUp::Saddle => 1.0,
        SetUp::Block => -1.0,
    };
    let along = fixed.direction(vec3(out, 0.0, 0.0));
    let [left, right] = supports.gaps;
    let at = JOINT + along * f64::midpoint(left, right);
    let pads = [-1.0, 1.0]
        .map(|side: f64| vec3(supports.station, side * PAD_HALF_WIDTH, supports.height + side * supports.rock / 2.0));
    let pose = |[roll, pitch, yaw]: [f64; 3]| Pose { turn: Rotation::from_angles(roll, pitch, yaw), at };
    let angles = newton3([0.0; 3], [1e-5; 3], |angles| {
        let body = pose(angles);
        let across = body.direction(vec3(0.0, 2.0 * JOINT_HALF_WIDTH, 0.0));
        let [on_left, on_right] = pads.map(|pad| sole.height_over(body.drawn(pad)));
        [across.dot(along) - (right - left), on_left, on_right]
    });
    let moved = pose(angles);
    match set_up {
        SetUp::Saddle => Assembly { frame: fixed, cone: moved },
        SetUp::Block => Assembly { frame: moved, cone: fixed },
    }
}
