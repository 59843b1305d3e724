//! Instructions of the three hottest works, counted by callgrind of Valgrind: a regression shows whatever else the machine does.
//!
//! Each case is a test of this file that callgrind runs on its own; only what happens inside [`counts_here`] is counted. What was counted
//! before stands in `instructions/counts.tsv`, of the library as it is compiled for its tests; compiled for speed (`cargo xtask bench
//! library`) the counts are only printed. After a change that is meant to cost more, or with another compiler:
//!
//! `cargo test --test instructions -- --ignored write_the_counts`

#![allow(clippy::print_stdout, reason = "the figures are printed")]

mod mating_network;
mod support;

use std::collections::BTreeMap;
use std::process::Command;

use support::history::history;
use trammel::alignment::adjust;
use trammel::procedure::Run;
use trammel::quantity::{Heard, Unit, hear};

const COUNTS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/instructions/counts.tsv");
/// How many times the recorded count is still no regression: another compiler or another libc counts otherwise too.
const BOUND: f64 = 1.5;
/// Each case, and a sentence of what it is.
const CASES: [(&str, &str); 3] = [
    ("one_solve", "one adjustment of 24 readings, start to covariance"),
    ("one_spoken_number", "\u{201c}two hundred twenty seven and eleven sixteenths inches\u{201d}, heard"),
    ("one_fold", "one fold of a run of 10,000 entries, with what to move"),
];

/// Where callgrind counts. It holds no code of its own: its name is what callgrind looks for.
#[inline(never)]
fn counts_here<T>(work: impl FnOnce() -> T) -> T {
    std::hint::black_box(work())
}

#[test]
#[ignore = "run by callgrind"]
fn one_solve() {
    let mut rng = fastrand::Rng::with_seed(24);
    let case = mating_network::case(&mut rng, 24);
    let adjusted = counts_here(|| adjust(&case.network, &case.start));
    assert!(adjusted.is_ok());
}

#[test]
#[ignore = "run by callgrind"]
fn one_spoken_number() {
    let said = "two hundred twenty seven and eleven sixteenths inches";
    let heard = counts_here(|| hear(said, Unit::Inch, 1.0 / 16.0, None));
    assert!(matches!(heard, Heard::Reading(_)));
}

fn fold_of(count: usize) {
    let book = history(count, count);
    let airframe = book.airframe();
    let entries = book.ledger.of_run(book.airframe, book.run);
    assert!(entries.len() > count / 5 * 4, "{} entries", entries.len());
    let run = counts_here(|| Run::fold(book.procedure(), &airframe, book.run, &entries));
    assert!(run.steps.iter().any(|step| step.attempts.len() > count / 20));
}

#[test]
#[ignore = "run by callgrind"]
fn one_fold() {
    fold_of(10_000);
}

#[test]
#[ignore = "run by callgrind"]
fn a_quarter_of_a_fold() {
    fold_of(2_500);
}

/// What callgrind counts inside [`counts_here`] while a case runs.
fn counted(case: &str) -> u64 {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("callgrind");
    let mut valgrind = Command::new("valgrind");
    valgrind.args(["--tool=callgrind", "--collect-atstart=no", "--toggle-collect=*counts_here*"]);
    valgrind.arg(format!("--callgrind-out-file={}", file.display()));
    valgrind.arg(std::env::current_exe().expect("this program"));
    let output = valgrind.args(["--exact", case, "--ignored", "--test-threads=1"]).output().expect("valgrind starts");
    assert!(output.status.success(), "{case}: {}", String::from_utf8_lossy(&output.stderr));
    let text = std::fs::read_to_string(&file).expect("callgrind's file");
    let totals = text.lines().find_map(|line| line.strip_prefix("totals: "));
    totals.and_then(|count| count.trim().parse().ok()).expect("a line with the total")
}

/// Whether callgrind can be asked; where it cannot, that is said.
fn has_valgrind() -> bool {
    let there = Command::new("valgrind").arg("--version").output().is_ok_and(|output| output.status.success());
    if !there {
        println!("left out: there is no valgrind. On Debian: apt-get install valgrind");
    }
    there
}

/// Instructions and the compiler that they were counted with, by case.
fn recorded() -> BTreeMap<String, (u64, String)> {
    let text = std::fs::read_to_string(COUNTS).expect("the recorded counts");
    let row = |line: &str| {
        let cells: Vec<String> = line.split('\t').map(str::to_owned).collect();
        let [case, count, compiler] = cells.try_into().expect("three columns");
        (case, (count.parse().expect("a count"), compiler))
    };
    text.lines().filter(|line| !line.starts_with('#')).map(row).collect()
}

#[test]
fn the_hottest_works_need_no_more_instructions_than_they_did() {
    if !has_valgrind() {
        return;
    }
    let recorded = recorded();
    for (case, what) in CASES {
        let now = counted(case);
        println!("figure: instructions.{case} = {now}");
        assert!(now > 1_000, "{what}: {now} instructions: callgrind did not see the work");
        if cfg!(debug_assertions) {
            let (before, compiler) = &recorded[case];
            let ratio = now as f64 / *before as f64;
            assert!(ratio < BOUND, "{what}: {now} instructions, {ratio:.2} times the {before} that {compiler} made");
        }
    }
}

/// Four times the entries of one run cost about four times as much; a square would make it sixteen.
#[test]
fn folding_one_run_is_linear() {
    if has_valgrind() {
        let ratio = counted("one_fold") as f64 / counted("a_quarter_of_a_fold") as f64;
        println!("four times the entries: {ratio:.2} times the instructions");
        assert!((3.0..5.5).contains(&ratio), "{ratio:.2} times the instructions");
    }
}

#[test]
#[ignore = "writes tests/instructions/counts.tsv"]
fn write_the_counts() {
    let compiler = Command::new("rustc").arg("--version").output().expect("rustc").stdout;
    let compiler = String::from_utf8(compiler).expect("text");
    let line = |(case, _): (&str, &str)| format!("{case}\t{}\t{}\n", counted(case), compiler.trim());
    let lines: String = CASES.into_iter().map(line).collect();
    std::fs::write(COUNTS, format!("# case\tinstructions\tcompiler\n{lines}")).expect("written");
}
