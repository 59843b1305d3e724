//! The engine and the wheels.

use super::angles::over_base;
use super::wings::DATUM_SLOPE;
use super::{ANGLE, LENGTH, Reckoning, at, carried, exact, given, in_units};
use crate::language::later::words;
use crate::quantity::Unit;
use crate::rigging::{BladeSwing, WheelStraightedge, down_thrust, lift_for, wedge};

const ENGINE: &str = words!("Engine");
const WHEELS: &str = words!("Wheels");

pub(super) const ALL: [Reckoning; 5] = [
    Reckoning {
        id: "down-thrust",
        title: words!("Down-thrust by the propeller's flange"),
        group: ENGINE,
        given: &[given("flange-lean", words!("Lean of the flange's face, top aft is plus"), ANGLE), DATUM_SLOPE],
        gives: ANGLE,
        plus: words!("shaft's front down"),
        minus: words!("shaft's front up"),
        // The closed form counts the lean top forward.
        reckon: |given| down_thrust(at(given, 0)?.times(-1.0), at(given, 1)?),
    },
    Reckoning {
        id: "right-thrust",
        title: words!("Right-thrust by a swung blade"),
        group: ENGINE,
        given: &[
            given("left", words!("Blade's tip on the left: distance to the tail post"), LENGTH),
            given("right", words!("The same tip on the right: distance to the tail post"), LENGTH),
            given("radius", words!("Radius at the marked tip"), LENGTH),
            given("to-tail", words!("Hub to tail post, along the fuselage"), LENGTH),
        ],
        gives: ANGLE,
        plus: words!("shaft's front to the right"),
        minus: words!("shaft's front to the left"),
        reckon: |given| {
            let unit = at(given, 0)?.unit;
            carried(&in_units(given, [unit; 4])?, Unit::Degree, &|now| {
                let [left, right] = [now[0], now[1]].map(|distance| exact(distance, unit));
                Ok(BladeSwing { left, right, radius: now[2], to_tail: now[3], hub_right: 0.0 }.right_thrust()?.value)
            })
        },
    },
    Reckoning {
        id: "washers",
        title: words!("Washers under the feet of an engine mount"),
        group: ENGINE,
        given: &[
            given("turn", words!("More down-thrust or right-thrust wanted, less is minus"), ANGLE),
            given("spacing", words!("Distance between the rows of bolts"), LENGTH),
        ],
        gives: LENGTH,
        plus: words!("under the top feet for down-thrust, under the left feet for right-thrust"),
        minus: words!("under the bottom feet for down-thrust, under the right feet for right-thrust"),
        reckon: |given| over_base(given, lift_for),
    },
    Reckoning {
        id: "toe-in",
        title: words!("Toe of a wheel"),
        group: WHEELS,
        given: &[
            given("front", words!("Front end of the straightedge to the centre line"), LENGTH),
            given("rear", words!("Rear end to the centre line"), LENGTH),
            given("length", words!("Length between the two ends"), LENGTH),
        ],
        gives: ANGLE,
        plus: words!("toe-in: front inboard"),
        minus: words!("toe-out: front outboard"),
        reckon: |given| WheelStraightedge { front: at(given, 0)?, rear: at(given, 1)?, length: at(given, 2)? }.toe_in(),
    },
    Reckoning {
        id: "wedge",
        title: words!("Wedge across an axle's flange"),
        group: WHEELS,
        given: &[
            given("turn", words!("More toe-in wanted, less is minus"), ANGLE),
            given("width", words!("Width of the flange across the wedge"), LENGTH),
        ],
        gives: LENGTH,
        plus: words!("thick edge where the drawing has it for more toe-in"),
        minus: words!("thick edge where the drawing has it for less toe-in"),
        reckon: |given| over_base(given, wedge),
    },
];
