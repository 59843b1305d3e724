//! Ceres Solver on the same networks, in a program that is compiled here.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

use trammel::alignment::adjust;

use super::ours::{Found, Given, Off, given, time};
use crate::{CASES, cases, libraries, say};

const PROGRAM: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/network_cross_check/solve.cpp");
/// How far apart the two may be, as in the comparison with scipy. There each answer is taken a few steps further than the solver's own
/// tolerances go; here it is what the solver says.
const WITHIN: f64 = 1e-5;

/// The program, compiled below `target/`. Of the two ways to a covariance that the library has for problems of this size, the one that
/// is quicker here.
fn compiled() -> PathBuf {
    let program = Path::new(env!("CARGO_TARGET_TMPDIR")).join("ceres-solve");
    let mut compiler = Command::new("g++");
    compiler.args(["-std=c++17", "-O3", "-DNDEBUG", "-DCOVARIANCE=ceres::DENSE_SVD", "-I/usr/include/eigen3"]);
    compiler.arg(PROGRAM).arg("-o").arg(&program).args(["-lceres", "-lglog"]);
    let status = compiler.status().expect("g++ starts. On Debian: apt-get install g++ libceres-dev");
    assert!(status.success(), "the program does not compile. On Debian: apt-get install libceres-dev");
    program
}

/// Networks as the program reads them: words and numbers with white space between, each number as exact as it is here.
fn plain(all: &[Given]) -> String {
    let mut text = format!("{}\n", all.len());
    let numbers = |text: &mut String, numbers: &[f64]| {
        numbers.iter().for_each(|number| write!(text, " {number:e}").expect("a string"));
    };
    for given in all {
        write!(text, "{} {}", given.readings.len(), u8::from(given.level_known)).expect("a string");
        numbers(&mut text, &given.turn.concat());
        for reading in &given.readings {
            write!(text, "\n{} {}", reading.kind, reading.points.len()).expect("a string");
            for point in &reading.points {
                numbers(&mut text, point);
            }
            numbers(&mut text, &reading.along.unwrap_or_default());
            numbers(&mut text, &[reading.value, reading.sigma]);
        }
        text.push('\n');
    }
    text
}

#[test]
#[ignore = "a measurement: run by `cargo xtask bench library`"]
fn a_solver_in_another_language_agrees() {
    let cases = cases();
    let adjusted: Vec<_> = cases.iter().map(|case| adjust(&case.network, &case.start).expect("solved")).collect();
    let given = plain(&adjusted.iter().map(given).collect::<Vec<_>>());
    let found = libraries::answer(&mut Command::new(compiled()), given.as_bytes());
    let found: Vec<Found> = serde_json::from_slice(&found).expect("a result for each case");
    assert_eq!(found.len(), CASES);
    let mut worst = Off::default();
    for (adjusted, found) in adjusted.iter().zip(&found) {
        worst.see(adjusted, found);
    }
    let ours: f64 = cases.iter().map(|case| time(case).as_secs_f64()).sum();
    let theirs: f64 = found.iter().map(|found| found.seconds).sum();
    let Off { unknowns, covariance } = worst;
    say(&format!("Ceres Solver, largest difference: unknowns {unknowns:.1e} sigma, covariance {covariance:.1e}"));
    let each = |seconds: f64| seconds / CASES as f64 * 1e6;
    say(&format!("one solve: ours {:.1} µs, Ceres Solver {:.1} µs", each(ours), each(theirs)));
    say(&format!("figure: solve_vs_ceres_ratio = {:.1}", theirs / ours));
    say(&format!("figure: solves_per_second_ceres = {:.0}", CASES as f64 / theirs));
    for (what, off) in [("unknowns", unknowns), ("covariance", covariance)] {
        assert!(off <= WITHIN, "{what}: {off:e}");
    }
}
