//! Rigging: balance, fasteners, cables, angles, travels, against handbooks and manuals.

use trammel::metrology::Estimate;
use trammel::quantity::Unit;

use crate::{Group, Tally};

mod angles;
mod balance;
mod bolts;
mod cables;
mod control_surfaces;
mod loading;
mod rivets;
mod torques;
mod travels;

const GROUPS: [Group; 9] = [
    balance::checks,
    loading::checks,
    angles::checks,
    travels::checks,
    cables::checks,
    control_surfaces::checks,
    torques::checks,
    bolts::checks,
    rivets::checks,
];

pub(crate) fn checks(tally: &mut Tally) {
    for group in GROUPS {
        let before = tally.count;
        group(tally);
        assert!(tally.count > before, "a group without a check");
    }
}

fn exact(value: f64, unit: Unit) -> Estimate {
    Estimate::new(value, 0.0, unit)
}

fn lb(value: f64) -> Estimate {
    exact(value, Unit::Pound)
}

fn inch(value: f64) -> Estimate {
    exact(value, Unit::Inch)
}

fn mm(value: f64) -> Estimate {
    exact(value, Unit::Millimetre)
}

fn deg(value: f64) -> Estimate {
    exact(value, Unit::Degree)
}

/// Degrees and minutes.
fn dm(degrees: f64, minutes: f64) -> f64 {
    degrees + minutes / 60.0
}
