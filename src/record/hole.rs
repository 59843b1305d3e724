//! Holes and rivets, one by one.

use serde::{Deserialize, Serialize};

use super::{RunId, StepPath};

/// The most holes that one map may have: more than any joint that is worked on as one.
pub const MAX_HOLES: u32 = 2_000;

/// Where a hole is on its map. Rows are counted from one end of the part, holes from one end of their row, both from 1: a mark stays at
/// its hole when another row turns out to be longer than was thought.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HolePlace {
    /// The row, from 1.
    pub row: u32,
    /// The hole in its row, from 1.
    pub hole: u32,
}

impl HolePlace {
    /// Whether some map could have it.
    #[must_use]
    pub fn possible(self) -> bool {
        let within = 1..=MAX_HOLES;
        within.contains(&self.row) && within.contains(&self.hole)
    }
}

/// What is said of a hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HoleMark {
    /// Done, looked at and good.
    Done,
    /// Bad: an open item until it is put right.
    Bad,
    /// Not done after all.
    Open,
    /// It was bad and has been put right; the note says how.
    Answered,
}

/// A hole was marked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MarkedHole {
    /// The run.
    pub run: RunId,
    /// The step.
    pub step: StepPath,
    /// The row, from 1.
    pub row: u32,
    /// The hole in its row, from 1.
    pub hole: u32,
    /// What is said of it.
    pub mark: HoleMark,
    /// Why it is bad, or how it was put right.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

impl MarkedHole {
    /// Which hole.
    #[must_use]
    pub const fn at(&self) -> HolePlace {
        HolePlace { row: self.row, hole: self.hole }
    }
}

/// A map of holes was laid out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LaidOutHoles {
    /// The run.
    pub run: RunId,
    /// The step.
    pub step: StepPath,
    /// How many holes each row has, first row first.
    pub rows: Vec<u32>,
}

impl LaidOutHoles {
    /// Whether it is a map: a row at least, a hole at least in each, and no more than [`MAX_HOLES`] in all.
    #[must_use]
    pub fn possible(rows: &[u32]) -> bool {
        let all = rows.iter().fold(0_u32, |sum, row| sum.saturating_add(*row));
        !rows.is_empty() && rows.iter().all(|row| *row > 0) && all <= MAX_HOLES
    }
}
