//! What can be sent of a record: as what it is offered, what the file is called, and what goes into it, piece by piece.

use base64::Engine as _;
use base64::engine::general_purpose::{STANDARD, URL_SAFE_NO_PAD};
use chrono::NaiveDate;

use super::backup::{Sent, megabytes, photos_of, sent_on};
use super::name::file_name;
use super::page::{Piece, Printed};
use super::record_file::record_pieces;
use super::unbroken::Checked;
use super::{MAX_BYTES, readings_csv, work_log_csv};
use crate::language::{tr, words};
use crate::record::{Airframe, AirframeId, Digest, Entry, Ledger, day_text};

/// One of the files that can be sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parcel {
    /// A page to read and to print.
    Page,
    /// The record without the files of its photos.
    Record,
    /// The record with them: what is restored elsewhere.
    Whole,
    /// The readings as CSV.
    Readings,
    /// The work log as CSV.
    Work,
    /// All of these and the photos in one zip.
    Bundle,
}

impl Parcel {
    /// Every one, in the order in which they are offered.
    pub const ALL: [Self; 6] = [Self::Page, Self::Record, Self::Whole, Self::Readings, Self::Work, Self::Bundle];

    /// Its name in addresses and tests.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Page => "page",
            Self::Record => "record",
            Self::Whole => "whole",
            Self::Readings => "readings",
            Self::Work => "work",
            Self::Bundle => "bundle",
        }
    }

    /// As what it is offered.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Page => words!("A page to read and print"),
            Self::Record => words!("The record, for this app (JSON)"),
            Self::Whole => words!("The record with its photos (JSON)"),
            Self::Readings => words!("The readings, for a spreadsheet (CSV)"),
            Self::Work => words!("The work log, for a spreadsheet (CSV)"),
            Self::Bundle => words!("All of it in one folder (zip)"),
        }
    }

    /// What it is good for.
    #[must_use]
    pub fn hint(self) -> &'static str {
        match self {
            Self::Page => words!(
                "For somebody without the app: opens in any browser and prints on paper, a sheet for each procedure first, every \
                 entry after, photos inside."
            ),
            Self::Record => {
                words!("For a mentor or your other phone. Photos stay here; what is said of them goes along.")
            }
            Self::Whole => words!("To keep a copy, or to move to another phone: everything, as it is here."),
            Self::Readings => words!("One row a reading."),
            Self::Work => words!("One row for each step, person and day, and what was written down by hand."),
            Self::Bundle => {
                words!("The page, the record, the tables and the photos beside each other, for keeping on a computer.")
            }
        }
    }

    /// How its name ends.
    const fn ending(self) -> &'static str {
        match self {
            Self::Page => "page.html",
            Self::Record => "record.json",
            Self::Whole => "record-with-photos.json",
            Self::Readings => "readings.csv",
            Self::Work => "work-log.csv",
            Self::Bundle => "bundle.zip",
        }
    }

    /// Its media type.
    #[must_use]
    pub const fn mime(self) -> &'static str {
        match self {
            Self::Page => "text/html",
            Self::Record | Self::Whole => "application/json",
            Self::Readings | Self::Work => "text/csv",
            Self::Bundle => "application/zip",
        }
    }

    /// What the file is called, the day first, so that files sort by it. Of every airframe together: "2026-03-04-everything.json".
    #[must_use]
    pub fn name(self, day: NaiveDate, airframe: Option<&Airframe>) -> String {
        match airframe {
            Some(airframe) => file_name(day, airframe, self.ending()),
            None => format!("{}-everything.json", day_text(day)),
        }
    }

    /// What is elsewhere too once this was sent and no photo was left out.
    #[must_use]
    pub fn sends(self, ledger: &Ledger, airframe: Option<&Airframe>, day: NaiveDate) -> Vec<Sent> {
        let airframes = these(ledger, airframe);
        match self {
            Self::Whole | Self::Bundle => sent_on(ledger, &airframes, day),
            Self::Record if photos_of(ledger, &airframes).is_empty() => sent_on(ledger, &airframes, day),
            Self::Record | Self::Page | Self::Readings | Self::Work => Vec::new(),
        }
    }

    /// The file of a photo as the text of this file has it.
    #[must_use]
    pub fn encoded(self, jpeg: &[u8]) -> String {
        match self {
            Self::Record | Self::Whole => URL_SAFE_NO_PAD.encode(jpeg),
            Self::Page | Self::Readings | Self::Work | Self::Bundle => STANDARD.encode(jpeg),
        }
    }
}

/// What a file is made of.
#[derive(Clone, Debug, Default)]
pub struct Pieces {
    /// Its pieces in order. Of a bundle: its page.
    pub pieces: Vec<Piece>,
    /// How many photos go along.
    pub photos: usize,
    /// How many of the record's photos do not: their files are not on this phone, or there is no room.
    pub left: usize,
}

/// The pieces of a file. `have`: the photos whose files are on this phone; `checked`: what holding signatures against their keys found, which
/// a page says. Without an airframe: of all of them, as a record. `None` when
/// the airframe is not here.
#[must_use]
pub fn pieces_of(
    ledger: &Ledger,
    airframe: Option<&Airframe>,
    parcel: Parcel,
    have: &[Digest],
    checked: Checked,
) -> Option<Pieces> {
    let named = photos_of(ledger, &these(ledger, airframe));
    let with: Vec<_> = named.iter().filter(|photo| have.contains(&photo.digest)).collect();
    let all = |pieces| Pieces { pieces, photos: with.len(), left: named.len() - with.len() };
    let none = |pieces| Pieces { pieces, photos: 0, left: 0 };
    Some(match (parcel, airframe) {
        (Parcel::Page | Parcel::Bundle, Some(airframe)) => {
            all(Printed::begin(ledger, airframe.id, have)?.checked(checked).flatten().collect())
        }
        (Parcel::Readings, Some(airframe)) => none(vec![Piece::Text(readings_csv(airframe, ledger))]),
        (Parcel::Work, Some(airframe)) => none(vec![Piece::Text(work_log_csv(airframe, ledger))]),
        (Parcel::Record, _) => none(record_pieces(None, &[], &mut of(ledger, airframe))),
        _ => {
            let mut room = MAX_BYTES.saturating_sub(text_bytes(&record_pieces(None, &[], &mut of(ledger, airframe))));
            let mut digests = Vec::new();
            for photo in &with {
                // Base64, and what stands around it.
                let bytes = usize::try_from(photo.bytes).unwrap_or(usize::MAX / 2).div_ceil(3) * 4 + 100;
                if bytes < room {
                    room -= bytes;
                    digests.push(photo.digest);
                }
            }
            let pieces = record_pieces(None, &digests, &mut of(ledger, airframe));
            Pieces { pieces, photos: digests.len(), left: named.len() - digests.len() }
        }
    })
}

fn these(ledger: &Ledger, airframe: Option<&Airframe>) -> Vec<AirframeId> {
    match airframe {
        Some(airframe) => vec![airframe.id],
        None => ledger.airframes().iter().map(|airframe| airframe.id).collect(),
    }
}

fn of<'l>(ledger: &'l Ledger, airframe: Option<&Airframe>) -> Box<dyn Iterator<Item = &'l Entry> + 'l> {
    match airframe {
        Some(airframe) => Box::new(ledger.of(airframe.id)),
        None => Box::new(ledger.entries()),
    }
}

fn text_bytes(pieces: &[Piece]) -> usize {
    pieces.iter().map(|piece| if let Piece::Text(text) = piece { text.len() } else { 0 }).sum()
}

/// What is said while a file is made.
#[must_use]
pub fn making_words(done: usize, of: usize) -> String {
    tr!("Making the file: {done} of {all}", done, all = of)
}

/// What is said of a file that was made: its name, its size in bytes, and its photos.
#[must_use]
pub fn made_words(name: &str, bytes: usize, photos: usize, left: usize) -> String {
    let size = megabytes(u64::try_from(bytes).unwrap_or(u64::MAX));
    let mut words = if photos > 0 {
        tr!("{file}, {size}, with 1 photo." | "{file}, {size}, with {n} photos." % photos, file = name, size)
    } else {
        format!("{name}, {size}.")
    };
    if left > 0 {
        words.push(' ');
        words.push_str(&tr!("1 photo not in it: not on this phone, or no room in one file. What is said of them is."
            | "{n} photos not in it: not on this phone, or no room in one file. What is said of them is." % left));
    }
    words
}
