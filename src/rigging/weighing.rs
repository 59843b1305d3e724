//! Weight and centre of gravity from what scales show, with the uncertainty that they leave.

use std::fmt;

use super::error::{RiggingError, of, within};
use crate::language::words;
use crate::metrology::Estimate;
use crate::quantity::Dimension;

/// A mass at a place. A mass below zero is one taken out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Item {
    /// Its mass.
    pub mass: Estimate,
    /// Its arm: the distance aft of the datum; below zero forward of it.
    pub arm: Estimate,
}

/// A wheel on a scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnScale {
    /// What the scale shows.
    pub shown: Estimate,
    /// What of it is no airframe: chocks, blocks, a trestle.
    pub tare: Estimate,
    /// The wheel's arm.
    pub arm: Estimate,
}

/// A total mass and where it balances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Total mass, in the unit of the first item's.
    pub mass: Estimate,
    /// Centre of gravity: distance aft of the datum, in the unit of the first item's arm.
    pub arm: Estimate,
}

/// Why there is no balance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BalanceError {
    /// A number that is missing, or of another kind.
    Rigging(RiggingError),
    /// No item at all.
    Nothing,
    /// The masses add up to nothing or less.
    NoMass,
    /// The centre of gravity is on the wrong side of the main wheels: a scale or an arm is misread, or left and right swapped for
    /// the third wheel.
    WouldTip,
    /// Ballast there moves the centre of gravity the other way, or not at all.
    WrongEnd,
}

impl fmt::Display for BalanceError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Rigging(error) => return error.fmt(f),
            Self::Nothing => words!("Nothing has been weighed."),
            Self::NoMass => words!("The masses add up to nothing or less."),
            Self::WouldTip => {
                words!(
                    "With this centre of gravity it would not stand on its wheels. Look at scales, tare and arms again."
                )
            }
            Self::WrongEnd => words!("Ballast there does not move the centre of gravity that way."),
        })
    }
}

impl std::error::Error for BalanceError {}

impl From<RiggingError> for BalanceError {
    fn from(error: RiggingError) -> Self {
        Self::Rigging(error)
    }
}

impl OnScale {
    /// The airframe's share, shown − tare, at the wheel's arm.
    ///
    /// # Errors
    /// When a number is missing or is no mass.
    pub fn item(self) -> Result<Item, RiggingError> {
        let shown = of(self.shown, Dimension::Mass)?;
        Ok(Item { mass: shown.minus(within(self.tare, shown.unit)?), arm: of(self.arm, Dimension::Length)? })
    }
}

impl Balance {
    /// W = Σwᵢ and CG = Σwᵢaᵢ / W over items of independent uncertainties:
    /// u²(W) = Σu²(wᵢ), u²(CG) = Σ((aᵢ − CG)·u(wᵢ) / W)² + Σ(wᵢ·u(aᵢ) / W)² (JCGM 100:2008, eq. 10). An arm's error that all items
    /// share (the datum) is not in it: it shifts the CG as it stands.
    ///
    /// # Errors
    /// When there is no item, a number is missing or of another kind, or the masses add up to nothing.
    pub fn of(items: &[Item]) -> Result<Self, BalanceError> {
        let first = items.first().ok_or(BalanceError::Nothing)?;
        let (mass_unit, arm_unit) = (of(first.mass, Dimension::Mass)?.unit, of(first.arm, Dimension::Length)?.unit);
        let mut rows = Vec::with_capacity(items.len());
        let (mut mass, mut moment) = (Estimate::new(0.0, 0.0, mass_unit), 0.0);
        for item in items {
            let (w, a) = (within(item.mass, mass_unit)?, within(item.arm, arm_unit)?);
            mass = Estimate { value: mass.value + w.value, ..mass.widened(w.u, w.dof) };
            moment += w.value * a.value;
            rows.push((w, a));
        }
        if mass.value <= 0.0 {
            return Err(BalanceError::NoMass);
        }
        let mut arm = Estimate::new(moment / mass.value, 0.0, arm_unit);
        for (w, a) in rows {
            let lever = (a.value - arm.value) / mass.value;
            arm = arm.widened((lever * w.u).abs(), w.dof).widened((w.value / mass.value * a.u).abs(), a.dof);
        }
        Ok(Self { mass, arm })
    }

    /// Of wheels on scales, each with its tare.
    ///
    /// # Errors
    /// As [`Self::of`].
    pub fn on_scales(wheels: &[OnScale]) -> Result<Self, BalanceError> {
        let items: Vec<Item> = wheels.iter().map(|wheel| wheel.item()).collect::<Result<_, _>>()?;
        Self::of(&items)
    }

    /// Mass times arm, in the product of both units.
    #[must_use]
    pub fn moment(self) -> f64 {
        self.mass.value * self.arm.value
    }

    /// This and further items; below zero takes out. What is shifted is taken out here and put in there. Mass and arm of this count as
    /// independent; where both came off the same scales, [`Self::of`] all items at once is a little sharper.
    ///
    /// # Errors
    /// As [`Self::of`].
    pub fn with(self, items: &[Item]) -> Result<Self, BalanceError> {
        let all: Vec<Item> =
            std::iter::once(Item { mass: self.mass, arm: self.arm }).chain(items.iter().copied()).collect();
        Self::of(&all)
    }

    /// How far the arm moves when `mass` is shifted aft by `distance`: w·d / W, in the unit of the arm.
    ///
    /// # Errors
    /// When a number is missing or of another kind.
    pub fn shift(self, mass: Estimate, distance: Estimate) -> Result<f64, RiggingError> {
        let (mass, distance) = (within(mass, self.mass.unit)?, within(distance, self.arm.unit)?);
        Ok(mass.value * distance.value / self.mass.value)
    }

    /// The ballast that brings the centre of gravity to `wanted` when it sits at `place`: W·(wanted − CG) / (place − wanted); exact,
    /// with its own mass in. The uncertainty is that of mass and arm.
    ///
    /// # Errors
    /// When a number is missing, or the place lies on the other side of the wanted one.
    pub fn ballast(self, wanted: Estimate, place: Estimate) -> Result<Estimate, BalanceError> {
        let (wanted, place) = (within(wanted, self.arm.unit)?, within(place, self.arm.unit)?);
        let (shift, lever) = (wanted.value - self.arm.value, place.value - wanted.value);
        let share = shift / lever;
        if lever == 0.0 || share < 0.0 {
            return Err(BalanceError::WrongEnd);
        }
        let by_mass = self.mass.times(share);
        Ok(by_mass.widened((self.mass.value / lever * self.arm.u).abs(), self.arm.dof))
    }
}

/// Which end the third wheel is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ThirdWheel {
    /// A nose wheel: the centre of gravity lies ahead of the main wheels.
    Nose,
    /// A tail wheel: it lies behind them.
    Tail,
}

impl ThirdWheel {
    /// Refuses a balance that would not stand.
    ///
    /// # Errors
    /// When the centre of gravity is on the wrong side of the main wheels at `mains`, or the arm is no length.
    pub fn stands(self, balance: Balance, mains: Estimate) -> Result<(), BalanceError> {
        let ahead = within(mains, balance.arm.unit)?.value - balance.arm.value;
        let stands = match self {
            Self::Nose => ahead > 0.0,
            Self::Tail => ahead < 0.0,
        };
        if stands { Ok(()) } else { Err(BalanceError::WouldTip) }
    }
}

/// The centre of gravity by the third wheel alone: CG = mains + F·L / W, with `third` the mass on it, L its distance **aft** of the
/// main wheels (a nose wheel's is below zero) and W the total; in the unit of the mains' arm. The same as [`Balance::of`] where the
/// main wheels share one arm; the datum may lie anywhere.
///
/// # Errors
/// When a number is missing, of another kind, or the total is nothing.
pub fn from_third_wheel(
    mains: Estimate,
    third: Estimate,
    aft_of_mains: Estimate,
    total: Estimate,
) -> Result<f64, BalanceError> {
    let mains = of(mains, Dimension::Length)?;
    let total = of(total, Dimension::Mass)?;
    if total.value <= 0.0 {
        return Err(BalanceError::NoMass);
    }
    let (third, distance) = (within(third, total.unit)?, within(aft_of_mains, mains.unit)?);
    Ok(mains.value + third.value * distance.value / total.value)
}

/// The mean aerodynamic chord.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeanChord {
    /// Arm of its leading edge.
    pub leading_edge: Estimate,
    /// Its length.
    pub chord: Estimate,
}

impl MeanChord {
    /// Where an arm lies on the chord: 0 its leading edge, 100 its trailing edge.
    ///
    /// # Errors
    /// When a number is missing, is no length, or the chord is not above zero.
    pub fn percent(self, arm: Estimate) -> Result<f64, RiggingError> {
        let (edge, chord) = self.in_unit_of(arm)?;
        Ok((arm.value - edge) / chord * 100.0)
    }

    /// The arm of a place on the chord, in the unit of the leading edge's. Undoes [`Self::percent`].
    ///
    /// # Errors
    /// When a number is missing, is no length, or the chord is not above zero.
    pub fn arm(self, percent: f64) -> Result<f64, RiggingError> {
        let (edge, chord) = self.in_unit_of(self.leading_edge)?;
        if percent.is_finite() { Ok(edge + percent / 100.0 * chord) } else { Err(RiggingError::NotANumber) }
    }

    fn in_unit_of(self, arm: Estimate) -> Result<(f64, f64), RiggingError> {
        let arm = of(arm, Dimension::Length)?;
        let (edge, chord) = (within(self.leading_edge, arm.unit)?, within(self.chord, arm.unit)?);
        if chord.value > 0.0 { Ok((edge.value, chord.value)) } else { Err(RiggingError::NotPositive) }
    }
}

#[cfg(test)]
#[path = "weighing_tests.rs"]
mod tests;
