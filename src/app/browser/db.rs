//! The entries and the half-typed readings, in IndexedDB.
//!
//! Database `trammel`, version 2. Store `entries`: key is the entry's id, value its JSON, both strings; it only ever
//! grows. Store `drafts`: key chosen by the caller, value a string; what is being typed and is not an entry yet. Since version 2:
//! store `photos`, the bytes of each under its digest; store `keys`, this device's name, what it signs with and the words that it was taught; store `outbox`, what is to be sent
//! when there is a network.

use core::future::Future;
use std::cell::{Cell, RefCell};
use std::rc::Rc;

use indexed_db_futures::database::Database;
use indexed_db_futures::error::{Error, UnexpectedDataError};
use indexed_db_futures::internals::SystemRepr;
use indexed_db_futures::prelude::{Build, QuerySource};
use indexed_db_futures::transaction::{Transaction, TransactionDurability, TransactionMode, TransactionOptions};
use js_sys::Uint8Array;
use uuid::Uuid;
use wasm_bindgen::{JsCast, JsValue};

use super::js;
pub use super::store_error::StoreError;

const NAME: &str = "trammel";
const VERSION: u8 = 2;
pub(super) const ENTRIES: &str = "entries";
const DRAFTS: &str = "drafts";
pub(super) const KEYS: &str = "keys";
/// Under which the device's name lies in [`KEYS`].
pub(super) const DEVICE: &str = "device";
pub(super) const OUTBOX: &str = "outbox";

/// The open database. A clone is another handle on the same connection.
///
/// Phones drop the connection of an app that was in the background. An operation that finds it gone drops the dead
/// handle, opens the database again and is tried once more; all operations are such that doing them twice is harmless.
#[derive(Clone)]
pub struct Db {
    connection: Rc<RefCell<Option<Database>>>,
    /// It was open before, so that an empty one was made of nothing since.
    was_open: Rc<Cell<bool>>,
    emptied: Rc<Cell<bool>>,
    on_befall: Rc<dyn Fn(Befallen)>,
}

/// What the app starts with.
#[derive(Clone, Debug, Default)]
pub struct AtStart {
    /// All drafts as (key, text), in the order of their keys.
    pub drafts: Vec<(String, String)>,
    /// All entries as (id, JSON), in the order of their ids, which is the order of time.
    pub entries: Vec<(String, String)>,
    /// This device's name in the record, as it lies beside the entries. Local storage alone would not do: Chromium loses what was put there in
    /// the last seconds before it is killed.
    pub device: Option<Uuid>,
}

/// What befalls the database from outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Befallen {
    /// Another tab holds it in an earlier version: opening it goes on when that tab lets go.
    Held,
    /// The browser, or another tab, closed it.
    Closed,
}

/// One change to a store: something put under a key, or taken away from there.
pub(super) struct Change<'a> {
    pub(super) store: &'static str,
    pub(super) key: &'a str,
    /// `None` takes away what is there.
    pub(super) value: Option<JsValue>,
}

impl Db {
    /// Opens the database, and makes its stores on the first visit. `on_befall` hears what befalls it from then on, and while it is opened.
    ///
    /// # Errors
    /// [`StoreError::Blocked`] when the browser keeps nothing for this page, [`StoreError::NewerVersion`] when a newer
    /// version of the app has been here, and the others as the browser reports them.
    pub async fn open(on_befall: impl Fn(Befallen) + 'static) -> Result<Self, StoreError> {
        let db = Self {
            connection: Rc::default(),
            was_open: Rc::default(),
            emptied: Rc::default(),
            on_befall: Rc::new(on_befall),
        };
        db.connection().await?;
        Ok(db)
    }

    /// Whether the database was found made anew, with nothing in it, since it was open in this tab; told once.
    #[must_use]
    pub fn take_emptied(&self) -> bool {
        self.emptied.take()
    }

    /// What the app starts with, of one moment.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn at_start(&self) -> Result<AtStart, StoreError> {
        self.with_connection(async |db| read(db).await).await
    }

    /// Keeps what is half typed under `key`, with relaxed durability: cheap enough for every keystroke, survives the
    /// app being killed, may be lost with the phone's battery.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn put_draft(&self, key: &str, text: &str) -> Result<(), StoreError> {
        let change = Change { store: DRAFTS, key, value: Some(JsValue::from_str(text)) };
        self.change(TransactionDurability::Relaxed, &[change]).await
    }

    /// Removes a draft; removing one that is not there is no error.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn remove_draft(&self, key: &str) -> Result<(), StoreError> {
        self.change(TransactionDurability::Relaxed, &[Change { store: DRAFTS, key, value: None }]).await
    }

    /// Makes `changes` in one transaction, all or none: `Ok` only when the browser says that it is complete. Done twice they do no
    /// harm.
    ///
    /// # Errors
    /// Nothing is changed then.
    pub(super) async fn change(
        &self,
        durability: TransactionDurability,
        changes: &[Change<'_>],
    ) -> Result<(), StoreError> {
        if changes.is_empty() {
            return Ok(());
        }
        self.with_connection(async |db| write(db, durability, changes).await).await
    }

    /// What lies under a key of a store.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub(super) async fn value(&self, store: &'static str, key: &str) -> Result<Option<JsValue>, StoreError> {
        self.with_connection(async |db| {
            let transaction = db.transaction(store).with_mode(TransactionMode::Readonly).build()?;
            let found: Option<JsValue> = transaction.object_store(store)?.get(key.to_owned()).build()?.await?;
            Ok(found.filter(|found| !found.is_undefined()))
        })
        .await
    }

    /// The bytes that lie under a key of a store.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub(super) async fn bytes(&self, store: &'static str, key: &str) -> Result<Option<Vec<u8>>, StoreError> {
        let found = self.value(store, key).await?;
        Ok(found.and_then(|found| found.dyn_into::<Uint8Array>().ok()).map(|bytes| bytes.to_vec()))
    }

    /// The keys of a store, in their order.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub(super) async fn keys(&self, store: &'static str) -> Result<Vec<String>, StoreError> {
        self.with_connection(async |db| {
            let transaction = db.transaction(store).with_mode(TransactionMode::Readonly).build()?;
            let objects = transaction.object_store(store)?;
            let keys: Result<Vec<String>, _> = objects.get_all_keys::<String>().build()?.await?.collect();
            Ok(keys?)
        })
        .await
    }

    /// Runs `work` on the connection; when that was lost, opens a new one and runs `work` once more.
    pub(super) async fn with_connection<T>(
        &self,
        work: impl AsyncFn(&Database) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        match work(&self.connection().await?).await {
            Err(StoreError::Lost) => {
                self.disconnect();
                work(&self.connection().await?).await
            }
            outcome => outcome,
        }
    }

    /// The open connection, or a new one; a connection lost while it was being opened is tried once more.
    async fn connection(&self) -> Result<Database, StoreError> {
        if let Some(open) = self.connection.borrow().clone() {
            return Ok(open);
        }
        let opened = match self.connect().await {
            Err(StoreError::Lost) => self.connect().await?,
            outcome => outcome?,
        };
        self.was_open.set(true);
        self.forget_when_closed(&opened);
        self.connection.replace(Some(opened.clone()));
        Ok(opened)
    }

    fn disconnect(&self) {
        if let Some(dead) = self.connection.take() {
            dead.close();
        }
    }

    /// Lets go of the connection when the browser closes it, and when another tab wants to change or delete the
    /// database (a tab that held on would block that other tab for ever).
    fn forget_when_closed(&self, opened: &Database) {
        for event in ["close", "versionchange"] {
            let connection = Rc::downgrade(&self.connection);
            let on_befall = Rc::clone(&self.on_befall);
            js::on(opened.as_sys().as_ref(), event, move |event: JsValue| {
                let Some(closing) = js::get(&event, "target") else { return };
                drop(js::call(&closing, "close", &[]));
                if let Some(connection) = connection.upgrade() {
                    connection.borrow_mut().take_if(|held| AsRef::<JsValue>::as_ref(held.as_sys()) == &closing);
                }
                on_befall(Befallen::Closed);
            });
        }
    }

    fn connect(&self) -> impl Future<Output = Result<Database, StoreError>> + use<> {
        let (emptied, was_open, on_befall) =
            (Rc::clone(&self.emptied), self.was_open.get(), Rc::clone(&self.on_befall));
        let held = move |_| {
            on_befall(Befallen::Held);
            Ok(())
        };
        let opening = Database::open(NAME).with_version(VERSION).with_on_blocked(held).with_on_upgrade_needed(
            move |event, db| {
                if was_open && event.old_version() == 0.0 {
                    emptied.set(true);
                }
                let there: Vec<String> = db.object_store_names().collect();
                for store in [ENTRIES, DRAFTS, "photos", KEYS, OUTBOX]
                    .into_iter()
                    .filter(|store| !there.iter().any(|old| old == store))
                {
                    db.create_object_store(store).build()?;
                }
                Ok(())
            },
        );
        async { Ok(opening.await?) }
    }
}

/// Makes `changes` in one transaction and returns when the browser has reported it complete.
async fn write(db: &Database, durability: TransactionDurability, changes: &[Change<'_>]) -> Result<(), StoreError> {
    let mut stores: Vec<&str> = Vec::new();
    for change in changes {
        if !stores.contains(&change.store) {
            stores.push(change.store);
        }
    }
    let options = TransactionOptions::new().with_durability(durability);
    let transaction = db.transaction(stores).with_mode(TransactionMode::Readwrite).with_options(options).build()?;
    // The requests are not awaited one by one: they are made in order, and the first to fail aborts the transaction.
    for change in changes {
        let objects = transaction.object_store(change.store)?;
        match &change.value {
            Some(value) => drop(objects.put(value.clone()).with_key(change.key).build()?),
            None => drop(objects.delete::<&str, _>(change.key).build()?),
        }
    }
    committed(transaction).await
}

/// Waits until the browser has reported a transaction complete.
async fn committed(transaction: Transaction<'_>) -> Result<(), StoreError> {
    let why_aborted = transaction.as_sys().clone();
    match transaction.commit().await {
        // An abort at commit, which is how a full disk shows, has its reason only on the transaction itself.
        Err(error @ Error::MissingData(UnexpectedDataError::TransactionAborted)) => {
            Err(js::get(why_aborted.as_ref(), "error").map_or_else(|| error.into(), |why| StoreError::thrown(&why)))
        }
        outcome => Ok(outcome?),
    }
}

/// All that the app starts with, in one transaction: every request is made before the first is awaited.
async fn read(db: &Database) -> Result<AtStart, StoreError> {
    let transaction = db.transaction([ENTRIES, DRAFTS, KEYS]).with_mode(TransactionMode::Readonly).build()?;
    let [entries, drafts, keys] = [ENTRIES, DRAFTS, KEYS].map(|store| transaction.object_store(store));
    let (entries, drafts, keys) = (entries?, drafts?, keys?);
    let device = keys.get::<JsValue, _, _>(DEVICE.to_owned()).build()?;
    let mut asked = Vec::new();
    for store in [&drafts, &entries] {
        asked.push((store.get_all_keys::<String>().build()?, store.get_all::<String>().build()?));
    }
    let device: Option<JsValue> = device.await?;
    let mut found = Vec::new();
    for (keys, values) in asked {
        let keys: Result<Vec<String>, _> = keys.await?.collect();
        let values: Result<Vec<String>, _> = values.await?.collect();
        found.push(keys?.into_iter().zip(values?).collect());
    }
    let entries = found.pop().unwrap_or_default();
    let device = device.and_then(|name| name.as_string()?.parse().ok());
    Ok(AtStart { drafts: found.pop().unwrap_or_default(), entries, device })
}
