//! One table of the quantities that the closed forms of this floor give, by name: for procedures that name one in their data, and for
//! a quick answer at the bench.
//!
//! Inputs stand in the order of [`Reckoning::given`], each in any unit of its dimension; angles come out in degrees, lengths in the
//! unit of the first length, masses in the unit of the first mass. Signs are those of this floor (see [`crate::rigging`]). A sentence
//! of what a sign means stands beside each entry.

mod angles;
mod balance;
mod controls;
mod fasteners;
mod ground;
mod tail;
mod wings;

#[cfg(test)]
mod tests;

use std::sync::OnceLock;

use super::error::{RiggingError, of, within};
use crate::language::{self, Language, ours};
use crate::metrology::Estimate;
use crate::quantity::{Dimension, Length, Unit};

/// One thing that a reckoning starts from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Given {
    /// Its name in data; unique within the reckoning.
    pub id: &'static str,
    /// What it is, for a form, with its sign where it has one.
    pub title: &'static str,
    /// What it measures. None: anything, the same for all such inputs of the reckoning.
    pub dimension: Option<Dimension>,
    /// Whether it may be left out: nothing where it is added, and no further reading where readings are compared.
    pub optional: bool,
}

/// A named quantity that a closed form gives.
#[derive(Clone, Copy, Debug)]
pub struct Reckoning {
    /// Its name in data; unique.
    pub id: &'static str,
    /// What it gives, for a list.
    pub title: &'static str,
    /// The heading that it stands under.
    pub group: &'static str,
    /// What it starts from, in order.
    pub given: &'static [Given],
    /// What the result measures. None: what the inputs measure.
    pub gives: Option<Dimension>,
    /// What a result above zero means; empty where the number says all.
    pub plus: &'static str,
    /// What a result below zero means; empty where there is none.
    pub minus: &'static str,
    reckon: fn(&[Option<Estimate>]) -> Result<Estimate, RiggingError>,
}

impl Reckoning {
    /// The quantity with the uncertainty that its inputs, taken as independent, give it.
    ///
    /// # Errors
    /// When there are more or fewer inputs than [`Self::given`] (what is left out is `None` in its place), one that is not optional is
    /// missing, one is of another kind or no number, or the closed form has no answer. Two temperatures on different scales are
    /// refused: their zeros are conventions.
    pub fn reckon(&self, given: &[Option<Estimate>]) -> Result<Estimate, RiggingError> {
        if given.len() != self.given.len() {
            return Err(RiggingError::NotANumber);
        }
        let mut any = None;
        for (asked, got) in self.given.iter().zip(given) {
            match *got {
                None if asked.optional => {}
                None => return Err(RiggingError::NotANumber),
                Some(estimate) => {
                    let wanted = asked.dimension.unwrap_or_else(|| *any.get_or_insert(estimate.unit.dimension()));
                    of(estimate, wanted)?;
                }
            }
        }
        let result = (self.reckon)(given)?;
        of(result, result.unit.dimension())
    }
}

const COUNT: usize = angles::ALL.len()
    + wings::ALL.len()
    + tail::ALL.len()
    + ground::ALL.len()
    + controls::ALL.len()
    + fasteners::ALL.len()
    + balance::ALL.len();

static TABLE: [Reckoning; COUNT] = {
    let parts: [&[Reckoning]; 7] =
        [&angles::ALL, &wings::ALL, &tail::ALL, &ground::ALL, &controls::ALL, &fasteners::ALL, &balance::ALL];
    let mut all = [angles::ALL[0]; COUNT];
    let (mut part, mut place) = (0, 0);
    while part < parts.len() {
        let mut at = 0;
        while at < parts[part].len() {
            all[place] = parts[part][at];
            (at, place) = (at + 1, place + 1);
        }
        part += 1;
    }
    all
};

/// Every reckoning, those of one group together, in the language that is spoken.
#[must_use]
pub fn reckonings() -> &'static [Reckoning] {
    static SPOKEN: OnceLock<Vec<Reckoning>> = OnceLock::new();
    if language::current() == Language::English {
        return &TABLE;
    }
    SPOKEN.get_or_init(|| TABLE.iter().map(in_language).collect())
}

/// Its words in the language that is spoken; its names and its closed form stay.
fn in_language(reckoning: &Reckoning) -> Reckoning {
    let given = reckoning.given.iter().map(|given| Given { title: ours(given.title), ..*given });
    let meant = |words: &'static str| if words.is_empty() { words } else { ours(words) };
    Reckoning {
        title: ours(reckoning.title),
        group: ours(reckoning.group),
        // There is one table for as long as the program runs.
        given: given.collect::<Vec<_>>().leak(),
        plus: meant(reckoning.plus),
        minus: meant(reckoning.minus),
        ..*reckoning
    }
}

/// The reckoning of a name.
#[must_use]
pub fn reckoning(id: &str) -> Option<&'static Reckoning> {
    reckonings().iter().find(|reckoning| reckoning.id == id)
}

const LENGTH: Option<Dimension> = Some(Dimension::Length);
const ANGLE: Option<Dimension> = Some(Dimension::Angle);
const MASS: Option<Dimension> = Some(Dimension::Mass);
const COUNTED: Option<Dimension> = Some(Dimension::Count);

/// What a reckoning is handed: one place for each of its inputs.
type Inputs<'a> = &'a [Option<Estimate>];
/// What comes of it.
type Reckoned = Result<Estimate, RiggingError>;

const fn given(id: &'static str, title: &'static str, dimension: Option<Dimension>) -> Given {
    Given { id, title, dimension, optional: false }
}

const fn optional(id: &'static str, title: &'static str, dimension: Option<Dimension>) -> Given {
    Given { id, title, dimension, optional: true }
}

/// The input at a place.
fn at(given: Inputs<'_>, place: usize) -> Reckoned {
    given.get(place).copied().flatten().ok_or(RiggingError::NotANumber)
}

/// The input at a place; nothing at all of `unit` where it is left out.
fn or_nothing(given: Inputs<'_>, place: usize, unit: Unit) -> Reckoned {
    within(at(given, place).unwrap_or(exact(0.0, unit)), unit)
}

const fn exact(value: f64, unit: Unit) -> Estimate {
    Estimate::new(value, 0.0, unit)
}

/// The first inputs, in these units.
fn in_units<const N: usize>(given: Inputs<'_>, units: [Unit; N]) -> Result<[Estimate; N], RiggingError> {
    let mut inputs = [exact(0.0, Unit::One); N];
    for (place, unit) in units.into_iter().enumerate() {
        inputs[place] = within(at(given, place)?, unit)?;
    }
    Ok(inputs)
}

/// A closed form of plain numbers with the uncertainty of its inputs, Zᵢ = ½·(f(xᵢ + uᵢ) − f(xᵢ − uᵢ)) in the place of cᵢ·uᵢ (JCGM
/// 100:2008, 5.1.3, note 2); degrees of freedom by Welch and Satterthwaite. The result is in `unit`.
fn carried(inputs: &[Estimate], unit: Unit, form: &dyn Fn(&[f64]) -> Result<f64, RiggingError>) -> Reckoned {
    let mut values: Vec<f64> = inputs.iter().map(|input| input.value).collect();
    let mut result = exact(form(&values)?, unit);
    for (place, input) in inputs.iter().enumerate().filter(|(_, input)| input.u > 0.0) {
        values[place] = input.value + input.u;
        let up = form(&values)?;
        values[place] = input.value - input.u;
        let down = form(&values)?;
        values[place] = input.value;
        result = result.widened((up - down).abs() / 2.0, input.dof);
    }
    Ok(result)
}

/// The number of metres as a length.
const fn metres(value: f64) -> Length {
    Length::from_metres(value)
}
