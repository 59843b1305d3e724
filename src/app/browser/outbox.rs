//! Files that wait for a network: store `outbox`, the bytes of each under a key that says when it was put there, its type, its name and what
//! of the record is elsewhere too once it was sent.

use indexed_db_futures::transaction::TransactionDurability;

use super::db::{Change, Db, OUTBOX, StoreError};
use super::ids;
use super::share::Parts;

/// A file that waits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiting {
    key: String,
    /// Its type.
    pub mime: String,
    /// Its name.
    pub name: String,
    /// What of the record is elsewhere too once it was sent, as text.
    pub sent: String,
}

impl Waiting {
    fn of(key: String) -> Option<Self> {
        let mut parts = key.splitn(4, '\n').skip(1).map(str::to_owned);
        let (mime, name) = (parts.next()?, parts.next()?);
        let sent = parts.next().unwrap_or_default();
        Some(Self { key, mime, name, sent })
    }
}

impl Db {
    /// Puts a file behind those that wait. It is on the disk when this returns.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn let_wait(&self, name: &str, mime: &str, file: &Parts, sent: &str) -> Result<(), StoreError> {
        let whole = file.whole().await.map_err(|why| StoreError::thrown(&why))?;
        let key = format!("{}\n{mime}\n{name}\n{sent}", ids::new());
        let change = Change { store: OUTBOX, key: &key, value: Some(whole) };
        self.change(TransactionDurability::Strict, &[change]).await
    }

    /// The files that wait, the oldest first.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn waiting(&self) -> Result<Vec<Waiting>, StoreError> {
        Ok(self.keys(OUTBOX).await?.into_iter().filter_map(Waiting::of).collect())
    }

    /// One as it was put there; none when it is no longer there.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn waiting_file(&self, file: &Waiting) -> Result<Option<Parts>, StoreError> {
        Ok(self.value(OUTBOX, &file.key).await?.as_ref().map(Parts::again))
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
