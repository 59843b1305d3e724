//! A torque wrench with an adapter (a crowfoot) on its end.

use super::error::{RiggingError, finite, positive};
use crate::quantity::{Angle, Length, Torque};

/// A wrench and the adapter on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Adapter {
    /// The wrench, from its square to the middle of the grip, where the hand must be.
    pub wrench: Length,
    /// The adapter, from the wrench's square to the middle of the nut.
    pub adapter: Length,
    /// The adapter's angle from the wrench's line: 0 makes the lever longer, 90° leaves it, 180° makes it shorter.
    pub angle: Angle,
}

impl Adapter {
    /// What the wrench is set to for a torque on the nut: T_w = T·L / (L + A·cos θ) (AC 43.13-1B, figure 7-2; Army TM 9-254,
    /// figure 46, for the angle).
    ///
    /// # Errors
    /// When a number is missing, the wrench has no length, or the adapter leaves no lever.
    pub fn setting(self, on_nut: Torque) -> Result<Torque, RiggingError> {
        Ok(whole(on_nut)? / self.gain()?)
    }

    /// What the nut gets from a setting. Undoes [`Self::setting`].
    ///
    /// # Errors
    /// When a number is missing, the wrench has no length, or the adapter leaves no lever.
    pub fn on_nut(self, setting: Torque) -> Result<Torque, RiggingError> {
        Ok(whole(setting)? * self.gain()?)
    }

    fn gain(self) -> Result<f64, RiggingError> {
        if !self.angle.radians().is_finite() {
            return Err(RiggingError::NotANumber);
        }
        let lever = self.wrench + finite(self.adapter)? * self.angle.cos();
        Ok(positive(lever)? / positive(self.wrench)?)
    }
}

fn whole(torque: Torque) -> Result<Torque, RiggingError> {
    if torque.newton_metres().is_finite() { Ok(torque) } else { Err(RiggingError::NotANumber) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn adapter(wrench: f64, adapter: f64, angle: f64) -> Adapter {
        Adapter {
            wrench: Length::from_inches(wrench),
            adapter: Length::from_inches(adapter),
            angle: Angle::from_degrees(angle),
        }
    }

    proptest! {
        #[test]
        fn what_is_set_is_what_the_nut_gets(torque in 1.0..500.0_f64, length in 1.0..8.0_f64, angle in 0.0..180.0_f64) {
            let crowfoot = adapter(12.0, length, angle);
            let wanted = Torque::from_newton_metres(torque);
            let back = crowfoot.setting(wanted).and_then(|set| crowfoot.on_nut(set)).expect("a lever");
            prop_assert!((back - wanted).newton_metres().abs() < 1e-9);
            // Moments about the nut: the hand pushes square to the wrench.
            let (sin, cos) = angle.to_radians().sin_cos();
            let (hand, square) = ((12.0 + length * cos, length * sin), 12.0);
            let force = crowfoot.setting(wanted).expect("a lever").newton_metres() / square;
            prop_assert!((force * hand.0 - torque).abs() < 1e-9, "the push has no lever along {}", hand.1);
        }
    }

    #[test]
    fn an_adapter_folded_back_over_the_hand_is_refused() {
        let nut = Torque::from_inch_pounds(100.0);
        assert_eq!(adapter(4.0, 4.0, 180.0).setting(nut), Err(RiggingError::NotPositive));
        assert_eq!(adapter(0.0, 4.0, 0.0).setting(nut), Err(RiggingError::NotPositive));
        assert_eq!(adapter(10.0, f64::NAN, 0.0).setting(nut), Err(RiggingError::NotANumber));
    }
}
