//! Vectors, rotations and a three-unknown Newton solver: all the mathematics of the twin.
//!
//! The frame is that of the trade: x is fuselage station (aft +), y is buttock line (the pilot's right +), z is
//! waterline (up +); inches. It is right-handed. Rotations are matrices; nothing is linearised.

use std::ops::{Add, Mul, Sub};

/// A point or a direction, inches or dimensionless.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Vec3 {
    /// Fuselage station, aft +.
    pub(crate) fs: f64,
    /// Buttock line, right +.
    pub(crate) bl: f64,
    /// Waterline, up +.
    pub(crate) wl: f64,
}

/// Short for a vector from its three components.
pub(crate) const fn vec3(fs: f64, bl: f64, wl: f64) -> Vec3 {
    Vec3 { fs, bl, wl }
}

impl Vec3 {
    pub(crate) fn dot(self, other: Self) -> f64 {
        self.fs * other.fs + self.bl * other.bl + self.wl * other.wl
    }

    pub(crate) fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The angle above the horizontal, degrees: what a gravity protractor laid along this direction shows.
    pub(crate) fn inclination_deg(self) -> f64 {
        (self.wl / self.length()).asin().to_degrees()
    }
}

impl Add for Vec3 {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        vec3(self.fs + o.fs, self.bl + o.bl, self.wl + o.wl)
    }
}

impl Sub for Vec3 {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        vec3(self.fs - o.fs, self.bl - o.bl, self.wl - o.wl)
    }
}

impl Mul<f64> for Vec3 {
    type Output = Self;
    fn mul(self, k: f64) -> Self {
        vec3(self.fs * k, self.bl * k, self.wl * k)
    }
}

/// A rotation matrix, by rows.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rotation([Vec3; 3]);

impl Rotation {
    /// First rolled about x, then pitched about y, then yawed about z; radians.
    /// `roll` + : right side low. `pitch` + : aft end high. `yaw` + : aft end to the right.
    pub(crate) fn from_angles(roll: f64, pitch: f64, yaw: f64) -> Self {
        let (sr, cr) = roll.sin_cos();
        let (sp, cp) = pitch.sin_cos();
        let (sy, cy) = yaw.sin_cos();
        let rolled = Self([vec3(1.0, 0.0, 0.0), vec3(0.0, cr, sr), vec3(0.0, -sr, cr)]);
        let pitched = Self([vec3(cp, 0.0, -sp), vec3(0.0, 1.0, 0.0), vec3(sp, 0.0, cp)]);
        let yawed = Self([vec3(cy, -sy, 0.0), vec3(sy, cy, 0.0), vec3(0.0, 0.0, 1.0)]);
        yawed.after(pitched).after(rolled)
    }

    /// The transpose, which is the inverse.
    pub(crate) fn inverse(self) -> Self {
        let [a, b, c] = self.0;
        Self([vec3(a.fs, b.fs, c.fs), vec3(a.bl, b.bl, c.bl), vec3(a.wl, b.wl, c.wl)])
    }

    /// This rotation made after `first`.
    pub(crate) fn after(self, first: Self) -> Self {
        let columns = first.inverse().0;
        Self(self.0.map(|row| vec3(row.dot(columns[0]), row.dot(columns[1]), row.dot(columns[2]))))
    }

    pub(crate) fn apply(self, v: Vec3) -> Vec3 {
        vec3(self.0[0].dot(v), self.0[1].dot(v), self.0[2].dot(v))
    }
}

/// Newton's method in three unknowns with a central-difference Jacobian, to the limit of the arithmetic.
///
/// # Panics
/// When it does not converge in 30 steps: the twin has been asked for a position that no body can take.
pub(crate) fn newton3(start: [f64; 3], steps: [f64; 3], residual: impl Fn([f64; 3]) -> [f64; 3]) -> [f64; 3] {
    let mut x = start;
    for _ in 0..30 {
        let r = residual(x);
        let mut columns = [[0.0; 3]; 3];
        for i in 0..3 {
            let (mut hi, mut lo) = (x, x);
            hi[i] += steps[i];
            lo[i] -= steps[i];
            let (hi, lo) = (residual(hi), residual(lo));
            columns[i] = std::array::from_fn(|k| (hi[k] - lo[k]) / (2.0 * steps[i]));
        }
        let dx = cramer(columns, r);
        x = std::array::from_fn(|i| x[i] - dx[i]);
        if residual(x).iter().all(|r| r.abs() < 1e-11) {
            return x;
        }
    }
    panic!("no rigid position fits these supports: {:?}", residual(x));
}

/// The solution of a 3 × 3 system given by its columns.
fn cramer(c: [[f64; 3]; 3], r: [f64; 3]) -> [f64; 3] {
    let det = |a: [f64; 3], b: [f64; 3], c: [f64; 3]| {
        a[0] * (b[1] * c[2] - b[2] * c[1]) - b[0] * (a[1] * c[2] - a[2] * c[1]) + c[0] * (a[1] * b[2] - a[2] * b[1])
    };
    let d = det(c[0], c[1], c[2]);
    [det(r, c[1], c[2]) / d, det(c[0], r, c[2]) / d, det(c[0], c[1], r) / d]
}
