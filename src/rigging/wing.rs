//! A pair of wings: dihedral apart from roll, sweep apart from yaw, washout, left against right.

use super::error::{RiggingError, degrees, finite, of, positive, slope, within};
use crate::metrology::Estimate;
use crate::quantity::{Angle, Dimension, Length};

/// The angles of the left and the right wing along the span, read against gravity; **tip up** is plus.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PanelAngles {
    /// Left wing.
    pub left: Estimate,
    /// Right wing.
    pub right: Estimate,
}

/// How far a tip point lies above its root point, over the level distance between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TipRise {
    /// Tip above root.
    pub rise: Estimate,
    /// Root to tip, level.
    pub span: Estimate,
}

impl PanelAngles {
    /// From heights: Γ = atan(rise / span), side by side.
    ///
    /// # Errors
    /// When a number is missing, is no length, or a span is not above zero.
    pub fn from_rises(left: TipRise, right: TipRise) -> Result<Self, RiggingError> {
        Ok(Self { left: slope(left.rise, left.span)?, right: slope(right.rise, right.span)? })
    }

    /// The dihedral, Γ = (Γ_L + Γ_R) / 2, in degrees: the fuselage's roll takes from one side what it gives the other.
    ///
    /// # Errors
    /// When an angle is missing or is none.
    pub fn dihedral(self) -> Result<Estimate, RiggingError> {
        Ok(degrees(self.left)?.mean(degrees(self.right)?))
    }

    /// The roll that the wings show, (Γ_L − Γ_R) / 2, in degrees; positive with the **right side low**. It is the fuselage's roll
    /// when the wings are twins; [`Self::unlike`] tells.
    ///
    /// # Errors
    /// When an angle is missing or is none.
    pub fn roll(self) -> Result<Estimate, RiggingError> {
        Ok(degrees(self.left)?.minus(degrees(self.right)?).times(0.5))
    }

    /// How much more dihedral the right wing has than the left once the fuselage's own `roll` (right side low is plus) is taken
    /// out: (Γ_R − Γ_L) + 2ρ, in degrees. Level the fuselage for the roll; set a strut only for this.
    ///
    /// # Errors
    /// When an angle is missing or is none.
    pub fn unlike(self, roll: Estimate) -> Result<Estimate, RiggingError> {
        let apart = degrees(self.right)?.minus(degrees(self.left)?);
        Ok(apart.minus(degrees(roll)?.times(-2.0)))
    }
}

/// The dihedral under a string from tip to tip: its height over the root points, with the sag of the string added,
/// Γ = atan((H + sag) / s), in degrees. `semi_span` is root point to tip point, level.
///
/// # Errors
/// When a number is missing, is no length, or the span is not above zero.
pub fn dihedral_under_string(drop: Estimate, sag: Length, semi_span: Estimate) -> Result<Estimate, RiggingError> {
    let drop = of(drop, Dimension::Length)?;
    let sag = finite(sag)?.in_unit(drop.unit).ok_or(RiggingError::NotANumber)?;
    slope(Estimate { value: drop.value + sag, ..drop }, semi_span)
}

/// The gap under the low end of a level of `length` that is held level with its other end on a surface sloping by `angle`:
/// ℓ·tan Γ.
///
/// # Errors
/// When the length is not above zero or the angle not less than square.
pub fn gap_under_level(angle: Angle, length: Length) -> Result<Length, RiggingError> {
    super::lift_for(angle, length)
}

/// The slope under a level of `length` that is held level by a block of `height` under one end: atan(h / ℓ).
///
/// # Errors
/// When the length is not above zero.
pub fn slope_under_level(height: Length, length: Length) -> Result<Angle, RiggingError> {
    super::turn_by(height, length)
}

/// Washout, in degrees: incidence of the root less incidence of the tip. Positive with the **tip lower at the front**.
///
/// # Errors
/// When an angle is missing or is none.
pub fn washout(root: Estimate, tip: Estimate) -> Result<Estimate, RiggingError> {
    Ok(degrees(root)?.minus(degrees(tip)?))
}

/// Left less right of one quantity read on both sides, in the left's unit. For a limit whichever is larger see
/// [`crate::metrology::Limits::equal_within`].
///
/// # Errors
/// When a number is missing or the two are not of one kind.
pub fn left_less_right(left: Estimate, right: Estimate) -> Result<Estimate, RiggingError> {
    let left = of(left, left.unit.dimension())?;
    Ok(left.minus(within(right, left.unit)?))
}

/// How far each tip's bob hangs **aft** of a line square to the fuselage through the roots' bobs, over the distance between a
/// wing's bobs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TipOffsets {
    /// Left tip aft of the line.
    pub left: Estimate,
    /// Right tip aft of the line.
    pub right: Estimate,
    /// Root bob to tip bob, the same on both sides.
    pub span: Estimate,
}

impl TipOffsets {
    fn angles(self) -> Result<[Estimate; 2], RiggingError> {
        Ok([slope(self.left, self.span)?, slope(self.right, self.span)?])
    }

    /// The sweep that both wings share, (ψ_L + ψ_R) / 2 with ψ = atan(offset / span), in degrees; positive **tips aft**.
    ///
    /// # Errors
    /// When a number is missing, is no length, or the span is not above zero.
    pub fn sweep(self) -> Result<Estimate, RiggingError> {
        let [left, right] = self.angles()?;
        Ok(left.mean(right))
    }

    /// How far the pair is yawed as a unit, (ψ_L − ψ_R) / 2, in degrees; positive with the **right tip forward** of the left (the
    /// wing's aft side to the right), as [`super::SquareTo::yaw`].
    ///
    /// # Errors
    /// When a number is missing, is no length, or the span is not above zero.
    pub fn yaw(self) -> Result<Estimate, RiggingError> {
        let [left, right] = self.angles()?;
        Ok(left.minus(right).times(0.5))
    }
}

/// How far to move the rear spar's root fitting **outboard** to bring the tip **forward** by `tip_forward`, the front fitting
/// being the pivot: x·c_s / s (small angles). A tip that stands too far forward is asked to move by less than nothing, and the
/// fitting goes inboard.
///
/// # Errors
/// When a distance is not above zero.
pub fn rear_root_outboard(tip_forward: Length, span: Length, spar_spacing: Length) -> Result<Length, RiggingError> {
    Ok(finite(tip_forward)? * (positive(spar_spacing)? / positive(span)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;
    use proptest::prelude::*;

    fn inches(value: f64) -> Estimate {
        Estimate::new(value, 0.02, Unit::Inch)
    }

    fn angle(value: f64) -> Estimate {
        Estimate::new(value, 0.03, Unit::Degree)
    }

    proptest! {
        /// Wings of known dihedral on a fuselage of known roll, as a level shows them.
        #[test]
        fn dihedral_and_roll_come_apart(left in -3.0..6.0_f64, right in -3.0..6.0_f64, roll in -3.0..3.0_f64) {
            let seen = PanelAngles { left: angle(left + roll), right: angle(right - roll) };
            prop_assert!((seen.dihedral().expect("angles").value - (left + right) / 2.0).abs() < 1e-12);
            prop_assert!((seen.unlike(angle(roll)).expect("angles").value - (right - left)).abs() < 1e-12);
            let twins = PanelAngles { left: angle(left + roll), right: angle(left - roll) };
            prop_assert!((twins.roll().expect("angles").value - roll).abs() < 1e-12);
        }
    }

    #[test]
    fn a_mean_of_two_is_surer_than_one_and_a_roll_counts_twice() {
        let seen = PanelAngles { left: angle(1.3), right: angle(1.3) };
        let expected = 0.03 / 2_f64.sqrt();
        assert!((seen.dihedral().expect("angles").u - expected).abs() < 1e-12);
        assert!((seen.roll().expect("angles").u - expected).abs() < 1e-12);
        let unlike = seen.unlike(angle(0.0)).expect("angles");
        assert!((unlike.u - 6_f64.sqrt() * 0.03).abs() < 1e-12, "√(1 + 1 + 4)·u: {unlike:?}");
    }

    /// Figures of the trade (plane geometry, common practice, no source): an eighth at a rear fitting 33 3/4 in behind the front one
    /// moves a tip 180 in out by 0.67 in or 0.21°; 6 mm at a tip 3385 mm out are 1.3 mm at a fitting 745 mm back.
    #[test]
    fn the_rear_root_fitting_sweeps_the_wing() {
        let by = |forward, span, spacing| rear_root_outboard(forward, span, spacing).expect("distances");
        let inch = Length::from_inches;
        assert!((by(inch(0.667), inch(180.0), inch(33.75)).inches() - 0.125).abs() < 1e-3);
        let mm = Length::from_millimetres;
        assert!((by(mm(-6.0), mm(3385.0), mm(745.0)).millimetres() + 1.32).abs() < 0.01, "forward: go inboard");
        let offsets = TipOffsets { left: inches(0.0), right: inches(-0.667), span: inches(180.0) };
        assert!((offsets.yaw().expect("offsets").value - 0.106).abs() < 5e-4, "the right tip is forward");
        assert!((offsets.sweep().expect("offsets").value + 0.106).abs() < 5e-4);
    }

    /// A chain hangs deepest in the middle: what it sags there is missing from the height over the root.
    #[test]
    fn a_string_sags() {
        let (half, dihedral) = (180.0, 1.3_f64.to_radians());
        let height = half * dihedral.tan();
        let seen =
            dihedral_under_string(inches(height - 0.37), Length::from_inches(0.37), inches(half)).expect("lengths");
        assert!((seen.value - 1.3).abs() < 1e-12, "{seen:?}");
        let taut = dihedral_under_string(inches(height - 0.37), Length::ZERO, inches(half)).expect("lengths");
        assert!((taut.value - 1.3 + 0.118).abs() < 1e-3, "forgotten, it hides 0.12°: {taut:?}");
    }

    #[test]
    fn left_and_right_are_of_one_kind_and_may_be_in_two_units() {
        let apart = left_less_right(inches(10.0), Estimate::new(253.0, 0.5, Unit::Millimetre)).expect("lengths");
        assert!((apart.value - 1.0 / 25.4).abs() < 1e-12 && apart.unit == Unit::Inch, "{apart:?}");
        assert!(matches!(left_less_right(inches(1.0), angle(1.0)), Err(RiggingError::WrongUnit { .. })));
    }
}
