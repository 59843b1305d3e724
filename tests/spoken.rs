//! Spoken numbers: what is heard is what was said, in many styles of speech, and nothing that can be said does harm.
//!
//! The figures: `cargo test --profile bench --package trammel --test spoken -- --ignored --nocapture figures`.

#![allow(clippy::print_stdout, reason = "the figures are printed")]

use trammel::quantity::{Heard, Unit};

mod spoken {
    mod cases;
    pub(crate) mod outside;
    mod robust;
    pub(crate) mod speaker;
    mod speeds;
    pub(crate) mod styles;
    mod tongues;
}

/// The rows of a tab-separated table, without its `#` comments.
pub(crate) fn rows<const N: usize>(table: &'static str) -> impl Iterator<Item = [&'static str; N]> {
    let lines = table.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.map(|line| {
        let columns: Vec<_> = line.split('\t').collect();
        columns.try_into().unwrap_or_else(|_| panic!("not {N} columns: {line:?}"))
    })
}

/// The unit with a UCUM code.
pub(crate) fn unit(ucum: &str) -> Unit {
    Unit::ALL.into_iter().find(|unit| unit.ucum() == ucum).unwrap_or_else(|| panic!("no unit {ucum:?}"))
}

/// The values of the readings; none when it is no number.
pub(crate) fn values(heard: &Heard) -> Vec<f64> {
    match heard {
        Heard::Reading(readings) => readings.iter().map(|reading| reading.value).collect(),
        _ => Vec::new(),
    }
}

#[test]
#[ignore = "a measurement, run by cargo xtask bench"]
fn figures() {
    let outside = spoken::outside::Outcome::of_all();
    println!("figure: spoken_outside_pass_rate = {:.4}", outside.pass_rate());
    println!("figure: spoken_parses_per_second = {:.0}", spoken::styles::parses_per_second());
}
