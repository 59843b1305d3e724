//! What is sent, what it is called, what goes into it, and what is said of what was not sent.

#[path = "support/kinds.rs"]
mod kinds;
mod support;

use std::collections::BTreeSet;

use chrono::NaiveDate;
use kinds::{every_kind, whole_file};
use support::Logbook;
use trammel::record::{AirframeDetails, Body, Digest, EntryId, Units};
use trammel::report::{
    Checked, Parcel, Piece, Sent, made_words, note_sent, pieces_of, read_record, read_sent, sent_on, sent_text,
    sent_with, storage_words, unsent, write_json, write_record,
};

fn day(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2025, 10, day).expect("a day")
}

/// The text of a file, photos put in.
fn text(book: &Logbook, parcel: Parcel, all: bool, photos: &[(Digest, Vec<u8>)]) -> (String, usize, usize) {
    let have: Vec<Digest> = photos.iter().map(|(digest, _)| *digest).collect();
    let airframe = book.airframe();
    let airframe = (!all).then_some(&airframe);
    let found = pieces_of(&book.ledger, airframe, parcel, &have, Checked::new()).expect("an airframe");
    let one = |piece| match piece {
        Piece::Text(text) => text,
        Piece::Photo(digest) => {
            let (_, jpeg) = photos.iter().find(|(known, _)| *known == digest).expect("only what is here");
            parcel.encoded(jpeg)
        }
    };
    (found.pieces.into_iter().map(one).collect(), found.photos, found.left)
}

#[test]
fn a_backup_holds_everything_and_reads_back() {
    let (book, photos) = every_kind();
    for all in [true, false] {
        let (whole, with, left) = text(&book, Parcel::Whole, all, &photos);
        assert_eq!(whole, write_record(&whole_file()), "piece by piece the same bytes");
        assert_eq!((with, left), (photos.len(), 0));
        let file = read_record(&whole).expect("reads");
        assert_eq!(file.photos, photos);
        assert_eq!(write_record(&file), whole, "read and written again");
        assert_eq!(text(&book, Parcel::Record, all, &photos).0, write_json(book.ledger.entries()));
    }
    let (short, with, left) = text(&book, Parcel::Whole, true, &[]);
    assert_eq!((with, left), (0, photos.len()), "what is not here is counted");
    assert_eq!(short, write_json(book.ledger.entries()));
    assert!(
        made_words("x", 1_234_567, 0, left).contains("1 photo not in it"),
        "{}",
        made_words("x", 1_234_567, 0, left)
    );
    assert!(made_words("x", 1_234_567, 2, 0).starts_with("x, 1.3 MB, with 2 photos."));
}

#[test]
fn names_sort_by_the_day() {
    let (book, _) = every_kind();
    let airframe = book.airframe();
    let mut names: Vec<String> = [9, 10, 2].map(|n| Parcel::Whole.name(day(n), Some(&airframe))).to_vec();
    names.sort();
    assert!(names[0].starts_with("2025-10-02-") && names[2].starts_with("2025-10-10-"), "{names:?}");
    let kinds: BTreeSet<String> = Parcel::ALL.into_iter().map(|parcel| parcel.name(day(1), Some(&airframe))).collect();
    assert_eq!(kinds.len(), Parcel::ALL.len(), "each its own name");
    assert_eq!(Parcel::Whole.name(day(1), None), "2025-10-01-everything.json");
}

/// A record of a real airframe; entries are of 2025-10-09, by the logbook's clock.
fn real() -> Logbook {
    let mut book = Logbook::empty();
    let details = AirframeDetails {
        model: "Veldrin H2".to_owned(),
        serial: "7".to_owned(),
        builder: "A. Builder".to_owned(),
        manual: String::new(),
        units: Units::Inches,
        invented: false,
    };
    book.put(Body::AirframeMade { details });
    book.put(Body::ItemOpened(trammel::record::OpenItem {
        about: trammel::record::About::default(),
        what: "Fetch the trestle".to_owned(),
        blocks: None,
    }));
    book
}

#[test]
fn a_day_that_was_not_sent_is_said_once_it_is_over() {
    let mut book = real();
    assert_eq!(unsent(&book.ledger, &[], day(9)), None, "the day is not over");
    let said = unsent(&book.ledger, &[], day(10)).expect("said");
    assert!(said.starts_with("2 entries, and nothing was ever exported"), "{said}");
    let mut sent = Vec::new();
    note_sent(&mut sent, Parcel::Page.sends(&book.ledger, None, day(9)));
    assert!(sent.is_empty(), "a page cannot be opened again");
    note_sent(&mut sent, Parcel::Record.sends(&book.ledger, None, day(9)));
    assert_eq!(sent.len(), 1, "there are no photos: the record is all");
    assert_eq!(read_sent(&sent_text(&sent)), sent, "kept and read");
    assert!(read_sent("not one of ours\n").is_empty());
    assert_eq!(unsent(&book.ledger, &sent, day(10)), None);
    let waited = sent.clone();
    book.put(Body::PersonNamed { name: "B. Helper".to_owned(), role: trammel::record::Role::Helper });
    let said = unsent(&book.ledger, &sent, day(12)).expect("said");
    assert!(said.starts_with("1 entry since the last export, on 2025-10-09."), "{said}");
    note_sent(&mut sent, Parcel::Record.sends(&book.ledger, None, day(12)));
    note_sent(&mut sent, waited);
    assert_eq!(unsent(&book.ledger, &sent, day(13)), None, "a file that waited is older than what was sent meanwhile");
    let (examples, _) = every_kind();
    assert_eq!(unsent(&examples.ledger, &[], day(12)), None, "nobody misses an invented one");
}

#[test]
fn a_record_without_its_photos_is_not_all_of_it() {
    let (book, _) = every_kind();
    assert!(Parcel::Record.sends(&book.ledger, None, day(9)).is_empty());
    assert_eq!(Parcel::Whole.sends(&book.ledger, None, day(9)), sent_on(&book.ledger, &[book.airframe], day(9)));
}

#[test]
fn what_came_with_a_file_is_elsewhere_too() {
    let (book, photos) = every_kind();
    let ids: BTreeSet<EntryId> = book.ledger.entries().map(|entry| entry.id).collect();
    let all_ids = || ids.iter().copied().collect();
    let (none, lone) = (Vec::new(), photos.iter().map(|(digest, _)| *digest).collect::<Vec<_>>());
    let all = sent_with(&[], &book.ledger, all_ids(), &none, day(9));
    assert_eq!(all, sent_on(&book.ledger, &[book.airframe], day(9)));
    assert!(sent_with(&[], &book.ledger, all_ids(), &lone, day(9)).is_empty(), "a photo is on this phone alone");
    let last = *ids.last().expect("entries");
    let short = ids.iter().copied().filter(|id| *id != last).collect();
    assert!(sent_with(&[], &book.ledger, short, &none, day(9)).is_empty(), "an entry is on this phone alone");
    // Everything before the last was sent earlier.
    let before = *ids.iter().rev().nth(1).expect("entries");
    let known = [Sent { airframe: book.airframe, newest: before, day: day(8) }];
    assert_eq!(sent_with(&known, &book.ledger, vec![last], &none, day(9)), all);
}

#[test]
fn storage_is_said_in_plain_words() {
    let said = storage_words(Some(true), Some(1_234_567), Some(2_000_000_000));
    assert!(said.contains("has promised") && said.contains("1.3 MB") && said.contains("1.9 GB"), "{said}");
    assert!(storage_words(Some(false), Some(1), Some(30_000_000)).contains("That is little"));
    assert!(storage_words(None, None, None).contains("does not say"));
}
