//! The operators that a one-dimensional displacement has, written once for [`Length`](super::Length),
//! [`Angle`](super::Angle) and [`Torque`](super::Torque).

/// Implements addition, subtraction, sign, scaling, ratio and sum for a newtype over `f64`.
macro_rules! displacement_ops {
    ($t:ident) => {
        impl std::ops::Add for $t {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl std::ops::Sub for $t {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl std::ops::Neg for $t {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl std::ops::AddAssign for $t {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }
        impl std::ops::SubAssign for $t {
            fn sub_assign(&mut self, other: Self) {
                self.0 -= other.0;
            }
        }
        impl std::ops::Mul<f64> for $t {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl std::ops::Mul<$t> for f64 {
            type Output = $t;
            fn mul(self, value: $t) -> $t {
                $t(self * value.0)
            }
        }
        impl std::ops::Div<f64> for $t {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }
        impl std::ops::Div for $t {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
        impl std::iter::Sum for $t {
            fn sum<I: Iterator<Item = Self>>(values: I) -> Self {
                values.fold(Self::ZERO, |total, value| total + value)
            }
        }
    };
}

pub(super) use displacement_ops;
