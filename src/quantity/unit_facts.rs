//! What is known of each unit, in one table.

use super::{Dimension, Unit};

/// What is known of a unit.
///
/// Its size is a ratio of whole numbers, exact, in the base unit of its dimension: metre, degree, kilogram, newton, kelvin,
/// newton metre, litre. Sources: NIST SP 811 (2008), B.8, from the exact definitions of the inch (0.0254 m), the pound
/// (0.45359237 kg), standard gravity (9.80665 m/s²) and the US gallon (231 cubic inches).
pub(super) struct Facts {
    /// The UCUM code.
    pub(super) ucum: &'static str,
    /// The symbol on screens.
    pub(super) symbol: &'static str,
    /// One of it, in words.
    pub(super) singular: &'static str,
    /// Several of it, in words.
    pub(super) plural: &'static str,
    /// What it measures.
    pub(super) dimension: Dimension,
    /// One of it is `size` / `per` base units.
    pub(super) size: f64,
    /// See `size`.
    pub(super) per: f64,
    /// What its scale shows where the Celsius scale shows 0; 0 for everything that is no temperature.
    pub(super) zero: f64,
}

/// The words and the dimension; one base unit, with its zero at zero.
const fn base(dimension: Dimension, ucum: &'static str, symbol: &'static str, names: [&'static str; 2]) -> Facts {
    let [singular, plural] = names;
    Facts { ucum, symbol, singular, plural, dimension, size: 1.0, per: 1.0, zero: 0.0 }
}

impl Facts {
    const fn sized(mut self, size: f64, per: f64) -> Self {
        self.size = size;
        self.per = per;
        self
    }
}

impl Unit {
    /// Its row of the table.
    #[rustfmt::skip]
    pub(super) const fn facts(self) -> Facts {
        use Dimension::{Angle, Count, Force, Length, Mass, Temperature, Torque, Volume};
        match self {
            Self::Inch => base(Length, "[in_i]", "in", ["inch", "inches"]).sized(254.0, 1e4),
            Self::Millimetre => base(Length, "mm", "mm", ["millimetre", "millimetres"]).sized(1.0, 1e3),
            Self::Metre => base(Length, "m", "m", ["metre", "metres"]),
            Self::Degree => base(Angle, "deg", "°", ["degree", "degrees"]),
            Self::Pound => base(Mass, "[lb_av]", "lb", ["pound", "pounds"]).sized(45_359_237.0, 1e8),
            Self::Kilogram => base(Mass, "kg", "kg", ["kilogram", "kilograms"]),
            Self::PoundForce => base(Force, "[lbf_av]", "lbf", ["pound of force", "pounds of force"])
                .sized(44_482_216_152_605.0, 1e13),
            Self::Newton => base(Force, "N", "N", ["newton", "newtons"]),
            Self::Decanewton => base(Force, "daN", "daN", ["decanewton", "decanewtons"]).sized(10.0, 1.0),
            Self::Celsius => base(Temperature, "Cel", "°C", ["degree Celsius", "degrees Celsius"]),
            Self::Fahrenheit => Facts {
                zero: 32.0,
                ..base(Temperature, "[degF]", "°F", ["degree Fahrenheit", "degrees Fahrenheit"]).sized(5.0, 9.0)
            },
            Self::NewtonMetre => base(Torque, "N.m", "N·m", ["newton metre", "newton metres"]),
            // 0.3048 m, and a twelfth of it, times the pound-force.
            Self::FootPoundForce => base(Torque, "[ft_i].[lbf_av]", "ft·lbf", ["foot pound", "foot pounds"])
                .sized(13_558_179_483_314_004.0, 1e16),
            Self::InchPoundForce => base(Torque, "[in_i].[lbf_av]", "in·lbf", ["inch pound", "inch pounds"])
                .sized(1_129_848_290_276_167.0, 1e16),
            Self::Litre => base(Volume, "L", "L", ["litre", "litres"]),
            Self::Gallon => base(Volume, "[gal_us]", "gal", ["gallon", "gallons"]).sized(3_785_411_784.0, 1e9),
            Self::One => base(Count, "1", "", ["", ""]),
        }
    }
}
