//! A builder without the app: moves by a fixed step in the direction that the reading says, measures, moves again.
//!
//! The steps: a quarter inch at the block or the saddle; a sixteenth at the joint and under one side of the support, where
//! a quarter would overshoot. When a reading has changed sides since the last move of that adjuster, its step is halved,
//! down to 1/64 in. The readings are the same as with the app (protractor both ways, three pulls per side), and a check is
//! in when they are inside the manual's tolerance, with no thought for their uncertainty.

use super::body::{NOMINAL_PITCH_DEG, Side};
use super::config::SetUp;
use super::mating::{Advice, Advisor, Check, diagonal_readings, median, pitch_readings, roll_readings};
use super::world::Twin;

/// Pitch tolerance of the Veldrin H2, degrees.
pub(crate) const PITCH_TOLERANCE_DEG: f64 = 0.2;
/// Twist tolerance of the Veldrin H2, degrees.
pub(crate) const TWIST_TOLERANCE_DEG: f64 = 0.15;
/// Left and right distances equal within this, inches.
pub(crate) const DIAGONAL_TOLERANCE: f64 = 1.0 / 16.0;

/// Tail off the string, inches.
const OFFSET_TOLERANCE: f64 = 1.0 / 8.0;
const SMALLEST_STEP: f64 = 1.0 / 64.0;
/// Keeps a reading that lies on the limit inside it.
const ON_THE_LIMIT: f64 = 1e-9;

/// One adjuster worked in fixed steps.
#[derive(Clone, Copy, Debug)]
struct Stepper {
    step: f64,
    last_sign: f64,
}

impl Stepper {
    fn new(step: f64) -> Self {
        Self { step, last_sign: 0.0 }
    }

    /// The move against an error of this sign, for an adjuster that raises the error when moved +.
    fn against(&mut self, error: f64) -> f64 {
        let sign = error.signum();
        if sign * self.last_sign < 0.0 {
            self.step = (self.step / 2.0).max(SMALLEST_STEP);
        }
        self.last_sign = sign;
        -sign * self.step
    }
}

/// The builder who steps.
#[derive(Clone, Debug)]
pub(crate) struct TrialAndError {
    support: Stepper,
    rock: Stepper,
    joint: Stepper,
}

impl TrialAndError {
    pub(crate) fn new() -> Self {
        Self { support: Stepper::new(0.25), rock: Stepper::new(1.0 / 16.0), joint: Stepper::new(1.0 / 16.0) }
    }
}

impl Advisor for TrialAndError {
    fn advise(&mut self, check: Check, twin: &mut Twin) -> Advice {
        // Raising the saddle lifts the tail; sliding the block forward lowers the frame's nose, which lowers the tail
        // against it. Raising the right of the saddle turns the tail left-low; raising the right of the frame, right-low.
        let (lifts_tail, turns_right_low) = match twin.config().set_up {
            SetUp::Saddle => (1.0, -1.0),
            SetUp::Block => (-1.0, 1.0),
        };
        match check {
            Check::Pitch => {
                let error = pitch_readings(twin).iter().sum::<f64>() / 2.0 - NOMINAL_PITCH_DEG;
                if error.abs() <= PITCH_TOLERANCE_DEG + ON_THE_LIMIT {
                    return Advice::In;
                }
                Advice::Support(lifts_tail * self.support.against(error))
            }
            Check::Twist => {
                let [frame, tail] = roll_readings(twin).map(|both| f64::midpoint(both[0], both[1]));
                if (tail - frame).abs() <= TWIST_TOLERANCE_DEG + ON_THE_LIMIT {
                    return Advice::In;
                }
                Advice::Rock(turns_right_low * self.rock.against(tail - frame))
            }
            Check::Square => {
                let [left, right] = diagonal_readings(twin).map(median);
                self.swing(left - right, DIAGONAL_TOLERANCE)
            }
            Check::Offset => {
                let tail = f64::midpoint(twin.read_offset(), twin.read_offset());
                self.swing(tail, OFFSET_TOLERANCE)
            }
        }
    }
}

impl TrialAndError {
    /// With the tail to the right, which makes the left distance the longer, the right side of the joint is opened.
    fn swing(&mut self, to_the_right: f64, tolerance: f64) -> Advice {
        if to_the_right.abs() <= tolerance + ON_THE_LIMIT {
            return Advice::In;
        }
        let side = if to_the_right > 0.0 { Side::Right } else { Side::Left };
        Advice::Joint(vec![(side, self.joint.against(to_the_right).abs())])
    }
}
