//! What moving an adjuster does to where an assembly sits: exact rigid geometry.
//!
//! Supports hold an assembly so that one adjuster leaves it one freedom: a turn about a hinge line through the points that stay
//! put. Each contact is then one condition on the angle θ of that turn, and for every kind here it has the form
//! A·(cos θ − 1) + B·sin θ = Δ (Rodrigues' rotation formula; plane geometry after that). With t = tan(θ/2) it is
//! (2A + Δ)t² − 2Bt + Δ = 0, whose root next to zero is t = Δ / (B ± √(B² − Δ(2A + Δ))) with the sign of B. No small angles.

use super::{Displacement, Placement, PointRef, Position, Scene};
use crate::quantity::Length;

/// Which way a hinge line runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Axis {
    /// Through another point.
    Toward(PointRef),
    /// Along a direction in the axes of an assembly (its place in the scene): it turns with that assembly.
    Along(usize, Displacement),
}

/// The line about which an assembly turns when an adjuster is moved, where it lies at that moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hinge {
    /// A point on it.
    pub through: PointRef,
    /// Its direction.
    pub axis: Axis,
}

/// What the adjuster holds. Amounts are metres; their plus is said at each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Contact {
    /// A point of the assembly is driven along a direction (unit vector, fixed assembly's axes): one side of a joint opened, or its
    /// top or bottom; a shim or washers at one point; a hinge's rod end. **Plus: along the direction.**
    Drive {
        /// The point that is driven.
        point: PointRef,
        /// Which way is plus.
        along: Displacement,
    },
    /// The distance between a point of the assembly and an anchor: a strut, a push rod, a turnbuckle's cable. **Plus: longer.**
    Span {
        /// The assembly's end.
        point: PointRef,
        /// The other end.
        anchor: PointRef,
    },
    /// A flat or a tube of the assembly lies on a pad that is moved: a block slid under a sloping tube, a saddle raised, a shim on a
    /// trestle. **Plus: the pad moves along the direction.** The surface's slope is what makes a slide lift.
    Pad {
        /// Where the pad touches at the setting zero, fixed assembly's frame.
        at: Position,
        /// Which way is plus (unit vector, fixed assembly's axes).
        along: Displacement,
        /// The assembly (its place in the scene) that the surface belongs to.
        assembly: usize,
        /// The surface's normal in that assembly's axes.
        normal: Displacement,
    },
    /// A flat of the assembly lies on two pads that are moved by half the amount each, one up and one down: a saddle that rocks, a
    /// block shimmed on one side. **Plus: the right pad goes up over the left.**
    Rock {
        /// From the left pad to the right one at the setting zero, fixed assembly's axes.
        across: Displacement,
        /// Up (unit vector, fixed assembly's axes).
        up: Displacement,
        /// The assembly that the surface belongs to.
        assembly: usize,
        /// The surface's normal in that assembly's axes.
        normal: Displacement,
    },
}

/// What an adjuster does.
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Assemblies turn about a hinge until the contact holds again.
    Turn {
        /// The places in the scene of all that move together.
        carried: Vec<usize>,
        /// What they turn about.
        hinge: Hinge,
        /// What is set.
        contact: Contact,
    },
    /// Assemblies shift without turning: the same washers under every foot.
    Shift {
        /// The places in the scene of all that move together.
        carried: Vec<usize>,
        /// Which way is plus (unit vector, fixed assembly's axes).
        along: Displacement,
    },
}

impl Effect {
    /// Moves the assemblies in `at` by `amount`, the adjuster standing at `setting` before. `None`, with `at` untouched, where the
    /// geometry has no answer: the pad leaves the surface, the strut is too long, the hinge line passes through the contact.
    #[must_use]
    pub fn apply(&self, scene: &Scene, at: &mut Placement, setting: Length, amount: Length) -> Option<()> {
        match self {
            Self::Shift { carried, along } => {
                let shift = super::SmallMotion { turn: Displacement::zeros(), shift: *along * amount.metres() };
                for &assembly in carried {
                    at.poses[assembly] = at.poses[assembly].perturbed(&shift);
                }
            }
            Self::Turn { carried, hinge, contact } => {
                let pivot = at.place(scene, hinge.through);
                let axis = match hinge.axis {
                    Axis::Toward(point) => at.place(scene, point) - pivot,
                    Axis::Along(assembly, direction) => at.poses[assembly].direction(&direction),
                };
                let axis = axis.try_normalize(1e-9)?;
                let turn = axis * contact.angle(scene, at, pivot, &axis, setting.metres(), amount.metres())?;
                for &assembly in carried {
                    at.poses[assembly] = at.poses[assembly].turned_about(&pivot, &turn);
                }
            }
        }
        Some(())
    }
}

impl Contact {
    /// The turn about `axis` (radians, right-handed) that an amount asks for.
    fn angle(
        &self,
        scene: &Scene,
        at: &Placement,
        pivot: Position,
        axis: &Displacement,
        setting: f64,
        amount: f64,
    ) -> Option<f64> {
        match self {
            // n·(R(θ)v − v) = amount
            Self::Drive { point, along } => solve(along, axis, &(at.place(scene, *point) - pivot), 1.0, amount),
            // |R(θ)v − w| = L + amount, so w·(R(θ)v − v) = (L² − (L + amount)²) / 2
            Self::Span { point, anchor } => {
                let (v, w) = (at.place(scene, *point) - pivot, at.place(scene, *anchor) - pivot);
                let length = (v - w).norm();
                let gained = -amount * (2.0 * length + amount) / 2.0;
                if length + amount > 0.0 { solve(&w, axis, &v, 1.0, gained) } else { None }
            }
            // The surface turned by θ touches the moved pad: n·R(−θ)q' = n·q
            Self::Pad { at: zero, along, assembly, normal } => {
                let moved = *zero + *along * (setting + amount) - pivot;
                let normal = at.poses[*assembly].direction(normal);
                solve(&normal, axis, &moved, -1.0, -normal.dot(along) * amount)
            }
            // The same with the line from pad to pad in place of the pad.
            Self::Rock { across, up, assembly, normal } => {
                let moved = *across + *up * (setting + amount);
                let normal = at.poses[*assembly].direction(normal);
                solve(&normal, axis, &moved, -1.0, -normal.dot(up) * amount)
            }
        }
    }
}

/// The θ next to zero with n·(R(sense·θ)v − v) = gained, R a turn about the unit vector k: A = n·v − (n·k)(k·v), B = n·(k × v).
fn solve(n: &Displacement, k: &Displacement, v: &Displacement, sense: f64, gained: f64) -> Option<f64> {
    if gained == 0.0 {
        return Some(0.0);
    }
    let (a, b) = (n.dot(v) - n.dot(k) * k.dot(v), sense * n.dot(&k.cross(v)));
    let root = (b * b - gained * (2.0 * a + gained)).sqrt();
    // A contact on the hinge line, or straight above it, has no hold: B is nothing beside the arm.
    let holds = b.abs() > 1e-6 * n.norm() * v.norm() && root.is_finite();
    holds.then(|| 2.0 * (gained / (b + root.copysign(b))).atan())
}

#[cfg(test)]
#[path = "effect_tests.rs"]
mod tests;
