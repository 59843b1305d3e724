//! The engine and the wheels.

use super::angles::over_base;
use super::wings::DATUM_SLOPE;
use super::{ANGLE, LENGTH, Reckoning, at, carried, exact, given, in_units};
use crate::quantity::Unit;
use crate::rigging::{BladeSwing, WheelStraightedge, down_thrust, lift_for, wedge};

const ENGINE: &str = "Engine";
const WHEELS: &str = "Wheels";

pub(super) const ALL: [Reckoning; 5] = [
    Reckoning {
        id: "down-thrust",
        title: "Down-thrust by the propeller's flange",
        group: ENGINE,
        given: &[given("flange-lean", "Lean of the flange's face, top aft is plus", ANGLE), DATUM_SLOPE],
        gives: ANGLE,
        plus: "shaft's front down",
        minus: "shaft's front up",
        // The closed form counts the lean top forward.
        reckon: |given| down_thrust(at(given, 0)?.times(-1.0), at(given, 1)?),
    },
    Reckoning {
        id: "right-thrust",
        title: "Right-thrust by a swung blade",
        group: ENGINE,
        given: &[
            given("left", "Blade's tip on the left: distance to the tail post", LENGTH),
            given("right", "The same tip on the right: distance to the tail post", LENGTH),
            given("radius", "Radius at the marked tip", LENGTH),
            given("to-tail", "Hub to tail post, along the fuselage", LENGTH),
        ],
        gives: ANGLE,
        plus: "shaft's front to the right",
        minus: "shaft's front to the left",
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
        title: "Washers under the feet of an engine mount",
        group: ENGINE,
        given: &[
            given("turn", "More down-thrust or right-thrust wanted, less is minus", ANGLE),
            given("spacing", "Distance between the rows of bolts", LENGTH),
        ],
        gives: LENGTH,
        plus: "under the top feet for down-thrust, under the left feet for right-thrust",
        minus: "under the bottom feet for down-thrust, under the right feet for right-thrust",
        reckon: |given| over_base(given, lift_for),
    },
    Reckoning {
        id: "toe-in",
        title: "Toe of a wheel",
        group: WHEELS,
        given: &[
            given("front", "Front end of the straightedge to the centre line", LENGTH),
            given("rear", "Rear end to the centre line", LENGTH),
            given("length", "Length between the two ends", LENGTH),
        ],
        gives: ANGLE,
        plus: "toe-in: front inboard",
        minus: "toe-out: front outboard",
        reckon: |given| WheelStraightedge { front: at(given, 0)?, rear: at(given, 1)?, length: at(given, 2)? }.toe_in(),
    },
    Reckoning {
        id: "wedge",
        title: "Wedge across an axle's flange",
        group: WHEELS,
        given: &[
            given("turn", "More toe-in wanted, less is minus", ANGLE),
            given("width", "Width of the flange across the wedge", LENGTH),
        ],
        gives: LENGTH,
        plus: "thick edge where the drawing has it for more toe-in",
        minus: "thick edge where the drawing has it for less toe-in",
        reckon: |given| over_base(given, wedge),
    },
];
