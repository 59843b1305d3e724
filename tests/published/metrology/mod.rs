//! Readings, uncertainty, verdicts.

use crate::{Group, Tally};

mod classes;
mod conformity;
mod global_risk;
mod gum;
mod second_order;
mod small_samples;
mod statistics;
mod student;
mod tape;

const GROUPS: [Group; 9] = [
    gum::checks,
    second_order::checks,
    student::checks,
    conformity::checks,
    global_risk::checks,
    statistics::checks,
    small_samples::checks,
    tape::checks,
    classes::checks,
];

pub(crate) fn checks(tally: &mut Tally) {
    for group in GROUPS {
        let before = tally.count;
        group(tally);
        assert!(tally.count > before, "a group without a check");
    }
}
