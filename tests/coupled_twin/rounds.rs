//! A round: everything is read, everything is moved that the builder wants moved, once.

use std::ops::Range;

use crate::twin::body::Side;
use crate::twin::config::Config;
use crate::twin::instruments::to_step;
use crate::twin::mating::{diagonal_readings, median, pitch_readings, roll_readings};
use crate::twin::trial::{DIAGONAL_TOLERANCE, PITCH_TOLERANCE_DEG, TWIST_TOLERANCE_DEG};
use crate::twin::world::{Corner, Twin};

/// Tail off the frame's centre plane, inches: the sheet of the Veldrin H2.
pub(crate) const OFFSET_TOLERANCE: f64 = 1.0 / 8.0;
/// Nobody works longer than this here.
const ROUNDS: usize = 4;

/// What is read in one pass; degrees and inches, signs as in the twin.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pass {
    pub(crate) pitch: f64,
    pub(crate) frame_roll: f64,
    pub(crate) tail_roll: f64,
    /// Tail's roll minus frame's.
    pub(crate) twist: f64,
    /// Left distance minus right.
    pub(crate) square: f64,
    pub(crate) offset: f64,
    /// Upper joint gaps, left and right.
    pub(crate) gaps: [f64; 2],
    /// Slope of the frame's lower tube, rising forward.
    pub(crate) tube: f64,
}

impl Pass {
    /// The protractor both ways on both longerons, the level both ways at both stations, three pulls on each side, the string twice,
    /// the gaps by rule.
    pub(crate) fn read(twin: &mut Twin) -> Self {
        let pitches = [pitch_readings(twin), pitch_readings(twin)];
        let [frame, tail] = roll_readings(twin).map(|both| f64::midpoint(both[0], both[1]));
        let [left, right] = diagonal_readings(twin).map(median);
        let tube = [false, true].map(|reversed| twin.read_tube_slope(reversed));
        Self {
            pitch: pitches.iter().flatten().sum::<f64>() / 4.0,
            frame_roll: frame,
            tail_roll: tail,
            twist: tail - frame,
            square: left - right,
            offset: f64::midpoint(twin.read_offset(), twin.read_offset()),
            gaps: [Side::Left, Side::Right].map(|side| twin.read_gap(Corner::Upper(side))),
            tube: f64::midpoint(tube[0], tube[1]),
        }
    }
}

/// What to move in a round; inches, as the twin takes them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Orders {
    pub(crate) support: f64,
    pub(crate) rock: f64,
    /// Left and right.
    pub(crate) joint: [f64; 2],
}

/// Whoever decides.
pub(crate) trait Builder {
    fn orders(&mut self, pass: &Pass, twin: &Twin) -> Orders;

    /// How often it found the structure's answer strange.
    fn alarms(&self) -> usize {
        0
    }
}

fn carry_out(twin: &mut Twin, orders: Orders) {
    if orders.support != 0.0 {
        twin.move_support(orders.support);
    }
    if orders.rock != 0.0 {
        twin.rock_saddle(orders.rock);
    }
    // The side that closes first.
    let mut sides = [(Side::Left, orders.joint[0]), (Side::Right, orders.joint[1])];
    sides.sort_by(|a, b| a.1.total_cmp(&b.1));
    for (side, inches) in sides {
        if inches != 0.0 {
            twin.open_joint(side, inches);
        }
    }
}

fn truly_in(twin: &Twin) -> bool {
    twin.true_pitch_error().abs() <= PITCH_TOLERANCE_DEG
        && twin.true_twist().abs() <= TWIST_TOLERANCE_DEG
        && twin.true_diagonal_difference().abs() <= DIAGONAL_TOLERANCE
        && twin.true_offset().abs() <= OFFSET_TOLERANCE
}

/// How many starts are truly in after so many rounds: none, one, two, …
#[derive(Clone, Debug)]
pub(crate) struct Shares {
    starts: usize,
    inside: [usize; ROUNDS],
    /// Adjusters touched in all.
    touched: usize,
    /// Strange answers called, wrongly: the twin neither springs nor slips.
    alarms: usize,
}

/// Works one twin per seed.
pub(crate) fn shares<B: Builder>(config: Config, seeds: Range<u64>, builder: impl Fn(&mut Twin) -> B) -> Shares {
    let mut shares = Shares { starts: 0, inside: [0; ROUNDS], touched: 0, alarms: 0 };
    for seed in seeds {
        let mut twin = Twin::new(config, seed);
        let mut builder = builder(&mut twin);
        shares.starts += 1;
        for round in 0..ROUNDS {
            shares.inside[round] += usize::from(truly_in(&twin));
            if round + 1 < ROUNDS {
                let pass = Pass::read(&mut twin);
                let orders = builder.orders(&pass, &twin);
                let all = [orders.support, orders.rock, orders.joint[0], orders.joint[1]];
                shares.touched += all.iter().filter(|amount| **amount != 0.0).count();
                carry_out(&mut twin, orders);
            }
        }
        shares.alarms += builder.alarms();
    }
    shares
}

impl Shares {
    /// Share of the starts that are truly in after so many rounds of moves.
    pub(crate) fn within(&self, rounds: usize) -> f64 {
        self.inside[rounds] as f64 / self.starts as f64
    }

    pub(crate) fn and(&self, other: &Self) -> Self {
        Self {
            starts: self.starts + other.starts,
            inside: std::array::from_fn(|round| self.inside[round] + other.inside[round]),
            touched: self.touched + other.touched,
            alarms: self.alarms + other.alarms,
        }
    }

    pub(crate) fn heading() -> String {
        format!(
            "{:<40} {:>6} {:>8} {:>8} {:>8} {:>8} {:>8} {:>7}",
            "", "starts", "start", "1", "2", "3", "touched", "alarms"
        )
    }

    pub(crate) fn line(&self, name: &str) -> String {
        let percent = |round| format!("{:.2}%", 100.0 * self.within(round));
        let [start, one, two, three] = [0, 1, 2, 3].map(percent);
        let touched = self.touched as f64 / self.starts as f64;
        format!(
            "{name:<40} {:>6} {start:>8} {one:>8} {two:>8} {three:>8} {touched:>8.2} {:>7}",
            self.starts, self.alarms
        )
    }
}

/// To the nearest 64th.
pub(crate) fn sixty_fourths(inches: f64) -> f64 {
    to_step(inches, 1.0 / 64.0)
}
