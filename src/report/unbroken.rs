//! Whether a record is whole and as it was written, in words: the chains of seals, and who signed with which key.

use uuid::Uuid;

use super::lines::when;
use crate::language::{tr, words};
use crate::record::{AirframeId, Break, Entry, EntryId, Integrity, KeyOf, Ledger, Signed, keys, signatures};

/// What holding signatures against their keys found, in the order of the entries: `true` where one holds. One that is not here was not
/// held against its key.
pub type Checked = Vec<(EntryId, bool)>;

/// A record's wholeness, to be read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Wholeness {
    /// Nothing that is sealed was altered, replaced or left out, and no signature is wrong.
    pub unbroken: bool,
    /// The first sentence.
    pub lead: String,
    /// Where it is not as it was written, in the order of the entries: each with what is wrong there.
    pub places: Vec<(EntryId, String)>,
    /// What else there is to say: signatures, entries without a seal.
    pub said: Vec<String>,
    /// The keys that sign, each in words.
    pub keys: Vec<String>,
}

impl Wholeness {
    /// Follows the chains and the signatures of an airframe's record. `own` is the device that asks, where it has written here.
    #[must_use]
    pub fn of(ledger: &Ledger, airframe: AirframeId, checked: &[(EntryId, bool)], own: Option<Uuid>) -> Self {
        Self::found(&Integrity::of(ledger, airframe), ledger, airframe, checked, own)
    }

    /// The same, the chains having been followed already.
    #[must_use]
    pub fn found(
        found: &Integrity,
        ledger: &Ledger,
        airframe: AirframeId,
        checked: &[(EntryId, bool)],
        own: Option<Uuid>,
    ) -> Self {
        let signed = signatures(ledger, airframe);
        let mut places: Vec<(EntryId, String)> =
            found.breaks.iter().map(|broken| (broken.entry(), broken_words(broken))).collect();
        for (entry, signed) in &signed {
            if let Some(words) = wrong_words(signed, held(checked, *entry)) {
                let after = places.partition_point(|(earlier, _)| earlier <= entry);
                places.insert(after, (*entry, words.to_owned()));
            }
        }
        let unbroken = places.is_empty();
        Self {
            unbroken,
            lead: lead(found, unbroken),
            places,
            said: said(found, &signed, checked),
            keys: keys(ledger, airframe).iter().map(|key| key_words(key, ledger, own)).collect(),
        }
    }
}

fn held(checked: &[(EntryId, bool)], entry: EntryId) -> Option<bool> {
    checked.binary_search_by_key(&entry, |(held, _)| *held).ok().map(|place| checked[place].1)
}

fn lead(found: &Integrity, unbroken: bool) -> String {
    let devices = tr!("1 device" | "{n} devices" % found.devices);
    let entries = tr!("1 entry of {devices}" | "{n} entries of {devices}" % found.sealed, devices);
    if unbroken {
        tr!("Unbroken: {entries}, each carries the digest of the one before it.", entries)
    } else if found.missing() > 0 && found.as_written() {
        tr!(
            "Not unbroken: 1 entry is not here that stood between the {entries}. These are the places:"
                | "Not unbroken: {n} entries are not here that stood between the {entries}. These are the places:"
                    % found.missing(),
            entries
        )
    } else {
        tr!("Not unbroken. Of {entries} these are not as they were written:", entries)
    }
}

fn broken_words(broken: &Break) -> String {
    match broken {
        Break::Altered(_) => tr!("It is not what it was when it was sealed."),
        Break::Gap { missing, .. } => tr!("Before it 1 entry is of its device not here."
            | "Before it {n} entries are of its device not here." % *missing),
        Break::Torn(_) => tr!("It does not follow the entry before it."),
        Break::Twice(_) => tr!("Another entry of its device has the same number."),
    }
}

/// What is wrong with a signature; `None` where nothing is known to be.
fn wrong_words(signed: &Signed, holds: Option<bool>) -> Option<&'static str> {
    match signed {
        Signed::With(_) if holds == Some(false) => Some(words!("Its signature is not by the key of its device.")),
        Signed::Garbled => Some(words!("Its signature is none: it cannot be read.")),
        Signed::NoKey => Some(words!("It is signed, and the key of its device is not here.")),
        Signed::Missing => Some(words!("It is not signed, and its device had a key.")),
        Signed::With(_) | Signed::Keyless => None,
    }
}

fn said(found: &Integrity, signed: &[(EntryId, Signed)], checked: &[(EntryId, bool)]) -> Vec<String> {
    let count = |wanted: &dyn Fn(&EntryId, &Signed) -> bool| {
        signed.iter().filter(|(entry, signed)| wanted(entry, signed)).count() as u64
    };
    let with = |wanted: Option<bool>| {
        count(&|entry, signed| matches!(signed, Signed::With(_)) && held(checked, *entry) == wanted)
    };
    let mut said = Vec::new();
    let good = with(Some(true));
    if good > 0 {
        said.push(tr!(
            "1 signature was held against the keys: good." | "{n} signatures were held against the keys: good." % good
        ));
    }
    let open = with(None);
    if open > 0 {
        said.push(tr!("1 signature was not held against the keys here."
            | "{n} signatures were not held against the keys here." % open));
    }
    let keyless = count(&|_, signed| *signed == Signed::Keyless);
    if keyless > 0 {
        said.push(tr!("1 hold point, remark or answer is not signed: the device had no key."
            | "{n} hold points, remarks and answers are not signed: the device had no key." % keyless));
    }
    if found.unsealed > 0 {
        said.push(tr!("1 entry is from before entries were sealed: nothing can be said of them."
            | "{n} entries are from before entries were sealed: nothing can be said of them." % found.unsealed));
    }
    said
}

/// "Key of this phone since 2026-03-04 19:31: bench rivet lamp zinc".
fn key_words(of: &KeyOf, ledger: &Ledger, own: Option<Uuid>) -> String {
    let entry: Option<&Entry> = ledger.get(of.entry);
    let phone = match entry.map(|entry| entry.by.trim()) {
        _ if own == Some(of.device) => words!("this phone").to_owned(),
        Some(name) if !name.is_empty() => tr!("the phone that {name} held", name),
        _ => words!("a phone that nobody was named at").to_owned(),
    };
    let key = of.key.map_or_else(|| words!("cannot be read").to_owned(), |key| key.words());
    let lost = of.lost.as_ref().map(|why| format!(". {why}")).unwrap_or_default();
    let said = match entry.map(|entry| when(&entry.at)) {
        Some(time) => tr!("Key of {phone} since {time}: {key}", phone, time, key),
        None => tr!("Key of {phone}: {key}", phone, key),
    };
    said + &lost
}
