//! Holes near an edge, and a torque wrench with an adapter.

use super::{COUNTED, LENGTH, Reckoning, at, carried, exact, given, in_units, metres, optional, or_nothing};
use crate::language::later::words;
use crate::quantity::{Angle, Dimension, Torque, Unit};
use crate::rigging::error::within;
use crate::rigging::{Adapter, Layer};

const GROUP: &str = words!("Fasteners");

pub(super) const ALL: [Reckoning; 2] = [
    Reckoning {
        id: "edge-spare",
        title: words!("Edge distance to spare"),
        group: GROUP,
        given: &[
            given("edge", words!("Centre of the hole to the nearest edge"), LENGTH),
            given("diameter", words!("Diameter of the hole"), LENGTH),
            given("times", words!("Diameters that the drawing asks for"), COUNTED),
        ],
        gives: LENGTH,
        plus: words!("to spare"),
        minus: words!("too near the edge"),
        reckon: |given| {
            let inputs = in_units(given, [Unit::Metre, Unit::Metre, Unit::One])?;
            let spare = carried(&inputs, Unit::Metre, &|now| {
                let layer = Layer { to_edge: exact(now[0], Unit::Metre), diameters: now[2] };
                Ok(now[0] - layer.needed(metres(now[1]))?.metres())
            })?;
            within(spare, at(given, 0)?.unit)
        },
    },
    Reckoning {
        id: "wrench-setting",
        title: words!("Setting of a torque wrench with an adapter"),
        group: GROUP,
        given: &[
            given("torque", words!("Torque that the nut needs"), Some(Dimension::Torque)),
            given("wrench", words!("Wrench's square to the middle of the grip"), LENGTH),
            given("adapter", words!("Wrench's square to the middle of the nut"), LENGTH),
            optional(
                "angle",
                words!("Adapter's angle from the wrench's line; 0 where it makes the lever longer"),
                super::ANGLE,
            ),
        ],
        gives: Some(Dimension::Torque),
        plus: "",
        minus: "",
        reckon: |given| {
            let [torque, wrench, adapter] = in_units(given, [Unit::NewtonMetre, Unit::Metre, Unit::Metre])?;
            let angle = or_nothing(given, 3, Unit::Degree)?;
            let setting = carried(&[torque, wrench, adapter, angle], Unit::NewtonMetre, &|now| {
                let with =
                    Adapter { wrench: metres(now[1]), adapter: metres(now[2]), angle: Angle::from_degrees(now[3]) };
                Ok(with.setting(Torque::from_newton_metres(now[0]))?.newton_metres())
            })?;
            within(setting, at(given, 0)?.unit)
        },
    },
];
