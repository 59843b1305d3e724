//! From what is typed on the specification page to an item's value, and back.

use std::fmt;

use crate::language::{Language, words};
use crate::metrology::in_unit;
use crate::procedure::check::unit_of;
use crate::procedure::{SpecForm, SpecItem};
use crate::quantity::{Dimension, ParseError, Quantity, Unit, parse, print_in, print_number};
use crate::record::{SpecValue, Tolerance, Units};
use crate::rigging::TensionChart;

/// The texts of one item's fields.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SpecDraft {
    /// The nominal number, the count, or the one-sided limit.
    pub number: String,
    /// Plus or minus.
    pub tolerance: String,
    /// The choice or the words.
    pub words: String,
}

/// Why an item was not kept: the text that the person reads.
#[derive(Clone, Debug, PartialEq)]
pub enum SpecError {
    /// A field is not a number.
    Unreadable(ParseError),
    /// A tolerance must be a positive amount.
    NotPositive,
    /// A plus without its minus.
    OneWay,
    /// Not one of the choices.
    NoSuchChoice,
    /// The least is not below the most.
    WrongOrder,
    /// Not a chart.
    NoChart,
}

impl fmt::Display for SpecError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable(error) => error.fmt(f),
            Self::NotPositive => f.write_str(words!("A tolerance or a dimension is a positive amount.")),
            Self::OneWay => {
                f.write_str(words!("A tolerance that begins with + needs its other side too, as +0.2 -0.1 or +1/4 -0."))
            }
            Self::NoSuchChoice => f.write_str(words!("Choose one of the options.")),
            Self::WrongOrder => f.write_str(words!("The least has to be below the most.")),
            Self::NoChart => f.write_str(words!(
                "Write the chart as temperature = tension, with semicolons between, in rising order: 50 = 27; 70 = 32."
            )),
        }
    }
}

/// Reads an item's fields in the airframe's units. All blank gives a blank value: the item is then not judged.
pub fn specify(item: &SpecItem, draft: &SpecDraft, units: Units) -> Result<SpecValue, SpecError> {
    let unit = item.unit(units);
    let mut value = SpecValue::default();
    match item.form {
        SpecForm::TolerancedAngle | SpecForm::TolerancedLength | SpecForm::Toleranced => {
            value.nominal = number(&draft.number, unit)?;
            let zero = || Quantity::new(0.0, unit, fine(unit));
            if let Some((more, less)) = uneven(&draft.tolerance, unit)? {
                let nominal = value.nominal.get_or_insert_with(zero);
                let end = |by: f64| Some(Quantity::new(nominal.value + by, unit, 0.0));
                value.tolerance = Tolerance::Limits { lower: end(-less), upper: end(more) };
            } else if let Some(by) = positive(&draft.tolerance, unit)? {
                value.tolerance = Tolerance::PlusMinus { by };
                value.nominal.get_or_insert_with(zero);
            }
        }
        SpecForm::EqualWithin => {
            if let Some(by) = positive(&draft.tolerance, unit)? {
                value.nominal = Some(Quantity::new(0.0, unit, fine(unit)));
                value.tolerance = Tolerance::PlusMinus { by };
            }
        }
        SpecForm::AtMost => {
            if let Some(upper) = positive(&draft.number, unit)? {
                value.nominal = Some(upper.clone()).filter(|_| item.of != Dimension::Length);
                value.tolerance = Tolerance::Limits { lower: None, upper: Some(upper) };
            }
        }
        SpecForm::AtLeast => {
            if let Some(lower) = positive(&draft.number, unit)? {
                value.nominal = Some(lower.clone());
                value.tolerance = Tolerance::Limits { lower: Some(lower), upper: None };
            }
        }
        SpecForm::Range => {
            let (lower, upper) = (number(&draft.number, unit)?, number(&draft.tolerance, unit)?);
            if let (Some(least), Some(most)) = (&lower, &upper)
                && least.value >= most.value
            {
                return Err(SpecError::WrongOrder);
            }
            if lower.is_some() || upper.is_some() {
                value.tolerance = Tolerance::Limits { lower, upper };
            }
        }
        SpecForm::Length | SpecForm::Count => value.nominal = positive(&draft.number, unit)?,
        SpecForm::Angle | SpecForm::Amount => value.nominal = number(&draft.number, unit)?,
        SpecForm::Chart => value.words = chart_words(&draft.words, units)?,
        SpecForm::Choice => {
            if !draft.words.is_empty() && !item.options.contains(&draft.words) {
                return Err(SpecError::NoSuchChoice);
            }
            value.words = some(&draft.words);
        }
        SpecForm::Words => value.words = some(draft.words.trim()),
    }
    Ok(value)
}

/// The fields that give a value back.
#[must_use]
pub fn draft_of(item: &SpecItem, value: &SpecValue) -> SpecDraft {
    let text =
        |quantity: &Option<Quantity>| quantity.as_ref().map(|quantity| quantity.text.clone()).unwrap_or_default();
    let mut draft = SpecDraft { words: value.words.clone().unwrap_or_default(), ..SpecDraft::default() };
    match (&value.tolerance, item.form) {
        (Tolerance::Limits { upper, .. }, SpecForm::AtMost) => draft.number = text(upper),
        (Tolerance::Limits { lower, upper }, SpecForm::Range) => {
            draft.number = text(lower);
            draft.tolerance = text(upper);
        }
        (
            Tolerance::Limits { lower: Some(lower), upper: Some(upper) },
            SpecForm::TolerancedAngle | SpecForm::TolerancedLength | SpecForm::Toleranced,
        ) => {
            let nominal = value.nominal.as_ref().map_or(0.0, |nominal| nominal.value);
            // To nine decimals, as files keep numbers: what was typed comes back, not the rounding of the subtraction.
            let by = |end: &Quantity| print_number(((end.value - nominal).abs() * 1e9).round() / 1e9, end.unit, 0.0);
            draft.tolerance = format!("+{} \u{2212}{}", by(upper), by(lower));
            draft.number = text(&value.nominal);
        }
        (Tolerance::Limits { lower, .. }, _) => draft.number = text(lower),
        (tolerance, form) => {
            if let Tolerance::PlusMinus { by } = tolerance {
                draft.tolerance = by.text.clone();
            }
            if form != SpecForm::EqualWithin {
                draft.number = text(&value.nominal);
            }
        }
    }
    draft
}

impl SpecItem {
    /// The unit that it is entered in, where it is a number.
    #[must_use]
    pub const fn unit(&self, units: Units) -> Unit {
        let of = match self.form {
            SpecForm::TolerancedAngle | SpecForm::Angle => Dimension::Angle,
            SpecForm::TolerancedLength | SpecForm::Length => Dimension::Length,
            SpecForm::Count => Dimension::Count,
            _ => self.of,
        };
        unit_of(of, units)
    }
}

/// Units of a chart: temperature, then tension.
const fn chart_units(units: Units) -> (Unit, Unit) {
    (unit_of(Dimension::Temperature, units), unit_of(Dimension::Force, units))
}

/// A chart as written, with its units put in: what is kept can be read whatever the reader's units are.
fn chart_words(text: &str, units: Units) -> Result<Option<String>, SpecError> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    let points = points(text, units).ok_or(SpecError::NoChart)?;
    let (temperature, tension) = chart_units(units);
    TensionChart::new(&points, (temperature, tension), 0.0, 0.0).map_err(|_| SpecError::NoChart)?;
    let kept = |value, unit| print_in(Language::English, value, unit, 0.0);
    let point = |(at, pull): &(f64, f64)| format!("{} = {}", kept(*at, temperature), kept(*pull, tension));
    Ok(Some(points.iter().map(point).collect::<Vec<_>>().join("; ")))
}

/// The chart that an item's words hold, with the unit of its tensions.
pub(super) fn chart_of(words: &str, units: Units) -> Option<(TensionChart, Unit)> {
    let units_of = chart_units(units);
    Some((TensionChart::new(&points(words, units)?, units_of, 0.0, 0.0).ok()?, units_of.1))
}

fn points(text: &str, units: Units) -> Option<Vec<(f64, f64)>> {
    let (temperature, tension) = chart_units(units);
    let read = |text: &str, unit: Unit| in_unit(&parse(text, unit, fine(unit)).ok()?, unit);
    let lines = text.split([';', '\n']).filter(|line| !line.trim().is_empty());
    lines
        .map(|line| {
            let (at, pull) = line.split_once('=')?;
            Some((read(at, temperature)?, read(pull, tension)?))
        })
        .collect()
}

fn number(text: &str, unit: Unit) -> Result<Option<Quantity>, SpecError> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    parse(text, unit, fine(unit)).map(Some).map_err(SpecError::Unreadable)
}

/// A tolerance that is not the same both ways, as "+0.2 −0.1" or "+1/4 / -0": how much more and how much less is allowed.
/// `None` when the text does not begin with a plus, and so is the same both ways.
fn uneven(text: &str, unit: Unit) -> Result<Option<(f64, f64)>, SpecError> {
    let Some(rest) = text.trim().strip_prefix('+') else { return Ok(None) };
    let Some((more, less)) = rest.split_once(['-', '\u{2212}']) else { return Err(SpecError::OneWay) };
    let amount =
        |text: &str| parse(text.trim_end_matches(['/', ' ', ',']), unit, fine(unit)).map_err(SpecError::Unreadable);
    let (more, less) = (amount(more)?.value, amount(less)?.value);
    if more < 0.0 || less < 0.0 || more + less <= 0.0 { Err(SpecError::NotPositive) } else { Ok(Some((more, less))) }
}

fn positive(text: &str, unit: Unit) -> Result<Option<Quantity>, SpecError> {
    match number(text, unit)? {
        Some(quantity) if quantity.value <= 0.0 => Err(SpecError::NotPositive),
        other => Ok(other),
    }
}

/// A sheet's number is exact as printed: the step only says how finely to show it.
const fn fine(unit: Unit) -> f64 {
    match unit {
        Unit::Inch => 0.001,
        Unit::Metre => 0.0001,
        Unit::Degree => 0.01,
        Unit::One => 1.0,
        _ => 0.1,
    }
}

fn some(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::metrology::Limits;

    fn item(form: SpecForm) -> SpecItem {
        SpecItem {
            key: "pitch".to_owned(),
            title: "Pitch".to_owned(),
            help: String::new(),
            form,
            of: Dimension::Length,
            options: Vec::new(),
            only_if: None,
        }
    }

    #[test]
    fn a_tolerance_may_differ_both_ways_and_comes_back_as_it_means() {
        let item = item(SpecForm::TolerancedAngle);
        let draft = |tolerance: &str| SpecDraft {
            number: "-2.6".to_owned(),
            tolerance: tolerance.to_owned(),
            ..SpecDraft::default()
        };
        for written in ["+0.2 \u{2212}0.1", "+0.2 -0.1", "+0,2/-0,1", "+ 0.2, - 0.1"] {
            let value = specify(&item, &draft(written), Units::Inches).expect(written);
            let limits = Limits::of(&value, Unit::Degree).expect("limits");
            let ends = (limits.lower.expect("lower"), limits.upper.expect("upper"));
            assert!((ends.0 + 2.7).abs() < 1e-9 && (ends.1 + 2.4).abs() < 1e-9, "{written}: {ends:?}");
            assert_eq!(draft_of(&item, &value), draft("+0.2 \u{2212}0.1"), "{written}");
        }
        assert_eq!(specify(&item, &draft("+0.2"), Units::Inches), Err(SpecError::OneWay));
        assert_eq!(specify(&item, &draft("+0 -0"), Units::Inches), Err(SpecError::NotPositive));
        assert!(specify(&item, &draft("+a -b"), Units::Inches).is_err());
    }

    #[test]
    fn an_even_tolerance_is_kept_as_typed() {
        let item = item(SpecForm::TolerancedLength);
        let typed = SpecDraft { number: "17 1/4".to_owned(), tolerance: "1/16".to_owned(), ..SpecDraft::default() };
        let value = specify(&item, &typed, Units::Inches).expect("a value");
        assert_eq!(draft_of(&item, &value), typed);
    }
}
