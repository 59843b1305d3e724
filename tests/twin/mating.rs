//! The loop at the trestles: pitch, twist, squareness, again until one whole pass needs no move.

use super::body::Side;
use super::world::{Station, Twin};

/// The checks of a pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Check {
    Pitch,
    Twist,
    Square,
    /// The tail against a centre-line string.
    Offset,
}

/// The pass that the two tolerances of the campaign are about; twist is kept in because it swings the tail.
pub(crate) const PASS: [Check; 3] = [Check::Pitch, Check::Twist, Check::Square];
/// The same with the string, which the sheet holds to ±1/8 in.
pub(crate) const PASS_WITH_STRING: [Check; 4] = [Check::Pitch, Check::Twist, Check::Square, Check::Offset];

/// What to do after measuring for one check.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Advice {
    /// The check is in; go on.
    In,
    /// Slide the block (forward +) or raise the saddle (up +), whichever carries the movable body, inches.
    Support(f64),
    /// Raise the right side of the saddle or of the block over the left, inches.
    Rock(f64),
    /// Open the joint, side by side, inches; negative closes. Both sides together are one move of the joint.
    Joint(Vec<(Side, f64)>),
    /// The advisor cannot bring this check in, and why.
    Stop(String),
}

/// Whoever measures and decides: by trial and error, or with the app in hand.
pub(crate) trait Advisor {
    /// Takes the readings it wants for this check and says what to do.
    fn advise(&mut self, check: Check, twin: &mut Twin) -> Advice;
}

/// How many times each adjuster has been moved.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Moves {
    /// The block slid, or the saddle raised or lowered.
    pub(crate) support: u32,
    /// The saddle rocked, or the block shimmed on one side.
    pub(crate) rock: u32,
    /// The joint opened or closed, on one side or on both.
    pub(crate) joint: u32,
}

/// How a mating ended.
#[derive(Clone, Debug)]
pub(crate) struct Outcome {
    /// Why the advisor stopped; `None` when a whole pass needed no move.
    pub(crate) stopped: Option<String>,
    pub(crate) moves: Moves,
    /// Passes begun, the last untouched one included.
    pub(crate) passes: u32,
}

/// Nobody goes on longer than this.
const MOVE_LIMIT: u32 = 400;

/// Works the twin until a whole pass is in, the advisor stops, or the limit is reached.
pub(crate) fn mate(twin: &mut Twin, checks: &[Check], advisor: &mut impl Advisor) -> Outcome {
    let mut moves = Moves::default();
    let mut passes = 0;
    loop {
        passes += 1;
        let before = moves;
        for check in checks {
            loop {
                match advisor.advise(*check, twin) {
                    Advice::In => break,
                    Advice::Stop(why) => return Outcome { stopped: Some(why), moves, passes },
                    Advice::Support(inches) => {
                        twin.move_support(inches);
                        moves.support += 1;
                    }
                    Advice::Rock(inches) => {
                        twin.rock_saddle(inches);
                        moves.rock += 1;
                    }
                    Advice::Joint(sides) => {
                        for (side, inches) in sides {
                            twin.open_joint(side, inches);
                        }
                        moves.joint += 1;
                    }
                }
                if moves.support + moves.rock + moves.joint >= MOVE_LIMIT {
                    return Outcome { stopped: Some("no end to it".to_owned()), moves, passes };
                }
            }
        }
        if moves == before {
            return Outcome { stopped: None, moves, passes };
        }
    }
}

/// The protractor both ways round on the left longeron, degrees: as read, and turned end for end.
pub(crate) fn pitch_readings(twin: &mut Twin) -> [f64; 2] {
    [false, true].map(|reversed| twin.read_pitch(Side::Left, reversed))
}

/// Three independent pulls on each side, left then right, inches.
pub(crate) fn diagonal_readings(twin: &mut Twin) -> [[f64; 3]; 2] {
    [Side::Left, Side::Right].map(|side| std::array::from_fn(|_| twin.read_diagonal(side)))
}

/// The same level across the frame and across the tail, each both ways round, degrees, right side low +.
pub(crate) fn roll_readings(twin: &mut Twin) -> [[f64; 2]; 2] {
    [Station::Frame, Station::Tail].map(|station| [false, true].map(|reversed| twin.read_roll(station, reversed)))
}

/// The middle one of three.
pub(crate) fn median(mut pulls: [f64; 3]) -> f64 {
    pulls.sort_by(f64::total_cmp);
    pulls[1]
}
