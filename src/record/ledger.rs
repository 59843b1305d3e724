//! The grow-only set of entries, and its merge.

use std::collections::BTreeMap;
use std::sync::Arc;

use uuid::Uuid;

use super::book::Book;
use super::{Airframe, AirframeId, Body, Entry, EntryId, Head, RunId, Strikes};

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

/// Every entry that this device knows, of every airframe. Order of arrival does not matter: two ledgers that hold the same
/// entries are equal. A clone shares the entries.
#[derive(Clone, Debug, Default)]
pub struct Ledger {
    entries: BTreeMap<EntryId, Arc<Entry>>,
    books: BTreeMap<AirframeId, Book>,
}

impl PartialEq for Ledger {
    fn eq(&self, other: &Self) -> bool {
        self.entries == other.entries
    }
}

impl Ledger {
    /// Adds entries by set union: commutative, associative, idempotent. Of two different entries under one id, the same one stays on
    /// every device, and the id is reported: one that is as it was sealed before one that is not, then the one whose JSON sorts first.
    pub fn merge(&mut self, entries: impl IntoIterator<Item = Entry>) -> Merged {
        let mut merged = Merged::default();
        for entry in entries {
            let id = entry.id;
            match self.entries.get(&id) {
                None => {
                    merged.added.push(id);
                    let entry = Arc::new(entry);
                    self.books.entry(entry.airframe).or_default().write(&entry);
                    self.entries.insert(id, entry);
                }
                Some(known) if **known == entry => merged.known += 1,
                Some(known) => {
                    merged.conflicts.push(id);
                    if rank(&entry) < rank(known) {
                        let airframes = [known.airframe, entry.airframe];
                        self.entries.insert(id, Arc::new(entry));
                        self.write_anew(&airframes);
                    }
                }
            }
        }
        merged
    }

    /// Writes books again from the entries: one of them was replaced.
    fn write_anew(&mut self, airframes: &[AirframeId]) {
        for airframe in airframes {
            let mut book = Book::default();
            for entry in self.entries.values().filter(|entry| entry.airframe == *airframe) {
                book.write(entry);
            }
            self.books.insert(*airframe, book);
        }
    }

    /// Every entry, oldest id first.
    pub fn entries(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        self.entries.values().map(AsRef::as_ref)
    }

    /// One entry.
    #[must_use]
    pub fn get(&self, id: EntryId) -> Option<&Entry> {
        self.entries.get(&id).map(AsRef::as_ref)
    }

    /// Every entry of one airframe, struck or not, oldest first.
    pub fn of(&self, airframe: AirframeId) -> impl DoubleEndedIterator<Item = &Entry> {
        self.books.get(&airframe).into_iter().flat_map(Book::entries)
    }

    /// Where a device's chain of an airframe ends.
    #[must_use]
    pub fn head(&self, device: Uuid, airframe: AirframeId) -> Head {
        self.books.get(&airframe).map(|book| book.head(device)).unwrap_or_default()
    }

    /// Which entries are struck out, and the entry that struck each first. A strike cannot itself be struck, and an airframe
    /// cannot strike out another's entries.
    #[must_use]
    pub fn struck(&self, airframe: AirframeId) -> &Strikes {
        const NONE: &Strikes = &Strikes::NONE;
        self.books.get(&airframe).map_or(NONE, Book::struck)
    }

    /// Entries of one airframe that are not struck out, oldest first.
    #[must_use]
    pub fn in_force(&self, airframe: AirframeId) -> Vec<&Entry> {
        let struck = self.struck(airframe);
        self.of(airframe).filter(|entry| struck.get(entry.id).is_none()).collect()
    }

    /// Entries in force that the state of one run follows from, oldest first: its own, what answers them, and what was moved
    /// in other runs since it began.
    #[must_use]
    pub fn of_run(&self, airframe: AirframeId, run: RunId) -> Vec<&Entry> {
        self.books.get(&airframe).map(|book| book.of_run(run)).unwrap_or_default()
    }

    /// Entries in force that belong to one run, oldest first: those of [`of_run`](Self::of_run) that were made in it.
    pub fn own_of_run(&self, airframe: AirframeId, run: RunId) -> impl Iterator<Item = &Entry> {
        self.books.get(&airframe).into_iter().flat_map(move |book| book.own_of_run(run))
    }

    /// The airframe as its entries in force tell it.
    #[must_use]
    pub fn airframe(&self, id: AirframeId) -> Option<Airframe> {
        let book = self.books.get(&id)?;
        let mut airframe = Airframe::fold(id, book.of_no_run())?;
        for (target, strike) in book.struck().all() {
            if let Some(Body::SpecificationSet { key, .. }) = self.get(target).map(|entry| &entry.body) {
                airframe.specification.set_back(key.clone(), strike);
            }
        }
        Some(airframe)
    }

    /// Every airframe, in the order in which they were made.
    #[must_use]
    pub fn airframes(&self) -> Vec<Airframe> {
        let mut made: Vec<(EntryId, AirframeId)> =
            self.books.iter().filter_map(|(airframe, book)| Some((book.made()?, *airframe))).collect();
        made.sort_unstable();
        made.into_iter().filter_map(|(_, airframe)| self.airframe(airframe)).collect()
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

/// Which of two entries under one id stays: the one that ranks lower.
fn rank(entry: &Entry) -> (bool, String) {
    let altered = entry.seal.is_none() || !entry.sound();
    (altered, serde_json::to_string(entry).unwrap_or_default())
}
