//! The specification file: an airframe's numbers with their pages, so that a mentor can hand a builder a filled specification.
//!
//! `{"format":"trammel-specification","version":1,"model":…,"manual":…,"units":…,"invented":…,"items":[…]}`, one item a line, in the
//! sheet's order. Reading a file and writing it again gives the same bytes. `docs/schemas/specification.schema.json` is its schema.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::counted::{Cause, Claim, Counted, Sound};
use crate::language::{tr, words};
use crate::procedure::{examples, sheet_items};
use crate::record::{Airframe, MAX_TEXT, SpecValue, Tolerance, Units, from_json};

/// What the file says it is.
pub const SPECIFICATION_FORMAT: &str = "trammel-specification";
/// The version written, and the newest that can be read.
pub const SPECIFICATION_VERSION: u32 = 1;
/// The largest file that is read: far more than any airframe's numbers.
pub const MAX_SPECIFICATION_BYTES: usize = 1024 * 1024;
/// Longest key of an item, in bytes.
const MAX_KEY: usize = 80;

/// A specification as a file holds it.
#[derive(Clone, Debug, PartialEq)]
pub struct SpecificationFile {
    /// The type that the numbers belong to.
    pub model: String,
    /// The manual and its revision.
    pub manual: String,
    /// Units of the manual.
    pub units: Units,
    /// An invented example's: never offered to a real airframe.
    pub invented: bool,
    /// The numbers.
    pub items: Vec<SpecificationLine>,
}

/// One item of a file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpecificationLine {
    /// Which item.
    pub key: String,
    /// Its value.
    pub value: SpecValue,
    /// Page and revision of the manual that it was copied from.
    pub source: String,
}

/// Why a file was refused. Nothing of it was taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SpecificationError {
    /// Larger than [`MAX_SPECIFICATION_BYTES`].
    TooLarge,
    /// It ends in the middle.
    CutShort,
    /// It is not JSON, or not a specification.
    NotASpecification(String),
    /// Written by a newer version of the app.
    Newer(u32),
    /// Which item, counted from 1, and what is wrong with it.
    BadItem(usize, String),
}

impl fmt::Display for SpecificationError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let why = match self {
            Self::TooLarge => tr!(
                "The file is larger than {size} MB: not a specification.",
                size = MAX_SPECIFICATION_BYTES / 1024 / 1024
            ),
            Self::CutShort => tr!("The file ends in the middle: it was cut short on the way. Ask for it again."),
            Self::NotASpecification(reason) => tr!("This is not a specification file: {reason}.", reason),
            Self::Newer(version) => tr!(
                "The file was written by a newer version (specification version {version}, this app reads {known}). Update the app, \
                 then open it again.",
                version,
                known = SPECIFICATION_VERSION
            ),
            Self::BadItem(place, reason) => {
                tr!("Item {number} of the file is damaged: {reason}.", number = place, reason)
            }
        };
        write!(f, "{why} {}", words!("Nothing was taken in."))
    }
}

#[derive(Serialize)]
struct Head<'a> {
    format: &'static str,
    version: u32,
    model: &'a str,
    manual: &'a str,
    units: Units,
    invented: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(rename = "format")]
    _format: String,
    #[serde(rename = "version")]
    _version: u32,
    model: String,
    manual: String,
    units: Units,
    invented: bool,
    items: Counted<SpecificationLine>,
}

impl SpecificationFile {
    /// An airframe's numbers: every item that is not blank, in the sheet's order; then what this app knows nothing of, as it was entered.
    #[must_use]
    pub fn of(airframe: &Airframe) -> Self {
        let details = &airframe.details;
        let mut items: Vec<SpecificationLine> = Vec::new();
        let mut add = |key: &str| {
            let kept = airframe.specification.item(key).filter(|item| item.value != SpecValue::default());
            if let Some(kept) = kept
                && items.iter().all(|line| line.key != key)
            {
                let (value, source) = (kept.value.clone(), kept.source.clone());
                items.push(SpecificationLine { key: key.to_owned(), value, source });
            }
        };
        sheet_items().for_each(|item| add(&item.key));
        airframe.specification.items().for_each(|(key, _)| add(key));
        Self {
            model: details.model.clone(),
            manual: details.manual.clone(),
            units: details.units,
            invented: details.invented,
            items,
        }
    }

    /// The file's text.
    #[must_use]
    pub fn write(&self) -> String {
        let Self { model, manual, units, invented, items } = self;
        let head = Head {
            format: SPECIFICATION_FORMAT,
            version: SPECIFICATION_VERSION,
            model,
            manual,
            units: *units,
            invented: *invented,
        };
        let head = serde_json::to_string(&head).unwrap_or_default();
        let mut text = head.trim_end_matches('}').to_owned();
        text.push_str(",\"items\":[");
        let mut between = "\n";
        for item in items {
            text.push_str(between);
            text.push_str(&serde_json::to_string(item).unwrap_or_default());
            between = ",\n";
        }
        text.push_str("\n]}\n");
        text
    }

    /// Whether its numbers are an invented example's: it says so, or it names an example's type or sheet, whatever it says.
    #[must_use]
    pub fn is_invented(&self) -> bool {
        let of_example = |line: &SpecificationLine| {
            examples().iter().any(|example| !example.source.is_empty() && line.source.starts_with(&example.source))
        };
        let named = examples().iter().any(|example| example.details.model == self.model.trim());
        self.invented || named || self.items.iter().any(of_example)
    }
}

/// An airframe's numbers as a file.
#[must_use]
pub fn write_specification(airframe: &Airframe) -> String {
    SpecificationFile::of(airframe).write()
}

/// Reads a specification file whole, or says why not.
///
/// # Errors
/// [`SpecificationError`].
pub fn read_specification(text: &str) -> Result<SpecificationFile, SpecificationError> {
    if text.len() > MAX_SPECIFICATION_BYTES {
        return Err(SpecificationError::TooLarge);
    }
    let claim: Claim = from_json(text).map_err(|error| refused(&error))?;
    if claim.format != SPECIFICATION_FORMAT {
        return Err(SpecificationError::NotASpecification(words!("it says that it is something else").to_owned()));
    }
    if claim.version > SPECIFICATION_VERSION {
        return Err(SpecificationError::Newer(claim.version));
    }
    let File { model, manual, units, invented, items, .. } = from_json(text).map_err(|error| refused(&error))?;
    if model.len().max(manual.len()) > MAX_TEXT {
        return Err(SpecificationError::NotASpecification(words!("a text at its head is too long").to_owned()));
    }
    let items = items.0;
    for (place, line) in items.iter().enumerate() {
        if items[..place].iter().any(|other| other.key == line.key) {
            let why = tr!("\u{201c}{key}\u{201d} is there twice", key = line.key);
            return Err(SpecificationError::BadItem(place + 1, why));
        }
    }
    Ok(SpecificationFile { model, manual, units, invented, items })
}

fn refused(error: &serde_json::Error) -> SpecificationError {
    match Cause::of(error) {
        Cause::CutShort => SpecificationError::CutShort,
        Cause::Damaged(place, why) => SpecificationError::BadItem(place, why),
        Cause::Other(words) => SpecificationError::NotASpecification(words),
    }
}

/// What the types alone do not say. (A quantity refuses by itself what cannot be measured.)
impl Sound for SpecificationLine {
    fn sound(&self) -> Result<(), &'static str> {
        let plain = |byte: u8| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-';
        if self.key.is_empty() || self.key.len() > MAX_KEY || !self.key.bytes().all(plain) {
            return Err(words!("its key is not a name of small letters, digits and hyphens"));
        }
        let words = self.value.words.as_ref().map_or(0, String::len);
        if self.source.len().max(words) > MAX_TEXT {
            return Err(words!("a text that is too long"));
        }
        match &self.value.tolerance {
            Tolerance::PlusMinus { by } if by.value <= 0.0 => Err(words!("its tolerance is not a positive amount")),
            Tolerance::Limits { lower: None, upper: None } => Err(words!("its limits limit nothing")),
            _ => Ok(()),
        }
    }
}
