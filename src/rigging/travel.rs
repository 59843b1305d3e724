//! Travel of a control surface: angle, distance at the trailing edge, swept hinges, both ways, both sides.

use super::error::{RiggingError, acute, degrees, of, within};
use crate::metrology::{Estimate, propagate};
use crate::quantity::{Angle, Dimension, Length, Unit};

/// How a distance at the trailing edge was taken. A sheet must say which; they differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TakenAs {
    /// Straight from where the edge stood to where it stands: 2·R·sin(δ/2).
    Straight,
    /// Square to the neutral position: R·sin δ.
    Square,
}

/// The distance that a point at `radius` from the hinge moves for a deflection; the sign is the deflection's.
///
/// # Errors
/// When the radius is not above zero, or the deflection more than a half turn (straight) or not less than square (square).
pub fn distance_of(deflection: Angle, radius: Length, taken: TakenAs) -> Result<Length, RiggingError> {
    let radius = super::error::positive(radius)?;
    match taken {
        TakenAs::Straight if deflection.degrees().abs() > 180.0 => Err(RiggingError::OutOfReach),
        TakenAs::Straight => super::error::finite(radius * (2.0 * (deflection / 2.0).sin())),
        TakenAs::Square => Ok(radius * acute(deflection)?.sin()),
    }
}

/// The deflection behind a distance at `radius` from the hinge, in degrees, with its uncertainty. Undoes [`distance_of`]:
/// δ = 2·asin(d / 2R) or asin(d / R).
///
/// # Errors
/// When a number is missing, is no length, the radius is not above zero, or the distance is longer than the radius allows.
pub fn deflection_of(distance: Estimate, radius: Estimate, taken: TakenAs) -> Result<Estimate, RiggingError> {
    let distance = of(distance, Dimension::Length)?;
    let radius = within(radius, distance.unit)?;
    if radius.value <= 0.0 {
        return Err(RiggingError::NotPositive);
    }
    // How many radii one straight line spans, and how many times its angle counts.
    let times = match taken {
        TakenAs::Straight => 2.0,
        TakenAs::Square => 1.0,
    };
    if (distance.value / (times * radius.value)).abs() >= 1.0 {
        return Err(RiggingError::OutOfReach);
    }
    let of = |[d, r]: [f64; 2]| times * (d / (times * r)).asin().to_degrees();
    let gradient = |[d, r]: [f64; 2]| {
        let sine = d / (times * r);
        let slope = 1.0 / (r * (1.0 - sine * sine).sqrt());
        [slope.to_degrees(), (-slope * d / r).to_degrees()]
    };
    Ok(propagate([distance, radius], Unit::Degree, of, gradient).estimate)
}

/// What a protractor held in a level plane shows of a deflection about a hinge that is swept by `sweep`: tan δ' = tan δ·cos Λ. The
/// manual's angle is square to the hinge.
///
/// # Errors
/// When an angle is missing or not less than square.
pub fn across_swept_hinge(deflection: Angle, sweep: Angle) -> Result<Angle, RiggingError> {
    Ok(Angle::atan(acute(deflection)?.tan() * acute(sweep)?.cos()))
}

/// The deflection square to a swept hinge behind what was read in a level plane. Undoes [`across_swept_hinge`].
///
/// # Errors
/// When an angle is missing or not less than square.
pub fn square_to_hinge(shown: Angle, sweep: Angle) -> Result<Angle, RiggingError> {
    Ok(Angle::atan(acute(shown)?.tan() / acute(sweep)?.cos()))
}

/// A deflection as the difference of two readings of one protractor on one surface: at the stop less at neutral, in degrees.
///
/// # Errors
/// When an angle is missing or is none.
pub fn from_neutral(at_stop: Estimate, at_neutral: Estimate) -> Result<Estimate, RiggingError> {
    Ok(degrees(at_stop)?.minus(degrees(at_neutral)?))
}

/// Travel both ways from neutral, both as positive amounts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Travel {
    /// Trailing edge up, or left.
    pub up: Estimate,
    /// Trailing edge down, or right.
    pub down: Estimate,
}

/// What is wrong with a travel, taken apart by what puts it right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TravelError {
    /// How far the neutral stands too far **up**, in degrees: too much up and too little down by this much. Put right by rod turns.
    pub neutral: Estimate,
    /// How much too much travel there is from stop to stop, in degrees. Put right at the stops or the horn's radius.
    pub range: Estimate,
}

impl Travel {
    /// Up over down; above 1 where the surface goes up more than down.
    ///
    /// # Errors
    /// When an angle is missing, is none, or there is no travel down.
    pub fn differential(self) -> Result<f64, RiggingError> {
        let (up, down) = (degrees(self.up)?, degrees(self.down)?);
        if down.value > 0.0 { Ok(up.value / down.value) } else { Err(RiggingError::NotPositive) }
    }

    /// The error against nominal travels: neutral (Δup − Δdown) / 2, range Δup + Δdown.
    ///
    /// # Errors
    /// When an angle is missing or is none.
    pub fn against(self, up: Angle, down: Angle) -> Result<TravelError, RiggingError> {
        let off = |measured, nominal: Angle| Ok(degrees(measured)?.minus(exact(nominal)?));
        let (up, down): (_, Estimate) = (off(self.up, up)?, off(self.down, down)?);
        Ok(TravelError { neutral: up.minus(down).times(0.5), range: up.minus(down.times(-1.0)) })
    }
}

fn exact(angle: Angle) -> Result<Estimate, RiggingError> {
    degrees(Estimate::new(angle.degrees(), 0.0, Unit::Degree))
}

/// The two sides of a pair of flaps at each of their positions, left less right, in degrees, in the order given; at the up-stop too,
/// each zeroed pressed to its stop.
///
/// # Errors
/// When an angle is missing or is none.
pub fn flap_differences(positions: &[(Estimate, Estimate)]) -> Result<Vec<Estimate>, RiggingError> {
    positions.iter().map(|(left, right)| super::left_less_right(degrees(*left)?, *right)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn deg(value: f64) -> Estimate {
        Estimate::new(value, 0.1, Unit::Degree)
    }

    fn mm(value: f64, u: f64) -> Estimate {
        Estimate::new(value, u, Unit::Millimetre)
    }

    proptest! {
        #[test]
        fn an_angle_becomes_a_distance_and_an_angle_again(angle in -80.0..80.0_f64, radius in 50.0..600.0_f64,
            straight in any::<bool>()) {
            let taken = if straight { TakenAs::Straight } else { TakenAs::Square };
            let distance = distance_of(Angle::from_degrees(angle), Length::from_millimetres(radius), taken).expect("in reach");
            let back = deflection_of(mm(distance.millimetres(), 0.0), mm(radius, 0.0), taken).expect("in reach");
            prop_assert!((back.value - angle).abs() < 1e-8);
        }

        #[test]
        fn a_swept_hinge_is_undone(angle in -60.0..60.0_f64, sweep in -45.0..45.0_f64) {
            let sweep = Angle::from_degrees(sweep);
            let shown = across_swept_hinge(Angle::from_degrees(angle), sweep).expect("angles");
            prop_assert!((square_to_hinge(shown, sweep).expect("angles").degrees() - angle).abs() < 1e-9);
            prop_assert!(shown.degrees().abs() <= angle.abs() + 1e-12, "sweep shows less");
        }

        /// Coordinates: the trailing edge as a point turned about the hinge.
        #[test]
        fn the_distances_are_those_of_a_turned_point(angle in -80.0..80.0_f64) {
            let radius = 238.0;
            let (sin, cos) = angle.to_radians().sin_cos();
            let straight = f64::hypot(radius * cos - radius, radius * sin);
            let got = |taken| distance_of(Angle::from_degrees(angle), Length::from_millimetres(radius), taken).expect("in reach");
            prop_assert!((got(TakenAs::Straight).millimetres().abs() - straight).abs() < 1e-9);
            prop_assert!((got(TakenAs::Square).millimetres() - radius * sin).abs() < 1e-9);
        }

        #[test]
        fn a_moved_neutral_and_a_moved_stop_come_apart(neutral in -3.0..3.0_f64, range in -3.0..3.0_f64) {
            let travel = Travel { up: deg(26.0 + neutral + range / 2.0), down: deg(21.0 - neutral + range / 2.0) };
            let error = travel.against(Angle::from_degrees(26.0), Angle::from_degrees(21.0)).expect("angles");
            prop_assert!((error.neutral.value - neutral).abs() < 1e-9 && (error.range.value - range).abs() < 1e-9);
        }
    }

    /// The uncertainty against a step of the inputs (finite differences).
    #[test]
    fn the_uncertainty_follows_the_inputs() {
        for taken in [TakenAs::Straight, TakenAs::Square] {
            let at = |d: f64, r: f64| deflection_of(mm(d, 0.0), mm(r, 0.0), taken).expect("in reach").value;
            let (by_distance, by_radius) = (at(109.5, 238.3) - at(108.5, 238.3), at(109.0, 238.8) - at(109.0, 237.8));
            let got = deflection_of(mm(109.0, 0.5), mm(238.3, 0.8), taken).expect("in reach");
            let expected = f64::hypot(by_distance * 0.5, by_radius * 0.8);
            assert!((got.u / expected - 1.0).abs() < 1e-4, "{taken:?}: {got:?}, {expected}");
        }
    }

    /// Figures of the trade (common practice, no source): at 26° and 17 in, 7.65 in straight and 7.45 in square; 24° across a hinge
    /// swept 12° shows 23.5°, across 30° 21.1°.
    #[test]
    fn straight_and_square_differ() {
        let at = |taken| {
            distance_of(Angle::from_degrees(26.0), Length::from_inches(17.0), taken).expect("in reach").inches()
        };
        assert!((at(TakenAs::Straight) - 7.65).abs() < 0.005 && (at(TakenAs::Square) - 7.45).abs() < 0.005);
        let shown = |sweep| {
            across_swept_hinge(Angle::from_degrees(24.0), Angle::from_degrees(sweep)).expect("angles").degrees()
        };
        assert!((shown(12.0) - 23.5).abs() < 0.05 && (shown(30.0) - 21.1).abs() < 0.05);
    }

    #[test]
    fn a_distance_no_surface_reaches_is_refused() {
        assert_eq!(deflection_of(mm(500.0, 0.0), mm(238.0, 0.0), TakenAs::Straight), Err(RiggingError::OutOfReach));
        assert_eq!(deflection_of(mm(238.0, 0.0), mm(238.0, 0.0), TakenAs::Square), Err(RiggingError::OutOfReach));
        assert_eq!(Travel { up: deg(20.0), down: deg(0.0) }.differential(), Err(RiggingError::NotPositive));
    }

    #[test]
    fn flaps_are_compared_position_by_position() {
        let apart =
            flap_differences(&[(deg(0.0), deg(0.0)), (deg(12.0), deg(12.4)), (deg(26.0), deg(25.3))]).expect("angles");
        let values: Vec<f64> = apart.iter().map(|apart| (apart.value * 10.0).round() / 10.0).collect();
        assert_eq!(values, [0.0, -0.4, 0.7]);
    }
}
