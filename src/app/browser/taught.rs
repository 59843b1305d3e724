//! What a person taught the phone's own recogniser, kept in the store `keys`: like the device's key it belongs to this phone and to no record.

use indexed_db_futures::transaction::TransactionDurability;
use js_sys::Uint8Array;

use super::db::{Change, Db, KEYS, StoreError};

const KEY: &str = "taught-words";

impl Db {
    /// The bytes that were kept last; empty when nothing is.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn taught(&self) -> Result<Vec<u8>, StoreError> {
        Ok(self.bytes(KEYS, KEY).await?.unwrap_or_default())
    }

    /// Keeps these in place of what was; none forgets.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn keep_taught(&self, bytes: &[u8]) -> Result<(), StoreError> {
        let value = (!bytes.is_empty()).then(|| Uint8Array::from(bytes).into());
        self.change(TransactionDurability::Strict, &[Change { store: KEYS, key: KEY, value }]).await
    }
}
