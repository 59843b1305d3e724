//! A record of 100,000 entries: what reading, folding, appending and writing it take.
//!
//! `cargo test --profile bench --test record_scale -- --ignored --nocapture`. Where `TRAMMEL_SCALE` names a file, the record is left
//! there for the measurement in the browser, which `cargo xtask bench record` runs after this one.

#![allow(clippy::print_stdout, reason = "the times are printed")]

mod support;

use std::time::Instant;

use support::Logbook;
use trammel::procedure::{Run, aircraft};
use trammel::record::{About, Body, Digest, Integrity, Ledger, Photo};
use trammel::report::{MAX_BYTES, lines, read_json, readings_csv, write_json};

const ENTRIES: usize = 100_000;
const RUNS: u128 = 200;
const PHOTOS: u32 = 500;
/// Readings, a move and a note, over and over.
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

/// A builder's whole project several times over: 200 runs, all of them sealed by one device.
fn history() -> Logbook {
    let mut book = Logbook::example(0);
    let mut photos = 0;
    for run in 0..RUNS {
        book.begin(trammel::procedure::MATE_AFT_FUSELAGE, 0x100 + run);
        let mut models: Vec<Body> = Vec::new();
        for (step, slot, value) in ROUND {
            let kept = book.read(step, slot, value);
            models.push(book.ledger.get(kept).expect("kept").body.clone());
        }
        let about = About { run: Some(book.run), step: Some("set/pitch".to_owned()), entry: None };
        while photos * 200 < PHOTOS * u32::try_from(run + 1).expect("few") {
            photos += 1;
            let photo = Photo { digest: Digest::of(&photos.to_be_bytes()), bytes: 300_000, width: 2000, height: 1500 };
            book.put(Body::PhotoAttached { about: about.clone(), photo, caption: format!("photo {photos}") });
        }
        let end = ENTRIES * usize::try_from(run + 1).expect("few") / usize::try_from(RUNS).expect("few");
        for round in 0.. {
            if book.ledger.len() >= end {
                break;
            }
            match round % 10 {
                8 => drop(book.moved("set/pitch", "saddle", 1.0 / 16.0)),
                9 => {
                    let (about, text) = (about.clone(), format!("note {round}"));
                    book.put(Body::NoteMade { about, text, spoken: false });
                }
                place => drop(book.put(models[place].clone())),
            }
        }
    }
    assert_eq!(book.ledger.len(), ENTRIES, "as many as promised");
    book
}

fn timed<T>(what: &str, work: impl FnOnce() -> T) -> T {
    let begun = Instant::now();
    let done = work();
    println!("{what:<52} {:>9.2} ms", begun.elapsed().as_secs_f64() * 1000.0);
    done
}

#[test]
#[ignore = "a measurement: run by its own command"]
fn record_scale() {
    let book = timed("100,000 entries written and sealed", history);
    let text = timed("written as JSON", || write_json(book.ledger.entries()));
    if let Some(file) = std::env::var_os("TRAMMEL_SCALE") {
        std::fs::write(file, &text).expect("written");
    }
    println!("the file has {:.1} MB of {} MB allowed", text.len() as f64 / 1e6, MAX_BYTES / 1024 / 1024);
    let entries = timed("read from JSON", || read_json(&text).expect("reads"));
    let mut ledger = Ledger::default();
    timed("merged into an empty ledger", || ledger.merge(entries.clone()));
    timed("merged again", || ledger.merge(entries));
    assert!(ledger == book.ledger, "the same record");
    let id = book.airframe;
    let airframe = timed("the airframe folded", || ledger.airframe(id)).expect("made");
    let run = timed("a run folded, with advice", || {
        Run::fold(book.procedure(), &airframe, book.run, &ledger.of_run(id, book.run))
    });
    assert!(run.steps.iter().any(|step| !step.attempts.is_empty()), "something was read");
    timed("the whole aircraft", || aircraft(&airframe, &ledger));
    assert!(timed("every chain followed", || Integrity::of(&ledger, id)).unbroken());
    timed("every entry in words", || lines(&ledger, id));
    timed("the readings as CSV", || readings_csv(&airframe, &ledger));
    let mut appends: Vec<f64> = Vec::new();
    let mut book = book;
    for _ in 0..1000 {
        let begun = Instant::now();
        book.confirm("level-frame");
        let airframe = book.ledger.airframe(id).expect("made");
        let folded = Run::fold(book.procedure(), &airframe, book.run, &book.ledger.of_run(id, book.run));
        assert!(!folded.steps.is_empty(), "a run");
        appends.push(begun.elapsed().as_secs_f64() * 1000.0);
    }
    appends.sort_by(f64::total_cmp);
    println!("sealed, appended and the run folded again: median {:.2} ms, 95th {:.2} ms", appends[500], appends[950]);
}
