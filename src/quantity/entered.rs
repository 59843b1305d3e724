//! One number as it was entered.

use serde::{Deserialize, Serialize};

use super::{Angle, Dimension, Length, Unit, print, print_in, say};
use crate::language::Language;

/// Longest text, in bytes, accepted from a file: more than anybody types or says for one number.
const LONGEST_TEXT: usize = 256;

/// One number as it was entered. Showing it never changes it.
///
/// What comes from a file is checked: a magnitude no airframe has, a step that is no resolution, or a text of more than
/// 256 bytes is refused. That the text says the value is not checked, since a text may be spoken words.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Unchecked")]
pub struct Quantity {
    /// What was typed or spoken, verbatim.
    pub text: String,
    /// The unit of `value` and `step`.
    pub unit: Unit,
    /// The number in `unit`; exact for n/64 in.
    pub value: f64,
    /// The resolution of the tool it was read from, in `unit`; 0 when it comes from no tool.
    pub step: f64,
}

impl Quantity {
    /// A number that nobody typed (a nominal of a demo, a simulated reading); its text is its printed form, with a decimal point in
    /// every language, because the record keeps it.
    pub fn new(value: f64, unit: Unit, step: f64) -> Self {
        Self::entered(&print_in(Language::English, value, unit, step), value, unit, step)
    }

    /// A number as somebody put it. A step that is no positive number, or beyond what can be measured, becomes 0, no tool.
    pub(super) fn entered(text: &str, value: f64, unit: Unit, step: f64) -> Self {
        let step = if step > 0.0 && step <= unit.limit() { step } else { 0.0 };
        Self { text: text.to_owned(), unit, value: as_written(value, unit), step }
    }

    /// What it measures.
    pub const fn dimension(&self) -> Dimension {
        self.unit.dimension()
    }

    /// As a length; none when it is no length.
    pub const fn length(&self) -> Option<Length> {
        match self.unit {
            Unit::Inch => Some(Length::from_inches(self.value)),
            Unit::Millimetre => Some(Length::from_millimetres(self.value)),
            Unit::Metre => Some(Length::from_metres(self.value)),
            _ => None,
        }
    }

    /// As an angle; none when it is no angle.
    pub const fn angle(&self) -> Option<Angle> {
        match self.unit {
            Unit::Degree => Some(Angle::from_degrees(self.value)),
            _ => None,
        }
    }

    /// For the eye: "227 11/16 in", rounded to the step. See [`print()`].
    pub fn print(&self) -> String {
        print(self.value, self.unit, self.step)
    }

    /// For the ear: "two twenty-seven and eleven sixteenths inches". See [`say()`].
    pub fn say(&self) -> String {
        say(self.value, self.unit, self.step)
    }
}

/// The number to nine decimals, an angle to twelve (thirteen below 90°): finer than anything that is read, exact for n/64, and
/// as a whole number of last places below 10¹⁵. So short, any JSON reader gives the same double back, and rounding it again
/// changes nothing.
fn as_written(value: f64, unit: Unit) -> f64 {
    let parts = match unit {
        Unit::Degree if value.abs() < 90.0 => 1e13,
        Unit::Degree => 1e12,
        _ => 1e9,
    };
    (value * parts).round() / parts
}

/// A quantity as it stands in a file.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Unchecked {
    text: String,
    unit: Unit,
    value: f64,
    step: f64,
}

impl TryFrom<Unchecked> for Quantity {
    type Error = String;

    fn try_from(Unchecked { text, unit, value, step }: Unchecked) -> Result<Self, String> {
        if !(unit.lowest()..=unit.limit()).contains(&value) {
            return Err(format!("{value} {} is outside any physical range", unit.ucum()));
        }
        if !(0.0..=unit.limit()).contains(&step) {
            return Err(format!("{step} {} is no resolution of a tool", unit.ucum()));
        }
        if text.len() > LONGEST_TEXT {
            return Err(format!("a number of {} bytes is no number", text.len()));
        }
        Ok(Self { text, unit, value: as_written(value, unit), step })
    }
}
