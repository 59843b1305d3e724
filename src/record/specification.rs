//! An airframe's rigging specification: numbers copied out of its kit's manual, with the page they came from.

use serde::{Deserialize, Serialize};

use super::{EntryId, same_person};
use crate::quantity::Quantity;

/// How far a check may be from its nominal value.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Tolerance {
    /// The manual gives none (or nobody has entered it): recorded, not judged.
    #[default]
    None,
    /// The same amount both ways from the nominal value.
    PlusMinus {
        /// The amount; positive.
        by: Quantity,
    },
    /// Absolute limits; a missing one is open. Asymmetric and one-sided tolerances are written this way.
    Limits {
        /// Lowest value allowed.
        lower: Option<Quantity>,
        /// Highest value allowed.
        upper: Option<Quantity>,
    },
}

/// One item's value.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpecValue {
    /// The nominal number, where the item has one.
    pub nominal: Option<Quantity>,
    /// Its tolerance.
    pub tolerance: Tolerance,
    /// The choice made or the words copied, where the item is not a number.
    pub words: Option<String>,
}

/// One item of the specification as last entered.
#[derive(Clone, Debug, PartialEq)]
pub struct SpecifiedItem {
    /// Its value.
    pub value: SpecValue,
    /// Page and revision of the manual.
    pub source: String,
    /// The entry that set it: anything signed before it was signed under an older number.
    pub entry: EntryId,
    /// Who entered it.
    pub by: String,
    /// Who read it again in the manual and found the same: somebody else than who entered it.
    pub reread: Option<String>,
}

/// The specification: items by key, in the order in which they were first entered. A key that is not there has not been entered.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Specification {
    items: Vec<(String, SpecifiedItem)>,
    /// Items that went back to what they were because an entry was struck out, with the entry that struck it.
    struck: Vec<(String, EntryId)>,
}

impl Specification {
    /// The item, if it was ever entered.
    #[must_use]
    pub fn item(&self, key: &str) -> Option<&SpecifiedItem> {
        self.items.iter().find(|(known, _)| known == key).map(|(_, item)| item)
    }

    /// The nominal number of an item, if it has one.
    #[must_use]
    pub fn nominal(&self, key: &str) -> Option<&Quantity> {
        self.item(key)?.value.nominal.as_ref()
    }

    /// The words of an item (a choice, a side, a face), if it has any.
    #[must_use]
    pub fn words(&self, key: &str) -> Option<&str> {
        self.item(key)?.value.words.as_deref()
    }

    /// Every item that was ever entered, with its key, in the order in which they were first entered.
    pub fn items(&self) -> impl Iterator<Item = (&str, &SpecifiedItem)> {
        self.items.iter().map(|(key, item)| (key.as_str(), item))
    }

    /// Whether any item that `asked` says yes to was set, or set back by a strike, by an entry younger than `entry`.
    #[must_use]
    pub fn changed_since(&self, entry: EntryId, asked: impl Fn(&str) -> bool) -> bool {
        let set = self.items.iter().map(|(key, item)| (key, item.entry));
        set.chain(self.struck.iter().map(|(key, strike)| (key, *strike))).any(|(key, by)| by > entry && asked(key))
    }

    /// Somebody read an item again. Only what the entry in force says is confirmed by it, and only by another person.
    pub(super) fn reread(&mut self, key: &str, entry: EntryId, by: &str) {
        let found = self.items.iter_mut().find(|(known, item)| known == key && item.entry == entry);
        if let Some((_, item)) = found.filter(|(_, item)| !same_person(&item.by, by)) {
            item.reread = Some(by.to_owned());
        }
    }

    /// An entry that set this item was struck out.
    pub(super) fn set_back(&mut self, key: String, strike: EntryId) {
        self.struck.push((key, strike));
    }

    pub(super) fn set(&mut self, key: String, item: SpecifiedItem) {
        match self.items.iter_mut().find(|(known, _)| *known == key) {
            Some((_, known)) => *known = item,
            None => self.items.push((key, item)),
        }
    }
}
