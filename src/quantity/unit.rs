//! The units a number can be entered in.

use serde::{Deserialize, Serialize};

/// Unit of an entered value; in JSON its UCUM code (ucum.org, case-sensitive form).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Unit {
    /// The international inch, 25.4 mm.
    #[serde(rename = "[in_i]")]
    Inch,
    /// The millimetre.
    #[serde(rename = "mm")]
    Millimetre,
    /// The degree of arc.
    #[serde(rename = "deg")]
    Degree,
    /// A plain number: how many.
    #[serde(rename = "1")]
    One,
}

/// What a unit measures; in JSON `length`, `angle` or `count`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Dimension {
    /// A length.
    Length,
    /// An angle.
    Angle,
    /// A number of things.
    Count,
}

impl Unit {
    /// The UCUM code, as it stands in files.
    pub const fn ucum(self) -> &'static str {
        match self {
            Self::Inch => "[in_i]",
            Self::Millimetre => "mm",
            Self::Degree => "deg",
            Self::One => "1",
        }
    }

    /// The symbol on screens; empty for a count.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Millimetre => "mm",
            Self::Degree => "°",
            Self::One => "",
        }
    }

    /// What it measures.
    pub const fn dimension(self) -> Dimension {
        match self {
            Self::Inch | Self::Millimetre => Dimension::Length,
            Self::Degree => Dimension::Angle,
            Self::One => Dimension::Count,
        }
    }

    /// The largest magnitude that is a measurement of an airframe and no slip: 100 m, 360°, a count of 100 000.
    pub(super) const fn limit(self) -> f64 {
        match self {
            Self::Inch => 100_000.0 / 25.4,
            Self::Millimetre | Self::One => 100_000.0,
            Self::Degree => 360.0,
        }
    }

    /// One of it, in words; empty for a count.
    pub(super) const fn singular(self) -> &'static str {
        match self {
            Self::Inch => "inch",
            Self::Millimetre => "millimetre",
            Self::Degree => "degree",
            Self::One => "",
        }
    }

    /// Several of it, in words; empty for a count.
    pub(super) const fn plural(self) -> &'static str {
        match self {
            Self::Inch => "inches",
            Self::Millimetre => "millimetres",
            Self::Degree => "degrees",
            Self::One => "",
        }
    }
}
