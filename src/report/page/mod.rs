//! The record as a page to print: one HTML file without a script and without anything from elsewhere, well-formed as XML too.
//!
//! A title page, then each run of a procedure from a fresh page, then what was said of the airframe at large, then every entry. Marks
//! are told by shape and word, never by colour. Nothing that somebody typed can become markup: [`Pen`](pen::Pen) takes markup only as
//! text of this program. See docs/decisions/0016-zip-and-page.md.

mod entries;
mod job;
mod pen;
mod said;
mod style;
mod title;

use std::collections::BTreeMap;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

use super::lines::{Line, lines, when};
use super::unbroken::Checked;
use crate::language::words;
use crate::record::{Airframe, AirframeId, Body, Digest, Entry, EntryId, Ledger};
use pen::Pen;
pub use pen::Piece;

/// How many entries are written at a time.
const AT_A_TIME: usize = 500;

/// The page of one airframe, written piece by piece so that a screen can say how far it has come.
#[derive(Debug)]
pub struct Printed<'l> {
    ledger: &'l Ledger,
    airframe: Airframe,
    /// Every entry in words, oldest first.
    lines: Vec<Line>,
    place: BTreeMap<EntryId, usize>,
    answers: BTreeMap<EntryId, Vec<EntryId>>,
    /// Photos whose files are there to be put in.
    have: &'l [Digest],
    /// Signatures that were held against their keys.
    checked: Checked,
    next: usize,
}

impl<'l> Printed<'l> {
    /// Begins the page. `have`: the photos whose files can be put in; of any other the page says that it is not there. `None` when the
    /// airframe is not here.
    #[must_use]
    pub fn begin(ledger: &'l Ledger, airframe: AirframeId, have: &'l [Digest]) -> Option<Self> {
        let known = ledger.airframe(airframe)?;
        let lines = lines(ledger, airframe);
        let place = lines.iter().enumerate().map(|(place, line)| (line.entry, place)).collect();
        let mut answers: BTreeMap<EntryId, Vec<EntryId>> = BTreeMap::new();
        for entry in ledger.in_force(airframe) {
            let of = match &entry.body {
                Body::DeviationAnswered(answer) => Some(answer.deviation),
                Body::ItemClosed { item, .. } => Some(*item),
                Body::RemarkMade(remark) => remark.answers,
                _ => None,
            };
            if let Some(of) = of {
                answers.entry(of).or_default().push(entry.id);
            }
        }
        Some(Self { ledger, airframe: known, lines, place, answers, have, checked: Checked::new(), next: 0 })
    }

    /// The same page, saying what holding the signatures against their keys found.
    #[must_use]
    pub fn checked(self, checked: Checked) -> Self {
        Self { checked, ..self }
    }

    /// How many pieces there are in all.
    #[must_use]
    pub fn in_all(&self) -> usize {
        self.before_entries() + self.lines.len().div_ceil(AT_A_TIME)
    }

    /// The title page, one for each run, one for what was said at large.
    fn before_entries(&self) -> usize {
        self.airframe.runs.len() + 2
    }

    fn line(&self, entry: EntryId) -> Option<&Line> {
        self.lines.get(*self.place.get(&entry)?)
    }

    fn what(&self, entry: EntryId) -> &str {
        self.line(entry).map_or("", |line| &line.what)
    }

    /// Who wrote an entry and when: "A. Builder, 2026-03-04 19:31".
    fn by_when(&self, entry: EntryId) -> String {
        self.ledger.get(entry).map(|entry| who_when(&entry.by, entry)).unwrap_or_default()
    }

    fn answers(&self, entry: EntryId) -> impl Iterator<Item = &'l Entry> {
        let ledger = self.ledger;
        self.answers.get(&entry).into_iter().flatten().filter_map(move |answer| ledger.get(*answer))
    }
}

fn who_when(name: &str, entry: &Entry) -> String {
    let name = if name.trim().is_empty() { words!("nobody named") } else { name };
    format!("{name}, {}", when(&entry.at))
}

impl Iterator for Printed<'_> {
    /// Text, and places where the file of a photo goes as base64.
    type Item = Vec<Piece>;

    fn next(&mut self) -> Option<Vec<Piece>> {
        let (place, runs, first) = (self.next, self.airframe.runs.len(), self.before_entries());
        if place >= self.in_all() {
            return None;
        }
        self.next += 1;
        let mut pen = Pen::default();
        if place == 0 {
            title::head(self, &mut pen);
            title::title(self, &mut pen);
        } else if place <= runs {
            job::job(self, place - 1, &mut pen);
        } else if place < first {
            said::at_large(self, &mut pen);
            entries::begin(self, &mut pen);
        } else {
            let from = (place - first) * AT_A_TIME;
            entries::rows(self, from..self.lines.len().min(from + AT_A_TIME), &mut pen);
        }
        if self.next == self.in_all() {
            entries::end(&mut pen);
        }
        Some(pen.done())
    }
}

/// The whole page at once. Photos that are not among `photos` are named and said not to be there. `None` when the airframe is not here.
#[must_use]
pub fn printed(ledger: &Ledger, airframe: AirframeId, photos: &BTreeMap<Digest, Vec<u8>>) -> Option<String> {
    let have: Vec<Digest> = photos.keys().copied().collect();
    let mut text = String::new();
    for piece in Printed::begin(ledger, airframe, &have)?.flatten() {
        match piece {
            Piece::Text(part) => text.push_str(&part),
            Piece::Photo(digest) => {
                STANDARD.encode_string(photos.get(&digest).map(Vec::as_slice).unwrap_or_default(), &mut text);
            }
        }
    }
    Some(text)
}
