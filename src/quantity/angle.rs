//! Angle: a signed rotation about one axis.

use super::ops::displacement_ops;
use super::{Length, Unit};

/// A signed angle in radians. The axis and the positive sense are said by whoever holds it. Not wrapped: 370° stays 370°.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(f64);

impl Angle {
    /// No rotation.
    pub const ZERO: Self = Self(0.0);

    /// From radians.
    pub const fn from_radians(radians: f64) -> Self {
        Self(radians)
    }

    /// From degrees.
    pub const fn from_degrees(degrees: f64) -> Self {
        Self(degrees.to_radians())
    }

    /// The angle of the point (`x`, `y`), from +x toward +y, in −180° to 180°.
    pub fn atan2(y: Length, x: Length) -> Self {
        Self(y.metres().atan2(x.metres()))
    }

    /// The angle whose tangent (rise over run) is `slope`, between −90° and 90°.
    pub fn atan(slope: f64) -> Self {
        Self(slope.atan())
    }

    /// In radians.
    pub const fn radians(self) -> f64 {
        self.0
    }

    /// In degrees.
    pub const fn degrees(self) -> f64 {
        self.0.to_degrees()
    }

    /// The magnitude.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Sine.
    pub fn sin(self) -> f64 {
        self.0.sin()
    }

    /// Cosine.
    pub fn cos(self) -> f64 {
        self.0.cos()
    }

    /// Tangent: rise over run of a line at this angle.
    pub fn tan(self) -> f64 {
        self.0.tan()
    }

    /// The number in `unit`; none when `unit` is not a unit of angle.
    pub const fn in_unit(self, unit: Unit) -> Option<f64> {
        match unit {
            Unit::Degree => Some(self.degrees()),
            _ => None,
        }
    }
}

displacement_ops!(Angle);
