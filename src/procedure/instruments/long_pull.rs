//! What heat, pull, sag and slope do to a long distance taped: worked out when somebody asks, applied to nothing by itself.

use std::fmt;

use crate::language::{tr, words};
use crate::metrology::rough;
use crate::metrology::tape::{
    ALUMINIUM_EXPANSION, Blade, Cause, Correction, Held, REFERENCE_TEMPERATURE, STEEL_EXPANSION, corrections,
    worth_offering,
};
use crate::quantity::{Length, ParseError, Quantity, Unit, in_unit, parse};
use crate::record::Units;

/// The blade of a usual builder's tape: 25 mm by 0.11 mm (common practice, no source), true at 50 N (Directive 2014/32/EU, annex X).
const BLADE: (f64, f64, f64) = (25.0, 0.11, 50.0);

/// The texts of the fields.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LongPull {
    /// What the tape reads.
    pub distance: String,
    /// How far off it may be.
    pub tolerance: String,
    /// Temperature of tape and airframe; blank is 20 °C.
    pub temperature: String,
    /// "steel", "aluminium", or anything else for a part that does not grow.
    pub material: String,
    /// The pull; blank is the standard one.
    pub pull: String,
    /// "free" when the blade hangs between its ends.
    pub hangs: String,
    /// How much higher one end is; blank is level.
    pub height: String,
}

/// Which field is no number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LongPullError {
    field: &'static str,
    error: ParseError,
}

impl fmt::Display for LongPullError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&tr!("{field}: {problem}", field = self.field, problem = self.error))
    }
}

impl LongPull {
    /// The materials that can be chosen, as keys and labels.
    #[must_use]
    pub fn materials() -> Vec<(String, String)> {
        [("aluminium", words!("Aluminium")), ("steel", words!("Steel")), ("other", words!("Wood or composite"))]
            .map(|(key, label)| (key.to_owned(), label.to_owned()))
            .into()
    }

    /// The units of temperature and pull that go with an airframe's units.
    #[must_use]
    pub const fn units(units: Units) -> (Unit, Unit) {
        match units {
            Units::Inches => (Unit::Fahrenheit, Unit::PoundForce),
            Units::Millimetres => (Unit::Celsius, Unit::Newton),
        }
    }

    /// Each correction in a sentence, those first that pass a quarter of the tolerance; then what they come to.
    ///
    /// # Errors
    /// The first field that is no number.
    pub fn sentences(&self, units: Units) -> Result<Vec<String>, LongPullError> {
        let unit = units.length();
        let (warmth, force) = Self::units(units);
        let read = |field, text: &str, unit| parse(text, unit, 0.0).map_err(|error| LongPullError { field, error });
        let or = |field, text: &str, unit, blank: f64, base| {
            if text.trim().is_empty() {
                return Ok(blank);
            }
            read(field, text, unit).map(|quantity: Quantity| in_unit(&quantity, base).unwrap_or(blank))
        };
        let length =
            |field, text: &str| read(field, text, unit).map(|quantity| quantity.length().unwrap_or_default().abs());
        let distance = length(words!("Distance"), &self.distance)?;
        let tolerance = length(words!("Tolerance"), &self.tolerance)?;
        let temperature = or(words!("Temperature"), &self.temperature, warmth, REFERENCE_TEMPERATURE, Unit::Celsius)?;
        let (width, thickness, standard) = BLADE;
        let tension = or(words!("Pull"), &self.pull, force, standard, Unit::Newton)?;
        let height = if self.height.trim().is_empty() { Length::ZERO } else { length(words!("Height"), &self.height)? };
        if height > distance {
            return Err(LongPullError { field: words!("Height"), error: ParseError::OutOfRange });
        }
        let blade = Blade::steel(Length::from_millimetres(width), Length::from_millimetres(thickness), standard);
        let held = Held {
            tape_temperature: temperature,
            part_temperature: temperature,
            part_expansion: match self.material.as_str() {
                "steel" => STEEL_EXPANSION,
                "aluminium" => ALUMINIUM_EXPANSION,
                _ => 0.0,
            },
            tension: tension.max(1.0),
            spans: u32::from(self.hangs == "free"),
            height,
        };
        let all = corrections(&blade, distance, &held);
        let offered = worth_offering(&all, tolerance);
        Ok(said(&all, &offered, distance, unit))
    }
}

fn said(all: &[Correction], offered: &[Correction], distance: Length, unit: Unit) -> Vec<String> {
    let amount = |length: Length| {
        let number = length.in_unit(unit).unwrap_or_default();
        let sign = if number < 0.0 { "\u{2212}" } else { "+" };
        format!("{sign}{}", rough(number.abs(), unit))
    };
    let name = |cause| match cause {
        Cause::Temperature => words!("Heat"),
        Cause::Tension => words!("Pull"),
        Cause::Sag => words!("Sag"),
        Cause::Slope => words!("Slope"),
    };
    let large = |one: &Correction| {
        tr!(
            "{cause}: {amount}, more than a quarter of the tolerance. Take it into account.",
            cause = name(one.cause),
            amount = amount(one.amount)
        )
    };
    let mut words: Vec<String> = offered.iter().map(large).collect();
    let small = all.iter().filter(|one| !offered.contains(one) && one.amount.abs() > Length::from_millimetres(0.005));
    words.extend(small.map(|one| {
        tr!("{cause}: {amount}. Too small to matter here.", cause = name(one.cause), amount = amount(one.amount))
    }));
    let sum = offered.iter().fold(Length::ZERO, |sum, one| sum + one.amount);
    let corrected = Quantity::new(
        (distance + sum).in_unit(unit).unwrap_or_default(),
        unit,
        if unit == Unit::Inch { 0.01 } else { 0.1 },
    );
    words.push(if offered.is_empty() {
        tr!("Nothing here passes a quarter of the tolerance: leave the reading as it is.")
    } else {
        tr!(
            "Together {amount}: the distance is {distance} rather than what the tape reads.",
            amount = amount(sum),
            distance = corrected.print()
        )
    });
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: steel against aluminium, (11.61 − 23)·10⁻⁶ /°C · 15 °C · 5780 mm = −0.988 mm; a free span of 5.78 m at 50 N under
    /// 0.2117 N/m sags by w²·l³/(24·P²) = 0.144 mm.
    #[test]
    fn a_hot_hangar_and_a_free_span() {
        let pull = LongPull {
            distance: "5780".to_owned(),
            tolerance: "1.5".to_owned(),
            temperature: "35".to_owned(),
            material: "aluminium".to_owned(),
            hangs: "free".to_owned(),
            ..LongPull::default()
        };
        assert_eq!(
            pull.sentences(Units::Millimetres).expect("numbers"),
            [
                "Heat: −1.0 mm, more than a quarter of the tolerance. Take it into account.",
                "Sag: −0.1 mm. Too small to matter here.",
                "Together −1.0 mm: the distance is 5779.0 mm rather than what the tape reads.",
            ]
        );
        let cool = LongPull { temperature: String::new(), ..pull.clone() };
        assert_eq!(
            cool.sentences(Units::Millimetres).expect("numbers").last().map(String::as_str),
            Some("Nothing here passes a quarter of the tolerance: leave the reading as it is.")
        );
        let wrong = LongPull { pull: "hard".to_owned(), ..pull };
        assert!(wrong.sentences(Units::Millimetres).expect_err("no number").to_string().starts_with("Pull: "));
    }

    #[test]
    fn fahrenheit_and_pounds_with_inches() {
        // 95 °F is 35 °C: −1.139e-3·… the same −0.988 mm over 227.559 in = −0.0389 in.
        let pull = LongPull {
            distance: "227.559".to_owned(),
            tolerance: "1/16".to_owned(),
            temperature: "95".to_owned(),
            material: "aluminium".to_owned(),
            ..LongPull::default()
        };
        let words = pull.sentences(Units::Inches).expect("numbers");
        assert_eq!(words[0], "Heat: −0.039 in, more than a quarter of the tolerance. Take it into account.");
        // No slope is as high as it is long.
        let steep = LongPull { height: "300".to_owned(), ..pull };
        assert!(steep.sentences(Units::Inches).is_err_and(|error| error.to_string().starts_with("Height")));
    }
}
