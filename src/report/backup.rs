//! What is on this phone and nowhere else yet: the words that remind of it, and what the browser says of its storage.

use chrono::NaiveDate;

use crate::language::{tr, words};
use crate::record::{Airframe, AirframeId, Body, Digest, Entry, EntryId, Ledger, Photo, day, day_text};

/// How far an airframe's record was sent somewhere: the newest entry that went along, and the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sent {
    /// The airframe.
    pub airframe: AirframeId,
    /// The newest entry that went along.
    pub newest: EntryId,
    /// When, by the phone's clock.
    pub day: NaiveDate,
}

/// What was sent as a text to be kept, one airframe a line.
#[must_use]
pub fn sent_text(sent: &[Sent]) -> String {
    sent.iter().map(|sent| format!("{} {} {}\n", sent.airframe, sent.newest, day_text(sent.day))).collect()
}

/// The same, read; a line that is none of ours is left away.
#[must_use]
pub fn read_sent(text: &str) -> Vec<Sent> {
    let one = |line: &str| {
        let (airframe, rest) = line.split_once(' ')?;
        let (newest, on) = rest.split_once(' ')?;
        Some(Sent { airframe: airframe.parse().ok()?, newest: newest.parse().ok()?, day: day(on)? })
    };
    text.lines().filter_map(one).collect()
}

/// What is elsewhere too once the whole record of some airframes, as it is now, was sent.
#[must_use]
pub fn sent_on(ledger: &Ledger, airframes: &[AirframeId], day: NaiveDate) -> Vec<Sent> {
    let one = |airframe: &AirframeId| {
        let newest = ledger.of(*airframe).next_back()?.id;
        Some(Sent { airframe: *airframe, newest, day })
    };
    airframes.iter().filter_map(one).collect()
}

/// Notes what was sent. A file that waited may be older than one that was sent meanwhile: of an airframe the newer counts.
pub fn note_sent(sent: &mut Vec<Sent>, more: Vec<Sent>) {
    for new in more {
        match sent.iter_mut().find(|known| known.airframe == new.airframe) {
            Some(known) if known.newest > new.newest => {}
            Some(known) => *known = new,
            None => sent.push(new),
        }
    }
}

/// What is elsewhere too because a file holds it that came from there or went there: an airframe of which everything that was not sent
/// yet is among `entries`, and of whose photos none is among `lone`, those that are on this phone and not in the file.
#[must_use]
pub fn sent_with(
    sent: &[Sent],
    ledger: &Ledger,
    mut entries: Vec<EntryId>,
    lone: &[Digest],
    day: NaiveDate,
) -> Vec<Sent> {
    entries.sort_unstable();
    let all = |airframe: &AirframeId| {
        unsent_of(ledger, sent, *airframe).all(|entry| entries.binary_search(&entry.id).is_ok())
            && photos_of(ledger, &[*airframe]).iter().all(|photo| !lone.contains(&photo.digest))
    };
    let airframes: Vec<AirframeId> = ledger.airframes().iter().map(|airframe| airframe.id).filter(all).collect();
    sent_on(ledger, &airframes, day)
}

/// Entries that were not sent, the newest first.
fn unsent_of<'l>(ledger: &'l Ledger, sent: &[Sent], airframe: AirframeId) -> impl Iterator<Item = &'l Entry> {
    let newest = sent.iter().find(|sent| sent.airframe == airframe).map(|sent| sent.newest);
    ledger.of(airframe).rev().take_while(move |entry| newest.is_none_or(|newest| entry.id > newest))
}

/// What to say when a working day is over and its entries were sent nowhere: `None` while there is no entry from before today that
/// was not sent. Invented examples are not counted: nobody misses them.
#[must_use]
pub fn unsent(ledger: &Ledger, sent: &[Sent], today: NaiveDate) -> Option<String> {
    let (mut count, mut over, mut last) = (0_usize, false, None::<NaiveDate>);
    for airframe in ledger.airframes().iter().filter(|airframe| !airframe.details.invented) {
        let known = sent.iter().find(|sent| sent.airframe == airframe.id);
        for entry in unsent_of(ledger, sent, airframe.id) {
            count += 1;
            over |= entry.at.date_naive() < today;
        }
        last = last.max(known.map(|sent| sent.day));
    }
    let since = match last.map(day_text) {
        Some(day) => tr!(
            "1 entry since the last export, on {day}." | "{n} entries since the last export, on {day}." % count,
            day
        ),
        None => tr!("1 entry, and nothing was ever exported from this phone."
            | "{n} entries, and nothing was ever exported from this phone." % count),
    };
    let alone = words!("What is not sent anywhere is on this phone alone, and is lost with it.");
    over.then(|| format!("{since} {alone}"))
}

/// Every photo that entries of these airframes name, struck out or not, each once.
#[must_use]
pub fn photos_of(ledger: &Ledger, airframes: &[AirframeId]) -> Vec<Photo> {
    let mut photos: Vec<Photo> = Vec::new();
    for entry in airframes.iter().flat_map(|airframe| ledger.of(*airframe)) {
        if let Body::PhotoAttached { photo, .. } = &entry.body
            && photos.iter().all(|known| known.digest != photo.digest)
        {
            photos.push(photo.clone());
        }
    }
    photos
}

/// "12 photos, 3.4 MB".
#[must_use]
pub fn photos_words(photos: &[Photo]) -> String {
    let bytes: u64 = photos.iter().map(|photo| u64::from(photo.bytes)).sum();
    tr!("1 photo, {size}" | "{n} photos, {size}" % photos.len(), size = megabytes(bytes))
}

/// "3.4 MB", "10.7 GB"; never 0.0 for something.
#[must_use]
pub fn megabytes(bytes: u64) -> String {
    let (tenths, unit) =
        if bytes < 1_000_000_000 { (bytes.div_ceil(100_000), "MB") } else { (bytes / 100_000_000, "GB") };
    format!("{}.{} {unit}", tenths / 10, tenths % 10)
}

/// What the browser says of how it keeps the record, in plain words: whether it has promised to, and how much room there is.
/// `None` where it does not say. Sizes in bytes.
#[must_use]
pub fn storage_words(promised: Option<bool>, used: Option<u64>, room: Option<u64>) -> String {
    let promise = match promised {
        Some(true) => words!("The browser has promised to keep the record until you delete it yourself."),
        Some(false) => words!(
            "The browser has not promised to keep the record: it may clear it when the phone runs short of space. Send it \
             somewhere after each day's work."
        ),
        None => {
            words!("This browser does not say whether it keeps the record. Send it somewhere after each day's work.")
        }
    };
    let (Some(used), Some(room)) = (used, room) else { return promise.to_owned() };
    let left = room.saturating_sub(used);
    let sizes = tr!(
        "The app and its records take {used}; {more} more would fit.",
        used = megabytes(used),
        more = megabytes(left)
    );
    if left >= 50_000_000 {
        return format!("{promise} {sizes}");
    }
    let tight = words!(
        "That is little: a day with many photos may not fit. Send the record somewhere and make room on the phone."
    );
    format!("{promise} {sizes} {tight}")
}

/// What a backup holds, by name: what somebody reads before they send it.
#[must_use]
pub fn backup_words(airframes: &[Airframe], entries: usize, photos: &[Photo]) -> String {
    let names: Vec<String> = airframes
        .iter()
        .map(|airframe| format!("{} {}", airframe.details.model, airframe.details.serial).trim_end().to_owned())
        .collect();
    if names.is_empty() {
        return words!("There is nothing to send yet.").to_owned();
    }
    let words = tr!("{number} entries of {airframes}.", number = entries, airframes = names.join(", "));
    if photos.is_empty() { words } else { format!("{words} {}.", photos_words(photos)) }
}
