//! Slopes, and what is compared with what.

use super::{ANGLE, Inputs, LENGTH, Reckoned, Reckoning, at, carried, given, in_units, metres, optional};
use crate::language::later::words;
use crate::metrology::Estimate;
use crate::quantity::{Angle, Dimension, Length, Unit};
use crate::rigging::error::{RiggingError, of, slope, within};
use crate::rigging::{gap_under_level, left_less_right, lift_for};

const GROUP: &str = words!("Angles");

pub(super) const ALL: [Reckoning; 7] = [
    Reckoning {
        id: "slope-by-heights",
        title: words!("Slope by two heights"),
        group: GROUP,
        given: &[
            given("aft", words!("Height of the aft point"), LENGTH),
            given("fore", words!("Height of the forward point"), LENGTH),
            given("base", words!("Level distance between them"), LENGTH),
        ],
        gives: ANGLE,
        plus: words!("aft end high"),
        minus: words!("aft end low"),
        reckon: |given| by_heights(at(given, 0)?, at(given, 1)?, at(given, 2)?),
    },
    Reckoning {
        id: "lift",
        title: words!("Lift that turns a base"),
        group: GROUP,
        given: &[
            given("turn", words!("Turn wanted"), ANGLE),
            given("base", words!("Distance from the end that stays to the end that is lifted"), LENGTH),
        ],
        gives: LENGTH,
        plus: words!("lift that end"),
        minus: words!("lower that end"),
        reckon: |given| over_base(given, lift_for),
    },
    Reckoning {
        id: "gap-under-level",
        title: words!("Gap at the end of a level on a slope"),
        group: GROUP,
        given: &[
            given("angle", words!("Slope of the surface"), ANGLE),
            given("length", words!("Length of the level, held level, its other end on the surface"), LENGTH),
        ],
        gives: LENGTH,
        plus: "",
        minus: words!("at the other end"),
        reckon: |given| over_base(given, gap_under_level),
    },
    Reckoning {
        id: "difference",
        title: words!("Difference of two readings"),
        group: GROUP,
        given: &[given("a", words!("The one"), None), given("b", words!("The other, taken off"), None)],
        gives: None,
        plus: words!("the one is larger"),
        minus: words!("the other is larger"),
        reckon: difference,
    },
    Reckoning {
        id: "half-difference",
        title: words!("Half the difference of two readings"),
        group: GROUP,
        given: &[given("a", words!("The one"), None), given("b", words!("The other, taken off"), None)],
        gives: None,
        plus: words!("the one is larger"),
        minus: words!("the other is larger"),
        reckon: |given| Ok(difference(given)?.times(0.5)),
    },
    Reckoning {
        id: "mean",
        title: words!("Mean of two readings"),
        group: GROUP,
        given: &[given("a", words!("The one"), None), given("b", words!("The other"), None)],
        gives: None,
        plus: "",
        minus: "",
        reckon: |given| {
            let one = at(given, 0)?;
            Ok(one.mean(alike(at(given, 1)?, one.unit)?))
        },
    },
    Reckoning {
        id: "spread",
        title: words!("Largest less smallest"),
        group: GROUP,
        given: &[
            given("a", words!("First"), None),
            given("b", words!("Second"), None),
            optional("c", words!("Third"), None),
            optional("d", words!("Fourth"), None),
        ],
        gives: None,
        plus: "",
        minus: "",
        reckon: spread,
    },
];

/// The slope of the first height over the second, on a base; see [`slope`].
pub(super) fn by_heights(high: Estimate, low: Estimate, base: Estimate) -> Reckoned {
    let high = of(high, Dimension::Length)?;
    slope(high.minus(within(low, high.unit)?), base)
}

/// A length that an angle (the first input) makes over a base (the second), in the unit of the base.
pub(super) fn over_base(given: Inputs<'_>, form: fn(Angle, Length) -> Result<Length, RiggingError>) -> Reckoned {
    let inputs = in_units(given, [Unit::Degree, Unit::Metre])?;
    let found = carried(&inputs, Unit::Metre, &|now| Ok(form(Angle::from_degrees(now[0]), metres(now[1]))?.metres()))?;
    within(found, at(given, 1)?.unit)
}

/// In `unit`, where that is a matter of a factor.
fn alike(estimate: Estimate, unit: Unit) -> Reckoned {
    let scales_differ = unit.dimension() == Dimension::Temperature && estimate.unit != unit;
    if scales_differ {
        return Err(RiggingError::WrongUnit { wanted: Dimension::Temperature, got: estimate.unit });
    }
    within(estimate, unit)
}

fn difference(given: Inputs<'_>) -> Reckoned {
    let one = at(given, 0)?;
    left_less_right(one, alike(at(given, 1)?, one.unit)?)
}

fn spread(given: Inputs<'_>) -> Reckoned {
    let first = at(given, 0)?;
    let (mut least, mut most) = (first, alike(at(given, 1)?, first.unit)?);
    if least.value > most.value {
        (least, most) = (most, least);
    }
    for further in given.iter().skip(2).flatten() {
        let further = alike(*further, first.unit)?;
        if further.value < least.value {
            least = further;
        } else if further.value > most.value {
            most = further;
        }
    }
    Ok(most.minus(least))
}
