//! Record files with photos and a question. The JSON is read again with another reader (`serde_json::Value`), photos are made by the
//! crate jpeg-encoder, and their base64url is held against the crate's own decoder: libraries that know nothing of ours.

mod support;

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use jpeg_encoder::{ColorType, Encoder};
use proptest::prelude::*;
use support::Logbook;
use trammel::record::{About, Body, Digest, Entry, EntryId, Ledger, Photo, PhotoError, Question};
use trammel::report::{ImportError, RecordFile, read_json, read_record, write_json, write_record};

/// A small photo, another one for each number.
fn photo(number: u8) -> (Photo, Vec<u8>) {
    let (width, height) = (8 + u16::from(number % 5), 9);
    let samples: Vec<u8> = (0..width * height).map(|place| (place as u8).wrapping_mul(number | 1)).collect();
    let mut file = Vec::new();
    Encoder::new(&mut file, 80).encode(&samples, width, height, ColorType::Luma).expect("encodes");
    Photo::of(&file).expect("a photo")
}

/// A record with photos of a step and a question about it.
fn asked(photos: u8) -> RecordFile {
    let mut book = Logbook::example(0);
    book.read("set/pitch", "direct", -2.6);
    let about = About { run: Some(book.run), step: Some("set/pitch".to_owned()), entry: None };
    let mut files = Vec::new();
    for number in 0..photos {
        let (photo, file) = photo(number);
        files.push((photo.digest, file));
        book.put(Body::PhotoAttached { about: about.clone(), photo, caption: format!("pitch {number}") });
    }
    let question = Question { about, question: "Which way?".to_owned(), to: "C. Mentor".to_owned() };
    let question = book.put(Body::QuestionAsked(question));
    RecordFile { entries: book.ledger.entries().cloned().collect(), photos: files, question: Some(question) }
}

#[test]
fn a_file_with_entries_alone_is_what_it_always_was() {
    let book = Logbook::example(1);
    let file = RecordFile { entries: book.ledger.entries().cloned().collect(), ..RecordFile::default() };
    assert_eq!(write_record(&file), write_json(book.ledger.entries()));
    assert_eq!(read_record(&write_json(book.ledger.entries())).as_ref(), Ok(&file));
}

#[test]
fn another_reader_finds_the_photos_and_the_question() {
    let file = asked(3);
    let read: serde_json::Value = serde_json::from_str(&write_record(&file)).expect("JSON");
    assert_eq!(read["question"], file.question.expect("asked").to_string());
    let photos = read["photos"].as_array().expect("a list");
    assert_eq!(photos.len(), 3);
    for (found, (digest, bytes)) in photos.iter().zip(&file.photos) {
        assert_eq!(found["digest"], digest.to_string());
        assert_eq!(&URL_SAFE_NO_PAD.decode(found["jpeg"].as_str().expect("a text")).expect("base64url"), bytes);
    }
    assert_eq!(read["entries"].as_array().map(Vec::len), Some(file.entries.len()));
}

/// Every way in which a photo or the question can be wrong, and what is said of it.
#[test]
fn a_file_that_is_not_whole_in_itself_is_refused() {
    let whole = asked(2);
    let refused = |change: &dyn Fn(&mut RecordFile)| {
        let mut file = whole.clone();
        change(&mut file);
        read_record(&write_record(&file)).expect_err("refused")
    };
    let other = photo(9);
    let is_photo = |entry: &Entry| matches!(entry.body, Body::PhotoAttached { .. });
    assert_eq!(refused(&|file| file.photos[1].1 = other.1.clone()), ImportError::BadPhoto(2, PhotoError::NotThePhoto));
    assert_eq!(refused(&|file| file.photos.push((other.0.digest, other.1.clone()))), ImportError::StrayPhoto(3));
    assert_eq!(refused(&|file| file.photos[1] = file.photos[0].clone()), ImportError::StrayPhoto(2));
    assert_eq!(refused(&|file| file.entries.retain(|entry| !is_photo(entry))), ImportError::StrayPhoto(1));
    assert_eq!(refused(&|file| file.question = Some(file.entries[0].id)), ImportError::NoQuestion);
    assert_eq!(refused(&|file| drop(file.entries.pop())), ImportError::NoQuestion);
    for words in
        [ImportError::BadPhoto(2, PhotoError::NotThePhoto), ImportError::StrayPhoto(1), ImportError::NoQuestion]
    {
        assert!(words.to_string().ends_with("Your stored records are untouched."), "{words}");
    }
}

/// A file that carries more than a picture under its own digest: refused all the same.
#[test]
fn a_photo_that_says_where_it_was_taken_is_refused() {
    let mut file = asked(1);
    let mut bytes = file.photos[0].1.clone();
    bytes.splice(2..2, [0xff, 0xfe, 0, 6].into_iter().chain(*b"48 N"));
    let digest = Digest::of(&bytes);
    for entry in &mut file.entries {
        if let Body::PhotoAttached { photo, .. } = &mut entry.body {
            photo.digest = digest;
        }
    }
    file.photos = vec![(digest, bytes)];
    assert_eq!(read_record(&write_record(&file)), Err(ImportError::BadPhoto(1, PhotoError::CarriesMore)));
}

#[test]
fn only_one_spelling_is_read() {
    let text = write_record(&asked(1));
    assert!(read_record(&text).is_ok());
    let jpeg = text.find("\"jpeg\":\"").expect("a photo") + 8;
    let (start, end) = text.split_at(jpeg);
    let escaped = format!("{start}\\u00{:02x}{}", end.as_bytes()[0], &end[1..]);
    assert!(read_record(&escaped).is_err(), "the same bytes written with an escape");
    assert!(read_record(&text.replacen("\"}", "=\"}", 1)).is_err(), "padded");
    let long = format!("{start}{}{end}", "A".repeat(3_000_000));
    assert!(matches!(read_record(&long), Err(ImportError::BadEntry(_, why)) if why.contains("too long")));
}

/// Everything of an altered copy that the record as it stood would not show: new entries, differing ones, other photos.
fn reported(read: &RecordFile, whole: &RecordFile) -> bool {
    let mut ledger = Ledger::default();
    ledger.merge(whole.entries.iter().cloned());
    let merged = ledger.merge(read.entries.iter().cloned());
    !merged.added.is_empty() || !merged.conflicts.is_empty()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn writing_what_was_read_gives_the_same_bytes(photos in 0..4_u8, ask in any::<bool>(), left in any::<bool>()) {
        let mut file = asked(photos);
        file.question = file.question.filter(|_| ask);
        if left {
            file.photos.pop();
        }
        let text = write_record(&file);
        let read = read_record(&text).expect("reads");
        prop_assert_eq!(write_record(&read), text.clone());
        prop_assert_eq!(read_json(&text).expect("reads"), file.entries.clone());
        prop_assert_eq!(read, file);
    }

    #[test]
    fn a_file_cut_short_is_refused(photos in 0..3_u8, place in any::<prop::sample::Index>()) {
        let text = write_record(&asked(photos));
        let end = place.index(text.trim_end().len());
        prop_assert!(read_record(&text[..end]).is_err());
    }

    /// Whatever one bit becomes: refused, or an entry that the merge reports, or nothing changed.
    #[test]
    fn a_bit_that_flips_is_refused_or_reported(place in any::<prop::sample::Index>(), bit in 0..8_u8, head in any::<bool>()) {
        let whole = asked(2);
        let mut bytes = write_record(&whole).into_bytes();
        // Half of the flips in the photos and the question, which are the smaller part of the file.
        let until = if head { write_record(&whole).find(",\"entries\"").expect("entries") } else { bytes.len() };
        let at = place.index(until);
        bytes[at] ^= 1 << bit;
        let Ok(text) = String::from_utf8(bytes) else { return Ok(()) };
        let Ok(read) = read_record(&text) else { return Ok(()) };
        let lost = read.question != whole.question || read.photos != whole.photos;
        prop_assert!(!lost, "{}", text);
        prop_assert!(read.entries == whole.entries || reported(&read, &whole), "{}", text);
    }
}

#[test]
fn an_id_is_read_in_either_case_and_means_the_same() {
    let text = write_record(&asked(0));
    let id = asked(0).question.expect("asked").to_string();
    let upper = text.replacen(&id, &id.to_uppercase(), 1);
    let question: Option<EntryId> = read_record(&upper).expect("reads").question;
    assert_eq!(question.map(|id| id.to_string()), Some(id));
}
