//! Weight and centre of gravity, empty and loaded.

use super::{
    COUNTED, Given, Inputs, LENGTH, MASS, Reckoning, at, carried, exact, given, in_units, optional, or_nothing,
};
use crate::language::later::words;
use crate::metrology::Estimate;
use crate::quantity::Unit;
use crate::rigging::error::{RiggingError, within};
use crate::rigging::{Balance, BalanceError, Item, MeanChord, OnScale};

const GROUP: &str = words!("Balance");
const LEFT: Given = given("left", words!("Scale under the left main wheel"), MASS);
const RIGHT: Given = given("right", words!("Scale under the right main wheel"), MASS);
const THIRD: Given = given("third", words!("Scale under the third wheel"), MASS);
const TARE: Given = optional("tare", words!("Blocks or a trestle on the third wheel's scale"), MASS);
const EMPTY: Given = given("empty-mass", words!("Mass empty"), MASS);

pub(super) const ALL: [Reckoning; 5] = [
    Reckoning {
        id: "empty-mass",
        title: words!("Mass empty"),
        group: GROUP,
        given: &[LEFT, RIGHT, THIRD, TARE],
        gives: MASS,
        plus: "",
        minus: "",
        reckon: |given| {
            let tare = or_nothing(given, 3, at(given, 0)?.unit)?;
            Ok(weighed(given, tare, [exact(0.0, Unit::Metre); 2])?.mass)
        },
    },
    Reckoning {
        id: "empty-arm",
        title: words!("Centre of gravity empty"),
        group: GROUP,
        given: &[
            LEFT,
            RIGHT,
            THIRD,
            given("main-arm", words!("Main wheels aft of the datum"), LENGTH),
            given("third-arm", words!("Third wheel aft of the datum, ahead of it is minus"), LENGTH),
            TARE,
        ],
        gives: LENGTH,
        plus: words!("aft of the datum"),
        minus: words!("ahead of the datum"),
        reckon: |given| {
            let tare = or_nothing(given, 5, at(given, 0)?.unit)?;
            Ok(weighed(given, tare, [at(given, 3)?, at(given, 4)?])?.arm)
        },
    },
    Reckoning {
        id: "loaded-mass",
        title: words!("Mass loaded"),
        group: GROUP,
        given: &[
            EMPTY,
            optional("mass-1", words!("First mass"), MASS),
            optional("mass-2", words!("Second mass"), MASS),
            optional("mass-3", words!("Third mass"), MASS),
            optional("mass-4", words!("Fourth mass"), MASS),
        ],
        gives: MASS,
        plus: "",
        minus: "",
        reckon: |given| {
            let nowhere = exact(0.0, Unit::Metre);
            let items = given.iter().flatten().map(|mass| Item { mass: *mass, arm: nowhere });
            Ok(of(&items.collect::<Vec<_>>())?.mass)
        },
    },
    Reckoning {
        id: "loaded-arm",
        title: words!("Centre of gravity loaded"),
        group: GROUP,
        given: &[
            EMPTY,
            given("empty-arm", words!("Centre of gravity empty, aft of the datum"), LENGTH),
            optional("mass-1", words!("First mass"), MASS),
            optional("arm-1", words!("Its place aft of the datum"), LENGTH),
            optional("mass-2", words!("Second mass"), MASS),
            optional("arm-2", words!("Its place aft of the datum"), LENGTH),
            optional("mass-3", words!("Third mass"), MASS),
            optional("arm-3", words!("Its place aft of the datum"), LENGTH),
            optional("mass-4", words!("Fourth mass"), MASS),
            optional("arm-4", words!("Its place aft of the datum"), LENGTH),
        ],
        gives: LENGTH,
        plus: words!("aft of the datum"),
        minus: words!("ahead of the datum"),
        reckon: |given| {
            let mut items = Vec::with_capacity(given.len() / 2);
            for pair in given.chunks_exact(2) {
                match (pair[0], pair[1]) {
                    (Some(mass), Some(arm)) => items.push(Item { mass, arm }),
                    (None, None) => {}
                    _ => return Err(RiggingError::NotANumber),
                }
            }
            Ok(of(&items)?.arm)
        },
    },
    Reckoning {
        id: "chord-percent",
        title: words!("Place on the mean chord, in per cent"),
        group: GROUP,
        given: &[
            given("arm", words!("Centre of gravity aft of the datum"), LENGTH),
            given("leading", words!("Chord's leading edge aft of the datum"), LENGTH),
            given("chord", words!("Length of the mean aerodynamic chord"), LENGTH),
        ],
        gives: COUNTED,
        plus: words!("per cent of the chord, behind its leading edge"),
        minus: words!("per cent of the chord, ahead of its leading edge"),
        reckon: |given| {
            let unit = at(given, 0)?.unit;
            carried(&in_units(given, [unit; 3])?, Unit::One, &|now| {
                let [arm, leading_edge, chord] = [now[0], now[1], now[2]].map(|length| exact(length, unit));
                MeanChord { leading_edge, chord }.percent(arm)
            })
        },
    },
];

/// Of three wheels on scales, the main wheels on one `arms[0]`, so that its uncertainty counts for both together.
fn weighed(given: Inputs<'_>, tare: Estimate, arms: [Estimate; 2]) -> Result<Balance, RiggingError> {
    let unit = at(given, 0)?.unit;
    let [left, right, shown] = in_units(given, [unit; 3])?;
    let mains = Item { mass: left.minus(right.times(-1.0)), arm: arms[0] };
    of(&[mains, OnScale { shown, tare: within(tare, unit)?, arm: arms[1] }.item()?])
}

fn of(items: &[Item]) -> Result<Balance, RiggingError> {
    Balance::of(items).map_err(|error| match error {
        BalanceError::Rigging(error) => error,
        BalanceError::NoMass => RiggingError::NoMass,
        BalanceError::Nothing | BalanceError::WouldTip | BalanceError::WrongEnd => RiggingError::NotANumber,
    })
}
