//! A record of 100,000 entries: what reading, folding, appending and writing it take.
//!
//! `cargo test --profile bench --test record_scale -- --ignored --nocapture`; `cargo xtask bench library` reads the lines that begin with
//! "figure:". Where `TRAMMEL_SCALE` names a file, the record is left there for the measurement in the browser, which `cargo xtask bench
//! record` runs after this one.

#![allow(clippy::print_stdout, reason = "the times are printed")]

mod support;

use std::collections::BTreeMap;
use std::time::Instant;

use support::history::{PER_RUN, history};
use trammel::procedure::{Run, aircraft};
use trammel::record::{Entry, Integrity, Ledger, from_json};
use trammel::report::{MAX_BYTES, lines, printed, read_json, readings_csv, write_json};

const ENTRIES: usize = 100_000;
/// How often what has a figure is done; the least time counts.
const TIMES: usize = 5;

fn timed<T>(what: &str, work: impl FnOnce() -> T) -> T {
    let begun = Instant::now();
    let done = work();
    println!("{what:<52} {:>9.2} ms", begun.elapsed().as_secs_f64() * 1000.0);
    done
}

/// The least time of several, in seconds, printed as a figure in milliseconds.
fn least<T>(name: &str, mut work: impl FnMut() -> T) -> (T, f64) {
    let mut once = || {
        let begun = Instant::now();
        let done = work();
        (done, begun.elapsed().as_secs_f64())
    };
    let mut best = once();
    for _ in 1..TIMES {
        let (done, seconds) = once();
        best = (done, best.1.min(seconds));
    }
    println!("figure: record_{name}_ms_100k = {:.2}", best.1 * 1000.0);
    best
}

/// The same of what makes or takes a text, with its rate (1 MB is a million bytes).
fn rate<T>(name: &str, bytes: impl Fn(&T) -> usize, work: impl FnMut() -> T) -> T {
    let (done, seconds) = least(name, work);
    println!("figure: record_{name}_mb_per_second = {:.1}", bytes(&done) as f64 / 1e6 / seconds);
    done
}

#[test]
#[ignore = "a measurement: run by its own command"]
fn record_scale() {
    let book = timed("100,000 entries written and sealed", || history(ENTRIES, PER_RUN));
    let text = rate("export", String::len, || write_json(book.ledger.entries()));
    if let Some(file) = std::env::var_os("TRAMMEL_SCALE") {
        std::fs::write(file, &text).expect("written");
    }
    println!("the file has {:.1} MB of {} MB allowed", text.len() as f64 / 1e6, MAX_BYTES / 1024 / 1024);
    let import = || {
        let mut ledger = Ledger::default();
        ledger.merge(read_json(&text).expect("reads"));
        ledger
    };
    let mut ledger = rate("import", |_| text.len(), import);
    let entries = timed("read from JSON", || read_json(&text).expect("reads"));
    timed("merged again", || ledger.merge(entries));
    assert!(ledger == book.ledger, "the same record");
    let stored: Vec<String> = ledger.entries().map(|entry| serde_json::to_string(entry).expect("an entry")).collect();
    let open = || {
        let mut ledger = Ledger::default();
        ledger.merge(stored.iter().map(|text| from_json::<Entry>(text).expect("an entry")));
        ledger
    };
    assert!(least("open", open).0 == ledger, "the same record");
    let id = book.airframe;
    let airframe = timed("the airframe folded", || ledger.airframe(id)).expect("made");
    let run = timed("a run folded, with advice", || {
        Run::fold(book.procedure(), &airframe, book.run, &ledger.of_run(id, book.run))
    });
    assert!(run.steps.iter().any(|step| !step.attempts.is_empty()), "something was read");
    timed("the whole aircraft", || aircraft(&airframe, &ledger));
    assert!(timed("every chain followed", || Integrity::of(&ledger, id)).unbroken());
    timed("every entry in words", || lines(&ledger, id));
    rate("csv", String::len, || readings_csv(&airframe, &ledger));
    rate("page", String::len, || printed(&ledger, id, &BTreeMap::new()).expect("a page"));
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
    drop(book);
    let long = history(ENTRIES, ENTRIES);
    let airframe = long.airframe();
    let entries = long.ledger.of_run(long.airframe, long.run);
    let (run, _) = least("fold", || Run::fold(long.procedure(), &airframe, long.run, &entries));
    assert!(run.steps.iter().any(|step| step.attempts.len() > ENTRIES / 20), "all of it was folded");
}
