//! Lengths and angles add, scale and compare, and convert only when asked in their own kind of unit.

use super::super::{Angle, Length, Unit};

#[test]
fn displacements_add_scale_and_have_a_ratio() {
    let (two, half) = (Length::from_metres(2.0), Length::from_metres(0.5));
    assert_eq!(two + half, Length::from_metres(2.5));
    assert_eq!(two - half, Length::from_metres(1.5));
    assert_eq!((-two).abs(), two);
    assert_eq!(two * 0.25, half);
    assert_eq!(0.25 * two, half);
    assert_eq!(two / 4.0, half);
    assert_eq!(two / half, 4.0);
    assert!(half < two);
    assert_eq!([two, half, -two].into_iter().sum::<Length>(), half);
    let mut moved = Length::ZERO;
    moved += two;
    moved -= half;
    assert_eq!(moved.millimetres(), 1500.0);
}

#[test]
fn a_point_gives_the_angle_of_its_quadrant() {
    let one = Length::from_inches(1.0);
    for (y, x, degrees) in [(one, one, 45.0), (one, -one, 135.0), (-one, -one, -135.0), (-one, one, -45.0)] {
        assert_eq!(Angle::atan2(y, x).degrees(), degrees);
    }
}

#[test]
fn a_value_has_a_number_only_in_its_own_kind_of_unit() {
    let (length, angle) = (Length::from_inches(2.0), Angle::from_degrees(45.0));
    let units = [Unit::Inch, Unit::Millimetre, Unit::Metre, Unit::Degree, Unit::Pound, Unit::One];
    assert_eq!(units.map(|unit| length.in_unit(unit)), [Some(2.0), Some(50.8), Some(0.0508), None, None, None]);
    assert_eq!(units.map(|unit| angle.in_unit(unit)), [None, None, None, Some(45.0), None, None]);
}

/// The bound is four roundings (multiply and divide, each way) of half a unit in the last place each.
#[test]
fn inches_come_back_from_metres_to_within_the_last_places() {
    for n in 1..=300 * 64 {
        let inches = f64::from(n) / 64.0;
        let error = (Length::from_inches(inches).inches() - inches).abs();
        assert!(error <= 2.0 * f64::EPSILON * inches, "{inches} in is off by {error:e}");
    }
}
