//! Solid rivets: which length, and whether the head that was formed is one.

use super::error::{RiggingError, positive};
use crate::metrology::{Estimate, Limits, Verdict, judge};
use crate::quantity::{Length, Unit};

/// A solid rivet by its two dash numbers: AD3-5 is 3/32 in thick and 5/16 in long.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolidRivet {
    /// Diameter, D.
    pub diameter: Length,
    /// Length under the head.
    pub length: Length,
}

/// Shank for the head, in diameters, beyond the grip: L = G + 1.5·D (NAVEDTRA 14018).
const FOR_THE_HEAD: f64 = 1.5;
const DIAMETER_STEP: f64 = 1.0 / 32.0;
const LENGTH_STEP: f64 = 1.0 / 16.0;

impl SolidRivet {
    /// From the dash numbers: diameter in thirty-seconds, length in sixteenths of an inch; half lengths exist ("3.5").
    ///
    /// # Errors
    /// When a number is missing or not above zero.
    pub fn dash(diameter: u8, length: f64) -> Result<Self, RiggingError> {
        Ok(Self {
            diameter: positive(Length::from_inches(f64::from(diameter) * DIAMETER_STEP))?,
            length: positive(Length::from_inches(length * LENGTH_STEP))?,
        })
    }

    /// The length that a `grip` (all layers together) needs.
    ///
    /// # Errors
    /// When the grip or the diameter is not above zero.
    pub fn length_for(grip: Length, diameter: Length) -> Result<Length, RiggingError> {
        Ok(positive(grip)? + positive(diameter)? * FOR_THE_HEAD)
    }

    /// The rivet of a diameter whose length in whole sixteenths comes nearest to what a grip needs.
    ///
    /// # Errors
    /// When the grip or the diameter is not above zero.
    pub fn nearest(grip: Length, diameter: Length) -> Result<Self, RiggingError> {
        let step = Length::from_inches(LENGTH_STEP);
        Ok(Self { diameter, length: step * (Self::length_for(grip, diameter)? / step).round() })
    }

    /// Whether the diameter goes with the thickest sheet: one to three times as thick (NAVEDTRA 14018), ends included.
    ///
    /// # Errors
    /// When the thickness is not above zero.
    pub fn suits(self, thickest: Length) -> Result<bool, RiggingError> {
        let times = self.diameter / positive(thickest)?;
        Ok((1.0 - 1e-9..=3.0 + 1e-9).contains(&times))
    }
}

/// What a formed head must be. The published rules differ, so which one holds is the kit's to say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeadRule {
    /// Least width.
    pub least_width: Length,
    /// Least height.
    pub least_height: Length,
    /// Most height, where the rule gives one.
    pub most_height: Option<Length>,
}

impl HeadRule {
    /// The rule of thumb: 1.5 D wide and 0.5 D high, as least values.
    #[must_use]
    pub fn of_thumb(diameter: Length) -> Self {
        Self { least_width: diameter * 1.5, least_height: diameter * 0.5, most_height: None }
    }

    /// MIL-HDBK-5H, chapter 8: at least 1.3 D wide (1.4 D for alloy 7050) and 0.3 D high.
    #[must_use]
    pub fn of_handbook_5h(diameter: Length, alloy_7050: bool) -> Self {
        let times = if alloy_7050 { 1.4 } else { 1.3 };
        Self { least_width: diameter * times, least_height: diameter * 0.3, most_height: None }
    }

    /// MIL-R-47196A as its users quote it, for 3/32 and 1/8 in; none for other diameters.
    #[must_use]
    pub fn of_47196(diameter: Length) -> Option<Self> {
        let rows = [(3.0 / 32.0, 0.122, 0.038, 0.050), (1.0 / 8.0, 0.163, 0.050, 0.070)];
        rows.into_iter().find(|row| (row.0 - diameter.inches()).abs() < 1e-6).map(|(_, width, least, most)| Self {
            least_width: Length::from_inches(width),
            least_height: Length::from_inches(least),
            most_height: Some(Length::from_inches(most)),
        })
    }

    /// The verdict on a head's width and height: out when one is out, in when both are.
    ///
    /// # Errors
    /// When a number is missing or is no length.
    pub fn judge(self, width: Estimate, height: Estimate) -> Result<Verdict, RiggingError> {
        let one = |measured, least: Length, most: Option<Length>| {
            let limits = Limits { lower: Some(least.metres()), upper: most.map(Length::metres), unit: Unit::Metre };
            Ok(judge(super::error::within(measured, Unit::Metre)?, Some(limits)))
        };
        let (width, height) = (one(width, self.least_width, None)?, one(height, self.least_height, self.most_height)?);
        Ok(match (width, height) {
            (out @ Verdict::Out(_), _) | (_, out @ Verdict::Out(_)) => out,
            (Verdict::In, Verdict::In) => Verdict::In,
            _ => Verdict::CantTell,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_nearest_rivet_is_within_half_a_step(grip in 0.03..1.0_f64, thirty_seconds in 2_u8..9) {
            let diameter = Length::from_inches(f64::from(thirty_seconds) / 32.0);
            let rivet = SolidRivet::nearest(Length::from_inches(grip), diameter).expect("a rivet");
            let head = (rivet.length.inches() - grip) / diameter.inches();
            prop_assert!((head - 1.5).abs() * diameter.inches() <= 1.0 / 32.0 + 1e-9);
        }
    }

    #[test]
    fn what_is_measured_poorly_cannot_be_told() {
        let rule = HeadRule::of_thumb(Length::from_inches(0.125));
        let mm = |value, u| Estimate::new(value, u, Unit::Millimetre);
        assert_eq!(rule.judge(mm(5.0, 0.05), mm(1.8, 0.05)), Ok(Verdict::In), "4.76 × 1.59 at least");
        assert_eq!(rule.judge(mm(4.8, 0.05), mm(1.8, 0.05)), Ok(Verdict::CantTell));
        assert!(matches!(rule.judge(mm(5.0, 0.05), mm(1.4, 0.05)), Ok(Verdict::Out(_))));
        assert!(HeadRule::of_47196(Length::from_inches(0.15625)).is_none());
    }
}
