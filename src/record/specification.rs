//! An airframe's rigging specification: numbers copied out of its kit's manual, with the page they came from.

use serde::{Deserialize, Serialize};

use super::EntryId;
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
}

/// The specification: items by key, in the order in which they were first entered. A key that is not there has not been entered.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Specification {
    items: Vec<(String, SpecifiedItem)>,
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

    /// Whether any item that `asked` says yes to was set by an entry younger than `entry`.
    #[must_use]
    pub fn changed_since(&self, entry: EntryId, asked: impl Fn(&str) -> bool) -> bool {
        self.items.iter().any(|(key, item)| item.entry > entry && asked(key))
    }

    pub(super) fn set(&mut self, key: String, item: SpecifiedItem) {
        match self.items.iter_mut().find(|(known, _)| *known == key) {
            Some((_, known)) => *known = item,
            None => self.items.push((key, item)),
        }
    }
}
