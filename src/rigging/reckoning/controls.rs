//! Travel of control surfaces, and the rod that sets it.

use super::{ANGLE, COUNTED, Given, LENGTH, Reckoning, at, carried, exact, given, in_units, metres};
use crate::language::later::words;
use crate::metrology::Estimate;
use crate::quantity::{Angle, Unit};
use crate::rigging::{TakenAs, Travel, deflection_of, from_neutral, square_to_hinge, turn_per_turn};

const GROUP: &str = words!("Controls");
const RADIUS: Given = given("radius", words!("Hinge line to where it is taken"), LENGTH);

pub(super) const ALL: [Reckoning; 6] = [
    Reckoning {
        id: "travel",
        title: words!("Travel from neutral to a stop"),
        group: GROUP,
        given: &[
            given("at-stop", words!("Protractor at the stop"), ANGLE),
            given("at-neutral", words!("The same protractor at neutral"), ANGLE),
        ],
        gives: ANGLE,
        plus: "",
        minus: "",
        reckon: |given| {
            let found = from_neutral(at(given, 0)?, at(given, 1)?)?;
            Ok(Estimate { value: found.value.abs(), ..found })
        },
    },
    Reckoning {
        id: "travel-by-chord",
        title: words!("Travel by the straight distance at the edge"),
        group: GROUP,
        given: &[given("distance", words!("Straight from where the edge stood to where it stands"), LENGTH), RADIUS],
        gives: ANGLE,
        plus: "",
        minus: "",
        reckon: |given| deflection_of(at(given, 0)?, at(given, 1)?, TakenAs::Straight),
    },
    Reckoning {
        id: "travel-by-height",
        title: words!("Travel by the distance square to neutral"),
        group: GROUP,
        given: &[given("distance", words!("From neutral to the edge, square to the neutral chord"), LENGTH), RADIUS],
        gives: ANGLE,
        plus: "",
        minus: "",
        reckon: |given| deflection_of(at(given, 0)?, at(given, 1)?, TakenAs::Square),
    },
    Reckoning {
        id: "square-to-swept-hinge",
        title: words!("Travel square to a swept hinge"),
        group: GROUP,
        given: &[
            given("shown", words!("Travel read in an upright plane along the fuselage"), ANGLE),
            given("sweep", words!("Sweep of the hinge line"), ANGLE),
        ],
        gives: ANGLE,
        plus: "",
        minus: "",
        reckon: |given| {
            carried(&in_units(given, [Unit::Degree; 2])?, Unit::Degree, &|now| {
                Ok(square_to_hinge(Angle::from_degrees(now[0]), Angle::from_degrees(now[1]))?.degrees())
            })
        },
    },
    Reckoning {
        id: "differential",
        title: words!("Differential: up over down"),
        group: GROUP,
        given: &[
            given("up", words!("Travel up"), ANGLE),
            given("down", words!("Travel down, as a positive amount"), ANGLE),
        ],
        gives: COUNTED,
        plus: "",
        minus: "",
        reckon: |given| {
            carried(&in_units(given, [Unit::Degree; 2])?, Unit::One, &|now| {
                let [up, down] = [now[0], now[1]].map(|travel| exact(travel, Unit::Degree));
                Travel { up, down }.differential()
            })
        },
    },
    Reckoning {
        id: "rod-turns",
        title: words!("Turns of a rod's end for an angle"),
        group: GROUP,
        given: &[
            given("angle", words!("Turn of the surface wanted"), ANGLE),
            given("arm", words!("Hinge line to the rod's pin, square to the rod"), LENGTH),
            given("pitch", words!("Length of one turn of the thread"), LENGTH),
        ],
        gives: COUNTED,
        plus: words!("turns out, where a longer rod turns the surface that way"),
        minus: words!("turns in, where a longer rod turns the surface the other way"),
        reckon: |given| {
            let inputs = in_units(given, [Unit::Degree, Unit::Metre, Unit::Metre])?;
            carried(&inputs, Unit::One, &|now| {
                Ok(Angle::from_degrees(now[0]) / turn_per_turn(metres(now[2]), metres(now[1]))?)
            })
        },
    },
];
