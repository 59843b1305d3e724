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
    /// The metre.
    #[serde(rename = "m")]
    Metre,
    /// The degree of arc.
    #[serde(rename = "deg")]
    Degree,
    /// The avoirdupois pound as a mass, 0.45359237 kg.
    #[serde(rename = "[lb_av]")]
    Pound,
    /// The kilogram.
    #[serde(rename = "kg")]
    Kilogram,
    /// The pound as a force: a pound in standard gravity.
    #[serde(rename = "[lbf_av]")]
    PoundForce,
    /// The newton.
    #[serde(rename = "N")]
    Newton,
    /// The decanewton, 10 N.
    #[serde(rename = "daN")]
    Decanewton,
    /// The degree Celsius.
    #[serde(rename = "Cel")]
    Celsius,
    /// The degree Fahrenheit.
    #[serde(rename = "[degF]")]
    Fahrenheit,
    /// The newton metre, as a torque.
    #[serde(rename = "N.m")]
    NewtonMetre,
    /// The foot pound-force, as a torque.
    #[serde(rename = "[ft_i].[lbf_av]")]
    FootPoundForce,
    /// The inch pound-force, as a torque.
    #[serde(rename = "[in_i].[lbf_av]")]
    InchPoundForce,
    /// The litre.
    #[serde(rename = "L")]
    Litre,
    /// The US gallon, 231 cubic inches.
    #[serde(rename = "[gal_us]")]
    Gallon,
    /// A plain number: how many.
    #[serde(rename = "1")]
    One,
}

/// What a unit measures; in JSON `length`, `angle`, `mass`, `force`, `temperature`, `torque`, `volume` or `count`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Dimension {
    /// A length.
    Length,
    /// An angle.
    Angle,
    /// A mass: what a scale is marked in.
    Mass,
    /// A force: a pull on a lever, the tension of a cable.
    Force,
    /// A temperature, on a scale whose zero is a convention.
    Temperature,
    /// A torque.
    Torque,
    /// A volume.
    Volume,
    /// A number of things.
    Count,
}

impl Unit {
    /// Every unit.
    pub const ALL: [Self; 17] = [
        Self::Inch,
        Self::Millimetre,
        Self::Metre,
        Self::Degree,
        Self::Pound,
        Self::Kilogram,
        Self::PoundForce,
        Self::Newton,
        Self::Decanewton,
        Self::Celsius,
        Self::Fahrenheit,
        Self::NewtonMetre,
        Self::FootPoundForce,
        Self::InchPoundForce,
        Self::Litre,
        Self::Gallon,
        Self::One,
    ];

    /// The UCUM code, as it stands in files.
    pub const fn ucum(self) -> &'static str {
        self.facts().ucum
    }

    /// The symbol on screens; empty for a count.
    pub const fn symbol(self) -> &'static str {
        self.facts().symbol
    }

    /// What it measures.
    pub const fn dimension(self) -> Dimension {
        self.facts().dimension
    }

    /// The largest magnitude that is a measurement of an airframe and no slip: 100 m, 360°, 10 t, 100 kN, 1000 °C, 10 kN·m,
    /// 10 000 L, a count of 100 000.
    pub(super) const fn limit(self) -> f64 {
        let most_in_base = match self.dimension() {
            Dimension::Length => 100.0,
            Dimension::Angle => 360.0,
            Dimension::Temperature => 1000.0,
            Dimension::Mass | Dimension::Torque | Dimension::Volume => 10_000.0,
            Dimension::Force | Dimension::Count => 100_000.0,
        };
        most_in_base * self.facts().per / self.facts().size + self.facts().zero
    }

    /// The lowest value that can be: absolute zero, or the limit with a minus.
    pub(super) const fn lowest(self) -> f64 {
        match self {
            Self::Celsius => -273.15,
            Self::Fahrenheit => -459.67,
            _ => -self.limit(),
        }
    }

    /// The values that can be entered: up to the limit, down to the lowest, and no count below 0.
    pub(super) fn enterable(self) -> std::ops::RangeInclusive<f64> {
        let lowest = if self == Self::One { 0.0 } else { self.lowest() };
        lowest..=self.limit()
    }

    /// One of it, in words; empty for a count.
    pub(super) const fn singular(self) -> &'static str {
        self.facts().singular
    }

    /// Several of it, in words; empty for a count.
    pub(super) const fn plural(self) -> &'static str {
        self.facts().plural
    }

    /// Whether `named`, as somebody typed or said it, means this unit: pounds are pounds of force where a force is asked for,
    /// and plain degrees are those of the thermometer in hand.
    pub(super) fn is_meant_by(self, named: Self) -> bool {
        match named {
            Self::Pound => matches!(self, Self::Pound | Self::PoundForce),
            Self::Degree => matches!(self, Self::Degree | Self::Celsius | Self::Fahrenheit),
            _ => self == named,
        }
    }
}
