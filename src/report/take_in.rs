//! What a specification file would change on an airframe: shown before anything is kept, each item to be left out by itself.

use std::fmt;

use super::{SpecificationFile, SpecificationLine};
use crate::language::{tr, words};
use crate::metrology::{in_unit, scale};
use crate::procedure::{SpecItem, Words, draft_of, same_value, sheet_items, specify};
use crate::quantity::{Quantity, Unit, parse};
use crate::record::{Airframe, Body, MAX_TEXT, SpecValue, Tolerance, Units};

/// Why nothing of a file may be taken in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// The numbers are invented, the airframe is real.
    Invented,
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(words!(
            "These are the numbers of an invented example. They belong to no real aircraft and are not taken in for one. Copy the \
             numbers from your kit's manual."
        ))
    }
}

/// One item that the file would change.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Which item.
    pub key: String,
    /// What it is called.
    pub title: String,
    /// What stands there now, in words.
    pub now: String,
    /// What the file says, in words.
    pub then: String,
    /// The page that the file names.
    pub source: String,
    /// What would be kept.
    value: SpecValue,
}

/// What a file would change.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Offer {
    /// What of the file does not match the airframe: sentences to read first.
    pub differs: Vec<String>,
    /// What would change, in the file's order.
    pub changes: Vec<Change>,
    /// How many items say what is there already, from the same page.
    pub same: usize,
    /// Keys that this app knows nothing of: left aside.
    pub unknown: Vec<String>,
    /// Titles of items whose value is of another kind than the sheet asks for: to be entered by hand.
    pub misfits: Vec<String>,
}

impl Offer {
    /// What was left aside and what is there already, a sentence each.
    #[must_use]
    pub fn left_aside(&self) -> Vec<String> {
        let mut words = Vec::new();
        if self.same > 0 {
            words.push(tr!("{number} items are here already, the same.", number = self.same));
        }
        if !self.unknown.is_empty() {
            words.push(tr!(
                "Left aside, because this app asks for nothing of that name: {keys}.",
                keys = self.unknown.join(", ")
            ));
        }
        if !self.misfits.is_empty() {
            words.push(tr!(
                "Of another kind than the sheet asks for, to be entered by hand: {items}.",
                items = self.misfits.join("; ")
            ));
        }
        words
    }
}

/// Holds a file against an airframe. Nothing is kept by it.
///
/// # Errors
/// [`Refused`] when the file's numbers may not be offered to this airframe.
pub fn offer(airframe: &Airframe, file: &SpecificationFile) -> Result<Offer, Refused> {
    if file.is_invented() && !airframe.details.invented {
        return Err(Refused::Invented);
    }
    let mut found = Offer { differs: differs(airframe, file), ..Offer::default() };
    let units = airframe.details.units;
    for line in &file.items {
        let Some(item) = sheet_items().find(|item| item.key == line.key) else {
            found.unknown.push(line.key.clone());
            continue;
        };
        let Some(value) = fitting(item, &line.value, units) else {
            found.misfits.push(item.title.clone());
            continue;
        };
        let kept = airframe.specification.item(&line.key);
        let here = kept.map(|kept| kept.value.clone()).unwrap_or_default();
        if same_value(&here, &value, item.unit(units)) && kept.is_none_or(|kept| same_page(&kept.source, line)) {
            found.same += 1;
            continue;
        }
        found.changes.push(Change {
            key: line.key.clone(),
            title: item.title.clone(),
            now: kept.map_or_else(|| words!("not entered").to_owned(), Words::sheet),
            then: Words::tolerance(&value),
            source: line.source.clone(),
            value,
        });
    }
    Ok(found)
}

/// The entries that take changes in, with who handed the file over beside each page.
pub fn bodies<'a>(changes: impl IntoIterator<Item = &'a Change>, handed_by: &str) -> Vec<Body> {
    let body = |change: &Change| Body::SpecificationSet {
        key: change.key.clone(),
        value: change.value.clone(),
        source: handed(&change.source, handed_by),
    };
    changes.into_iter().map(body).collect()
}

/// A page with who handed the number over; the page gives way where both are too long for one text.
fn handed(source: &str, by: &str) -> String {
    let tail = format!("handed over by {}", within(by.trim(), MAX_TEXT / 2));
    if source.trim().is_empty() {
        return tail;
    }
    format!("{}; {tail}", within(source.trim(), MAX_TEXT - tail.len() - 2))
}

/// As much of a text as fits into so many bytes.
fn within(text: &str, bytes: usize) -> &str {
    let end = (0..=bytes.min(text.len())).rev().find(|&end| text.is_char_boundary(end));
    &text[..end.unwrap_or(0)]
}

/// Whether an item came from the page that the file names, by whoever's hand.
fn same_page(kept: &str, line: &SpecificationLine) -> bool {
    kept.strip_prefix(line.source.trim()).is_some_and(|rest| rest.is_empty() || rest.starts_with("; handed over by "))
}

fn differs(airframe: &Airframe, file: &SpecificationFile) -> Vec<String> {
    let details = &airframe.details;
    let name = |units: Units| if units == Units::Inches { words!("inches") } else { words!("millimetres") };
    let mut words = Vec::new();
    if file.model.trim() != details.model.trim() {
        words.push(tr!(
            "The file is for another type: \u{201c}{other}\u{201d}. This airframe is \u{201c}{this}\u{201d}.",
            other = file.model,
            this = details.model
        ));
    }
    if file.manual.trim() != details.manual.trim() {
        words.push(tr!(
            "The file names another manual: \u{201c}{other}\u{201d}. This airframe's is \u{201c}{this}\u{201d}.",
            other = file.manual,
            this = details.manual
        ));
    }
    if file.units != details.units {
        words.push(tr!(
            "The file's manual is in {other}, this airframe's in {this}. Its numbers are converted: hold them against the manual.",
            other = name(file.units),
            this = name(details.units)
        ));
    }
    words
}

/// A value as the sheet would hold it, in the sheet's units, if it is of the kind that the sheet asks for. What stands in a field must
/// say what the number is: a text that does not is replaced by the number, with its unit.
fn fitting(item: &SpecItem, value: &SpecValue, units: Units) -> Option<SpecValue> {
    let unit = item.unit(units);
    let mut value = value.clone();
    match &mut value.tolerance {
        Tolerance::None => {}
        Tolerance::PlusMinus { by } => *by = written(by, by.value * scale(by.unit, unit)?, unit),
        Tolerance::Limits { lower, upper } => {
            for end in [lower, upper].into_iter().flatten() {
                *end = written(end, in_unit(end, unit)?, unit);
            }
        }
    }
    if let Some(nominal) = &mut value.nominal {
        *nominal = written(nominal, in_unit(nominal, unit)?, unit);
    }
    let again = specify(item, &draft_of(item, &value), units).ok()?;
    same_value(&value, &again, unit).then_some(value)
}

/// The number as it is, if it is in this unit and its text says so; else what it comes to there, written out.
fn written(number: &Quantity, comes_to: f64, unit: Unit) -> Quantity {
    let says = parse(&number.text, unit, 0.0).is_ok_and(|read| read.value == number.value);
    if number.unit == unit && says { number.clone() } else { Quantity::new(comes_to, unit, 0.0) }
}
