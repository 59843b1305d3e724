//! Counting what a campaign found.

use std::collections::BTreeMap;
use std::ops::Range;

use super::config::Config;
use super::mating::{Advisor, Check, Outcome, mate};
use super::trial::{DIAGONAL_TOLERANCE, PITCH_TOLERANCE_DEG};
use super::world::Twin;

/// One start, worked to its end.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    /// Why the advisor stopped; `None` when it called every check in.
    pub(crate) stopped: Option<String>,
    pub(crate) support: u32,
    pub(crate) rock: u32,
    pub(crate) joint: u32,
    /// The true pitch is inside ±0.2° at the end.
    pub(crate) pitch_true: bool,
    /// The true left and right distances are equal within 1/16 in at the end.
    pub(crate) square_true: bool,
    /// How far the tail post truly lies from the frame's centre plane at the end, inches, either way.
    pub(crate) tail: f64,
    pub(crate) passes: u32,
}

impl Row {
    pub(crate) fn new(twin: &Twin, outcome: &Outcome) -> Self {
        Self {
            stopped: outcome.stopped.clone(),
            support: outcome.moves.support,
            rock: outcome.moves.rock,
            joint: outcome.moves.joint,
            pitch_true: twin.true_pitch_error().abs() <= PITCH_TOLERANCE_DEG,
            square_true: twin.true_diagonal_difference().abs() <= DIAGONAL_TOLERANCE,
            tail: twin.true_offset().abs(),
            passes: outcome.passes,
        }
    }

    /// The advisor called every check in.
    pub(crate) fn finished(&self) -> bool {
        self.stopped.is_none()
    }

    /// The larger count over the two adjusters, support and joint. Never done counts as more than any number.
    pub(crate) fn moves(&self) -> u32 {
        if self.finished() { self.support.max(self.joint) } else { u32::MAX }
    }

    /// Called in, and true.
    pub(crate) fn agrees(&self) -> bool {
        self.finished() && self.pitch_true && self.square_true
    }
}

/// The rows of one campaign.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tally(Vec<Row>);

impl Tally {
    /// Works one twin per seed to its end, each with an advisor of its own.
    pub(crate) fn of<A: Advisor>(
        config: Config,
        checks: &[Check],
        seeds: Range<u64>,
        advisor: impl Fn(&mut Twin) -> A,
    ) -> Self {
        let work = |seed| {
            let mut twin = Twin::new(config, seed);
            let mut advisor = advisor(&mut twin);
            let outcome = mate(&mut twin, checks, &mut advisor);
            Row::new(&twin, &outcome)
        };
        Self(seeds.map(work).collect())
    }

    /// The rows of both.
    pub(crate) fn and(&self, other: &Self) -> Self {
        Self([self.0.as_slice(), other.0.as_slice()].concat())
    }

    /// Nearest-rank percentile of something.
    pub(crate) fn percentile<T: PartialOrd + Copy>(&self, percent: f64, of: impl Fn(&Row) -> T) -> T {
        let mut values: Vec<T> = self.0.iter().map(of).collect();
        values.sort_by(|a, b| a.partial_cmp(b).expect("no NaN"));
        let rank = (percent / 100.0 * values.len() as f64).ceil().max(1.0) as usize;
        values[rank - 1]
    }

    /// Share of the rows for which something holds, 0 to 1.
    pub(crate) fn share(&self, holds: impl Fn(&Row) -> bool) -> f64 {
        self.0.iter().filter(|row| holds(row)).count() as f64 / self.0.len() as f64
    }

    /// Every reason for stopping, up to its first number, with how often it came.
    pub(crate) fn stops(&self) -> BTreeMap<&str, usize> {
        let mut stops = BTreeMap::new();
        for why in self.0.iter().filter_map(|row| row.stopped.as_deref()) {
            let words = why.split(|c: char| c.is_ascii_digit()).next().unwrap_or_default();
            *stops.entry(words.trim_end_matches([' ', '+', '−'])).or_default() += 1;
        }
        stops
    }

    /// The table's heading.
    pub(crate) fn heading() -> String {
        format!(
            "{:<38} {:>6} {:>5} {:>5} {:>5} {:>4} {:>4} {:>4} {:>8} {:>8} {:>8} {:>9} {:>9} {:>6} {:>5}",
            "moves per start (support or joint)",
            "starts",
            "p50",
            "p95",
            "max",
            "supp",
            "rock",
            "join",
            "within 1",
            "within 2",
            "within 3",
            "called in",
            "and true",
            "passes",
            "tail"
        )
    }

    /// One line of the table: percentiles of the moves, the 95th of each adjuster, shares of the starts, the 95th of the
    /// passes and of the tail's true distance from the centre plane, inches.
    pub(crate) fn line(&self, name: &str) -> String {
        let moves = |percent| match self.percentile(percent, Row::moves) {
            u32::MAX => "never".to_owned(),
            moves => moves.to_string(),
        };
        let percent = |share: f64| format!("{:.2}%", 100.0 * share);
        let within = |n: u32| percent(self.share(|row| row.moves() <= n));
        format!(
            "{name:<38} {:>6} {:>5} {:>5} {:>5} {:>4} {:>4} {:>4} {:>8} {:>8} {:>8} {:>9} {:>9} {:>6} {:>5.2}",
            self.0.len(),
            moves(50.0),
            moves(95.0),
            moves(100.0),
            self.percentile(95.0, |row| row.support),
            self.percentile(95.0, |row| row.rock),
            self.percentile(95.0, |row| row.joint),
            within(1),
            within(2),
            within(3),
            percent(self.share(Row::finished)),
            percent(self.share(Row::agrees)),
            self.percentile(95.0, |row| row.passes),
            self.percentile(95.0, |row| row.tail),
        )
    }
}
