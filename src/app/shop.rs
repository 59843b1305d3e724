//! What the pages share: the ledger as it stands, and the one way to add to it.

use std::sync::Arc;

use async_lock::Mutex;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::browser::db::{AtStart, Db, StoreError};
use super::browser::keys::{self, Signer};
use super::browser::worker::{self, WorkerState};
use super::browser::{clock, handed, haptics, ids, tabs};
use super::sending::Sending;
use super::settings::{self, Settings};
use super::tongue;
use super::upkeep::{Upkeep, kept_before};
use crate::language::{self, tr};
use crate::record::{
    AirframeId, Body, Chains, Digest, Entry, EntryId, Ledger, Merged, Signed, announce, from_json, signatures,
};
use crate::report::{Checked, RecordFile, Sent, Wholeness, note_sent, read_sent, sent_text, sent_with};

/// The shared state. Copied freely; every signal lives as long as the app.
#[derive(Clone, Copy)]
pub(crate) struct Shop {
    /// Every entry that is kept.
    pub(crate) ledger: RwSignal<Ledger>,
    /// The record has been read from storage.
    pub(crate) ready: RwSignal<bool>,
    /// What could not be stored, in words, while it lasts.
    pub(crate) trouble: RwSignal<Option<String>>,
    /// Entries that are in the ledger of this tab and nowhere else, because the browser stores nothing for this page.
    pub(crate) unstored: RwSignal<usize>,
    /// This tab may write.
    pub(crate) writes: RwSignal<bool>,
    /// The service worker.
    pub(crate) worker: RwSignal<WorkerState>,
    /// Settings of this phone.
    pub(crate) settings: RwSignal<Settings>,
    /// The name of a file that the platform handed over and that nobody has opened yet; empty when there is none.
    pub(crate) handed: RwSignal<String>,
    /// What is told to whoever does not see the screen; one place for the whole app, so that nothing is told over something else.
    pub(crate) told: RwSignal<String>,
    /// What leaves the phone when there is a network.
    pub(crate) sending: Sending,
    /// What befell the storage.
    pub(crate) upkeep: Upkeep,
    /// Half-typed readings: step and slot, and what is typed.
    drafts: StoredValue<Vec<(String, String)>>,
    db: StoredValue<Option<Db>, LocalStorage>,
    /// What this device signs with, once it has signed or was asked.
    signer: StoredValue<Option<Signer>, LocalStorage>,
    kept: StoredValue<usize>,
    /// Held while entries are sealed and stored: each follows the one before it.
    turn: StoredValue<Arc<Mutex<()>>>,
    /// How long the last fold of a run took, in milliseconds, for the measurement of it (`cargo xtask bench rigging`).
    pub(crate) folded_in: StoredValue<f64>,
}

impl Shop {
    /// The shop of the component tree.
    pub(crate) fn here() -> Self {
        expect_context()
    }

    /// Makes the state and begins to read the record.
    pub(crate) fn open() -> Self {
        let shop = Self {
            ledger: RwSignal::new(Ledger::default()),
            ready: RwSignal::new(false),
            trouble: RwSignal::new(None),
            unstored: RwSignal::new(0),
            writes: RwSignal::new(true),
            worker: RwSignal::new(WorkerState::Installing),
            settings: RwSignal::new(Settings::load()),
            handed: RwSignal::new(String::new()),
            told: RwSignal::new(String::new()),
            sending: Sending::new(),
            upkeep: Upkeep::new(),
            drafts: StoredValue::new(Vec::new()),
            db: StoredValue::new_local(None),
            signer: StoredValue::new_local(None),
            kept: StoredValue::new(0),
            turn: StoredValue::default(),
            folded_in: StoredValue::new(0.0),
        };
        settings::follow(shop.settings);
        shop.sending.begin(shop);
        spawn_local(async move { shop.read_all().await });
        tabs::hold_writer_lock(move |writes| shop.writes.set(writes));
        tabs::listen(move |_| spawn_local(async move { shop.read_again().await }));
        shop.take_what_is_handed_over();
        worker::register(move |state| {
            if matches!(state, WorkerState::ReadyOffline) {
                mark("data-offline", "ready");
                spawn_local(tongue::keep());
            }
            shop.worker.set(state);
        });
        shop
    }

    /// Tells `words` to a screen reader once it is done with what it reads. The same words again are told again.
    pub(crate) fn tell(self, words: &str) {
        const ONCE_MORE: char = '\u{a0}';
        self.told.update(|told| {
            let again = told.as_str() == words;
            words.clone_into(told);
            if again {
                told.push(ONCE_MORE);
            }
        });
    }

    fn take_what_is_handed_over(self) {
        handed::listen(move |name| self.handed.set(name));
        if handed::refused() {
            let words = "The file that was handed over could not be put aside: the storage may be full. Save it on this phone \
                         and open it from the hangar.";
            self.trouble.set(Some(language::ours(words).to_owned()));
        }
    }

    async fn read_all(self) {
        match self.open_db().await {
            Ok(db) => {
                self.db.set_value(Some(db.clone()));
                self.store_what_is_here(&db).await;
                self.read_again().await;
                self.look_after_copy(db);
            }
            Err(error) => {
                self.trouble.set(Some(error.to_string()));
                self.show_copy(&error).await;
            }
        }
        self.ready.set(true);
        mark("data-ready", "true");
    }

    /// Reads everything that is stored and merges it. An entry that cannot be read is left where it is and said.
    async fn read_again(self) {
        let Some(db) = self.db.get_value() else { return };
        let before = kept_before();
        match db.at_start().await {
            Ok(AtStart { drafts, entries: stored, device }) => {
                // Before the record: a pad that it brings up shows what was half typed on it.
                self.drafts.set_value(drafts);
                let count = stored.len();
                let mut unreadable = 0_usize;
                let entries: Vec<Entry> = stored
                    .iter()
                    .filter_map(|(_, text)| {
                        let entry = from_json(text).ok();
                        unreadable += usize::from(entry.is_none());
                        entry
                    })
                    .collect();
                self.ledger.update(|ledger| {
                    ledger.merge(entries);
                });
                if unreadable > 0 {
                    self.trouble.set(Some(tr!(
                        "{n} stored entries cannot be read by this version. They are left as they are."
                            | "{n} stored entries cannot be read by this version. They are left as they are."
                                % unreadable
                    )));
                }
                self.look_after_reading(&db, device, count, before).await;
            }
            Err(error) => self.trouble.set(Some(error.to_string())),
        }
    }

    /// Adds entries: stored with strict durability first, shown afterwards. On failure nothing is added and the trouble is
    /// said; what was typed stays where it is. Where the browser stores nothing for this page at all, entries live in this tab
    /// and the screen says so.
    pub(crate) async fn keep(self, airframe: AirframeId, bodies: Vec<Body>) -> Result<Vec<EntryId>, StoreError> {
        let by = self.settings.with_untracked(|settings| settings.name.clone());
        self.keep_by(airframe, bodies, by).await
    }

    /// The same, by somebody else than who is at the phone by the settings.
    pub(crate) async fn keep_by(
        self,
        airframe: AirframeId,
        bodies: Vec<Body>,
        by: String,
    ) -> Result<Vec<EntryId>, StoreError> {
        self.keep_all(airframe, bodies, by, Vec::new()).await
    }

    /// An entry that attaches a photo, and the photo's file: both or neither.
    pub(crate) async fn keep_with_photo(
        self,
        airframe: AirframeId,
        body: Body,
        photo: (Digest, Vec<u8>),
    ) -> Result<Vec<EntryId>, StoreError> {
        let by = self.settings.with_untracked(|settings| settings.name.clone());
        self.keep_all(airframe, vec![body], by, vec![photo]).await
    }

    async fn keep_all(
        self,
        airframe: AirframeId,
        bodies: Vec<Body>,
        by: String,
        photos: Vec<(Digest, Vec<u8>)>,
    ) -> Result<Vec<EntryId>, StoreError> {
        let device = self.settings.with_untracked(|settings| settings.device);
        let turn = self.turn.get_value();
        let _turn = turn.lock().await;
        let signer = if bodies.iter().any(Body::is_signed) { self.signer().await } else { None };
        let (mut head, key) = self.ledger.with_untracked(|ledger| {
            let announced = signer.as_ref().and_then(|signer| announce(ledger, airframe, device, &signer.key));
            (ledger.head(device, airframe), announced)
        });
        let make = |body| Entry {
            id: EntryId(ids::new()),
            airframe,
            at: clock::now(),
            by: by.clone(),
            device,
            body,
            seal: None,
        };
        let announced = usize::from(key.is_some());
        let mut entries: Vec<Entry> = key.into_iter().chain(bodies).map(|body| make(body).sealed(&mut head)).collect();
        if let Some(signer) = signer {
            for entry in entries.iter_mut().filter(|entry| entry.is_signed()) {
                let digest = entry.seal.as_ref().map(|seal| seal.digest.to_string()).unwrap_or_default();
                if let Some(signature) = signer.sign(&digest).await {
                    *entry = entry.clone().signed(&signature);
                }
            }
        }
        let kept = entries.iter().skip(announced).map(|entry| entry.id).collect();
        self.store(entries, photos).await?;
        Ok(kept)
    }

    /// What this device signs with, where the engine can sign and the browser keeps keys.
    async fn signer(self) -> Option<Signer> {
        if let Some(known) = self.signer.get_value() {
            return Some(known);
        }
        let signer = Signer::of(&self.db.get_value()?).await;
        self.signer.set_value(signer.clone());
        signer
    }

    /// Holds every signature of an airframe's record against its key, where the engine can.
    pub(crate) async fn check(ledger: &Ledger, airframe: AirframeId) -> Checked {
        let mut checked = Checked::new();
        for (entry, signed) in signatures(ledger, airframe) {
            if let Signed::With(signature) = signed
                && let Some(holds) = keys::holds(&signature).await
            {
                checked.push((entry, holds));
            }
        }
        checked
    }

    /// Whether an airframe's record is whole and as it was written. Long records take a while; the screen stays alive meanwhile.
    pub(crate) async fn wholeness(self, airframe: AirframeId) -> Wholeness {
        /// How many entries are looked at without a pause.
        const AT_A_TIME: usize = 500;
        let (ledger, own) = (self.ledger.get_untracked(), self.settings.with_untracked(|settings| settings.device));
        let mut chains = Chains::default();
        for (place, entry) in ledger.of(airframe).enumerate() {
            if place % AT_A_TIME == 0 {
                clock::pause().await;
            }
            chains.follow(entry);
        }
        let checked = Self::check(&ledger, airframe).await;
        Wholeness::found(&chains.end(), &ledger, airframe, &checked, Some(own))
    }

    /// Takes in a file's entries and photos: one transaction, all or nothing.
    pub(crate) async fn import(self, file: RecordFile) -> Result<Merged, StoreError> {
        let RecordFile { entries, photos, .. } = file;
        let (fresh, merged) = self.ledger.with_untracked(|ledger| {
            let mut trial = ledger.clone();
            let merged = trial.merge(entries);
            let touched = merged.added.iter().chain(&merged.conflicts);
            let fresh: Vec<Entry> = touched.filter_map(|id| trial.get(*id).cloned()).collect();
            (fresh, merged)
        });
        self.store(fresh, photos).await?;
        Ok(merged)
    }

    async fn store(self, entries: Vec<Entry>, photos: Vec<(Digest, Vec<u8>)>) -> Result<(), StoreError> {
        let rows = rows_of(&entries);
        let with_photos = !photos.is_empty();
        if let Some(db) = self.db.get_value() {
            if let Err(error) = db.append(&rows, &photos).await {
                self.trouble.set(Some(error.to_string()));
                haptics::vibrate(haptics::OUT);
                return Err(error);
            }
            self.trouble.set(None);
            tabs::announce(&rows.iter().map(|(id, _)| id.clone()).collect::<Vec<_>>());
        } else if !photos.is_empty() {
            // Nothing would hold the file: an entry of a photo that nobody can see is worth nothing.
            self.trouble.set(Some(StoreError::Blocked.to_string()));
            return Err(StoreError::Blocked);
        } else {
            self.unstored.update(|count| *count += entries.len());
        }
        let count = self.kept.with_value(|kept| kept + entries.len());
        self.ledger.update(|ledger| {
            ledger.merge(entries);
        });
        if let Some(db) = self.db.get_value() {
            self.look_after_writing(&db, rows, with_photos).await;
            self.kept.set_value(count);
            mark("data-kept", &count.to_string());
        }
        Ok(())
    }

    /// Notes what was sent somewhere.
    pub(crate) fn note_sent(self, more: Vec<Sent>) {
        if !more.is_empty() {
            self.settings.update(|settings| {
                let mut sent = read_sent(&settings.sent);
                note_sent(&mut sent, more);
                settings.sent = sent_text(&sent);
            });
        }
    }

    /// Notes what a file held that came or went: what of it is elsewhere too.
    pub(crate) async fn note_file(self, entries: Vec<EntryId>, photos: Vec<Digest>) {
        let mut lone = match self.db() {
            Some(db) => db.photo_keys().await.unwrap_or_default(),
            None => Vec::new(),
        };
        lone.retain(|digest| !photos.contains(digest));
        let day = clock::now().date_naive();
        let sent = self.settings.with_untracked(|settings| read_sent(&settings.sent));
        self.note_sent(self.ledger.with_untracked(|ledger| sent_with(&sent, ledger, entries, &lone, day)));
    }

    /// The storage, where the browser gives one.
    pub(crate) fn db(self) -> Option<Db> {
        self.db.get_value()
    }

    /// The half-typed reading of a step's slot, as it was left.
    pub(crate) fn draft(self, key: &str) -> Option<String> {
        self.drafts.with_value(|drafts| drafts.iter().find(|(kept, _)| kept == key).map(|(_, text)| text.clone()))
    }

    /// Keeps a half-typed reading, at every key.
    pub(crate) fn put_draft(self, key: String, text: String) {
        self.drafts.update_value(|drafts| {
            drafts.retain(|(kept, _)| *kept != key);
            if !text.is_empty() {
                drafts.push((key.clone(), text.clone()));
            }
        });
        let Some(db) = self.db.get_value() else { return };
        spawn_local(async move {
            // A half-typed reading that could not be stored is still on the screen; the reading itself will say so when kept.
            let _ = if text.is_empty() { db.remove_draft(&key).await } else { db.put_draft(&key, &text).await };
        });
    }

    /// Tries the storage again, after trouble.
    pub(crate) fn try_again(self) {
        self.trouble.set(None);
        spawn_local(async move {
            if self.db.with_value(Option::is_none) {
                self.read_all().await;
            } else {
                self.read_again().await;
            }
        });
    }
}

/// What the storage keeps of entries: each one's id and its JSON.
pub(crate) fn rows_of<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> Vec<(String, String)> {
    let row = |entry: &Entry| (entry.id.to_string(), serde_json::to_string(entry).unwrap_or_default());
    entries.into_iter().map(row).collect()
}

/// Says something about the app on the document's root, for style and for tests from outside.
fn mark(name: &str, value: &str) {
    if let Some(root) = document().document_element() {
        let _ = root.set_attribute(name, value);
    }
}
