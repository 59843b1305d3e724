//! Dihedral, sweep, incidence, washout, and the strut that sets it.

use super::tail::yaw;
use super::{
    ANGLE, COUNTED, Given, Inputs, LENGTH, Reckoned, Reckoning, at, carried, given, in_units, metres, optional,
    or_nothing,
};
use crate::language::later::words;
use crate::metrology::Estimate;
use crate::quantity::{Angle, Unit};
use crate::rigging::error::{positive, slope};
use crate::rigging::{MarkAt, OnBlock, PanelAngles, Strut, TipOffsets, TwoHeights, washout};

const GROUP: &str = words!("Wings");
/// The slope that every angle to the fuselage starts from.
pub(super) const DATUM_SLOPE: Given = given("datum-slope", words!("Slope of the datum, aft end high is plus"), ANGLE);

const OFFSETS: &[Given] = &[
    given("left-offset", words!("Left tip's bob aft of the line through the roots' bobs"), LENGTH),
    given("right-offset", words!("Right tip's bob aft of that line"), LENGTH),
    given("span", words!("Root bob to tip bob"), LENGTH),
];

pub(super) const ALL: [Reckoning; 10] = [
    Reckoning {
        id: "incidence",
        title: words!("Incidence by a level on a block"),
        group: GROUP,
        given: &[
            given("block", words!("Level on the block, front high is plus"), ANGLE),
            DATUM_SLOPE,
            optional("block-angle", words!("Angle of the chord when the block's top is level"), ANGLE),
        ],
        gives: ANGLE,
        plus: words!("leading edge high"),
        minus: words!("leading edge low"),
        reckon: |given| {
            let block = or_nothing(given, 2, Unit::Degree)?;
            let reading = at(given, 0)?;
            let found = OnBlock { reading, block: Angle::from_degrees(block.value), datum_slope: at(given, 1)? };
            Ok(found.incidence()?.widened(block.u, block.dof))
        },
    },
    Reckoning {
        id: "incidence-by-heights",
        title: words!("Incidence by two heights"),
        group: GROUP,
        given: &[
            given("front", words!("Height of the front point of the chord"), LENGTH),
            given("rear", words!("Height of the rear point"), LENGTH),
            given("spacing", words!("Level distance between them"), LENGTH),
            DATUM_SLOPE,
        ],
        gives: ANGLE,
        plus: words!("leading edge high"),
        minus: words!("leading edge low"),
        reckon: |given| {
            TwoHeights { front: at(given, 0)?, rear: at(given, 1)?, base: at(given, 2)? }.incidence(at(given, 3)?)
        },
    },
    Reckoning {
        id: "washout",
        title: words!("Washout"),
        group: GROUP,
        given: &[
            given("root", words!("Incidence at the root, leading edge high is plus"), ANGLE),
            given("tip", words!("Incidence at the tip"), ANGLE),
        ],
        gives: ANGLE,
        plus: words!("washout: the tip has less incidence than the root"),
        minus: words!("washin: the tip has more incidence than the root"),
        reckon: |given| washout(at(given, 0)?, at(given, 1)?),
    },
    Reckoning {
        id: "strut-turns-for-washout",
        title: words!("Turns of a rear strut's fork for more washout"),
        group: GROUP,
        given: &[
            given("more", words!("More washout wanted, less is minus"), ANGLE),
            given("elevation", words!("Angle of the strut above level"), ANGLE),
            given("strut-station", words!("Wing's pin to the strut's upper pin, along the span"), LENGTH),
            given("station", words!("Wing's pin to where the washout is read, along the span"), LENGTH),
            given("spacing", words!("Front spar to rear spar"), LENGTH),
            given("pitch", words!("Length of one turn of the thread"), LENGTH),
        ],
        gives: COUNTED,
        plus: words!("turns that lengthen the rear strut"),
        minus: words!("turns that shorten the rear strut"),
        reckon: strut_turns,
    },
    Reckoning {
        id: "dihedral-by-rise",
        title: words!("Dihedral by the rise of the tip"),
        group: GROUP,
        given: &[
            given("rise", words!("Tip point above root point"), LENGTH),
            given("span", words!("Root point to tip point, level"), LENGTH),
        ],
        gives: ANGLE,
        plus: words!("tip up"),
        minus: words!("tip down"),
        reckon: |given| slope(at(given, 0)?, at(given, 1)?),
    },
    Reckoning {
        id: "dihedral-by-gap",
        title: words!("Dihedral by the gap under a level"),
        group: GROUP,
        given: &[
            given("gap", words!("Gap at the one end of the level, plus where it shows the tip up"), LENGTH),
            given("level-length", words!("Length of the level, held level, its other end on the wing"), LENGTH),
        ],
        gives: ANGLE,
        plus: words!("tip up"),
        minus: words!("tip down"),
        reckon: |given| slope(at(given, 0)?, at(given, 1)?),
    },
    Reckoning {
        id: "wing-roll",
        title: words!("Roll that the wings show"),
        group: GROUP,
        given: &[
            given("left", words!("Dihedral of the left wing against gravity"), ANGLE),
            given("right", words!("Dihedral of the right wing against gravity"), ANGLE),
        ],
        gives: ANGLE,
        plus: words!("right side low"),
        minus: words!("left side low"),
        reckon: |given| PanelAngles { left: at(given, 0)?, right: at(given, 1)? }.roll(),
    },
    Reckoning {
        id: "sweep",
        title: words!("Sweep by plumb bobs"),
        group: GROUP,
        given: OFFSETS,
        gives: ANGLE,
        plus: words!("tips aft"),
        minus: words!("tips forward"),
        reckon: |given| offsets(given)?.sweep(),
    },
    Reckoning {
        id: "wing-yaw",
        title: words!("Yaw of the wings by plumb bobs"),
        group: GROUP,
        given: OFFSETS,
        gives: ANGLE,
        plus: words!("right tip forward of the left"),
        minus: words!("left tip forward of the right"),
        reckon: |given| offsets(given)?.yaw(),
    },
    Reckoning {
        id: "yaw-by-distances",
        title: words!("Square to a mark behind, by two distances"),
        group: GROUP,
        given: &[
            given("left", words!("Left point to the mark on the centre line"), LENGTH),
            given("right", words!("Right point to the same mark"), LENGTH),
            given("half-width", words!("Half the distance between the points"), LENGTH),
            given("along", words!("Line between the points to the mark behind it, along the fuselage"), LENGTH),
        ],
        gives: ANGLE,
        plus: words!("right point forward of the left"),
        minus: words!("left point forward of the right"),
        reckon: |given| yaw(given, MarkAt::Aft),
    },
];

fn offsets(given: Inputs<'_>) -> Result<TipOffsets, crate::rigging::RiggingError> {
    // The one span is in both angles; what it adds to each is a matter of the second order.
    Ok(TipOffsets { left: at(given, 0)?, right: at(given, 1)?, span: at(given, 2)? })
}

fn strut_turns(given: Inputs<'_>) -> Reckoned {
    let (degree, metre) = (Unit::Degree, Unit::Metre);
    let inputs: [Estimate; 6] = in_units(given, [degree, degree, metre, metre, metre, metre])?;
    carried(&inputs, Unit::One, &|now| {
        let strut = Strut::rising(Angle::from_degrees(now[1]), metres(now[2]))?;
        let longer = strut.longer_for_washout(Angle::from_degrees(now[0]), metres(now[3]), metres(now[4]))?;
        Ok(longer / positive(metres(now[5]))?)
    })
}
