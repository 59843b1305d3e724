//! A propeller's track: where each tip passes one fixed mark.

use super::error::{RiggingError, of, positive, within};
use crate::metrology::{Estimate, Limits};
use crate::quantity::{Dimension, Length, Unit};

/// How a maker words the limit. They differ by two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TrackLimit {
    /// Blades within so much of each other.
    Apart(Length),
    /// Each blade within so much of the mark either way, so twice as much of each other.
    EitherWay(Length),
}

impl TrackLimit {
    /// The limits of the spread of all blades.
    ///
    /// # Errors
    /// When the limit is not above zero or `unit` is no length.
    pub fn limits(self, unit: Unit) -> Result<Limits, RiggingError> {
        let most = match self {
            Self::Apart(most) => positive(most)?,
            Self::EitherWay(most) => positive(most)? * 2.0,
        };
        let wrong = RiggingError::WrongUnit { wanted: Dimension::Length, got: unit };
        Ok(Limits { lower: None, upper: Some(most.in_unit(unit).ok_or(wrong)?), unit })
    }
}

/// The track of a propeller.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Track {
    /// The foremost and the aftmost blade, by their place in the readings, from 0.
    pub blades: (usize, usize),
    /// How far they are apart along the shaft; not below zero.
    pub spread: Estimate,
}

impl Track {
    /// From each tip's distance **aft** of one mark, in the order of the blades.
    ///
    /// # Errors
    /// When there are fewer than two blades, or a number is missing or is no length.
    pub fn of(tips: &[Estimate]) -> Result<Self, RiggingError> {
        let [first, _, ..] = tips else { return Err(RiggingError::NotANumber) };
        let unit = of(*first, Dimension::Length)?.unit;
        let tips: Vec<Estimate> = tips.iter().map(|tip| within(*tip, unit)).collect::<Result<_, _>>()?;
        let (mut fore, mut aft) = (0, 0);
        for (at, tip) in tips.iter().enumerate() {
            if tip.value < tips[fore].value {
                fore = at;
            }
            if tip.value > tips[aft].value {
                aft = at;
            }
        }
        // All alike: two readings all the same.
        let other = if fore == aft { usize::from(fore == 0) } else { aft };
        Ok(Self { blades: (fore, other), spread: tips[other].minus(tips[fore]) })
    }
}

/// Whose the track of a two-blade propeller is, by reading it as it is and again turned half round on the flange. Both are tip one less
/// tip two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BladeAndFlange {
    /// The blades' own share: it goes round with them. (d₁ + d₂) / 2.
    pub blades: Estimate,
    /// The flange's share: it stays. (d₁ − d₂) / 2.
    pub flange: Estimate,
}

impl BladeAndFlange {
    /// From the difference as it is and the difference turned half round on the flange.
    ///
    /// # Errors
    /// When a number is missing or is no length.
    pub fn of(as_it_is: Estimate, turned: Estimate) -> Result<Self, RiggingError> {
        let first = of(as_it_is, Dimension::Length)?;
        let second = within(turned, first.unit)?;
        Ok(Self { blades: first.mean(second), flange: first.minus(second).times(0.5) })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::metrology::{Verdict, judge};
    use proptest::prelude::*;

    fn inch(value: f64) -> Estimate {
        Estimate::new(value, 0.004, Unit::Inch)
    }

    proptest! {
        #[test]
        fn blade_and_flange_come_apart(blades in -0.2..0.2_f64, flange in -0.2..0.2_f64) {
            let got = BladeAndFlange::of(inch(blades + flange), inch(blades - flange)).expect("lengths");
            prop_assert!((got.blades.value - blades).abs() < 1e-12 && (got.flange.value - flange).abs() < 1e-12);
        }

        #[test]
        fn the_spread_is_the_largest_of_all_pairs(tips in proptest::collection::vec(-0.5..0.5_f64, 2..6)) {
            let track = Track::of(&tips.iter().copied().map(inch).collect::<Vec<_>>()).expect("blades");
            let pairs = tips.iter().flat_map(|one| tips.iter().map(move |other| one - other));
            prop_assert!((track.spread.value - pairs.fold(0.0, f64::max)).abs() < 1e-12);
            prop_assert!((tips[track.blades.1] - tips[track.blades.0] - track.spread.value).abs() < 1e-12);
        }
    }

    #[test]
    fn within_a_sixteenth_is_half_of_plus_or_minus_a_sixteenth() {
        let track = Track::of(&[inch(0.5), inch(0.59)]).expect("blades");
        let sixteenth = Length::from_inches(0.0625);
        let verdict = |limit: TrackLimit| judge(track.spread, limit.limits(Unit::Inch).ok());
        assert!(matches!(verdict(TrackLimit::Apart(sixteenth)), Verdict::Out(_)));
        assert_eq!(verdict(TrackLimit::EitherWay(sixteenth)), Verdict::In);
    }

    #[test]
    fn one_blade_has_no_track() {
        assert_eq!(Track::of(&[inch(0.5)]), Err(RiggingError::NotANumber));
        let alike = Track::of(&[inch(0.5), inch(0.5), inch(0.5)]).expect("blades");
        assert_eq!((alike.blades, alike.spread.value), ((0, 1), 0.0));
    }
}
