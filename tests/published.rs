//! The library held against facts published outside the project. Each group is a file in `published/`, and each check
//! names its source. The number of checks is printed as `published checks: N`.

use std::fmt::Debug;
use std::io::Write as _;

mod published {
    pub(crate) mod alignment;
    pub(crate) mod angles;
    pub(crate) mod drill_sizes;
    pub(crate) mod inch;
    pub(crate) mod lengths;
    pub(crate) mod metrology;
    pub(crate) mod rigging;
    pub(crate) mod sixty_fourths;
    pub(crate) mod spoken;
    pub(crate) mod units;
}

/// One group of checks.
pub(crate) type Group = fn(&mut Tally);

/// Of readings: what they are, what they leave open, what they decide.
const READINGS: [Group; 8] = [
    published::inch::checks,
    published::sixty_fourths::checks,
    published::drill_sizes::checks,
    published::angles::checks,
    published::lengths::checks,
    published::spoken::checks,
    published::units::checks,
    published::metrology::checks,
];

/// Of readings adjusted together.
const ALIGNMENT: [Group; 1] = [published::alignment::checks];

/// Of rigging: balance, fasteners, cables, angles, travels.
const RIGGING: [Group; 1] = [published::rigging::checks];

/// Counts checks and keeps what failed, so that one run shows every disagreement.
#[derive(Default)]
pub(crate) struct Tally {
    count: usize,
    failed: Vec<String>,
}

impl Tally {
    /// `got` is what `source` publishes.
    #[allow(clippy::needless_pass_by_value, reason = "a check reads better without a reference at both values")]
    pub(crate) fn same<T: PartialEq + Debug>(&mut self, source: &str, what: &str, got: T, published: T) {
        self.note(got == published, || format!("{what}: got {got:?}, published {published:?} ({source})"));
    }

    /// `got` is what `source` publishes, to `within`: half of the last printed digit, unless the check says why not.
    pub(crate) fn near(&mut self, source: &str, what: &str, got: f64, published: f64, within: f64) {
        // A published tie (0.03125 as 0.0312) is exactly half a digit off, which binary arithmetic may overstate.
        let near = (got - published).abs() <= within * (1.0 + 1e-9);
        self.note(near, || format!("{what}: got {got}, published {published} ± {within} ({source})"));
    }

    fn note(&mut self, holds: bool, failure: impl FnOnce() -> String) {
        self.count += 1;
        if !holds {
            self.failed.push(failure());
        }
    }
}

/// The rows of a tab-separated table, without its `#` comments.
pub(crate) fn rows<const N: usize>(table: &'static str) -> impl Iterator<Item = [&'static str; N]> {
    let lines = table.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.map(|line| {
        let columns: Vec<_> = line.split('\t').collect();
        columns.try_into().unwrap_or_else(|_| panic!("not {N} columns: {line:?}"))
    })
}

#[test]
fn every_published_fact_holds() {
    let mut tally = Tally::default();
    let mut run = |groups: &[Group]| {
        for group in groups {
            let before = tally.count;
            group(&mut tally);
            assert!(tally.count > before, "a group without a check");
        }
        tally.count
    };
    let readings = run(&READINGS);
    let before_rigging = run(&ALIGNMENT);
    let rigging = run(&RIGGING) - before_rigging;
    assert!(tally.failed.is_empty(), "{} of {}:\n{}", tally.failed.len(), tally.count, tally.failed.join("\n"));
    // Past the test runner's capture, so that a passing run shows it.
    let mut out = std::io::stdout();
    writeln!(out, "published checks: {}", tally.count).expect("standard output");
    writeln!(out, "figure: published_checks_readings = {readings}").expect("standard output");
    writeln!(out, "figure: published_checks_rigging = {rigging}").expect("standard output");
}
