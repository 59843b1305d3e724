//! Whether a record is whole: every chain of every device, entry by entry.

use std::collections::BTreeMap;

use uuid::Uuid;

use super::{AirframeId, Entry, EntryId, Head, Ledger, Seal};

/// A place at which a record is not what was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Break {
    /// The entry is not what it was when it was sealed.
    Altered(EntryId),
    /// So many entries of its device are not here that were written before this one.
    Gap {
        /// The first entry after the gap.
        before: EntryId,
        /// How many are not here.
        missing: u64,
    },
    /// The entry does not follow the one before it: that one was replaced by another.
    Torn(EntryId),
    /// The entry has a number that another entry of its device has too: one device's memory was copied to two.
    Twice(EntryId),
}

impl Break {
    /// The entry at which it shows.
    #[must_use]
    pub const fn entry(&self) -> EntryId {
        match self {
            Self::Altered(entry) | Self::Gap { before: entry, .. } | Self::Torn(entry) | Self::Twice(entry) => *entry,
        }
    }
}

/// What the chains of an airframe's record say.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Integrity {
    /// Entries that are sealed.
    pub sealed: usize,
    /// Entries from before entries were sealed: nothing can be said of them.
    pub unsealed: usize,
    /// Devices that wrote sealed entries.
    pub devices: usize,
    /// Where it is broken, in the order of the entries.
    pub breaks: Vec<Break>,
}

impl Integrity {
    /// Follows every chain of an airframe's record.
    ///
    /// Found: an entry that was altered, replaced, left out of the middle or written twice. Not found by this alone: the last entries
    /// of a device left out, and a record that somebody forged from the first entry on; for those there are signatures.
    #[must_use]
    pub fn of(ledger: &Ledger, airframe: AirframeId) -> Self {
        let mut chains = Chains::default();
        for entry in ledger.of(airframe) {
            chains.follow(entry);
        }
        chains.end()
    }

    /// How many entries are not here that were written between those that are. Such a record is an extract, or something was left out:
    /// the chains alone cannot tell which.
    #[must_use]
    pub fn missing(&self) -> u64 {
        let gap = |found: &Break| if let Break::Gap { missing, .. } = found { *missing } else { 0 };
        self.breaks.iter().map(gap).sum()
    }

    /// What is here was not altered or replaced, whether or not all of it is here.
    #[must_use]
    pub fn as_written(&self) -> bool {
        self.breaks.iter().all(|found| matches!(found, Break::Gap { .. }))
    }

    /// Nothing that is sealed was altered, replaced or left out.
    #[must_use]
    pub fn unbroken(&self) -> bool {
        self.breaks.is_empty()
    }
}

/// The chains of one airframe's record while they are followed entry by entry, so that a screen stays alive meanwhile.
#[derive(Debug, Default)]
pub struct Chains<'l> {
    chains: BTreeMap<Uuid, BTreeMap<u64, (&'l Entry, &'l Seal)>>,
    found: Integrity,
}

impl<'l> Chains<'l> {
    /// Looks at one entry; each is looked at once.
    pub fn follow(&mut self, entry: &'l Entry) {
        let found = &mut self.found;
        let Some(seal) = &entry.seal else {
            found.unsealed += 1;
            return;
        };
        found.sealed += 1;
        if !entry.sound() {
            found.breaks.push(Break::Altered(entry.id));
        }
        if let Some((twin, _)) = self.chains.entry(entry.device).or_default().insert(seal.number, (entry, seal)) {
            found.breaks.extend([Break::Twice(twin.id), Break::Twice(entry.id)]);
        }
    }

    /// What was found, once all entries were looked at.
    #[must_use]
    pub fn end(self) -> Integrity {
        let Self { chains, mut found } = self;
        found.devices = chains.len();
        for chain in chains.values() {
            let mut before = Head::default();
            for (&number, (entry, seal)) in chain {
                let missing = number.saturating_sub(before.number + 1);
                if missing > 0 {
                    found.breaks.push(Break::Gap { before: entry.id, missing });
                } else if seal.after != before.digest {
                    found.breaks.push(Break::Torn(entry.id));
                }
                before = Head { number, digest: Some(seal.digest) };
            }
        }
        found.breaks.sort_by_key(Break::entry);
        found.breaks.dedup();
        found
    }
}
