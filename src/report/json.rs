//! The record file as text: its head, its entries one a line, units by UCUM code, times by RFC 3339.
//!
//! `{"format":"trammel-record","version":4,"entries":[…]}`, entries sorted by id. Reading a file and writing it again gives the
//! same bytes. What else a file can hold: [`super::record_file`].

use std::fmt;

use serde::Serialize;

use super::counted::{Cause, Claim, Sound, long_text};
use super::record_file::read_record;
use crate::language::{tr, words};
use crate::record::{Body, Entry, LaidOutHoles, MAX_PROCEDURE, PhotoError, from_json};

/// What the file says it is.
pub const FORMAT: &str = "trammel-record";
/// The version written, and the newest that can be read. Version 1 had less to say of instruments, version 2 no procedures, no single
/// holes and nothing of numbers read again, version 3 no seals and nothing that people say; all read as they are.
pub const VERSION: u32 = 4;
/// The largest file that is read: far more than a lifetime's building.
pub const MAX_BYTES: usize = 160 * 1024 * 1024;

/// Why a file was refused. Nothing of it was taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ImportError {
    /// Larger than [`MAX_BYTES`].
    TooLarge,
    /// It ends in the middle.
    CutShort,
    /// It is not JSON, or not a record.
    NotARecord(String),
    /// Written by a newer version of the app.
    Newer(u32),
    /// An entry holds something that no entry may: which one, counted from 1, and what.
    BadEntry(usize, String),
    /// A photo is not what the record says of it: which one, counted from 1, and what.
    BadPhoto(usize, PhotoError),
    /// A photo that no entry of the file names, or that stands in it twice: which one, counted from 1.
    StrayPhoto(usize),
    /// The question that the file says it asks is not among its entries.
    NoQuestion,
}

impl fmt::Display for ImportError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let why = match self {
            Self::TooLarge => {
                tr!("The file is larger than {size} MB: not a record.", size = MAX_BYTES / 1024 / 1024)
            }
            Self::CutShort => tr!("The file ends in the middle: it was cut short on the way. Ask for it again."),
            Self::NotARecord(reason) => tr!("This is not a record file: {reason}.", reason),
            Self::Newer(version) => tr!(
                "The file was written by a newer version (record version {version}, this app reads {known}). Update the app, then \
                 open it again.",
                version,
                known = VERSION
            ),
            Self::BadEntry(place, reason) => {
                tr!("Entry {number} of the file is damaged: {reason}.", number = place, reason)
            }
            Self::BadPhoto(place, reason) => {
                tr!("Photo {number} of the file was refused. {reason}", number = place, reason)
            }
            Self::StrayPhoto(place) => {
                tr!("Photo {number} of the file belongs to no entry of it, or stands in it twice.", number = place)
            }
            Self::NoQuestion => tr!("The question that the file asks is not in it."),
        };
        write!(f, "{why} {}", words!("Your stored records are untouched."))
    }
}

#[derive(Serialize)]
struct Head {
    format: &'static str,
    version: u32,
}

/// Writes entries, in the order given (a ledger gives them sorted by id).
#[must_use]
pub fn write_json<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> String {
    let mut text = head();
    put_entries(&mut text, &mut entries.into_iter());
    text
}

/// How every record file begins.
pub(super) fn head() -> String {
    let head = serde_json::to_string(&Head { format: FORMAT, version: VERSION }).unwrap_or_default();
    head.trim_end_matches('}').to_owned()
}

/// The entries, and the end of the file.
pub(super) fn put_entries(text: &mut String, entries: &mut dyn Iterator<Item = &Entry>) {
    text.push_str(",\"entries\":[");
    let mut between = "\n";
    for entry in entries {
        text.push_str(between);
        text.push_str(&serde_json::to_string(entry).unwrap_or_default());
        between = ",\n";
    }
    text.push_str("\n]}\n");
}

/// Reads the entries of a record file whole, or says why not. Photos that it holds are looked at and left aside.
///
/// # Errors
/// As [`read_record`].
pub fn read_json(text: &str) -> Result<Vec<Entry>, ImportError> {
    read_record(text).map(|file| file.entries)
}

/// Whether a text is a record file of a version that can be read, and none of its strings is longer than its kind may be.
pub(super) fn looked_over(text: &str) -> Result<(), ImportError> {
    if text.len() > MAX_BYTES {
        return Err(ImportError::TooLarge);
    }
    let claim: Claim = from_json(text).map_err(|error| refused(&error))?;
    if claim.format != FORMAT {
        return Err(ImportError::NotARecord(words!("it says that it is something else").to_owned()));
    }
    if claim.version > VERSION {
        return Err(ImportError::Newer(claim.version));
    }
    if let Some(place) = long_text(text) {
        let entry = text[..place].matches("\"body\":").count() + 1;
        return Err(ImportError::BadEntry(entry, words!("a text that is too long").to_owned()));
    }
    Ok(())
}

pub(super) fn refused(error: &serde_json::Error) -> ImportError {
    match Cause::of(error) {
        Cause::CutShort => ImportError::CutShort,
        Cause::Damaged(place, why) => ImportError::BadEntry(place, why),
        Cause::Other(words) => ImportError::NotARecord(words),
    }
}

/// What the types alone do not say. (A quantity refuses by itself what cannot be measured.)
impl Sound for Entry {
    fn sound(&self) -> Result<(), &'static str> {
        // Beyond 2⁵³ a number of JSON is no longer exact everywhere, and nobody writes so many entries.
        if self.seal.as_ref().is_some_and(|seal| seal.number == 0 || seal.number >= 1 << 53) {
            return Err(words!("a seal without a number"));
        }
        let instrument = match &self.body {
            Body::ReadingTaken(reading) => &reading.instrument,
            Body::InstrumentAccepted { instrument, .. } => instrument,
            Body::ProcedureKept { file, .. } | Body::RunStarted { file: Some(file), .. }
                if file.len() > MAX_PROCEDURE =>
            {
                return Err(words!("a procedure that is too long"));
            }
            Body::HolesLaidOut(laid) if !LaidOutHoles::possible(&laid.rows) => {
                return Err(words!("a map without holes, or with too many"));
            }
            Body::HoleMarked(marked) if !marked.at().possible() => return Err(words!("a hole that no map can have")),
            _ => return Ok(()),
        };
        let zero = instrument.zero.is_none_or(|zero| zero.value.is_finite() && zero.u >= 0.0);
        let sensible = instrument.step.is_finite() && instrument.step > 0.0 && instrument.accuracy >= 0.0 && zero;
        if sensible { Ok(()) } else { Err(words!("an instrument without a step")) }
    }
}
