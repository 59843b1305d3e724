//! One airframe's entries, in the orders in which they are asked for.

use std::collections::BTreeMap;
use std::sync::Arc;

use uuid::Uuid;

use super::{Body, Entry, EntryId, Head, RunId};

/// Entries of one airframe that are struck out: each with the entry that struck it first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Strikes(BTreeMap<EntryId, EntryId>);

impl Strikes {
    /// Nothing is struck out.
    pub const NONE: Self = Self(BTreeMap::new());

    /// The entry that struck this one out first, if any did.
    #[must_use]
    pub fn get(&self, entry: EntryId) -> Option<EntryId> {
        self.0.get(&entry).copied()
    }

    /// Every entry that is struck out and the entry that struck it first, in the order of the former.
    pub fn all(&self) -> impl Iterator<Item = (EntryId, EntryId)> {
        self.0.iter().map(|(target, strike)| (*target, *strike))
    }

    fn strike(&mut self, target: EntryId, by: EntryId) {
        let first = self.0.entry(target).or_insert(by);
        *first = by.min(*first);
    }
}

type Entries = BTreeMap<EntryId, Arc<Entry>>;

/// One airframe's entries. What it holds depends on which entries were written, not on their order.
#[derive(Clone, Debug, Default)]
pub(super) struct Book {
    all: Entries,
    /// Those that belong to no run: what the airframe itself is folded from.
    of_no_run: Entries,
    of_runs: BTreeMap<RunId, Entries>,
    /// Every move, of whatever run: it disturbs others.
    moves: Entries,
    /// Answers to deviations, and what became of what was left to do: they name an entry of a run, and no run.
    replies: Entries,
    /// What strikes claim, whether or not the entry that they name is here and may be struck.
    claims: Strikes,
    struck: Strikes,
    heads: BTreeMap<Uuid, Head>,
}

impl Book {
    /// Writes an entry that is not here yet.
    pub(super) fn write(&mut self, entry: &Arc<Entry>) {
        let id = entry.id;
        let insert = |entries: &mut Entries| entries.insert(id, Arc::clone(entry));
        insert(&mut self.all);
        match entry.run() {
            Some(run) => insert(self.of_runs.entry(run).or_default()),
            None => insert(&mut self.of_no_run),
        };
        match &entry.body {
            Body::AdjusterMoved(_) => drop(insert(&mut self.moves)),
            Body::DeviationAnswered(_) | Body::ItemClosed { .. } => drop(insert(&mut self.replies)),
            // A run is part of what the airframe is.
            Body::RunStarted { .. } => drop(insert(&mut self.of_no_run)),
            Body::Struck { entry: target, .. } => {
                self.claims.strike(*target, id);
                self.strike(*target);
            }
            _ => {}
        }
        self.strike(id);
        if let Some(seal) = &entry.seal {
            let head = self.heads.entry(entry.device).or_default();
            let here = Head { number: seal.number, digest: Some(seal.digest) };
            if (here.number, here.digest) > (head.number, head.digest) {
                *head = here;
            }
        }
    }

    /// Strikes an entry out if a strike claims it, it is here, and it is not a strike itself.
    fn strike(&mut self, target: EntryId) {
        let Some(by) = self.claims.get(target) else { return };
        if self.all.get(&target).is_some_and(|found| !matches!(found.body, Body::Struck { .. })) {
            self.struck.strike(target, by);
        }
    }

    pub(super) fn entries(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        self.all.values().map(AsRef::as_ref)
    }

    pub(super) const fn struck(&self) -> &Strikes {
        &self.struck
    }

    pub(super) fn head(&self, device: Uuid) -> Head {
        self.heads.get(&device).copied().unwrap_or_default()
    }

    /// The first entry that says that the airframe was made, struck or not.
    pub(super) fn made(&self) -> Option<EntryId> {
        self.of_no_run.values().find(|entry| matches!(entry.body, Body::AirframeMade { .. })).map(|entry| entry.id)
    }

    /// In force, oldest first: what belongs to no run, and the beginnings of runs.
    pub(super) fn of_no_run(&self) -> impl Iterator<Item = &Entry> {
        self.in_force(self.of_no_run.values())
    }

    /// In force, oldest first: a run's own, what answers them, and the moves of others since its first entry: what was moved before
    /// anything was measured disturbs nothing.
    pub(super) fn of_run(&self, run: RunId) -> Vec<&Entry> {
        let Some(own) = self.of_runs.get(&run) else { return Vec::new() };
        let Some(first) = own.keys().next() else { return Vec::new() };
        let others = self.moves.range(*first..).map(|(_, entry)| entry).filter(|entry| entry.run() != Some(run));
        let replies = self.replies.values().filter(|entry| entry.replies_to().is_some_and(|to| own.contains_key(&to)));
        let mut all: Vec<&Entry> =
            self.in_force(own.values()).chain(self.in_force(others)).chain(self.in_force(replies)).collect();
        all.sort_by_key(|entry| entry.id);
        all
    }

    /// In force, oldest first: a run's own alone.
    pub(super) fn own_of_run(&self, run: RunId) -> impl Iterator<Item = &Entry> {
        self.in_force(self.of_runs.get(&run).into_iter().flat_map(Entries::values))
    }

    fn in_force<'b>(&'b self, entries: impl Iterator<Item = &'b Arc<Entry>>) -> impl Iterator<Item = &'b Entry> {
        entries.map(AsRef::as_ref).filter(|entry| self.struck.get(entry.id).is_none())
    }
}
