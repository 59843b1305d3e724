//! What is set by turning a thread: a strut's fork, a rod's end, a stop, a turnbuckle.

use std::fmt;

use super::error::{RiggingError, finite, positive};
use crate::language::words;
use crate::quantity::{Angle, Length};

/// A threaded end. One turn **out** is plus and shows one thread more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadedEnd {
    /// Length of one turn: 1/24 in for 24 threads to the inch.
    pub pitch: Length,
    /// Threads showing now.
    pub showing: f64,
    /// The fewest that may show; the kit's number, 0 for fully in.
    pub least: f64,
    /// The most that may show; the kit's number.
    pub most: f64,
}

/// A turn that can be made: whole half-turns, within the kit's limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turning {
    /// Half-turns; out is plus.
    pub half_turns: i32,
    /// What that does to the length.
    pub length: Length,
    /// Threads showing afterwards.
    pub showing: f64,
}

impl Turning {
    /// Turns: half the half-turns.
    #[must_use]
    pub fn turns(self) -> f64 {
        f64::from(self.half_turns) / 2.0
    }
}

/// Why a thread is not turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TurnError {
    /// A number that is missing, or a pitch that is not above zero.
    Rigging(RiggingError),
    /// More threads would show than the kit lets.
    PastMost {
        /// Threads that would show.
        showing: f64,
        /// The kit's limit.
        most: f64,
    },
    /// Fewer threads would show than the kit lets.
    PastLeast {
        /// Threads that would show.
        showing: f64,
        /// The kit's limit.
        least: f64,
    },
}

impl fmt::Display for TurnError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Rigging(error) => error.fmt(f),
            Self::PastMost { .. } => f.write_str(words!(
                "More threads would show than the kit allows. Do not turn it; ask the kit's support."
            )),
            Self::PastLeast { .. } => f.write_str(words!(
                "Fewer threads would show than the kit allows. Do not turn it; ask the kit's support."
            )),
        }
    }
}

impl std::error::Error for TurnError {}

impl From<RiggingError> for TurnError {
    fn from(error: RiggingError) -> Self {
        Self::Rigging(error)
    }
}

/// A fork or a rod end goes on its bolt after every half turn.
const HALF_TURNS_PER_TURN: f64 = 2.0;
/// No thread of a light aircraft's fittings is longer than this many half-turns.
const MOST_HALF_TURNS: f64 = 1000.0;
/// So much past a limit is arithmetic, not thread.
const SLACK: f64 = 1e-9;

impl ThreadedEnd {
    /// The turns that `length` needs, not rounded; out is plus.
    ///
    /// # Errors
    /// When a number is missing or the pitch is not above zero.
    pub fn turns_for(self, length: Length) -> Result<f64, RiggingError> {
        Ok(finite(length)? / positive(self.pitch)?)
    }

    /// The whole half-turns nearest to what `length` needs (a tie away from zero).
    ///
    /// # Errors
    /// When a number is missing, the pitch is not above zero, or the threads showing would pass a limit of the kit.
    pub fn turn(self, length: Length) -> Result<Turning, TurnError> {
        self.turn_half((self.turns_for(length)? * HALF_TURNS_PER_TURN).round())
    }

    fn turn_half(self, half_turns: f64) -> Result<Turning, TurnError> {
        if ![self.showing, self.least, self.most, half_turns].iter().all(|number| number.is_finite()) {
            return Err(RiggingError::NotANumber.into());
        }
        if half_turns.abs() > MOST_HALF_TURNS {
            return Err(RiggingError::OutOfReach.into());
        }
        let turns = half_turns / HALF_TURNS_PER_TURN;
        let showing = self.showing + turns;
        // What shows too much already may be turned back, and the other way about.
        if showing > self.most + SLACK && turns >= 0.0 {
            return Err(TurnError::PastMost { showing, most: self.most });
        }
        if showing < self.least - SLACK && turns <= 0.0 {
            return Err(TurnError::PastLeast { showing, least: self.least });
        }
        Ok(Turning { half_turns: half_turns as i32, length: self.pitch * turns, showing })
    }
}

/// The turn of a surface, or of a stop's arm, for one turn of a thread that pushes at `arm` from its hinge, measured square to the
/// thread: pitch / arm, in radians. (First order; the arm changes with the angle.)
///
/// # Errors
/// When the pitch or the arm is not above zero.
pub fn turn_per_turn(pitch: Length, arm: Length) -> Result<Angle, RiggingError> {
    Ok(Angle::from_radians(positive(pitch)? / positive(arm)?))
}

/// The length that turns a surface by `angle` when it is pushed at `arm` from its hinge: angle·arm. Its sign is the angle's.
///
/// # Errors
/// When the arm is not above zero.
pub fn length_for(angle: Angle, arm: Length) -> Result<Length, RiggingError> {
    finite(positive(arm)? * angle.radians())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn end(showing: f64) -> ThreadedEnd {
        ThreadedEnd { pitch: Length::from_inches(1.0 / 24.0), showing, least: 1.0, most: 12.0 }
    }

    proptest! {
        #[test]
        fn a_turn_is_the_nearest_half_and_inside_the_limits(length in -0.3..0.3_f64, showing in 1.0..12.0_f64) {
            let wanted = Length::from_inches(length);
            match end(showing).turn(wanted) {
                Ok(turning) => {
                    prop_assert!((turning.length - wanted).abs() <= end(showing).pitch * 0.250_001);
                    prop_assert!((1.0 - 1e-9..=12.0 + 1e-9).contains(&turning.showing));
                    prop_assert!((turning.showing - showing - turning.turns()).abs() < 1e-12);
                }
                Err(TurnError::PastMost { showing, .. }) => prop_assert!(showing > 12.0 && length > 0.0),
                Err(TurnError::PastLeast { showing, .. }) => prop_assert!(showing < 1.0 && length < 0.0),
                Err(error) => prop_assert!(false, "{error}"),
            }
        }
    }

    #[test]
    fn what_is_out_too_far_may_be_turned_back_in() {
        let over = end(13.0);
        assert!(over.turn(Length::from_inches(-0.5 / 24.0)).is_ok(), "12 1/2: still over, and better");
        assert!(matches!(over.turn(Length::ZERO), Err(TurnError::PastMost { .. })), "as it is, it is past the limit");
        assert!(matches!(end(0.5).turn(Length::from_inches(-1.0)), Err(TurnError::PastLeast { .. })));
        assert!(matches!(end(0.5).turn(Length::from_inches(0.5 / 24.0)), Ok(Turning { half_turns: 1, .. })));
    }

    #[test]
    fn no_thread_no_turns() {
        let none = ThreadedEnd { pitch: Length::ZERO, ..end(3.0) };
        assert_eq!(none.turn(Length::from_inches(0.1)), Err(RiggingError::NotPositive.into()));
        assert_eq!(end(f64::NAN).turn(Length::ZERO), Err(RiggingError::NotANumber.into()));
        assert_eq!(end(3.0).turn(Length::from_metres(10.0)), Err(RiggingError::OutOfReach.into()));
    }

    /// 1/28 in on a 2 1/4 in horn is 0.91° (plane geometry; common practice, no source).
    #[test]
    fn a_turn_of_a_rod_end() {
        let per_turn = turn_per_turn(Length::from_inches(1.0 / 28.0), Length::from_inches(2.25)).expect("a horn");
        assert!((per_turn.degrees() - 0.91).abs() < 0.005, "{per_turn:?}");
        let back = length_for(per_turn, Length::from_inches(2.25)).expect("a horn");
        assert!((back.inches() * 28.0 - 1.0).abs() < 1e-12);
    }
}
