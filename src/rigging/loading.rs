//! Loading cases, and the most forward and the most aft that loading can bring the centre of gravity.

use super::error::{RiggingError, of, within};
use super::weighing::{Balance, BalanceError, Item};
use crate::metrology::Estimate;
use crate::quantity::Dimension;

/// A place that can be loaded: a seat, a tank, a baggage floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Its arm.
    pub arm: Estimate,
    /// The least that is ever there: a pilot, the least fuel; 0 for what may be empty.
    pub least: Estimate,
    /// The most that may be there.
    pub most: Estimate,
}

/// Which way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Toward {
    /// Toward the nose.
    Forward,
    /// Toward the tail.
    Aft,
}

impl Place {
    fn checked(self) -> Result<Self, RiggingError> {
        let arm = of(self.arm, Dimension::Length)?;
        let least = of(self.least, Dimension::Mass)?;
        let most = within(self.most, least.unit)?;
        if least.value < 0.0 || most.value < least.value {
            return Err(RiggingError::OutOfReach);
        }
        Ok(Self { arm, least, most })
    }

    fn loaded(self, full: bool) -> Item {
        Item { mass: if full { self.most } else { self.least }, arm: self.arm }
    }
}

/// The handbook's extreme: every place on the far side of the `limit` full, every other at its least (FAA airframe handbooks, "extreme
/// conditions"; behind the forward limit the fuel is at its minimum, and the pilot stays). A place at the limit is not full.
///
/// The weight of the case may be more than allowed; hold it against the envelope as well.
///
/// # Errors
/// When a number is missing or of another kind, a least is below zero or above its most, or there is no mass.
pub fn extreme_about(
    empty: Balance,
    places: &[Place],
    toward: Toward,
    limit: Estimate,
) -> Result<Balance, BalanceError> {
    let limit = within(limit, empty.arm.unit)?.value;
    let mut items = Vec::with_capacity(places.len());
    for place in places {
        let place = place.checked()?;
        let arm = within(place.arm, empty.arm.unit)?.value;
        items.push(place.loaded(match toward {
            Toward::Forward => arm < limit,
            Toward::Aft => arm > limit,
        }));
    }
    empty.with(&items)
}

/// The true extreme, whatever the limit: some first places, counted from that end, full and the rest at their least. (A place that
/// lies beyond the resulting centre of gravity always takes it further when filled, and one short of it never does.)
///
/// # Errors
/// As [`extreme_about`].
pub fn extreme(empty: Balance, places: &[Place], toward: Toward) -> Result<Balance, BalanceError> {
    let mut places: Vec<Place> = places.iter().map(|place| place.checked()).collect::<Result<_, _>>()?;
    places.sort_by(|one, other| {
        let apart = within(one.arm, empty.arm.unit).map_or(0.0, |arm| arm.value)
            - within(other.arm, empty.arm.unit).map_or(0.0, |arm| arm.value);
        let order = apart.total_cmp(&0.0);
        if toward == Toward::Forward { order } else { order.reverse() }
    });
    let case = |full: usize| {
        let items: Vec<Item> = places.iter().enumerate().map(|(at, place)| place.loaded(at < full)).collect();
        empty.with(&items)
    };
    let mut farthest = case(0)?;
    for full in 1..=places.len() {
        let next = case(full)?;
        let further = match toward {
            Toward::Forward => next.arm.value < farthest.arm.value,
            Toward::Aft => next.arm.value > farthest.arm.value,
        };
        if further {
            farthest = next;
        }
    }
    Ok(farthest)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;
    use proptest::prelude::*;

    fn lb(value: f64) -> Estimate {
        Estimate::new(value, 0.0, Unit::Pound)
    }

    fn inch(value: f64) -> Estimate {
        Estimate::new(value, 0.0, Unit::Inch)
    }

    fn empty() -> Balance {
        Balance { mass: lb(848.0), arm: inch(69.98) }
    }

    proptest! {
        /// Against every corner of what can be loaded.
        #[test]
        fn the_extreme_is_the_farthest_of_all_corners(
            places in proptest::collection::vec((0.0..150.0_f64, 0.0..100.0_f64, 0.0..300.0_f64), 1..6),
        ) {
            let places: Vec<Place> = places
                .into_iter()
                .map(|(arm, least, more)| Place { arm: inch(arm), least: lb(least), most: lb(least + more) })
                .collect();
            let corners: Vec<f64> = (0..1_usize << places.len())
                .map(|corner| {
                    let items: Vec<Item> =
                        places.iter().enumerate().map(|(at, place)| place.loaded(corner >> at & 1 == 1)).collect();
                    empty().with(&items).expect("a balance").arm.value
                })
                .collect();
            let least = corners.iter().copied().fold(f64::INFINITY, f64::min);
            let most = corners.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            let forward = extreme(empty(), &places, Toward::Forward).expect("a balance");
            let aft = extreme(empty(), &places, Toward::Aft).expect("a balance");
            prop_assert!((forward.arm.value - least).abs() < 1e-9 && (aft.arm.value - most).abs() < 1e-9);
            // The handbook's rule about the extreme itself is the extreme; about any other place it is no further.
            let about = extreme_about(empty(), &places, Toward::Forward, forward.arm).expect("a balance");
            prop_assert!((about.arm.value - least).abs() < 1e-9);
            let limit = extreme_about(empty(), &places, Toward::Forward, inch(69.0)).expect("a balance");
            prop_assert!(limit.arm.value >= least - 1e-9);
        }
    }

    #[test]
    fn a_place_with_more_least_than_most_is_refused() {
        let place = Place { arm: inch(79.0), least: lb(170.0), most: lb(100.0) };
        assert_eq!(extreme(empty(), &[place], Toward::Aft), Err(RiggingError::OutOfReach.into()));
    }
}
