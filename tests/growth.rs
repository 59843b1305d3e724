//! What the library's work costs against the number of entries, the length of one run and the number of airframes.
//!
//! The measurement (`cargo xtask bench library`) goes to a million entries and a hundred airframes and prints a figure for each place
//! and an exponent for each line: 1 is linear, 0 does not grow. That one run's fold stays linear is guarded by its instructions
//! (`instructions.rs`), which are the same on a busy machine.

#![allow(clippy::print_stdout, reason = "the figures are printed")]

mod support;

mod growth {
    pub(crate) mod clock;
    pub(crate) mod works;
}

use peak_alloc::PeakAlloc;

use growth::clock::{exponent, least};
use growth::works::{HANGAR_WORKS, Record, WORKS, Work, append, fold, opened, stored};
use support::history::{PER_RUN, hangar, history};

/// Counts what is allocated, so that memory can be read off.
#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

const ENTRIES: [usize; 7] = [1_000, 3_000, 10_000, 30_000, 100_000, 300_000, 1_000_000];
const LONG_RUN: [usize; 5] = [1_000, 3_000, 10_000, 30_000, 100_000];
const AIRFRAMES: [u32; 5] = [1, 3, 10, 30, 100];
/// Entries of each airframe, where airframes are counted.
const EACH: usize = 1_000;

/// Costs of one work by size.
type Line = (&'static str, Vec<(f64, f64)>);

/// Keeps a cost and prints its figure at once, so that a run that is stopped was not for nothing: milliseconds (`memory`: megabytes).
fn note(by: &str, lines: &mut Vec<Line>, name: &'static str, size: f64, cost: f64) {
    println!("figure: growth.{by}.{name}.{size} = {cost:.5}");
    match lines.iter_mut().find(|(known, _)| *known == name) {
        Some((_, points)) => points.push((size, cost)),
        None => lines.push((name, vec![(size, cost)])),
    }
}

/// The exponents: over the upper part, since below it what a call costs anyway hides how it grows.
fn print(by: &str, lines: &[Line]) {
    for (name, points) in lines {
        let upper = &points[points.len().saturating_sub(4)..];
        println!("figure: growth.{by}.{name}.exponent = {:.2}", exponent(upper));
    }
}

fn each(by: &str, works: &[Work], record: &Record, size: f64, lines: &mut Vec<Line>) {
    for (name, work) in works {
        note(by, lines, name, size, work(record) * 1e3);
    }
}

#[test]
#[ignore = "a measurement: run by `cargo xtask bench library`"]
fn measure_entries() {
    let mut lines: Vec<Line> = Vec::new();
    for entries in ENTRIES {
        let size = entries as f64;
        let mut record = Record::of(history(entries, PER_RUN));
        let texts = stored(&record.book.ledger);
        note("entries", &mut lines, "open", size, least(|| opened(&texts)) * 1e3);
        let before = MEMORY.current_usage();
        let ledger = opened(&texts);
        note("entries", &mut lines, "memory", size, (MEMORY.current_usage() - before) as f64 / 1e6);
        drop((ledger, texts));
        each("entries", &WORKS, &record, size, &mut lines);
        note("entries", &mut lines, "append", size, append(&mut record) * 1e3);
    }
    print("entries", &lines);
}

#[test]
#[ignore = "a measurement: run by `cargo xtask bench library`"]
fn measure_one_long_run() {
    let mut lines: Vec<Line> = Vec::new();
    for entries in LONG_RUN {
        let mut record = Record::of(history(entries, entries));
        note("run", &mut lines, "fold", entries as f64, fold(&record) * 1e3);
        note("run", &mut lines, "append", entries as f64, append(&mut record) * 1e3);
    }
    print("run", &lines);
}

#[test]
#[ignore = "a measurement: run by `cargo xtask bench library`"]
fn measure_airframes() {
    let mut lines: Vec<Line> = Vec::new();
    for airframes in AIRFRAMES {
        let size = f64::from(airframes);
        let mut record = Record::of(hangar(u128::from(airframes), EACH));
        let texts = stored(&record.book.ledger);
        note("airframes", &mut lines, "open", size, least(|| opened(&texts)) * 1e3);
        each("airframes", &HANGAR_WORKS, &record, size, &mut lines);
        note("airframes", &mut lines, "append", size, append(&mut record) * 1e3);
    }
    print("airframes", &lines);
}
