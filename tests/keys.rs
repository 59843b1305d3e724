//! Keys and signatures: what a record says of who signed, held against Ed25519 (RFC 8032) as a general-purpose library has it.

mod support;

use ed25519_dalek::{Signature, SigningKey, VerifyingKey};
use support::{Logbook, signed};
use trammel::record::{
    About, Body, Entry, EntryId, Head, Key, Ledger, Question, Remark, Signed, announce, keys, signatures,
};
use trammel::report::{Checked, Wholeness, extract, read_json, write_json};
use uuid::Uuid;

/// What the app does with the browser's Ed25519: every signature against its key.
fn check(ledger: &Ledger, book: &Logbook) -> Checked {
    let held = |(entry, signed): (EntryId, Signed)| {
        let Signed::With(signature) = signed else { return None };
        let key = VerifyingKey::from_bytes(signature.key.bytes()).ok()?;
        let found = key.verify_strict(signature.text.as_bytes(), &Signature::from_bytes(&signature.bytes));
        Some((entry, found.is_ok()))
    };
    signatures(ledger, book.airframe).into_iter().filter_map(held).collect()
}

fn whole(ledger: &Ledger, book: &Logbook) -> Wholeness {
    Wholeness::of(ledger, book.airframe, &check(ledger, book), Some(book.device))
}

fn remark(book: &mut Logbook, text: &str) -> EntryId {
    book.put(Body::RemarkMade(Remark { about: About::default(), answers: None, text: text.to_owned(), proposes: None }))
}

/// Two phones: the builder's, with a key from the start, and a mentor's.
fn two_phones() -> Logbook {
    let mut book = Logbook::example(0);
    book.make_key(1, None);
    book.confirm("cautions");
    book.sign("hold-a", "B. Helper");
    book.device = Uuid::from_u128(0xE);
    "M. Mentor".clone_into(&mut book.by);
    book.make_key(2, None);
    remark(&mut book, "Raise it an eighth.");
    book.device = Uuid::from_u128(0xD);
    "A. Builder".clone_into(&mut book.by);
    book.confirm("level-frame");
    book
}

fn with(book: &Logbook, change: impl Fn(&mut Entry)) -> Ledger {
    let mut ledger = Ledger::default();
    ledger.merge(book.ledger.entries().cloned().map(|mut entry| {
        change(&mut entry);
        entry
    }));
    ledger
}

/// Tests 1 and 2 of RFC 8032, section 7.1, from memory: the library that checks here checks by that standard.
#[test]
fn signatures_are_rfc_8032() {
    let hex = |text: &str| -> Vec<u8> {
        (0..text.len()).step_by(2).map(|at| u8::from_str_radix(&text[at..at + 2], 16).expect("hex")).collect()
    };
    for (key, message, signature) in [
        (
            "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
            "",
            "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
        ),
        (
            "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
            "72",
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
        ),
    ] {
        let key = VerifyingKey::from_bytes(&hex(key).try_into().expect("32 bytes")).expect("a key");
        let signature = Signature::from_bytes(&hex(signature).try_into().expect("64 bytes"));
        assert!(key.verify_strict(&hex(message), &signature).is_ok());
        assert!(key.verify_strict(b"another", &signature).is_err());
    }
}

#[test]
fn a_record_that_was_signed_as_it_was_written_is_unbroken() {
    let book = two_phones();
    let found = whole(&book.ledger, &book);
    assert!(found.unbroken, "{found:?}");
    assert_eq!(found.said, ["4 signatures were held against the keys: good."]);
    let words = |seed: u8| Key::new(SigningKey::from_bytes(&[seed; 32]).verifying_key().to_bytes()).words();
    assert!(found.keys.iter().any(|key| key.starts_with("Key of this phone since ") && key.ends_with(&words(1))));
    assert!(found.keys.iter().any(|key| key.contains("the phone that M. Mentor held") && key.ends_with(&words(2))));
    let mut read = Ledger::default();
    read.merge(read_json(&write_json(book.ledger.entries())).expect("reads"));
    assert_eq!(whole(&read, &book), found, "and after a journey");
}

/// Where the engine cannot check, nothing is claimed of the signatures.
#[test]
fn what_was_not_checked_is_not_called_good() {
    let book = two_phones();
    let found = Wholeness::of(&book.ledger, book.airframe, &Checked::new(), None);
    assert!(found.unbroken);
    assert_eq!(found.said, ["4 signatures were not held against the keys here."]);
}

#[test]
fn every_signed_entry_that_was_sealed_anew_is_found() {
    let book = two_phones();
    let places: Vec<EntryId> = signatures(&book.ledger, book.airframe).into_iter().map(|(entry, _)| entry).collect();
    assert_eq!(places.len(), 4);
    for place in places {
        // Changed, and sealed as well as the first was: only the signature tells, or the entry that follows.
        let forged = with(&book, |entry| {
            if entry.id == place {
                entry.by = "E. Else".to_owned();
                let seal = entry.seal.clone().expect("sealed");
                let mut head = Head { number: seal.number - 1, digest: seal.after };
                *entry = entry.clone().sealed(&mut head);
                entry.seal.as_mut().expect("sealed").signature = seal.signature;
            }
        });
        let found = whole(&forged, &book);
        let wrong = (place, "Its signature is not by the key of its device.".to_owned());
        assert!(!found.unbroken && found.places.contains(&wrong), "{found:?}");
    }
}

/// Another device's key signs nothing for this one, nor does a key that was never announced.
#[test]
fn a_signature_by_another_key_is_found() {
    let book = two_phones();
    for seed in [2, 9] {
        let other = SigningKey::from_bytes(&[seed; 32]);
        let forged = with(&book, |entry| {
            if matches!(entry.body, Body::HoldSigned { .. }) {
                *entry = signed(entry.clone(), &other);
            }
        });
        let found = whole(&forged, &book);
        assert_eq!(found.places.len(), 1, "{found:?}");
        assert!(found.lead.starts_with("Not unbroken."));
    }
}

#[test]
fn a_signature_taken_off_or_garbled_is_found() {
    let book = two_phones();
    for (signature, words) in [
        (None, "It is not signed, and its device had a key."),
        (Some("A".repeat(85)), "Its signature is none: it cannot be read."),
        (Some("A".repeat(86)), "Its signature is not by the key of its device."),
    ] {
        let changed = with(&book, |entry| {
            if matches!(entry.body, Body::RemarkMade(_)) {
                entry.seal.as_mut().expect("sealed").signature.clone_from(&signature);
            }
        });
        let found = whole(&changed, &book);
        assert_eq!(found.places.iter().map(|(_, words)| words.as_str()).collect::<Vec<_>>(), [words]);
    }
    // The entry that announces the key taken away: what it signed hangs in the air.
    let mut fewer = Ledger::default();
    fewer.merge(book.ledger.entries().filter(|entry| !matches!(entry.body, Body::KeyMade { .. })).cloned());
    let found = whole(&fewer, &book);
    assert!(found.places.iter().any(|(_, words)| words == "It is signed, and the key of its device is not here."));
}

#[test]
fn a_lost_key_is_followed_by_a_new_one() {
    let mut book = two_phones();
    let old =
        book.ledger.entries().find(|entry| matches!(entry.body, Body::HoldSigned { .. })).expect("signed").clone();
    let new = Key::new(SigningKey::from_bytes(&[3; 32]).verifying_key().to_bytes());
    let Some(Body::KeyMade { key, lost: Some(why) }) = announce(&book.ledger, book.airframe, book.device, &new) else {
        panic!("a new key of a device that had one is announced, with the reason");
    };
    assert_eq!(Key::parse(&key), Some(new));
    book.make_key(3, Some(&why));
    assert_eq!(announce(&book.ledger, book.airframe, book.device, &new), None, "once");
    let again = book.sign("hold-a", "B. Helper");
    let found = whole(&book.ledger, &book);
    assert!(found.unbroken, "{found:?}");
    assert_eq!(keys(&book.ledger, book.airframe).len(), 3);
    assert!(found.keys.iter().any(|key| key.contains(&new.words()) && key.ends_with(&why)));
    // The old key signs nothing after the new one, the new one nothing before.
    for (entry, seed) in [(again, 1), (old.id, 3)] {
        let signer = SigningKey::from_bytes(&[seed; 32]);
        let forged = with(&book, |changed| {
            if changed.id == entry {
                *changed = signed(changed.clone(), &signer);
            }
        });
        assert_eq!(whole(&forged, &book).places.len(), 1);
    }
}

#[test]
fn what_was_signed_before_there_was_a_key_is_counted_and_is_no_break() {
    let mut book = Logbook::example(0);
    book.sign("hold-a", "B. Helper");
    book.make_key(1, None);
    let found = whole(&book.ledger, &book);
    assert!(found.unbroken);
    assert!(found.said.contains(&"1 hold point, remark or answer is not signed: the device had no key.".to_owned()));
    assert_eq!(
        announce(&book.ledger, book.airframe, book.device, &Key::new([7; 32]))
            .map(|body| matches!(body, Body::KeyMade { lost: Some(_), .. })),
        Some(true)
    );
    assert!(matches!(
        announce(&book.ledger, book.airframe, Uuid::from_u128(0xF), &Key::new([7; 32])),
        Some(Body::KeyMade { lost: None, .. })
    ));
}

/// An extract has the keys with it: what it holds can be checked by whoever it is sent to.
#[test]
fn an_extract_can_be_checked() {
    let mut book = two_phones();
    let about = About { run: Some(book.run), step: Some("hold-a".to_owned()), entry: None };
    let (question, to) = ("May it stand?".to_owned(), "M. Mentor".to_owned());
    let asked = book.put(Body::QuestionAsked(Question { about, question, to }));
    let mut sent = Ledger::default();
    sent.merge(extract(&book.ledger, asked).expect("asked").entries);
    let checked = check(&sent, &book);
    assert!(checked.len() >= 3 && checked.iter().all(|(_, good)| *good), "{checked:?}");
}
