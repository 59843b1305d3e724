//! AN3 to AN6 hexagon bolts: grip and length from the dash number, and the dash number for a thickness.

use std::fmt;

use super::error::{RiggingError, positive};
use crate::language::words;
use crate::quantity::Length;

/// A series: AN3 is 3/16 in thick, and so on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoltSeries {
    /// 3/16 in.
    An3,
    /// 1/4 in.
    An4,
    /// 5/16 in.
    An5,
    /// 3/8 in.
    An6,
}

/// A bolt: its shank without thread, and its length under the head.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bolt {
    /// Series.
    pub series: BoltSeries,
    /// Dash number: one digit is eighths of an inch, of two the first is inches and the second eighths ("12" is 1 2/8).
    pub dash: u8,
    /// Grip, ±1/64 in.
    pub grip: Length,
    /// Length, +1/32 −1/64 in.
    pub length: Length,
}

/// Why there is no bolt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoltError {
    /// The thickness is missing or not above zero.
    Rigging(RiggingError),
    /// No bolt of the series has this dash number: the second digit stops at 7, and each series starts at its own.
    NoSuchDash,
    /// Thicker than the longest bolt grips.
    TooThick,
}

impl fmt::Display for BoltError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Rigging(error) => error.fmt(f),
            Self::NoSuchDash => f.write_str(words!("There is no such dash number in this series.")),
            Self::TooThick => f.write_str(words!("Thicker than the longest bolt of this series grips.")),
        }
    }
}

impl std::error::Error for BoltError {}

impl From<RiggingError> for BoltError {
    fn from(error: RiggingError) -> Self {
        Self::Rigging(error)
    }
}

/// The longest that the rules below were held against a published bolt is -27; they are not used beyond -37.
const LONGEST: u8 = 37;
/// The shortest grip of the table, in sixty-fourths of an inch.
const LEAST_GRIP: u16 = 4;
const SIXTY_FOURTHS: f64 = 64.0;
/// So much beyond a grip is arithmetic.
const SLACK: f64 = 1e-6;

impl BoltSeries {
    /// Diameter of the shank.
    #[must_use]
    pub fn diameter(self) -> Length {
        let sixteenths = match self {
            Self::An3 => 3.0,
            Self::An4 => 4.0,
            Self::An5 => 5.0,
            Self::An6 => 6.0,
        };
        Length::from_inches(sixteenths / 16.0)
    }

    /// First dash number, length beyond the dash number's inches, length of thread; the last two in sixty-fourths of an inch.
    const fn rule(self) -> (u8, u16, u16) {
        match self {
            Self::An3 => (3, 2, 26),
            Self::An4 => (3, 2, 30),
            Self::An5 => (4, 6, 34),
            Self::An6 => (5, 5, 41),
        }
    }

    /// The bolt of a dash number: length = the dash number's inches and 1/32, 1/32, 3/32 or 5/64; grip = length less the thread's
    /// 13/32, 15/32, 17/32 or 41/64, 1/16 at least. AN3-3 and AN4-3 are listed as 15/32 long.
    ///
    /// The rules reproduce the published table of grips and lengths.
    ///
    /// # Errors
    /// When the series has no such dash number.
    pub fn bolt(self, dash: u8) -> Result<Bolt, BoltError> {
        let (first, beyond, thread) = self.rule();
        let (inches, eighths) = if dash < 10 { (0, dash) } else { (dash / 10, dash % 10) };
        if !(first..=LONGEST).contains(&dash) || eighths > 7 {
            return Err(BoltError::NoSuchDash);
        }
        let length = match (self, dash) {
            (Self::An3 | Self::An4, 3) => 30,
            _ => 64 * u16::from(inches) + 8 * u16::from(eighths) + beyond,
        };
        let grip = length.saturating_sub(thread).max(LEAST_GRIP);
        let inch = |n: u16| Length::from_inches(f64::from(n) / SIXTY_FOURTHS);
        Ok(Bolt { series: self, dash, grip: inch(grip), length: inch(length) })
    }

    /// The shortest bolt whose grip is not less than `thickness` (all layers together): the grip equals the thickness, or exceeds it
    /// a little and washers take it up (AC 43.13-1B, 7-37, from memory).
    ///
    /// # Errors
    /// When the thickness is not above zero, or no bolt is long enough.
    pub fn for_thickness(self, thickness: Length) -> Result<Bolt, BoltError> {
        let wanted = positive(thickness)? - Length::from_inches(SLACK);
        let bolts = (0..=LONGEST).filter_map(|dash| self.bolt(dash).ok());
        bolts.into_iter().find(|bolt| bolt.grip >= wanted).ok_or(BoltError::TooThick)
    }
}

impl Bolt {
    /// How much of the grip washers must take up over `thickness`; below zero: the threads would bear.
    #[must_use]
    pub fn spare(self, thickness: Length) -> Length {
        self.grip - thickness
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ALL: [BoltSeries; 4] = [BoltSeries::An3, BoltSeries::An4, BoltSeries::An5, BoltSeries::An6];

    proptest! {
        #[test]
        fn no_thread_bears_and_no_shorter_bolt_would_do(inches in 0.01..3.0_f64) {
            let thickness = Length::from_inches(inches);
            for series in ALL {
                let bolt = series.for_thickness(thickness).expect("long enough");
                prop_assert!(bolt.spare(thickness) > Length::from_inches(-1e-5));
                prop_assert!(bolt.spare(thickness) < Length::from_inches(0.126), "an eighth between bolts: {bolt:?}");
            }
        }
    }

    #[test]
    fn no_eight_and_no_nine() {
        for dash in [0, 1, 8, 9, 18, 19, 28, 38] {
            assert_eq!(BoltSeries::An4.bolt(dash), Err(BoltError::NoSuchDash), "-{dash}");
        }
        assert_eq!(BoltSeries::An6.bolt(4), Err(BoltError::NoSuchDash));
        assert_eq!(BoltSeries::An4.for_thickness(Length::from_inches(5.0)), Err(BoltError::TooThick));
    }
}
