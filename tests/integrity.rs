//! What a record's chains find. The digest is SHA-256 of the documented text: recomputed here from the file with another reader
//! (`serde_json::Value`), so that a record can be checked without the app.

mod support;

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use sha2::{Digest as _, Sha256};
use support::Logbook;
use trammel::record::{Break, Entry, Integrity, Ledger};
use trammel::report::{read_json, write_json};
use uuid::Uuid;

/// Two devices write by turns, each ten entries and more.
fn two_devices() -> Logbook {
    let mut book = Logbook::example(0);
    for n in 0..20_u8 {
        book.device = Uuid::from_u128(0xD + u128::from(n % 2));
        book.read("set/pitch", "direct", -2.5 - f64::from(n) / 10.0);
    }
    book
}

fn integrity(entries: impl IntoIterator<Item = Entry>) -> Integrity {
    let mut ledger = Ledger::default();
    ledger.merge(entries);
    Integrity::of(&ledger, two_devices().airframe)
}

#[test]
fn a_record_as_it_was_written_is_unbroken() {
    let book = two_devices();
    let found = Integrity::of(&book.ledger, book.airframe);
    assert_eq!((found.sealed, found.unsealed, found.devices), (book.ledger.len(), 0, 2));
    assert!(found.unbroken(), "{:?}", found.breaks);
    let read = read_json(&write_json(book.ledger.entries())).expect("reads");
    assert_eq!(integrity(read), found, "and after a journey");
}

/// SHA-256 as FIPS 180-4 defines it, of the text that the format's page documents.
#[test]
fn the_digest_is_what_the_page_says() {
    let text = write_json(two_devices().ledger.entries());
    let file: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    for (place, line) in text.lines().skip(1).filter(|line| line.starts_with("{\"id\"")).enumerate() {
        let line = line.trim_end_matches(',');
        let (content, _) = line.rsplit_once(",\"seal\":").expect("sealed");
        let seal = &file["entries"][place]["seal"];
        let after = seal["after"].as_str().map(|after| format!(",\"after\":\"{after}\"")).unwrap_or_default();
        let content = format!("{content},\"number\":{}{after}}}", seal["number"]);
        assert_eq!(seal["digest"], URL_SAFE_NO_PAD.encode(Sha256::digest(&content)), "{content}");
    }
}

#[test]
fn every_altered_entry_is_found_and_only_that() {
    let book = two_devices();
    for place in 0..book.ledger.len() {
        let mut entries: Vec<Entry> = book.ledger.entries().cloned().collect();
        let changed = &mut entries[place];
        match place % 3 {
            0 => changed.by.push('x'),
            1 => changed.at += chrono::TimeDelta::minutes(1),
            _ => changed.seal.as_mut().expect("sealed").number += 100,
        }
        let (id, moved) = (changed.id, place % 3 == 2);
        let found = integrity(entries);
        assert!(found.breaks.contains(&Break::Altered(id)), "entry {place}: {:?}", found.breaks);
        assert!(moved || found.breaks.len() == 1, "entry {place}: {:?}", found.breaks);
    }
}

#[test]
fn an_entry_left_out_or_replaced_is_found() {
    let book = two_devices();
    let all: Vec<Entry> = book.ledger.entries().cloned().collect();
    for place in 0..all.len() {
        let next = all[place + 1..].iter().find(|entry| entry.device == all[place].device).map(|entry| entry.id);
        let mut fewer = all.clone();
        fewer.remove(place);
        let expected: Vec<Break> = next.map(|before| Break::Gap { before, missing: 1 }).into_iter().collect();
        assert_eq!(integrity(fewer).breaks, expected, "entry {place} left out");

        // Replaced by one that is sealed as well as the first: what follows does not fit it.
        let mut forged = all.clone();
        forged[place].by = "somebody else".to_owned();
        let seal = forged[place].seal.clone().expect("sealed");
        let mut head = trammel::record::Head { number: seal.number - 1, digest: seal.after };
        forged[place] = forged[place].clone().sealed(&mut head);
        let expected: Vec<Break> = next.map(Break::Torn).into_iter().collect();
        assert_eq!(integrity(forged).breaks, expected, "entry {place} replaced");
    }
}

#[test]
fn two_devices_with_one_memory_are_found() {
    let mut one = two_devices();
    let mut two = one.clone();
    let first = one.read("set/pitch", "direct", -2.6);
    two.by = "B. Helper".to_owned();
    let second = two.read("set/square", "left", 227.0);
    // The same moment gives the same id in the logbook; on phones ids never meet.
    let second = Entry {
        id: trammel::record::EntryId(Uuid::from_u128(u128::MAX)),
        ..two.ledger.get(second).cloned().expect("kept")
    };
    one.ledger.merge([second.clone()]);
    let found = Integrity::of(&one.ledger, one.airframe).breaks;
    assert!(found.contains(&Break::Twice(first)) && found.contains(&Break::Twice(second.id)), "{found:?}");
}

#[test]
fn a_sound_copy_heals_an_altered_one() {
    let book = two_devices();
    let mut altered: Vec<Entry> = book.ledger.entries().cloned().collect();
    let last = altered.len() - 1;
    altered[last].by = "\u{1}".to_owned();
    for first in [&altered, &book.ledger.entries().cloned().collect()] {
        let mut ledger = Ledger::default();
        ledger.merge(first.clone());
        ledger.merge(altered.clone());
        ledger.merge(book.ledger.entries().cloned());
        assert_eq!(ledger, book.ledger);
        assert_eq!(ledger.head(book.device, book.airframe), book.ledger.head(book.device, book.airframe));
    }
}
