//! The works that are measured. Each gives its seconds.

use std::collections::BTreeMap;

use trammel::procedure::{Precedent, Run, aircraft};
use trammel::record::{Airframe, Entry, Integrity, Ledger, from_json};
use trammel::report::{
    latest_lines, left_to_do, lines, on_desk, printed, read_json, readings_csv, work_log, write_json,
};

use super::clock::least;
use crate::support::Logbook;

/// Entries of a file that is taken in: a file of any size up to the limit, so that a long record comes in several.
const PER_FILE: usize = 100_000;
/// Entries that the record's page draws at first.
const SHOWN: usize = 200;
/// Entries that are appended.
const APPENDED: usize = 51;

/// A work and its name in the figures.
pub(crate) type Work = (&'static str, fn(&Record) -> f64);

/// Works on one airframe.
pub(crate) const WORKS: [Work; 11] = [
    ("fold", fold),
    ("aircraft", |record| least(|| aircraft(&record.airframe(), record.ledger()))),
    ("latest", |record| least(|| latest_lines(record.ledger(), record.book.airframe, SHOWN))),
    ("lines", |record| least(|| lines(record.ledger(), record.book.airframe))),
    ("left", |record| least(|| left_to_do(record.ledger(), record.book.airframe))),
    ("hours", |record| least(|| work_log(record.ledger(), record.book.airframe))),
    ("chains", |record| least(|| Integrity::of(record.ledger(), record.book.airframe))),
    ("csv", |record| least(|| readings_csv(&record.airframe(), record.ledger()))),
    ("page", |record| least(|| printed(record.ledger(), record.book.airframe, &BTreeMap::new()))),
    ("export", export),
    ("import", import),
];

/// Works on a hangar of airframes.
pub(crate) const HANGAR_WORKS: [Work; 5] = [
    ("fold", fold),
    ("hangar", |record| least(|| record.ledger().airframes())),
    ("desk", |record| least(|| on_desk(record.ledger()))),
    ("export", export),
    ("import", import),
];

/// A record that is kept open.
pub(crate) struct Record {
    pub(crate) book: Logbook,
}

impl Record {
    /// As it was written; the book is at its last run.
    pub(crate) fn of(book: Logbook) -> Self {
        Self { book }
    }

    fn ledger(&self) -> &Ledger {
        &self.book.ledger
    }

    fn airframe(&self) -> Airframe {
        self.book.airframe()
    }
}

/// Entries as the app has them on the disk: each a text of its own.
pub(crate) fn stored(ledger: &Ledger) -> Vec<String> {
    ledger.entries().map(|entry| serde_json::to_string(entry).expect("an entry")).collect()
}

/// As the app opens: every stored text is read and merged.
pub(crate) fn opened(texts: &[String]) -> Ledger {
    let mut ledger = Ledger::default();
    ledger.merge(texts.iter().map(|text| from_json::<Entry>(text).expect("an entry")));
    ledger
}

/// As a step's page opens: the airframe, what others of its type taught, and its latest run with what to move.
pub(crate) fn fold(record: &Record) -> f64 {
    least(|| folded(&record.book))
}

fn folded(book: &Logbook) -> Run {
    let airframe = book.airframe();
    let precedent = Precedent::of(book.procedure(), &book.ledger, &airframe);
    let entries = book.ledger.of_run(book.airframe, book.run);
    Run::fold_after(book.procedure(), &airframe, book.run, &entries, precedent)
}

/// One entry more: sealed, merged, and the step's page again; the middle of several.
pub(crate) fn append(record: &mut Record) -> f64 {
    let book = &mut record.book;
    let mut times: Vec<f64> = (0..APPENDED)
        .map(|_| {
            let begun = std::time::Instant::now();
            book.confirm("level-frame");
            std::hint::black_box(folded(book));
            begun.elapsed().as_secs_f64()
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[APPENDED / 2]
}

fn export(record: &Record) -> f64 {
    least(|| write_json(record.ledger().entries()))
}

fn import(record: &Record) -> f64 {
    let all: Vec<&Entry> = record.ledger().entries().collect();
    let files: Vec<String> = all.chunks(PER_FILE).map(|part| write_json(part.iter().copied())).collect();
    least(|| {
        let mut ledger = Ledger::default();
        for file in &files {
            ledger.merge(read_json(file).expect("a record"));
        }
        ledger
    })
}
