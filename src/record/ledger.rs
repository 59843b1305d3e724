//! The grow-only set of entries, and its merge.

use std::collections::BTreeMap;

use uuid::Uuid;

use super::{Airframe, AirframeId, Body, Entry, EntryId, Head};

/// What a merge did.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Merged {
    /// Entries that were new here, in order.
    pub added: Vec<EntryId>,
    /// Entries that were already here, the same.
    pub known: usize,
    /// Ids under which two different entries exist: one copy was altered outside the app.
    pub conflicts: Vec<EntryId>,
}

/// Entries of one airframe that are struck out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Strikes {
    /// The entry struck out and the entry that struck it first, in the order of the former.
    sorted: Vec<(EntryId, EntryId)>,
}

impl Strikes {
    /// The entry that struck this one out first, if any did.
    #[must_use]
    pub fn get(&self, entry: EntryId) -> Option<EntryId> {
        let place = self.sorted.binary_search_by_key(&entry, |(target, _)| *target).ok()?;
        Some(self.sorted[place].1)
    }

    fn strike(&mut self, target: EntryId, by: EntryId) {
        if let Err(place) = self.sorted.binary_search_by_key(&target, |(known, _)| *known) {
            self.sorted.insert(place, (target, by));
        }
    }
}

/// Every entry that this device knows, of every airframe. Order of arrival does not matter: two ledgers that hold the same
/// entries are equal.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ledger {
    entries: BTreeMap<EntryId, Entry>,
    /// Where each device's chain of each airframe ends.
    heads: BTreeMap<(Uuid, AirframeId), Head>,
}

impl Ledger {
    /// Adds entries by set union: commutative, associative, idempotent. Of two different entries under one id, the same one stays on
    /// every device, and the id is reported: one that is as it was sealed before one that is not, then the one whose JSON sorts first.
    pub fn merge(&mut self, entries: impl IntoIterator<Item = Entry>) -> Merged {
        let mut merged = Merged::default();
        for entry in entries {
            match self.entries.get(&entry.id) {
                None => {
                    merged.added.push(entry.id);
                    self.insert(entry);
                }
                Some(known) if *known == entry => merged.known += 1,
                Some(known) => {
                    merged.conflicts.push(entry.id);
                    let rank = |entry: &Entry| {
                        let altered = entry.seal.is_none() || !entry.sound();
                        (altered, serde_json::to_string(entry).unwrap_or_default())
                    };
                    if rank(&entry) < rank(known) {
                        self.insert(entry);
                    }
                }
            }
        }
        merged
    }

    fn insert(&mut self, entry: Entry) {
        self.lengthen(&entry);
        if let Some(replaced) = self.entries.insert(entry.id, entry) {
            self.heads.remove(&(replaced.device, replaced.airframe));
            let chain: Vec<Entry> =
                self.of(replaced.airframe).filter(|entry| entry.device == replaced.device).cloned().collect();
            for entry in &chain {
                self.lengthen(entry);
            }
        }
    }

    fn lengthen(&mut self, entry: &Entry) {
        let Some(seal) = &entry.seal else { return };
        let head = self.heads.entry((entry.device, entry.airframe)).or_default();
        let here = Head { number: seal.number, digest: Some(seal.digest) };
        if (here.number, here.digest) > (head.number, head.digest) {
            *head = here;
        }
    }

    /// Where a device's chain of an airframe ends.
    #[must_use]
    pub fn head(&self, device: Uuid, airframe: AirframeId) -> Head {
        self.heads.get(&(device, airframe)).copied().unwrap_or_default()
    }

    /// Every entry, oldest id first.
    pub fn entries(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        self.entries.values()
    }

    /// One entry.
    #[must_use]
    pub fn get(&self, id: EntryId) -> Option<&Entry> {
        self.entries.get(&id)
    }

    /// Every entry of one airframe, struck or not, oldest first.
    pub fn of(&self, airframe: AirframeId) -> impl DoubleEndedIterator<Item = &Entry> {
        self.entries.values().filter(move |entry| entry.airframe == airframe)
    }

    /// Which entries are struck out, and the entry that struck each first. A strike cannot itself be struck, and an airframe
    /// cannot strike out another's entries.
    #[must_use]
    pub fn struck(&self, airframe: AirframeId) -> Strikes {
        let mut struck = Strikes::default();
        for entry in self.of(airframe) {
            if let Body::Struck { entry: target, .. } = &entry.body
                && self
                    .get(*target)
                    .is_some_and(|found| found.airframe == airframe && !matches!(found.body, Body::Struck { .. }))
            {
                struck.strike(*target, entry.id);
            }
        }
        struck
    }

    /// Entries of one airframe that are not struck out, oldest first.
    #[must_use]
    pub fn in_force(&self, airframe: AirframeId) -> Vec<&Entry> {
        let struck = self.struck(airframe);
        self.of(airframe).filter(|entry| struck.get(entry.id).is_none()).collect()
    }

    /// The airframe as its entries in force tell it.
    #[must_use]
    pub fn airframe(&self, id: AirframeId) -> Option<Airframe> {
        let mut airframe = Airframe::fold(id, self.in_force(id))?;
        for (target, strike) in self.struck(id).sorted {
            if let Some(Body::SpecificationSet { key, .. }) = self.get(target).map(|entry| &entry.body) {
                airframe.specification.set_back(key.clone(), strike);
            }
        }
        Some(airframe)
    }

    /// Every airframe, in the order in which they were made.
    #[must_use]
    pub fn airframes(&self) -> Vec<Airframe> {
        let mut made: Vec<AirframeId> = Vec::new();
        for entry in self.entries.values() {
            if matches!(entry.body, Body::AirframeMade { .. }) && !made.contains(&entry.airframe) {
                made.push(entry.airframe);
            }
        }
        made.into_iter().filter_map(|airframe| self.airframe(airframe)).collect()
    }

    /// How many entries there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }
}
