//! When a browser is killed.

use std::time::{Duration, Instant};

use fastrand::Rng;

use crate::reports::{Deed, Reports};

/// What is waited for comes sooner, or not in this session.
const PATIENCE: Duration = Duration::from_secs(6);

/// A moment in the work of a hand.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Moment {
    /// Whether the hand is in a hurry.
    pub(crate) hurried: bool,
    /// In the middle of what, and of the how many-th; none: at any time.
    pub(crate) amid: Option<(Deed, usize)>,
}

impl Moment {
    /// One as the dice have it.
    pub(crate) fn drawn(dice: &mut Rng) -> Self {
        let amid = match dice.usize(0..10) {
            0..4 => None,
            4..6 => Some((Deed::Digit, dice.usize(1..10))),
            6..8 => Some((Deed::Keep, dice.usize(1..3))),
            8 => Some((Deed::Strike, 1)),
            _ => Some((Deed::Go, dice.usize(1..3))),
        };
        Self { hurried: dice.bool(), amid }
    }

    /// The shortest and the longest time between two things that the hand does, in milliseconds.
    pub(crate) const fn pace(self) -> [u32; 2] {
        if self.hurried { [5, 45] } else { [180, 420] }
    }

    /// Waits for it.
    pub(crate) async fn comes(self, reports: &Reports, dice: &mut Rng) {
        let Some((deed, which)) = self.amid else {
            let longest = if self.hurried { 0.9 } else { 2.4 };
            return tokio::time::sleep(Duration::from_secs_f64(dice.f64() * longest)).await;
        };
        let begun = Instant::now();
        while reports.begun(deed) < which && begun.elapsed() < PATIENCE {
            tokio::time::sleep(Duration::from_millis(1)).await;
        }
        // Finer than the runtime's own clock; what the page tells meanwhile waits in its socket.
        std::thread::sleep(Duration::from_secs_f64(dice.f64() * 0.015));
    }
}
