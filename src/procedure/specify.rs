//! From what is typed on the specification page to an item's value, and back.

use std::fmt;

use crate::procedure::{SpecForm, SpecItem};
use crate::quantity::{ParseError, Quantity, Unit, parse};
use crate::record::{SpecValue, Tolerance, Units};

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
    /// Not one of the choices.
    NoSuchChoice,
}

impl fmt::Display for SpecError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable(error) => error.fmt(f),
            Self::NotPositive => f.write_str("A tolerance or a dimension is a positive amount."),
            Self::NoSuchChoice => f.write_str("Choose one of the options."),
        }
    }
}

/// Reads an item's fields in the airframe's units. All blank gives a blank value: the item is then not judged.
pub fn specify(item: &SpecItem, draft: &SpecDraft, units: Units) -> Result<SpecValue, SpecError> {
    let length = units.length();
    let mut value = SpecValue::default();
    match item.form {
        SpecForm::TolerancedAngle | SpecForm::TolerancedLength => {
            let unit = if item.form == SpecForm::TolerancedAngle { Unit::Degree } else { length };
            value.nominal = number(&draft.number, unit)?;
            if let Some(by) = positive(&draft.tolerance, unit)? {
                value.tolerance = Tolerance::PlusMinus { by };
                if value.nominal.is_none() {
                    value.nominal = Some(Quantity::new(0.0, unit, fine(unit)));
                }
            }
        }
        SpecForm::EqualWithin => {
            if let Some(by) = positive(&draft.tolerance, length)? {
                value.nominal = Some(Quantity::new(0.0, length, fine(length)));
                value.tolerance = Tolerance::PlusMinus { by };
            }
        }
        SpecForm::AtMost => {
            if let Some(upper) = positive(&draft.number, length)? {
                value.tolerance = Tolerance::Limits { lower: None, upper: Some(upper) };
            }
        }
        SpecForm::AtLeast => {
            if let Some(lower) = positive(&draft.number, length)? {
                value.nominal = Some(lower.clone());
                value.tolerance = Tolerance::Limits { lower: Some(lower), upper: None };
            }
        }
        SpecForm::Length => value.nominal = positive(&draft.number, length)?,
        SpecForm::Angle => value.nominal = number(&draft.number, Unit::Degree)?,
        SpecForm::Count => value.nominal = positive(&draft.number, Unit::One)?,
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

fn number(text: &str, unit: Unit) -> Result<Option<Quantity>, SpecError> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    parse(text, unit, fine(unit)).map(Some).map_err(SpecError::Unreadable)
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
        Unit::Millimetre => 0.1,
        Unit::Degree => 0.01,
        Unit::One => 1.0,
    }
}

fn some(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_owned())
}
