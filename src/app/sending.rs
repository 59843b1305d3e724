//! What leaves the phone when there is a network: files that wait to be shared, and the folder that records are kept in step with.

use std::future::Future;

use leptos::prelude::*;
use uuid::Uuid;
use wasm_bindgen_futures::spawn_local;

use super::browser::clock;
use super::browser::dav::{self, Dav, Stop};
use super::browser::outbox::Waiting;
use super::browser::share::{self, Parts, ShareError, Shared};
use super::parts;
use super::shop::Shop;
use crate::folder::{self, Local, Memory, basic_authorization, bring_into_step, folder_address};
use crate::record::{AirframeId, Digest, Entry, EntryId, Ledger, Photo};
use crate::report::{RecordFile, Sent, photos_of, read_sent, sent_text, when};

/// Where what is set of the folder is kept, beside half-typed readings: its address, the name, and the password if the person wants it
/// kept, a line each.
const PLACE: &str = "folder";
/// Where what is remembered of the folder is kept: its address, when it was last in step, and the library's memory.
const MEMORY: &str = "folder-memory";

/// The shared state. Copied freely; every signal lives as long as the app.
#[derive(Clone, Copy)]
pub(crate) struct Sending {
    /// The device has a network, by its own word.
    pub(crate) online: RwSignal<bool>,
    /// The network came back and nothing was sent since.
    pub(crate) back: RwSignal<bool>,
    /// The files that wait, the oldest first.
    pub(crate) waiting: RwSignal<Vec<Waiting>>,
    /// What became of the last file that was sent from the outbox.
    pub(crate) sent: RwSignal<String>,
    /// The folder's address as it was typed; empty for none.
    pub(crate) address: RwSignal<String>,
    /// Who asks there.
    pub(crate) name: RwSignal<String>,
    /// The password is kept on this phone.
    pub(crate) keep: RwSignal<bool>,
    /// Its password: on this phone only if that was asked for, else until the app is closed.
    pub(crate) password: RwSignal<String>,
    /// Bringing into step is under way.
    pub(crate) busy: RwSignal<bool>,
    /// What became of it, a sentence each.
    pub(crate) said: RwSignal<Vec<String>>,
    stop: StoredValue<Stop, LocalStorage>,
    /// What is set of the folder was read.
    placed: StoredValue<bool>,
}

/// What is remembered of the folder.
#[derive(Default)]
struct Remembered {
    /// When it was last in step, in words.
    last: String,
    memory: Memory,
}

impl Sending {
    /// Makes the state.
    pub(crate) fn new() -> Self {
        Self {
            online: RwSignal::new(dav::online()),
            back: RwSignal::new(false),
            waiting: RwSignal::new(Vec::new()),
            sent: RwSignal::new(String::new()),
            password: RwSignal::new(String::new()),
            address: RwSignal::new(String::new()),
            name: RwSignal::new(String::new()),
            keep: RwSignal::new(false),
            busy: RwSignal::new(false),
            said: RwSignal::new(Vec::new()),
            stop: StoredValue::new_local(Stop::default()),
            placed: StoredValue::new(false),
        }
    }

    /// Looks for what waits, keeps what is set, and listens for the network.
    pub(crate) fn begin(self, shop: Shop) {
        dav::listen(move |online| {
            self.online.set(online);
            self.back.set(online);
        });
        Effect::new(move |_| {
            if shop.ready.get() {
                self.read_place(shop);
                spawn_local(async move { self.look(shop).await });
            }
        });
    }

    fn read_place(self, shop: Shop) {
        self.placed.set_value(true);
        let Some(kept) = shop.draft(PLACE) else { return };
        let mut lines = kept.split('\n').map(str::to_owned);
        self.address.set(lines.next().unwrap_or_default());
        self.name.set(lines.next().unwrap_or_default());
        let password = lines.next();
        self.keep.set(password.is_some());
        self.password.set(password.unwrap_or_default());
    }

    /// Keeps what is set of the folder, once what was kept before has been read; the password only where that was asked for.
    pub(crate) fn keep_place(self, shop: Shop) {
        let mut text = format!("{}\n{}", self.address.get(), self.name.get());
        let password = self.password.get();
        if self.keep.get() {
            text.push('\n');
            text.push_str(&password);
        }
        if self.placed.get_value() {
            shop.put_draft(PLACE.to_owned(), text);
        }
    }

    /// A folder was named.
    pub(crate) fn has_folder(self) -> bool {
        self.address.with(|address| !address.trim().is_empty())
    }

    /// Looks what waits.
    async fn look(self, shop: Shop) {
        if let Some(db) = shop.db()
            && let Ok(waiting) = db.waiting().await
        {
            self.waiting.set(waiting);
        }
    }

    /// Shares a file that is short enough to be made at once; else as [`Self::send_parts`].
    pub(crate) async fn send(self, shop: Shop, name: &str, mime: &str, bytes: &[u8]) -> Result<Shared, ShareError> {
        let mut file = Parts::default();
        file.push(bytes);
        self.send_parts(shop, name, mime, &file, &[]).await
    }

    /// Shares a file; without a network it is put into the outbox instead, where a share sheet would have taken it. `holds`: what of the
    /// record is elsewhere too once it was sent.
    pub(crate) async fn send_parts(
        self,
        shop: Shop,
        name: &str,
        mime: &str,
        file: &Parts,
        holds: &[Sent],
    ) -> Result<Shared, ShareError> {
        if !dav::online()
            && share::has_sheet(name, mime, file)
            && let Some(db) = shop.db()
            && db.let_wait(name, mime, file, &sent_text(holds)).await.is_ok()
        {
            self.look(shop).await;
            return Ok(Shared::Waits);
        }
        let shared = share::share_parts(name, mime, file).await;
        if shared.is_ok() {
            shop.note_sent(holds.to_vec());
        }
        shared
    }

    /// Shares the file that has waited longest. Call it from a tap.
    pub(crate) async fn send_next(self, shop: Shop) {
        let Some(file) = self.waiting.with_untracked(|waiting| waiting.first().cloned()) else { return };
        let Some(db) = shop.db() else { return };
        let parts = match db.waiting_file(&file).await {
            Ok(Some(parts)) => parts,
            Ok(None) => return self.remove(shop, file).await,
            Err(error) => return shop.trouble.set(Some(error.to_string())),
        };
        let shared = share::share_parts(&file.name, &file.mime, &parts).await;
        let gone = shared.is_ok();
        self.sent.set(share::outcome(&file.name, shared));
        if gone {
            shop.note_sent(read_sent(&file.sent));
            self.remove(shop, file).await;
        }
    }

    /// Takes a file out of the outbox.
    pub(crate) async fn remove(self, shop: Shop, file: Waiting) {
        if let Some(db) = shop.db()
            && let Err(error) = db.wait_no_more(&file).await
        {
            shop.trouble.set(Some(error.to_string()));
        }
        self.look(shop).await;
    }

    /// When the folder that is named was last in step, in words; empty for never.
    pub(crate) fn last(self, shop: Shop) -> String {
        remembered(shop, &self.address.get()).last
    }

    /// Brings the record and the folder into step, and says what became of it.
    pub(crate) async fn bring_into_step(self, shop: Shop) {
        if let Err(why) = parts::bring_into_step(self, shop).await {
            self.said.set(vec![why]);
        }
    }

    /// The same, once its part of the program is there.
    pub(super) async fn step_with_folder(self, shop: Shop) {
        if self.busy.get_untracked() {
            return;
        }
        if !shop.writes.get_untracked() {
            return self.said.set(vec![folder::other_tab().to_owned()]);
        }
        let place = self.address.get_untracked();
        let way = folder_address(&place).and_then(|address| {
            let (name, password) = (self.name.get_untracked(), self.password.get_untracked());
            let authorization = basic_authorization(name.trim(), &password)?;
            Ok((address, authorization))
        });
        let (address, authorization) = match way {
            Ok(way) => way,
            Err(why) => return self.said.set(vec![why.to_string()]),
        };
        self.busy.set(true);
        self.said.set(vec![folder::asking().to_owned()]);
        let stop = Stop::default();
        self.stop.set_value(stop.clone());
        let mut known = remembered(shop, &place);
        // What is made meanwhile may come too late.
        let made = Phone(shop).ids();
        let outcome = bring_into_step(&Dav { address, authorization, stop }, &Phone(shop), &mut known.memory).await;
        let words = match outcome {
            Ok(outcome) => {
                known.last = when(&clock::now());
                self.back.set(false);
                if let Some(db) = shop.db() {
                    shop.note_file(made, db.photo_keys().await.unwrap_or_default()).await;
                }
                outcome.words()
            }
            Err(trouble) => vec![trouble.to_string()],
        };
        shop.put_draft(MEMORY.to_owned(), format!("{place}\n{}\n{}", known.last, known.memory));
        self.said.set(words);
        self.busy.set(false);
    }

    /// Gives up what is under way.
    pub(crate) fn stop(self) {
        self.stop.with_value(Stop::now);
    }
}

/// What is remembered of a folder; nothing of another one.
fn remembered(shop: Shop, address: &str) -> Remembered {
    let kept = shop.draft(MEMORY).unwrap_or_default();
    let mut parts = kept.splitn(3, '\n');
    match (parts.next(), parts.next(), parts.next()) {
        (Some(of), Some(last), Some(memory)) if of == address => {
            Remembered { last: last.to_owned(), memory: Memory::read(memory) }
        }
        _ => Remembered::default(),
    }
}

/// This phone, as the folder's library sees it. Invented airframes stay here.
struct Phone(Shop);

impl Phone {
    /// Every entry that belongs into the folder.
    fn ids(&self) -> Vec<EntryId> {
        let airframes = self.airframes();
        let ids = |ledger: &Ledger| {
            airframes.iter().flat_map(|airframe| ledger.of(*airframe).map(|entry| entry.id)).collect()
        };
        self.0.ledger.with_untracked(ids)
    }
}

impl Local for Phone {
    fn device(&self) -> Uuid {
        self.0.settings.with_untracked(|settings| settings.device)
    }

    fn airframes(&self) -> Vec<AirframeId> {
        let airframes = self.0.ledger.with_untracked(Ledger::airframes);
        airframes.iter().filter(|airframe| !airframe.details.invented).map(|airframe| airframe.id).collect()
    }

    fn entries(&self, airframe: AirframeId) -> Vec<Entry> {
        self.0.ledger.with_untracked(|ledger| ledger.of(airframe).cloned().collect())
    }

    fn merge(&self, entries: Vec<Entry>) -> impl Future<Output = Result<usize, String>> {
        let shop = self.0;
        async move {
            let merged = shop.import(RecordFile { entries, ..RecordFile::default() }).await;
            merged.map(|merged| merged.added.len()).map_err(|error| error.to_string())
        }
    }

    fn photos(&self) -> impl Future<Output = Result<Vec<(Photo, bool)>, String>> {
        let named = self.0.ledger.with_untracked(|ledger| photos_of(ledger, &self.airframes()));
        let db = self.0.db();
        async move {
            let Some(db) = db else { return Ok(Vec::new()) };
            let here = db.photo_keys().await.map_err(|error| error.to_string())?;
            Ok(named
                .into_iter()
                .map(|photo| (here.contains(&photo.digest), photo))
                .map(|(here, photo)| (photo, here))
                .collect())
        }
    }

    fn photo(&self, digest: Digest) -> impl Future<Output = Result<Option<Vec<u8>>, String>> {
        let db = self.0.db();
        async move {
            let Some(db) = db else { return Ok(None) };
            db.photo(digest).await.map_err(|error| error.to_string())
        }
    }

    fn keep_photo(&self, digest: Digest, jpeg: Vec<u8>) -> impl Future<Output = Result<(), String>> {
        let shop = self.0;
        async move {
            let photo = RecordFile { photos: vec![(digest, jpeg)], ..RecordFile::default() };
            shop.import(photo).await.map(drop).map_err(|error| error.to_string())
        }
    }
}
