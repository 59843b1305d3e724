//! The readings of a set as a screen shows them: a row for each thing that is read, with what its repeats say.

use crate::language::tr;
use crate::metrology::{Repeats, in_unit, spread};
use crate::procedure::{Attempt, StepKind, StepState, fill};
use crate::quantity::print;
use crate::record::{EntryId, Specification};

/// One thing that is read, with its repeats.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotRow {
    /// What it is called.
    pub title: String,
    /// Each reading: its entry, and the number.
    pub readings: Vec<(EntryId, String)>,
    /// What the repeats say together, where there are several: their middle and their spread.
    pub summary: Option<String>,
}

/// The rows of a set, in the order of the step's slots; a slot that was not read yet has none.
#[must_use]
pub fn slot_rows(step: &StepState, set: &Attempt, specification: &Specification) -> Vec<SlotRow> {
    let StepKind::Measure { slots, .. } = &step.step.kind else { return Vec::new() };
    let row = |slot: &crate::procedure::Slot| {
        let readings: Vec<_> = set.of(&slot.id).map(|taken| (taken.entry, taken.value.print())).collect();
        (!readings.is_empty()).then(|| SlotRow {
            title: fill(&slot.title, specification),
            readings,
            summary: summary(set, &slot.id),
        })
    };
    slots.iter().filter_map(row).collect()
}

fn summary(set: &Attempt, slot: &str) -> Option<String> {
    let first = &set.of(slot).next()?.value;
    let (unit, step) = (first.unit, first.step);
    let values: Vec<f64> = set.of(slot).map(|taken| in_unit(&taken.value, unit)).collect::<Option<_>>()?;
    let repeats = Repeats::new(values, step)?;
    let found = spread(repeats.values(), step);
    (repeats.count() > 1).then(|| {
        // Half a step finer: the middle of two lies between two graduations.
        let middle = print(repeats.median(), unit, step / 2.0);
        let spread = print(found.range, unit, step);
        match found.apart {
            Some(place) => {
                let apart = print(repeats.values()[place], unit, step);
                tr!(
                    "middle {middle}, spread {spread}. {apart} stands apart from the others: strike it out if it was a slip, or read \
                     again",
                    middle,
                    spread,
                    apart
                )
            }
            None if found.too_wide => tr!(
                "middle {middle}, spread {spread}. Too far apart: read again, or strike out the slip",
                middle,
                spread
            ),
            None => tr!("middle {middle}, spread {spread}", middle, spread),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::{Attempt, TakenReading};
    use crate::quantity::{Quantity, Unit};
    use crate::record::{Instrument, InstrumentKind};

    fn said(values: &[f64]) -> Option<String> {
        let tape = Instrument::new(InstrumentKind::Tape, "tape".to_owned(), Unit::Inch, 1.0 / 32.0, 1.0 / 16.0);
        let taken = |value: &f64| TakenReading {
            entry: EntryId(uuid::Uuid::nil()),
            slot: "left".to_owned(),
            value: Quantity::new(*value, Unit::Inch, 1.0 / 32.0),
            instrument: tape.clone(),
            by: String::new(),
        };
        summary(&Attempt { readings: values.iter().map(taken).collect(), ..Attempt::default() }, "left")
    }

    #[test]
    fn repeats_say_their_middle_their_spread_and_what_stands_apart() {
        assert_eq!(said(&[227.4375]), None, "one alone says nothing");
        assert_eq!(said(&[227.4375, 227.4375, 227.46875]).as_deref(), Some("middle 227 7/16 in, spread 1/32 in"));
        assert_eq!(
            said(&[227.4375, 228.4375, 227.4375]).as_deref(),
            Some(
                "middle 227 7/16 in, spread 1 in. 228 7/16 in stands apart from the others: strike it out if it was a slip, or \
                 read again"
            )
        );
        let two = said(&[227.4375, 228.4375]).expect("two");
        assert!(two.ends_with(". Too far apart: read again, or strike out the slip"), "{two}");
    }
}
