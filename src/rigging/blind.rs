//! Blind rivets: the hole and the grip of each, by a published table.

use std::fmt;

use super::error::{RiggingError, positive};
use crate::language::{tr, words};
use crate::quantity::Length;

/// A blind rivet of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BlindRivet {
    /// Its number: first the diameter in thirty-seconds of an inch, then the most grip in sixteenths.
    pub number: u16,
    hole: [u16; 2],
    grip: [u16; 2],
}

/// A hole's limits or a grip's range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Least, included.
    pub least: Length,
    /// Most, included.
    pub most: Length,
}

/// Why no rivet of the table fits a grip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GripError {
    /// The grip is missing or not above zero.
    Rigging(RiggingError),
    /// The table has no rivet of that diameter.
    NoSuchDiameter,
    /// Thinner than any.
    TooThin,
    /// Thicker than any.
    TooThick,
    /// Between the printed ranges of two rivets: neither is said to fit.
    Between(u16, u16),
}

impl fmt::Display for GripError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Rigging(error) => error.fmt(f),
            Self::NoSuchDiameter => f.write_str(words!("The table has no rivet of this diameter.")),
            Self::TooThin => f.write_str(words!("Thinner than any rivet of this diameter grips.")),
            Self::TooThick => f.write_str(words!("Thicker than any rivet of this diameter grips.")),
            Self::Between(one, other) => f.write_str(&tr!(
                "Between the grips of {one} and {other}: neither is said to fit. Measure again, or ask.",
                one,
                other
            )),
        }
    }
}

impl std::error::Error for GripError {}

impl From<RiggingError> for GripError {
    fn from(error: RiggingError) -> Self {
        Self::Rigging(error)
    }
}

const fn rivet(number: u16, hole: [u16; 2], grip: [u16; 2]) -> BlindRivet {
    BlindRivet { number, hole, grip }
}

const H3: [u16; 2] = [96, 100];
const H4: [u16; 2] = [128, 132];
const H5: [u16; 2] = [160, 164];
const H8: [u16; 2] = [257, 261];

/// Army TM 10-5410-221-14/1, table 4-3, in thousandths of an inch. The number 53 is not legible there; its row is. 3/16 in is not there.
const TABLE: [BlindRivet; 17] = [
    rivet(32, H3, [20, 125]),
    rivet(34, H3, [126, 250]),
    rivet(41, H4, [20, 62]),
    rivet(42, H4, [63, 125]),
    rivet(43, H4, [126, 187]),
    rivet(44, H4, [188, 250]),
    rivet(45, H4, [251, 312]),
    rivet(46, H4, [313, 375]),
    rivet(48, H4, [376, 500]),
    rivet(52, H5, [20, 125]),
    rivet(53, H5, [126, 187]),
    rivet(54, H5, [188, 250]),
    rivet(56, H5, [251, 375]),
    rivet(84, H8, [125, 250]),
    rivet(86, H8, [251, 375]),
    rivet(88, H8, [376, 500]),
    rivet(812, H8, [626, 750]),
];

const THOUSANDTHS: f64 = 1000.0;
/// So much beyond a printed end is arithmetic.
const SLACK: f64 = 1e-6;

impl BlindRivet {
    /// Every rivet, by diameter, then grip.
    #[must_use]
    pub fn all() -> &'static [Self] {
        &TABLE
    }

    /// Its diameter.
    #[must_use]
    pub fn diameter(self) -> Length {
        Length::from_inches(f64::from(self.thirty_seconds()) / 32.0)
    }

    fn thirty_seconds(self) -> u16 {
        // One digit, before a grip of one digit or two.
        if self.number >= 100 { self.number / 100 } else { self.number / 10 }
    }

    /// Limits of its hole.
    #[must_use]
    pub fn hole(self) -> Range {
        range(self.hole)
    }

    /// What it grips: all layers together.
    #[must_use]
    pub fn grip(self) -> Range {
        range(self.grip)
    }

    /// The rivet of a diameter, in thirty-seconds of an inch, for a grip. The kit's rivets go first: only what it supplies, only
    /// where it says.
    ///
    /// # Errors
    /// When the table has none: also between two printed ranges, where it assigns neither.
    pub fn for_grip(thirty_seconds: u16, grip: Length) -> Result<Self, GripError> {
        let thousandths = positive(grip)?.inches() * THOUSANDTHS;
        let of_diameter = || TABLE.iter().copied().filter(move |rivet| rivet.thirty_seconds() == thirty_seconds);
        if of_diameter().next().is_none() {
            return Err(GripError::NoSuchDiameter);
        }
        let thinner = of_diameter().take_while(|rivet| f64::from(rivet.grip[1]) + SLACK < thousandths).last();
        let next = of_diameter().find(|rivet| f64::from(rivet.grip[1]) + SLACK >= thousandths);
        match (thinner, next) {
            (_, Some(rivet)) if f64::from(rivet.grip[0]) - SLACK <= thousandths => Ok(rivet),
            (Some(thinner), Some(rivet)) => Err(GripError::Between(thinner.number, rivet.number)),
            (None, _) => Err(GripError::TooThin),
            (_, None) => Err(GripError::TooThick),
        }
    }
}

fn range([least, most]: [u16; 2]) -> Range {
    let inches = |value| Length::from_inches(f64::from(value) / THOUSANDTHS);
    Range { least: inches(least), most: inches(most) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn what_is_chosen_grips(diameter in 1_u16..10, grip in 0.001..1.0_f64) {
            let wanted = Length::from_inches(grip);
            let inside = |rivet: &BlindRivet| {
                rivet.thirty_seconds() == diameter && rivet.grip().least <= wanted && wanted <= rivet.grip().most
            };
            let found = TABLE.iter().copied().find(inside);
            prop_assert_eq!(BlindRivet::for_grip(diameter, wanted).ok(), found);
        }
    }

    #[test]
    fn every_way_of_not_fitting_is_said() {
        let fits =
            |diameter, inches| BlindRivet::for_grip(diameter, Length::from_inches(inches)).map(|rivet| rivet.number);
        assert_eq!(fits(6, 0.2), Err(GripError::NoSuchDiameter));
        assert_eq!(fits(4, 0.01), Err(GripError::TooThin));
        assert_eq!(fits(4, 0.51), Err(GripError::TooThick));
        assert_eq!(fits(8, 0.55), Err(GripError::Between(88, 812)));
        assert_eq!(fits(4, -0.1), Err(GripError::Rigging(RiggingError::NotPositive)));
    }
}
