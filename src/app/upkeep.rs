//! What befell the storage while nobody looked: found when the record is read and after it is written, mended where that can be, and said.

use std::collections::HashSet;

use crate::app::prelude::*;

use chrono::DateTime;
use uuid::Uuid;
use wasm_bindgen_futures::spawn_local;

use super::browser::copy::Copy;
use super::browser::db::{Befallen, Db, StoreError};
use super::browser::{ahead, clock, focus, ids, keeping, settings};
use super::controls::{button, para};
use super::live::{live, tap};
use super::shop::{Shop, rows_of};
use crate::language::{tr, words};
use crate::record::{Entry, EntryId, Ledger, day_text, from_json};
use crate::report::megabytes;

/// What the storage did, or is about to do.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Found {
    /// The browser emptied it under the running app, and this many entries of this tab were written again.
    Emptied(usize),
    /// The database lost this many entries, and the second copy had them.
    TakenBack(usize),
    /// The database cannot be opened, and the second copy has this many entries.
    FromCopy(usize),
    /// This many entries fewer than were kept.
    Lost(usize),
    /// The clock says less than when the last entry was made, which was on this day.
    ClockBehind(String),
    /// This many bytes are left.
    LittleRoom(u64),
}

/// What the second copy has.
struct Copied {
    /// Every entry in it.
    ids: Vec<EntryId>,
    /// How many were not here.
    new: usize,
    /// All of it could be read.
    whole: bool,
}

/// What is said of the storage, until somebody has read it.
#[derive(Clone, Copy)]
pub(crate) struct Upkeep {
    /// Another tab, of an earlier version, keeps the database from being opened.
    held: RwSignal<bool>,
    found: RwSignal<Vec<Found>>,
}

/// Under which local storage holds how many entries there are: not where they are themselves, so that it is not lost with them.
const COUNT: &str = "entries";
/// How long after the start the second copy is looked at: whoever opened the app has the phone to themselves first. Milliseconds.
const NOT_AT_ONCE: u32 = 3000;
/// In more pieces than this, with so many beside for every so many entries, the second copy is made anew.
const PIECES: usize = 200;
/// A clock this far behind is behind; two phones side by side differ by less. Milliseconds.
const BEHIND: u64 = 10 * 60 * 1000;
/// A photo or two. Bytes.
const A_LITTLE: f64 = 2e6;

impl Upkeep {
    pub(crate) fn new() -> Self {
        Self { held: RwSignal::new(false), found: RwSignal::new(Vec::new()) }
    }

    fn say(self, found: Found) {
        self.found.update(|all| {
            all.retain(|other| core::mem::discriminant(other) != core::mem::discriminant(&found));
            all.push(found);
        });
    }
}

/// How many entries this phone kept, where it knows. Asked before the database is read: another tab may keep one in between.
pub(crate) fn kept_before() -> Option<usize> {
    settings::load(COUNT)
}

impl Shop {
    /// Tells a notice's words, each time that they are others, where everything is told: a place that comes with its words is not heard.
    pub(crate) fn tell_what_is_said(self, said: RwSignal<String>) {
        Effect::new(move |_| {
            let words = said.get();
            if !words.is_empty() {
                self.tell(words.trim());
            }
        });
    }

    /// Opens the database; what befalls it then and later is seen to.
    pub(crate) async fn open_db(self) -> Result<Db, StoreError> {
        let held = self.upkeep.held;
        let opened = Db::open(move |befallen| match befallen {
            Befallen::Held => {
                ahead::leave();
                held.set(true);
            }
            Befallen::Closed => spawn_local(async move { self.look_after_closing().await }),
        })
        .await;
        held.set(false);
        opened
    }

    /// Once the record is read, `stored` entries of it from `db`, where this device has that name, and where so many were kept before: who it
    /// is, whether all is there, the clock, the room.
    pub(crate) async fn look_after_reading(self, db: &Db, device: Option<Uuid>, stored: usize, before: Option<usize>) {
        let mut there = stored;
        if before.is_some_and(|before| before > stored) {
            there += self.take_back(db).await.unwrap_or_default();
        }
        match device {
            Some(device) if device != self.device() => self.settings.update(|settings| settings.device = device),
            Some(_) => {}
            None => self.name_device(db.clone()),
        }
        let now = u64::try_from(clock::now().timestamp_millis()).unwrap_or_default();
        if let Some(made) = self.follow_latest().filter(|made| *made > now.saturating_add(BEHIND)) {
            let made = i64::try_from(made).ok().and_then(DateTime::from_timestamp_millis).unwrap_or_default();
            self.upkeep.say(Found::ClockBehind(day_text(made.date_naive())));
        }
        match before.filter(|before| *before > there) {
            Some(before) => self.upkeep.say(Found::Lost(before - there)),
            None => settings::save(COUNT, &there),
        }
        self.look_for_room();
    }

    /// Takes from the second copy what the database does not have, and puts it there: how many entries; `None` where either could not be read
    /// whole.
    async fn take_back(self, db: &Db) -> Option<usize> {
        let copied = self.read_copy(&Copy::open().await?).await;
        // After the copy: what another tab keeps is in the database before it is in the copy.
        let stored: HashSet<String> = db.at_start().await.ok()?.entries.into_iter().map(|(id, _)| id).collect();
        let lacks = |id: &&EntryId| !stored.contains(&id.to_string());
        let rows = self
            .ledger
            .with_untracked(|ledger| rows_of(copied.ids.iter().filter(lacks).filter_map(|id| ledger.get(*id))));
        if !rows.is_empty() {
            match db.append(&rows, &[]).await {
                Ok(()) => self.upkeep.say(Found::TakenBack(rows.len())),
                Err(error) => self.trouble.set(Some(error.to_string())),
            }
        }
        copied.whole.then_some(rows.len())
    }

    /// Merges what the second copy has.
    async fn read_copy(self, copy: &Copy) -> Copied {
        let (texts, whole) = copy.read().await;
        let entries: Vec<Entry> = texts.iter().filter_map(|text| from_json(text).ok()).collect();
        let whole = whole && entries.len() == texts.len();
        let ids = entries.iter().map(|entry| entry.id).collect();
        let new = self.ledger.try_update(|ledger| ledger.merge(entries).added.len()).unwrap_or_default();
        Copied { ids, new, whole }
    }

    /// The database cannot be opened: what the second copy has is shown, so that it can be sent somewhere.
    pub(crate) async fn show_copy(self, why: &StoreError) {
        // Where a newer version was here the records are untouched, and not all of them can be read.
        if *why != StoreError::NewerVersion
            && let Some(copy) = Copy::open().await
        {
            let shown = self.read_copy(&copy).await.new;
            if shown > 0 {
                self.upkeep.say(Found::FromCopy(shown));
            }
        }
    }

    /// What was kept, or shown from the second copy, before there was a database goes into it.
    pub(crate) async fn store_what_is_here(self, db: &Db) {
        let rows = self.ledger.with_untracked(|ledger| rows_of(ledger.entries()));
        match db.append(&rows, &[]).await {
            Ok(()) => self.unstored.set(0),
            Err(error) => self.trouble.set(Some(error.to_string())),
        }
    }

    /// Some time after the start, holds the second copy against what was read, and mends either by the other.
    pub(crate) fn look_after_copy(self, db: Db) {
        clock::after(NOT_AT_ONCE, move || {
            spawn_local(async move {
                let Some(copy) = Copy::open().await else { return };
                let count = || self.ledger.with_untracked(Ledger::len);
                let (pieces, entries) = copy.size().await;
                // What could not be read is left where it is.
                if entries > count() && self.take_back(&db).await.is_none() {
                    return;
                }
                let rather_few = PIECES + count() / PIECES;
                if self.writes.get_untracked() && (entries != count() || pieces > rather_few) {
                    copy.make_anew(|| self.ledger.with_untracked(|ledger| rows_of(ledger.entries()))).await;
                }
            });
        });
    }

    /// After something was stored: how much there is now, and whether it was put into a storage that had been emptied.
    pub(crate) async fn look_after_writing(self, db: &Db, rows: Vec<(String, String)>, photos: bool) {
        if db.take_emptied() {
            self.write_again(db).await;
        }
        // What came in a file may be of a clock that is ahead.
        self.follow_latest();
        let count = self.ledger.with_untracked(Ledger::len);
        // Whoever kept a reading does not wait for this.
        clock::soon(move || {
            settings::save(COUNT, &count);
            spawn_local(async move {
                if let Some(copy) = Copy::open().await {
                    copy.add(rows).await;
                }
            });
        });
        if photos {
            self.look_for_room();
        }
    }

    /// What is written from here on comes after the latest entry; when that was made, by its id.
    fn follow_latest(self) -> Option<u64> {
        let latest = self.ledger.with_untracked(|ledger| ledger.entries().next_back().map(|entry| entry.id.0))?;
        ids::follow(latest);
        ids::made_at(latest)
    }

    /// The connection was closed from outside: where the database was emptied, what this tab holds goes back into it.
    async fn look_after_closing(self) {
        let Some(db) = self.db() else { return };
        if db.at_start().await.is_ok() && db.take_emptied() {
            self.write_again(&db).await;
        }
    }

    fn device(self) -> Uuid {
        self.settings.with_untracked(|settings| settings.device)
    }

    /// Puts this device's name beside the entries. Nothing waits for it: until it is there, local storage has it.
    fn name_device(self, db: Db) {
        let device = self.device();
        spawn_local(async move { drop(db.name_device(device).await) });
    }

    async fn write_again(self, db: &Db) {
        let rows = self.ledger.with_untracked(|ledger| rows_of(ledger.entries()));
        match db.append(&rows, &[]).await {
            Ok(()) => {
                self.name_device(db.clone());
                self.look_after_copy(db.clone());
                self.upkeep.say(Found::Emptied(rows.len()));
            }
            Err(error) => self.trouble.set(Some(error.to_string())),
        }
    }

    fn look_for_room(self) {
        spawn_local(async move {
            let found = keeping::keeping().await;
            if let (Some(usage), Some(quota)) = (found.usage, found.quota) {
                let free = (quota - usage).max(0.0);
                if free <= (quota / 100.0).max(A_LITTLE) {
                    self.upkeep.say(Found::LittleRoom(free as u64));
                }
            }
        });
    }
}

/// What is said of the storage, each until it was read.
pub(crate) fn notices(shop: Shop) -> AnyView {
    let upkeep = shop.upkeep;
    let held = move || {
        upkeep.held.get().then(|| {
            let words = words!(
                "Another tab of this app, of an earlier version, holds the record. Close that tab: this one then goes on by itself."
            );
            view! { <section id="held" class="notice trouble">{para("", words)}</section> }
        })
    };
    let found = move || upkeep.found.get().into_iter().map(|found| said(shop, found)).collect::<Vec<_>>();
    view! { <div role="alert">{live(held)}{live(found)}</div> }
}

fn said(shop: Shop, found: Found) -> AnyView {
    let (id, words) = match &found {
        Found::Emptied(entries) => (
            "emptied",
            tr!(
                "The browser emptied its storage while the app was open. {n} entry was written again from this tab; photos, and words that were taught, are gone from this phone."
                    | "The browser emptied its storage while the app was open. {n} entries were written again from this tab; photos, and words that were taught, are gone from this phone."
                        % *entries
            ),
        ),
        Found::TakenBack(entries) => (
            "taken-back",
            tr!(
                "The browser lost its database. {n} entry was taken back from the second copy on this phone; photos, words that were taught, and what was half typed are gone."
                    | "The browser lost its database. {n} entries were taken back from the second copy on this phone; photos, words that were taught, and what was half typed are gone."
                        % *entries
            ),
        ),
        Found::FromCopy(entries) => (
            "from-copy",
            tr!(
                "The browser cannot open its database. {n} entry is shown from the second copy on this phone. Send the record somewhere before anything else."
                    | "The browser cannot open its database. {n} entries are shown from the second copy on this phone. Send the record somewhere before anything else."
                        % *entries
            ),
        ),
        Found::Lost(entries) => (
            "entries-lost",
            tr!(
                "{n} entry that was kept on this phone is gone: the browser lost it, or emptied its storage. Open the last file that was sent from here, or fetch from the folder, to have it back."
                    | "{n} entries that were kept on this phone are gone: the browser lost them, or emptied its storage. Open the last file that was sent from here, or fetch from the folder, to have them back."
                        % *entries
            ),
        ),
        Found::ClockBehind(day) => (
            "clock-behind",
            tr!(
                "This phone's clock is behind: the last entry is of {day}. Set the clock. New entries come after the old ones all the same, but carry the time that the clock says.",
                day
            ),
        ),
        Found::LittleRoom(free) => (
            "little-room",
            tr!(
                "The app has {free} left on this phone. Send the record somewhere, then make room: soon nothing more can be kept.",
                free = megabytes(*free)
            ),
        ),
    };
    let read = tap(move |_| {
        if matches!(found, Found::Lost(_)) {
            settings::save(COUNT, &shop.ledger.with_untracked(Ledger::len));
        }
        shop.upkeep.found.update(|all| all.retain(|other| *other != found));
        focus::focus_after_frame("heading");
    });
    view! { <section id=id class="notice trouble">{para("", words)}{button("", "plain", "Read", read)}</section> }
}
