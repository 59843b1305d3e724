//! Where an assembly sits: a rotation and a translation, exact.

use super::space::Turn;
pub use super::space::{Displacement, Position};
use crate::quantity::Angle;

/// A small motion of an assembly, in the fixed assembly's axes.
///
/// A right-handed turn about +x (aft) raises the right side, so it is a *negative* roll; about +y (right) it lowers the
/// aft end, a *negative* pitch; about +z (up) it takes the tail to the right, a *positive* yaw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SmallMotion {
    /// Rotation vector, radians.
    pub turn: Displacement,
    /// Shift of the assembly's own origin, metres.
    pub shift: Displacement,
}

/// Pose of an assembly in the fixed assembly's frame: a point p of the assembly sits at R·p + t.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    turn: Turn,
    shift: Displacement,
}

impl Default for Pose {
    fn default() -> Self {
        Self::identity()
    }
}

impl Pose {
    /// As drawn: the assembly's stations are the fixed assembly's.
    #[must_use]
    pub fn identity() -> Self {
        Self { turn: Turn::NONE, shift: Displacement::zeros() }
    }

    /// From the angles that [`Self::pitch`], [`Self::roll`] and [`Self::yaw`] give back, and where the assembly's own
    /// origin sits (metres): R = Rz(yaw)·Ry(−pitch)·Rx(−roll).
    #[must_use]
    pub fn from_angles(pitch: Angle, roll: Angle, yaw: Angle, origin: Position) -> Self {
        let about = |axis: Displacement, angle: Angle| Turn::by(&(axis * angle.radians()));
        let level = about(Displacement::y(), -pitch).after(&about(Displacement::x(), -roll));
        Self { turn: about(Displacement::z(), yaw).after(&level), shift: origin.coords() }
    }

    /// Where a point of the assembly sits.
    #[must_use]
    pub fn place(&self, point: &Position) -> Position {
        Position::from(self.turn.turn(&point.coords()) + self.shift)
    }

    /// A direction of the assembly in the fixed assembly's axes.
    #[must_use]
    pub fn direction(&self, direction: &Displacement) -> Displacement {
        self.turn.turn(direction)
    }

    /// Where the assembly's own origin sits.
    #[must_use]
    pub fn origin(&self) -> Position {
        self.shift.into()
    }

    /// First this pose, then `after`: p ↦ after(self(p)). Exact.
    #[must_use]
    pub fn then(&self, after: &Self) -> Self {
        Self { turn: after.turn.after(&self.turn), shift: after.turn.turn(&self.shift) + after.shift }
    }

    /// The pose that undoes this one.
    #[must_use]
    pub fn inverse(&self) -> Self {
        let back = self.turn.inverse();
        Self { turn: back, shift: -back.turn(&self.shift) }
    }

    /// Perturbed by a small motion: R' = exp(turn)·R and t' = t + shift. The turn is about the assembly's own origin,
    /// in the fixed assembly's axes, and comes on the left; the shift is not turned. Any size is exact as a rotation.
    #[must_use]
    pub fn perturbed(&self, by: &SmallMotion) -> Self {
        Self { turn: Turn::by(&by.turn).after(&self.turn).renormalized(), shift: self.shift + by.shift }
    }

    /// Turned by a rotation vector (radians) about a place in the fixed assembly's frame.
    #[must_use]
    pub fn turned_about(&self, pivot: &Position, turn: &Displacement) -> Self {
        let turn = Turn::by(turn);
        self.then(&Self { turn, shift: pivot.coords() - turn.turn(&pivot.coords()) })
    }

    /// Slope of the assembly's aft axis to the fixed assembly's waterplane; aft end high is plus.
    #[must_use]
    pub fn pitch(&self) -> Angle {
        Angle::from_radians(self.direction(&Displacement::x()).z.clamp(-1.0, 1.0).asin())
    }

    /// Roll of the assembly about its own aft axis; right side low is plus.
    #[must_use]
    pub fn roll(&self) -> Angle {
        let (right, up) = (self.direction(&Displacement::y()), self.direction(&Displacement::z()));
        Angle::from_radians(-right.z.atan2(up.z))
    }

    /// Yaw in plan; tail to the right is plus.
    #[must_use]
    pub fn yaw(&self) -> Angle {
        let aft = self.direction(&Displacement::x());
        Angle::from_radians(aft.y.atan2(aft.x))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn pose(pitch: f64, roll: f64, yaw: f64, at: [f64; 3]) -> Pose {
        let degrees = Angle::from_degrees;
        Pose::from_angles(degrees(pitch), degrees(roll), degrees(yaw), at.into())
    }

    /// The trade's signs, said with points.
    #[test]
    fn signs_are_the_trades() {
        let aft_end = |pose: Pose| pose.place(&Position::new(1.0, 0.0, 0.0));
        let right_side = |pose: Pose| pose.place(&Position::new(0.0, 1.0, 0.0));
        assert!(aft_end(pose(1.0, 0.0, 0.0, [0.0; 3])).z > 0.0, "aft end high is plus");
        assert!(right_side(pose(0.0, 1.0, 0.0, [0.0; 3])).z < 0.0, "right side low is plus");
        assert!(aft_end(pose(0.0, 0.0, 1.0, [0.0; 3])).y > 0.0, "tail to the right is plus");
    }

    proptest! {
        #[test]
        fn angles_come_back(pitch in -80.0..80.0, roll in -170.0..170.0, yaw in -170.0..170.0) {
            let there = pose(pitch, roll, yaw, [0.4, 0.3, 0.9]);
            let back = [there.pitch(), there.roll(), there.yaw()].map(Angle::degrees);
            for (got, put) in back.into_iter().zip([pitch, roll, yaw]) {
                prop_assert!((got - put).abs() < 1e-9, "{got} {put}");
            }
        }

        #[test]
        fn composition_and_inverse_are_exact(angles in prop::array::uniform6(-90.0..90.0), at in prop::array::uniform9(-9.0..9.0)) {
            let [a, b, c, d, e, f] = angles;
            let one = pose(a, b, c, [at[0], at[1], at[2]]);
            let two = pose(d, e, f, [at[3], at[4], at[5]]);
            let point = Position::new(at[6], at[7], at[8]);
            prop_assert!((one.then(&two).place(&point) - two.place(&one.place(&point))).norm() < 1e-12);
            prop_assert!((one.inverse().place(&one.place(&point)) - point).norm() < 1e-12);
            let pivot = two.origin();
            let turned = one.turned_about(&pivot, &Displacement::new(0.3, -0.2, 0.1));
            let before = (one.place(&point) - pivot).norm();
            prop_assert!(((turned.place(&point) - pivot).norm() - before).abs() < 1e-12, "a turn keeps distances from its pivot");
        }

        #[test]
        fn a_small_motion_moves_a_point_by_turn_cross_arm_plus_shift(
            w in prop::array::uniform3(-1e-6..1e-6), s in prop::array::uniform3(-1e-6..1e-6), p in prop::array::uniform3(-5.0..5.0)
        ) {
            let start = pose(10.0, -20.0, 30.0, [1.0, 2.0, 3.0]);
            let (turn, shift, point) = (Displacement::from(w), Displacement::from(s), Position::from(p));
            let arm = start.place(&point) - start.origin();
            let moved = start.perturbed(&SmallMotion { turn, shift }).place(&point) - start.place(&point);
            prop_assert!((moved - (turn.cross(&arm) + shift)).norm() < 2e-11);
        }
    }
}
