//! Readings in order of likelihood.

use super::super::{Quantity, Unit};
use super::grammar::Candidate;

/// More readings than these are no question that can be asked.
const MOST: usize = 4;
/// A reading is no worse than the nearest to the expected value when it is further away by this share of that value and
/// this many steps.
const SHARE: f64 = 0.05;
const STEPS: f64 = 10.0;

/// The candidates as readings, each value once, likeliest first: what lies near the expected value before what does not, then
/// by cost. At most four.
pub(super) fn ranked(found: &[Candidate], said: &str, unit: Unit, step: f64, expected: Option<f64>) -> Vec<Quantity> {
    let mut ranked: Vec<(u32, Quantity)> = Vec::new();
    for candidate in found {
        let reading = Quantity::entered(said, candidate.value, unit, step);
        match ranked.iter_mut().find(|(_, other)| other.value == reading.value) {
            Some((cost, _)) => *cost = candidate.cost.min(*cost),
            None => ranked.push((candidate.cost, reading)),
        }
    }
    ranked.sort_by_key(|(cost, _)| *cost);
    if let Some(expected) = expected.filter(|expected| expected.is_finite()) {
        let distance = |reading: &Quantity| (reading.value - expected).abs();
        let nearest = ranked.iter().map(|(_, reading)| distance(reading)).fold(f64::INFINITY, f64::min);
        let near = nearest + SHARE * expected.abs() + STEPS * ranked.first().map_or(0.0, |(_, reading)| reading.step);
        ranked.sort_by_key(|(_, reading)| distance(reading) > near);
    }
    ranked.into_iter().take(MOST).map(|(_, reading)| reading).collect()
}
