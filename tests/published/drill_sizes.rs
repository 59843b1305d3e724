//! Number and letter drills: decimals that are no fraction of an inch, and their order among the fractions.
//!
//! Inches: a public source file, of which #1, #11, #20, #21, #30, #40 and #60 agree with ASME B94.11 as remembered.
//! Millimetres: "Metric, Inch, & Fractional Inch: Drills, Sizes, Threads", v.2, 2007, public domain, seen on paperzz.com
//! (#80 to #57, #55, #54).

use trammel::quantity::{Length, Unit, parse, print_number};

use crate::{Tally, rows};

const INCHES: &str = "number and letter drill table";
const MILLIMETRES: &str = "Drills, Sizes, Threads, v.2 2007, public domain";
/// Army TM 10-5410-221-14/1, table 4-3: hole limits of blind rivets and the drill for them, seen on tentsshelters.tpub.com.
const ARMY: &str = "TM 10-5410-221-14/1, table 4-3";

fn read(typed: &str) -> f64 {
    parse(typed, Unit::Inch, 0.0001).map_or(f64::NAN, |quantity| quantity.value)
}

pub(crate) fn checks(tally: &mut Tally) {
    let mut diameters = std::collections::BTreeMap::new();
    for [drill, inches, millimetres] in rows(include_str!("drill_sizes.tsv")) {
        let places = inches.len() - 1;
        let value = read(inches);
        tally.same(INCHES, drill, print_number(value, Unit::Inch, 0.1_f64.powi(places as i32)), format!("0{inches}"));
        if millimetres != "-" {
            let converted = Length::from_inches(value).millimetres();
            tally.same(MILLIMETRES, drill, print_number(converted, Unit::Millimetre, 1e-5), millimetres.into());
        }
        diameters.insert(drill, value);
    }
    tally.same(INCHES, "number and letter drills", diameters.len(), 80 + 26);
    // Where sizes interleave, a reading rounded to a fraction would name the wrong drill.
    for (drill, fraction) in [("30", "1/8"), ("40", "3/32"), ("21", "5/32")] {
        tally.same(INCHES, drill, diameters[drill] > read(fraction), true);
        tally.same(INCHES, drill, diameters[drill] == read(fraction), false);
    }
    tally.same(INCHES, "E is a quarter", diameters["E"], read("1/4"));
    for (drill, low, high) in
        [("41", ".096", ".100"), ("30", ".128", ".132"), ("20", ".160", ".164"), ("F", ".257", ".261")]
    {
        tally.same(ARMY, drill, (read(low)..=read(high)).contains(&diameters[drill]), true);
    }
}
