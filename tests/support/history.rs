//! Long records for measurements: builders' whole projects, several times over.

use trammel::procedure::MATE_AFT_FUSELAGE;
use trammel::record::{About, AirframeId, Body, Digest, EntryId, Photo};
use uuid::Uuid;

use super::Logbook;

/// Entries of a run: four sets of readings, a move and a note, over and over.
pub(crate) const PER_RUN: usize = 500;
/// Entries to a photo.
const PER_PHOTO: usize = 200;
/// Readings of a round; a move and a note follow.
const ROUND: [(&str, &str, f64); 8] = [
    ("set/pitch", "direct", -2.6),
    ("set/pitch", "direct", -2.5),
    ("set/pitch", "reversed", 2.6),
    ("set/pitch", "reversed", 2.5),
    ("set/square", "left", 227.687_5),
    ("set/square", "right", 227.718_75),
    ("set/square", "left", 227.703_125),
    ("set/square", "right", 227.687_5),
];

/// One airframe with exactly so many entries, all of them sealed by one device, a run for each `per_run` of them.
pub(crate) fn history(entries: usize, per_run: usize) -> Logbook {
    let mut book = Logbook::example_without_run(0);
    fill(&mut book, 0x100, entries, per_run);
    book
}

/// So many airframes of one type with exactly so many entries each, in runs of [`PER_RUN`].
pub(crate) fn hangar(airframes: u128, entries: usize) -> Logbook {
    let mut book = Logbook::empty();
    for number in 1..=airframes {
        book.airframe = AirframeId(Uuid::from_u128(0xA000 + number));
        book.make(0);
        book.equip();
        fill(&mut book, number << 32, entries, PER_RUN);
    }
    book
}

/// Fills the record of the airframe that the book is at, up to so many entries.
fn fill(book: &mut Logbook, first_run: u128, entries: usize, per_run: usize) {
    let mut written = book.ledger.of(book.airframe).count();
    let (mut photos, mut run) = (0, first_run);
    let mut round: Vec<Body> = Vec::new();
    while written < entries {
        let end = entries.min(written + per_run);
        book.begin(MATE_AFT_FUSELAGE, run);
        let about = About { run: Some(book.run), step: Some("set/pitch".to_owned()), entry: None };
        // The first round is read and moved as somebody would, for which all of the record is looked at; those after it say the same again.
        if round.is_empty() {
            let mut said: Vec<EntryId> =
                ROUND.iter().map(|(step, slot, value)| book.read(step, slot, *value)).collect();
            said.push(book.moved("set/pitch", "saddle", 1.0 / 16.0));
            round = said.iter().map(|said| book.ledger.get(*said).expect("kept").body.clone()).collect();
        } else {
            for body in &mut round {
                match body {
                    Body::ReadingTaken(reading) => reading.run = book.run,
                    Body::AdjusterMoved(moved) => moved.run = book.run,
                    _ => unreachable!("a round is readings and a move"),
                }
                book.put(body.clone());
            }
        }
        written += 1 + round.len();
        for place in 0.. {
            if written >= end {
                break;
            }
            if photos * PER_PHOTO < written {
                photos += 1;
                let digest = Digest::of(&[run.to_be_bytes(), (photos as u128).to_be_bytes()].concat());
                let photo = Photo { digest, bytes: 300_000, width: 2000, height: 1500 };
                book.put(Body::PhotoAttached { about: about.clone(), photo, caption: format!("photo {photos}") });
            } else if let Some(said) = round.get(place % (round.len() + 1)) {
                book.put(said.clone());
            } else {
                book.put(Body::NoteMade { about: about.clone(), text: format!("note {place}"), spoken: false });
            }
            written += 1;
        }
        run += 1;
    }
    assert_eq!(book.ledger.of(book.airframe).count(), entries, "as many as promised");
}
