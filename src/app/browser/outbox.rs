//! Files that wait for a network: store `outbox`, the bytes of each under a key that says when it was put there, its type and its name.

use indexed_db_futures::transaction::TransactionDurability;
use js_sys::Uint8Array;

use super::db::{Change, Db, OUTBOX, StoreError};
use super::ids;

/// A file that waits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiting {
    key: String,
    /// Its type.
    pub mime: String,
    /// Its name.
    pub name: String,
}

impl Waiting {
    fn of(key: String) -> Option<Self> {
        let (_, rest) = key.split_once('\n')?;
        let (mime, name) = rest.split_once('\n')?;
        let (mime, name) = (mime.to_owned(), name.to_owned());
        Some(Self { key, mime, name })
    }
}

impl Db {
    /// Puts a file behind those that wait. It is on the disk when this returns.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn let_wait(&self, name: &str, mime: &str, bytes: &[u8]) -> Result<(), StoreError> {
        let key = format!("{}\n{mime}\n{name}", ids::new());
        let change = Change { store: OUTBOX, key: &key, value: Some(Uint8Array::from(bytes).into()) };
        self.change(TransactionDurability::Strict, &[change]).await
    }

    /// The files that wait, the oldest first.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn waiting(&self) -> Result<Vec<Waiting>, StoreError> {
        Ok(self.keys(OUTBOX).await?.into_iter().filter_map(Waiting::of).collect())
    }

    /// The bytes of one; none when it is no longer there.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn waiting_file(&self, file: &Waiting) -> Result<Option<Vec<u8>>, StoreError> {
        self.bytes(OUTBOX, &file.key).await
    }

    /// Takes one out.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn wait_no_more(&self, file: &Waiting) -> Result<(), StoreError> {
        let change = Change { store: OUTBOX, key: &file.key, value: None };
        self.change(TransactionDurability::Strict, &[change]).await
    }
}
