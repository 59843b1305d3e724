//! Positions, displacements and turns in a frame. Written out by component: the plan and the adjustment work out some
//! hundred thousand of these for one set of readings, on a phone, from code that is compiled for size.

use std::iter::Sum;
use std::ops::{Add, Div, Index, IndexMut, Mul, Neg, Sub};

/// A position in a frame: station aft, buttock line right, waterline up; metres. Two positions cannot be added.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Position {
    /// Station, aft.
    pub x: f64,
    /// Buttock line, right.
    pub y: f64,
    /// Waterline, up.
    pub z: f64,
}

/// A displacement or a direction along the same axes, metres; or a rotation vector (axis times angle, right-handed),
/// radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Displacement {
    /// Aft.
    pub x: f64,
    /// Right.
    pub y: f64,
    /// Up.
    pub z: f64,
}

impl Position {
    /// From its coordinates.
    #[must_use]
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }

    /// Where all three are zero.
    #[must_use]
    pub const fn origin() -> Self {
        Self::new(0.0, 0.0, 0.0)
    }

    /// From the origin to here.
    #[must_use]
    #[inline(always)]
    pub const fn coords(&self) -> Displacement {
        Displacement::new(self.x, self.y, self.z)
    }
}

impl Displacement {
    /// From its components.
    #[must_use]
    #[inline(always)]
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }

    /// Nowhere.
    #[must_use]
    pub const fn zeros() -> Self {
        Self::new(0.0, 0.0, 0.0)
    }

    /// One aft.
    #[must_use]
    pub const fn x() -> Self {
        Self::new(1.0, 0.0, 0.0)
    }

    /// One right.
    #[must_use]
    pub const fn y() -> Self {
        Self::new(0.0, 1.0, 0.0)
    }

    /// One up.
    #[must_use]
    pub const fn z() -> Self {
        Self::new(0.0, 0.0, 1.0)
    }

    /// Scalar product.
    #[must_use]
    #[inline(always)]
    pub const fn dot(&self, other: &Self) -> f64 {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    /// Vector product, right-handed.
    #[must_use]
    #[inline]
    pub const fn cross(&self, other: &Self) -> Self {
        Self::new(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )
    }

    /// Square of its length.
    #[must_use]
    #[inline(always)]
    pub const fn norm_squared(&self) -> f64 {
        self.dot(self)
    }

    /// Its length.
    #[must_use]
    #[inline(always)]
    pub fn norm(&self) -> f64 {
        self.norm_squared().sqrt()
    }

    /// The unit vector along it; none where it is no longer than `least`.
    #[must_use]
    pub fn try_normalize(&self, least: f64) -> Option<Self> {
        let length = self.norm();
        (length > least).then(|| *self / length)
    }

    /// Its components.
    #[must_use]
    pub const fn to_array(self) -> [f64; 3] {
        [self.x, self.y, self.z]
    }
}

impl From<[f64; 3]> for Position {
    fn from([x, y, z]: [f64; 3]) -> Self {
        Self::new(x, y, z)
    }
}

impl From<[f64; 3]> for Displacement {
    fn from([x, y, z]: [f64; 3]) -> Self {
        Self::new(x, y, z)
    }
}

impl From<Displacement> for Position {
    /// The place that it leads to from the origin.
    fn from(to: Displacement) -> Self {
        Self::new(to.x, to.y, to.z)
    }
}

impl Index<usize> for Displacement {
    type Output = f64;

    /// # Panics
    /// Where `axis` is not 0 aft, 1 right or 2 up.
    fn index(&self, axis: usize) -> &f64 {
        [&self.x, &self.y, &self.z][axis]
    }
}

impl IndexMut<usize> for Displacement {
    fn index_mut(&mut self, axis: usize) -> &mut f64 {
        [&mut self.x, &mut self.y, &mut self.z].into_iter().nth(axis).expect("an axis")
    }
}

impl Sub for Position {
    type Output = Displacement;

    #[inline(always)]
    fn sub(self, from: Self) -> Displacement {
        Displacement::new(self.x - from.x, self.y - from.y, self.z - from.z)
    }
}

impl Add<Displacement> for Position {
    type Output = Self;

    #[inline(always)]
    fn add(self, by: Displacement) -> Self {
        Self::new(self.x + by.x, self.y + by.y, self.z + by.z)
    }
}

impl Sub<Displacement> for Position {
    type Output = Self;

    #[inline(always)]
    fn sub(self, by: Displacement) -> Self {
        self + -by
    }
}

impl Add for Displacement {
    type Output = Self;

    #[inline(always)]
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y, self.z + other.z)
    }
}

impl Sub for Displacement {
    type Output = Self;

    #[inline(always)]
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y, self.z - other.z)
    }
}

impl Neg for Displacement {
    type Output = Self;

    #[inline(always)]
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y, -self.z)
    }
}

impl Mul<f64> for Displacement {
    type Output = Self;

    #[inline(always)]
    fn mul(self, by: f64) -> Self {
        Self::new(self.x * by, self.y * by, self.z * by)
    }
}

impl Div<f64> for Displacement {
    type Output = Self;

    #[inline(always)]
    fn div(self, by: f64) -> Self {
        Self::new(self.x / by, self.y / by, self.z / by)
    }
}

impl Sum for Displacement {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::zeros(), Add::add)
    }
}

/// A turn, as the unit quaternion w + v (W. R. Hamilton): w the cosine of half the angle, v the axis times its sine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Turn {
    w: f64,
    v: Displacement,
}

impl Turn {
    /// None.
    pub(super) const NONE: Self = Self { w: 1.0, v: Displacement::zeros() };

    /// By a rotation vector, radians.
    pub(super) fn by(vector: &Displacement) -> Self {
        let angle = vector.norm();
        if angle == 0.0 {
            return Self::NONE;
        }
        let (sin, cos) = (angle / 2.0).sin_cos();
        Self { w: cos, v: *vector * (sin / angle) }
    }

    /// First `other`, then this.
    pub(super) fn after(&self, other: &Self) -> Self {
        Self {
            w: self.w * other.w - self.v.dot(&other.v),
            v: other.v * self.w + self.v * other.w + self.v.cross(&other.v),
        }
    }

    pub(super) fn inverse(&self) -> Self {
        Self { w: self.w, v: -self.v }
    }

    /// Made exact again after many products.
    pub(super) fn renormalized(&self) -> Self {
        let norm = (self.w * self.w + self.v.norm_squared()).sqrt();
        Self { w: self.w / norm, v: self.v / norm }
    }

    /// R·d = d + w·t + v × t with t = 2·v × d.
    pub(super) fn turn(&self, d: &Displacement) -> Displacement {
        // The fixed assembly's points are half of all that are placed.
        if self.v == Displacement::zeros() {
            return *d;
        }
        let t = self.v.cross(d) * 2.0;
        *d + t * self.w + self.v.cross(&t)
    }
}

#[cfg(test)]
mod tests {
    use nalgebra::{Rotation3, Vector3};
    use proptest::prelude::*;

    use super::*;

    fn near(ours: Displacement, theirs: Vector3<f64>) -> bool {
        (Vector3::from(ours.to_array()) - theirs).norm() < 1e-13 * (1.0 + theirs.norm())
    }

    #[test]
    fn a_displacement_moves_each_coordinate_by_its_own() {
        let moved = Position::new(1.0, 2.0, 4.0) + Displacement::new(8.0, 16.0, 32.0);
        assert_eq!((moved.x, moved.y, moved.z), (9.0, 18.0, 36.0));
    }

    proptest! {
        /// Against rotation matrices of a general library (nalgebra): one turn, two after one another, back again.
        #[test]
        fn turns_are_rotation_matrices(
            a in prop::array::uniform3(-3.0..3.0), b in prop::array::uniform3(-1e-3..1e-3), d in prop::array::uniform3(-5.0..5.0)
        ) {
            let (one, two) = (Turn::by(&a.into()), Turn::by(&b.into()));
            let (r1, r2) = (Rotation3::from_scaled_axis(a.into()), Rotation3::from_scaled_axis(b.into()));
            let (ours, theirs) = (Displacement::from(d), Vector3::from(d));
            prop_assert!(near(one.turn(&ours), r1 * theirs));
            prop_assert!(near(two.after(&one).renormalized().turn(&ours), r2 * (r1 * theirs)));
            prop_assert!(near(one.inverse().turn(&one.turn(&ours)), theirs));
            prop_assert!(near(Turn::by(&Displacement::zeros()).turn(&ours), theirs));
        }

        #[test]
        fn products_are_the_librarys(a in prop::array::uniform3(-5.0..5.0), b in prop::array::uniform3(-5.0..5.0)) {
            let (ours, theirs) = ((Displacement::from(a), Displacement::from(b)), (Vector3::from(a), Vector3::from(b)));
            prop_assert!(near(ours.0.cross(&ours.1), theirs.0.cross(&theirs.1)));
            prop_assert!((ours.0.dot(&ours.1) - theirs.0.dot(&theirs.1)).abs() < 1e-13);
            prop_assert!((ours.0.norm() - theirs.0.norm()).abs() < 1e-14 * 10.0);
            prop_assert!((0..3).all(|axis| ours.0[axis] == a[axis]));
        }
    }
}
