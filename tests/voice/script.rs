//! What the voices say.

use super::speaker::Delivery;

/// How a word is said in the three takes of teaching: alone, at three speeds and pitches.
pub(crate) const TAUGHT_AS: [Delivery; 3] = [
    Delivery { stretch: 1.0, pitch: 1.0 },
    Delivery { stretch: 1.15, pitch: 0.94 },
    Delivery { stretch: 0.88, pitch: 1.06 },
];

/// How readings are said: in one go, at speeds and pitches that were not taught.
pub(crate) const SAID_AS: [Delivery; 2] =
    [Delivery { stretch: 0.95, pitch: 1.03 }, Delivery { stretch: 1.07, pitch: 0.97 }];

/// Off a scale with decimals.
pub(crate) const DECIMALS: [&str; 12] = [
    "two two seven point six",
    "minus one point two",
    "zero point four",
    "nine point zero five",
    "one eight three point five",
    "four seven",
    "minus zero point eight",
    "three point one four",
    "six five point nine",
    "one zero two point three",
    "seven eight point zero",
    "five nine six",
];

/// Off a tape in sixteenths.
pub(crate) const FRACTIONS: [&str; 14] = [
    "eleven sixteenths",
    "two two seven and eleven sixteenths",
    "three eighths",
    "one two and five eighths",
    "minus three sixteenths",
    "five and one half",
    "one quarter",
    "six four and three quarters",
    "eight three and thirteen sixteenths",
    "seven eighths",
    "one zero four and fifteen sixteenths",
    "nine and nine sixteenths",
    "four zero",
    "seven six and one sixteenth",
];

/// At a step, and after a reading was read back.
pub(crate) const COMMANDS: [&str; 5] = ["keep it", "strike that", "say again", "next", "go back"];

/// Bits of talk for the babble: nothing of it is taught.
pub(crate) const TALK: [&str; 6] = [
    "I told him the rudder pedals were the wrong way round and he would not believe me",
    "could you pass me the other cleco pliers please they should be on the bench",
    "we had lunch at the field yesterday and the wind was straight across the runway",
    "that primer takes a whole day to dry when the weather is as damp as this",
    "my brother is coming on Saturday to hold the other end of the spar",
    "have you seen the bag with the washers because it was here this morning",
];
