//! Random networks of this trade's kind held against two general-purpose least-squares solvers: unknowns, covariance,
//! redundancy, and the time that each takes.
//!
//! `scipy.optimize.least_squares` of the Python package index, in the version pinned here, every time the tests run: the model over there
//! is written again, for whole arrays, with derivatives by complex steps. How the library is had: `tests/support/libraries.rs`. Ceres
//! Solver, from Debian's libceres-dev, where times are measured (`cargo xtask bench library` sees to the package): the model is
//! written again in C++, with the library's automatic derivatives.

#[path = "support/libraries.rs"]
mod libraries;
mod mating_network;

mod network_cross_check {
    mod ceres;
    pub(crate) mod ours;
}

use std::io::Write as _;

use trammel::alignment::{Levels, adjust};

use self::mating_network::{Case, case};
use self::network_cross_check::ours::{Found, Off, given, time};

/// What is installed, exactly.
const LIBRARIES: [(&str, &str); 2] = [("numpy", "2.4.6"), ("scipy", "1.17.1")];
const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/network_cross_check/solve.py");
const CASES: usize = 1000;
/// How far apart the two may be: unknowns relative to their standard uncertainty, covariances to the product of two.
const WITHIN: f64 = 1e-8;

/// The networks of the comparison: 8 to 24 readings each.
pub(crate) fn cases() -> Vec<Case> {
    let mut rng = fastrand::Rng::with_seed(20_251_125);
    (0..CASES).map(|place| case(&mut rng, 8 + place % 17)).collect()
}

/// Past the test runner's capture, so that a passing run shows it.
pub(crate) fn say(words: &str) {
    writeln!(std::io::stdout(), "{words}").expect("standard output");
}

#[test]
fn a_general_purpose_solver_agrees() {
    let cases = cases();
    let adjusted: Vec<_> = cases.iter().map(|case| adjust(&case.network, &case.start).expect("solved")).collect();
    let python = libraries::python("least-squares-libraries", &LIBRARIES);
    let found: Vec<Found> = libraries::evaluate(&python, SCRIPT, &adjusted.iter().map(given).collect::<Vec<_>>());
    assert_eq!(found.len(), CASES);
    let (mut worst, mut worst_redundancy) = (Off::default(), 0.0_f64);
    for (adjusted, found) in adjusted.iter().zip(&found) {
        worst.see(adjusted, found);
        assert_eq!(found.redundancy.len(), adjusted.network().observations().len(), "one for each reading");
        for (reading, theirs) in found.redundancy.iter().enumerate() {
            let ours = adjusted.checked(reading, Levels::USUAL).redundancy;
            worst_redundancy = worst_redundancy.max((ours - theirs).abs());
        }
    }
    let ours: f64 = cases.iter().map(|case| time(case).as_secs_f64()).sum();
    let theirs: f64 = found.iter().map(|found| found.seconds).sum();
    let Off { unknowns, covariance } = worst;
    say(&format!(
        "{CASES} random networks, largest difference: unknowns {unknowns:.1e} sigma, covariance {covariance:.1e}, redundancy {worst_redundancy:.1e}"
    ));
    let each = |seconds: f64| seconds / CASES as f64 * 1e6;
    say(&format!("one solve: ours {:.1} µs, scipy {:.1} µs", each(ours), each(theirs)));
    say(&format!("figure: solve_vs_scipy_ratio = {:.0}", theirs / ours));
    say(&format!("figure: solves_per_second = {:.0}", CASES as f64 / ours));
    say(&format!("figure: solves_per_second_scipy = {:.0}", CASES as f64 / theirs));
    for (what, off) in [("unknowns", unknowns), ("covariance", covariance), ("redundancy", worst_redundancy)] {
        assert!(off <= WITHIN, "{what}: {off:e}");
    }
}
