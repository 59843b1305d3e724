//! Bolts by dash number, and drills for them.

use trammel::quantity::Length;
use trammel::rigging::{BoltError, BoltSeries, Drill};

use crate::{Tally, rows};

/// A web copy of the AN bolt standard's table, three decimals. It prints 1.064 for AN5-10, where every neighbour and the
/// rule give 1.094.
const TABLE: &str = "AN bolts, grip and length";
/// A supplier's technical sheet TECH00095: three longer bolts.
const LIST: &str = "AN bolts of a list";
/// AC 43.13-1B, 7-37, from memory: the grip equals the thickness, or is a little more.
const GRIP: &str = "AC 43.13-1B, 7-37, from memory";
/// AC 43.13-1B, 7-39: generally the first lettered drill above nominal.
const HOLES: &str = "AC 43.13-1B, 7-39";
/// The number and letter drills of the tables beside this group.
const DRILLS: &str = "number and letter drill table";

const AN3: BoltSeries = BoltSeries::An3;
const AN4: BoltSeries = BoltSeries::An4;
const AN5: BoltSeries = BoltSeries::An5;
const AN6: BoltSeries = BoltSeries::An6;

pub(crate) fn checks(tally: &mut Tally) {
    for (series, dash, grip, length) in [
        (AN3, 3, 0.063, 0.469),
        (AN3, 4, 0.125, 0.531),
        (AN3, 5, 0.250, 0.656),
        (AN3, 6, 0.375, 0.781),
        (AN3, 7, 0.500, 0.906),
        (AN3, 10, 0.625, 1.031),
        (AN3, 11, 0.750, 1.156),
        (AN3, 12, 0.875, 1.281),
        (AN3, 13, 1.000, 1.406),
        (AN3, 14, 1.125, 1.531),
        (AN4, 3, 0.063, 0.469),
        (AN4, 4, 0.063, 0.531),
        (AN4, 5, 0.188, 0.656),
        (AN4, 6, 0.313, 0.781),
        (AN4, 7, 0.438, 0.906),
        (AN4, 10, 0.563, 1.031),
        (AN4, 11, 0.688, 1.156),
        (AN4, 12, 0.813, 1.281),
        (AN4, 13, 0.938, 1.406),
        (AN4, 14, 1.063, 1.531),
        (AN5, 4, 0.063, 0.594),
        (AN5, 5, 0.188, 0.719),
        (AN5, 6, 0.313, 0.844),
        (AN5, 7, 0.438, 0.969),
        (AN5, 10, 0.563, 1.094),
        (AN5, 11, 0.688, 1.219),
        (AN5, 12, 0.813, 1.344),
        (AN5, 13, 0.938, 1.469),
        (AN5, 14, 1.063, 1.594),
        (AN6, 5, 0.063, 0.703),
        (AN6, 6, 0.188, 0.828),
        (AN6, 7, 0.313, 0.953),
        (AN6, 10, 0.438, 1.078),
        (AN6, 11, 0.563, 1.203),
        (AN6, 12, 0.688, 1.328),
        (AN6, 13, 0.813, 1.453),
    ] {
        let bolt = series.bolt(dash).ok();
        let inches = |of: Option<Length>| of.map_or(f64::NAN, Length::inches);
        let what = format!("{series:?}-{dash}");
        tally.near(TABLE, &what, inches(bolt.map(|bolt| bolt.grip)), grip, 0.5e-3);
        tally.near(TABLE, &what, inches(bolt.map(|bolt| bolt.length)), length, 0.5e-3);
    }
    for (series, dash, sixteenths) in [(AN4, 15, 19.0), (AN6, 20, 23.0), (AN5, 27, 39.0)] {
        let grip = series.bolt(dash).map_or(f64::NAN, |bolt| bolt.grip.inches());
        tally.near(LIST, "grip", grip, sixteenths / 16.0, 1e-9);
    }
    tally.same(TABLE, "there is no -8 and no -9", [8, 9].map(|dash| AN3.bolt(dash)), [Err(BoltError::NoSuchDash); 2]);
    for (series, inches, dash) in [(AN3, 0.25, 5), (AN3, 0.26, 6), (AN4, 0.5, 10), (AN5, 0.4375, 7), (AN6, 0.8, 13)] {
        let chosen = series.for_thickness(Length::from_inches(inches)).map(|bolt| bolt.dash);
        tally.same(GRIP, "for a thickness", chosen, Ok(dash));
    }
    drills(tally);
}

fn drills(tally: &mut Tally) {
    for (series, letter) in [(AN4, 'F'), (AN5, 'O'), (AN6, 'V')] {
        tally.same(HOLES, "for a bolt", Drill::first_letter_above(series.diameter()), Some(Drill::Letter(letter)));
    }
    let mut names = 0;
    for [drill, inches, _] in rows(include_str!("../drill_sizes.tsv")) {
        let named = match drill.parse() {
            Ok(number) => Drill::Number(number),
            Err(_) => Drill::Letter(drill.chars().next().unwrap_or('?')),
        };
        let got = named.diameter().map_or(f64::NAN, Length::inches);
        tally.near(DRILLS, drill, got, inches.parse().unwrap_or(f64::NAN), 1e-9);
        names += 1;
    }
    tally.same(DRILLS, "numbers and letters", names, 80 + 26);
    for (inches, first) in [
        (0.1250, Drill::SixtyFourths(8)),
        (0.1251, Drill::Number(30)),
        (0.0938, Drill::Number(41)),
        (0.1563, Drill::Number(22)),
        (0.2500, Drill::Letter('E')),
    ] {
        tally.same(DRILLS, "the first that is not smaller", Drill::at_least(Length::from_inches(inches)), Some(first));
    }
}
