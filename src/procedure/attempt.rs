//! Attempts: one complete set of a step's readings with nothing moved in between.

use crate::procedure::Slot;
use crate::quantity::Quantity;
use crate::record::{EntryId, Instrument, Reading};

/// A reading in force, as an attempt holds it.
#[derive(Clone, Debug, PartialEq)]
pub struct TakenReading {
    /// Its entry.
    pub entry: EntryId,
    /// Which of the step's readings it is.
    pub slot: String,
    /// The number as entered.
    pub value: Quantity,
    /// What it was read with.
    pub instrument: Instrument,
    /// Who was at the phone.
    pub by: String,
}

/// One set of a step's readings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Attempt {
    /// In the order in which they were taken.
    pub readings: Vec<TakenReading>,
    /// Every slot has all its repeats.
    pub complete: bool,
    /// Something that it depends on was moved afterwards: this entry says what.
    pub stale: Option<EntryId>,
}

/// Sets of readings that count together, oldest first.
#[derive(Clone, Copy)]
pub(super) struct Sets<'a>(pub(super) &'a [Attempt]);

impl<'a> Sets<'a> {
    /// The readings of one slot.
    pub(super) fn of<'s>(self, slot: &'s str) -> impl Iterator<Item = &'a TakenReading> + use<'a, 's> {
        self.readings().filter(move |reading| reading.slot == slot)
    }

    /// Every reading.
    pub(super) fn readings(self) -> impl Iterator<Item = &'a TakenReading> {
        self.0.iter().flat_map(|attempt| &attempt.readings)
    }
}

impl Attempt {
    /// The readings of one slot.
    pub fn of<'a>(&'a self, slot: &'a str) -> impl Iterator<Item = &'a TakenReading> {
        self.readings.iter().filter(move |reading| reading.slot == slot)
    }

    /// The slot to read next: the first that lacks a repeat.
    #[must_use]
    pub fn next_slot<'s>(&self, slots: &'s [Slot]) -> Option<&'s Slot> {
        slots.iter().find(|slot| self.of(&slot.id).count() < usize::from(slot.repeats))
    }

    /// Whether a further reading belongs to a new attempt.
    pub(super) const fn closed(&self) -> bool {
        self.complete || self.stale.is_some()
    }

    /// Adds a reading; false (and nothing kept) when its slot is full or unknown to the step.
    pub(super) fn take(&mut self, entry: EntryId, by: &str, reading: &Reading, slots: &[Slot]) -> bool {
        let Some(slot) = slots.iter().find(|slot| slot.id == reading.slot) else { return false };
        if self.of(&slot.id).count() >= usize::from(slot.repeats) {
            return false;
        }
        self.readings.push(TakenReading {
            entry,
            slot: reading.slot.clone(),
            value: reading.value.clone(),
            instrument: reading.instrument.clone(),
            by: by.to_owned(),
        });
        self.complete = self.next_slot(slots).is_none();
        true
    }
}
