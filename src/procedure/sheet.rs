//! What a procedure asks of the airframe's rigging specification.

use serde::{Deserialize, Serialize};

use crate::quantity::Dimension;

/// One number, side or face that the airframe's manual gives. Keys belong to the airframe: two procedures that ask for the same
/// key ask for the same thing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct SpecItem {
    /// Key in the airframe's specification.
    pub key: String,
    /// What it is called.
    pub title: String,
    /// Where to find or measure it.
    pub help: String,
    /// What is typed.
    pub form: SpecForm,
    /// What it measures, for the forms that leave it open; a length without it.
    #[serde(default = "length")]
    pub of: Dimension,
    /// The choices of a [`SpecForm::Choice`].
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub options: Vec<String>,
    /// Only asked when the condition holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub only_if: Option<Condition>,
}

const fn length() -> Dimension {
    Dimension::Length
}

/// What is typed for an item of the specification.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SpecForm {
    /// A nominal angle and a plus-or-minus tolerance.
    TolerancedAngle,
    /// A nominal length and a plus-or-minus tolerance.
    TolerancedLength,
    /// A nominal value and a plus-or-minus tolerance.
    Toleranced,
    /// How much left and right may differ.
    EqualWithin,
    /// An amount that must not be exceeded.
    AtMost,
    /// An amount that must at least be there.
    AtLeast,
    /// The least and the most that it may be.
    Range,
    /// A plain length.
    Length,
    /// A plain angle.
    Angle,
    /// A plain number of what the item measures.
    Amount,
    /// A number of things.
    Count,
    /// A tension for each of some temperatures, straight lines between them.
    Chart,
    /// One of the options.
    Choice,
    /// Words copied from the manual.
    Words,
}

/// Holds when the item of the specification has these words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Condition {
    /// Which item.
    pub key: String,
    /// The words that it must have.
    pub is: String,
}
