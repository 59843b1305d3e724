//! The tail: where it lies, whether it is square, and a fin's lean.

use super::{ANGLE, Inputs, LENGTH, Reckoned, Reckoning, at, carried, exact, given, in_units};
use crate::language::later::words;
use crate::quantity::Unit;
use crate::rigging::error::positive;
use crate::rigging::{Diagonals, FinTop, MarkAt, SquareTo};

const GROUP: &str = words!("Tail");

pub(super) const ALL: [Reckoning; 3] = [
    Reckoning {
        id: "tail-offset",
        title: words!("Tail off the centre line, by two distances"),
        group: GROUP,
        given: &[
            given("left", words!("Left forward point to the aft centre point"), LENGTH),
            given("right", words!("Right forward point to the same point"), LENGTH),
            given("half-width", words!("Half the distance between the forward points"), LENGTH),
        ],
        gives: LENGTH,
        plus: words!("tail to the right"),
        minus: words!("tail to the left"),
        reckon: |given| {
            let unit = at(given, 0)?.unit;
            carried(&in_units(given, [unit; 3])?, unit, &|now| {
                positive(super::metres(now[2]))?;
                Ok(pair(now, unit).lateral_offset().value)
            })
        },
    },
    Reckoning {
        id: "yaw-by-distances-forward",
        title: words!("Square to a mark ahead, by two distances"),
        group: GROUP,
        given: &[
            given("left", words!("Left point to the mark on the centre line"), LENGTH),
            given("right", words!("Right point to the same mark"), LENGTH),
            given("half-width", words!("Half the distance between the points"), LENGTH),
            given("along", words!("Line between the points to the mark ahead of it, along the fuselage"), LENGTH),
        ],
        gives: ANGLE,
        plus: words!("right point forward of the left"),
        minus: words!("left point forward of the right"),
        reckon: |given| yaw(given, MarkAt::Forward),
    },
    Reckoning {
        id: "fin-lean",
        title: words!("Lean of a fin to the tailplane"),
        group: GROUP,
        given: &[
            given("left", words!("Fin's top to the left tip of the tailplane"), LENGTH),
            given("right", words!("Fin's top to the right tip"), LENGTH),
            given("half-width", words!("Half the distance between the tips"), LENGTH),
            given("height", words!("Fin's top above the line between the tips"), LENGTH),
        ],
        gives: ANGLE,
        plus: words!("top to the right"),
        minus: words!("top to the left"),
        reckon: |given| {
            let unit = at(given, 0)?.unit;
            carried(&in_units(given, [unit; 4])?, Unit::Degree, &|now| {
                Ok(FinTop { pair: pair(now, unit), height: now[3] }.lean_to_tailplane()?.value)
            })
        },
    },
];

fn pair(now: &[f64], unit: Unit) -> Diagonals {
    Diagonals { left: exact(now[0], unit), right: exact(now[1], unit), half_width: now[2] }
}

/// The yaw by two distances to a mark on the centre line, the width and the distance to it with their uncertainties.
pub(super) fn yaw(given: Inputs<'_>, mark: MarkAt) -> Reckoned {
    let unit = at(given, 0)?.unit;
    carried(&in_units(given, [unit; 4])?, Unit::Degree, &|now| {
        Ok(SquareTo { pair: pair(now, unit), to_mark: now[3], mark }.yaw()?.value)
    })
}
