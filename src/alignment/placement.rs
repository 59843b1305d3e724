//! Everything that an adjustment does not know: where the assemblies sit, which way is up, how high the level planes are.

use nalgebra::DVector;

use super::{Displacement, PointRef, Pose, Position, Scene, SmallMotion};
use crate::quantity::Angle;

/// Which way gravity points, as a protractor reads it off the fixed assembly.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Level {
    /// Slope of the fixed assembly's station axis to level; aft end high is plus.
    pub slope: Angle,
    /// Slope of its buttock-line axis to level; right side low is plus.
    pub roll: Angle,
}

impl Level {
    /// The unit vector up in the fixed assembly's axes: x·up = sin(slope), y·up = −sin(roll). NaN beyond what the two
    /// can be together.
    #[must_use]
    pub fn up(self) -> Displacement {
        let (x, y) = (self.slope.radians().sin(), -self.roll.radians().sin());
        Displacement::new(x, y, (1.0 - x * x - y * y).sqrt())
    }

    /// Derivatives of [`Self::up`] by slope and roll, per radian.
    pub(super) fn up_derivatives(self) -> [Displacement; 2] {
        let up = self.up();
        let (by_slope, by_roll) = (self.slope.radians().cos(), -self.roll.radians().cos());
        [
            Displacement::new(by_slope, 0.0, -up.x * by_slope / up.z),
            Displacement::new(0.0, by_roll, -up.y * by_roll / up.z),
        ]
    }
}

/// Where everything sits.
#[derive(Clone, Debug, PartialEq)]
pub struct Placement {
    /// One pose for each assembly of the scene; the fixed one's is the identity.
    pub poses: Vec<Pose>,
    /// Which way is up.
    pub level: Level,
    /// Height of each level plane (a laser's, a water level's) over the fixed assembly's origin, along up, metres.
    pub planes: Vec<f64>,
}

impl Placement {
    /// Everything as drawn and level, every plane at the height zero.
    #[must_use]
    pub fn as_drawn(scene: &Scene, planes: usize) -> Self {
        Self {
            poses: vec![Pose::identity(); scene.assemblies().len()],
            level: Level::default(),
            planes: vec![0.0; planes],
        }
    }

    /// Where a point sits, in the fixed assembly's frame.
    #[must_use]
    pub fn place(&self, scene: &Scene, point: PointRef) -> Position {
        self.poses[point.assembly].place(&scene.point(point).at)
    }
}

/// One unknown of an adjustment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unknown {
    /// Rotation of an assembly about an axis (0 aft, 1 right, 2 up) of the fixed frame, right-handed, about its own
    /// origin; radians.
    Turn(usize, usize),
    /// Shift of an assembly along an axis; metres.
    Shift(usize, usize),
    /// Slope of the fixed assembly to level; radians, aft end high.
    LevelSlope,
    /// Roll of the fixed assembly to level; radians, right side low.
    LevelRoll,
    /// Height of a level plane; metres.
    Plane(usize),
}

/// Which unknown stands where: six of each assembly that is not fixed (turn, then shift), then level, then the planes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    /// Place of each assembly's first unknown; none for the fixed one.
    pub(super) assemblies: Vec<Option<usize>>,
    /// Place of the level's first unknown, where it is unknown.
    pub(super) level: Option<usize>,
    /// Place of the first plane.
    pub(super) planes: usize,
    unknowns: usize,
}

impl Layout {
    /// For a scene, with or without an unknown level, and a number of level planes.
    #[must_use]
    pub fn new(scene: &Scene, level_unknown: bool, planes: usize) -> Self {
        let mut next = 0;
        let mut take = |count| {
            next += count;
            next - count
        };
        let place = |(at, _)| if at == scene.fixed() { None } else { Some(take(6)) };
        let assemblies = scene.assemblies().iter().enumerate().map(place).collect();
        let level = level_unknown.then(|| take(2));
        let first = take(planes);
        Self { assemblies, level, planes: first, unknowns: next }
    }

    /// Everything known: for values without derivatives.
    pub(super) fn nothing_unknown(scene: &Scene) -> Self {
        Self { assemblies: vec![None; scene.assemblies().len()], level: None, planes: 0, unknowns: 0 }
    }

    /// How many unknowns.
    #[must_use]
    pub fn len(&self) -> usize {
        self.unknowns
    }

    /// Whether nothing is unknown.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.unknowns == 0
    }

    /// The place of an unknown.
    #[must_use]
    pub fn place(&self, unknown: Unknown) -> Option<usize> {
        let of = |assembly: usize| self.assemblies.get(assembly).copied().flatten();
        match unknown {
            Unknown::Turn(assembly, axis) => Some(of(assembly)? + axis),
            Unknown::Shift(assembly, axis) => Some(of(assembly)? + 3 + axis),
            Unknown::LevelSlope => self.level,
            Unknown::LevelRoll => self.level.map(|place| place + 1),
            Unknown::Plane(plane) => Some(self.planes + plane).filter(|place| *place < self.unknowns),
        }
    }

    /// The placement one step further: each pose [`Pose::perturbed`], level and planes added to.
    #[must_use]
    pub fn step(&self, from: &Placement, by: &DVector<f64>) -> Placement {
        let mut to = from.clone();
        for (pose, place) in to.poses.iter_mut().zip(&self.assemblies) {
            if let Some(at) = *place {
                let three = |at: usize| Displacement::new(by[at], by[at + 1], by[at + 2]);
                *pose = pose.perturbed(&SmallMotion { turn: three(at), shift: three(at + 3) });
            }
        }
        if let Some(at) = self.level {
            to.level.slope += Angle::from_radians(by[at]);
            to.level.roll += Angle::from_radians(by[at + 1]);
        }
        for (height, part) in to.planes.iter_mut().zip(by.iter().skip(self.planes)) {
            *height += part;
        }
        to
    }
}
