//! What the device signs with: an Ed25519 key of Web Crypto that never leaves the browser, kept in the store `keys`.

use indexed_db_futures::transaction::TransactionDurability;
use js_sys::{Array, Uint8Array};
use uuid::Uuid;
use wasm_bindgen::JsValue;

use super::db::{Change, DEVICE, Db, KEYS, StoreError};
use super::js;
use crate::record::{Key, Signature};

/// Under which the device's own pair lies.
const OWN: &str = "own";

impl Db {
    /// Keeps this device's name in the record beside the entries.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn name_device(&self, device: Uuid) -> Result<(), StoreError> {
        let value = Some(JsValue::from_str(&device.to_string()));
        self.change(TransactionDurability::Strict, &[Change { store: KEYS, key: DEVICE, value }]).await
    }
}

/// The device's key. The half that signs cannot be read, not even by this program.
#[derive(Clone, Debug)]
pub struct Signer {
    /// The half that everybody may see.
    pub key: Key,
    pair: JsValue,
}

impl Signer {
    /// The device's key: the one that is kept, else a new one, kept before it is used. `None` where the engine has no Ed25519 or keeps
    /// no keys.
    pub async fn of(db: &Db) -> Option<Self> {
        let pair = match db.value(KEYS, OWN).await.ok()? {
            Some(kept) => kept,
            None => {
                let uses = js::list(&[&JsValue::from_str("sign"), &JsValue::from_str("verify")]);
                let made = subtle("generateKey", &[&algorithm(), &JsValue::FALSE, &uses]).await?;
                let change = Change { store: KEYS, key: OWN, value: Some(made.clone()) };
                db.change(TransactionDurability::Strict, &[change]).await.ok()?;
                made
            }
        };
        let raw = subtle("exportKey", &[&JsValue::from_str("raw"), &js::get(&pair, "publicKey")?]).await?;
        Some(Self { key: Key::new(bytes(&raw)?), pair })
    }

    /// Signs a text; `None` when the engine does not.
    pub async fn sign(&self, text: &str) -> Option<[u8; 64]> {
        let private = js::get(&self.pair, "privateKey")?;
        bytes(&subtle("sign", &[&algorithm(), &private, &Uint8Array::from(text.as_bytes())]).await?)
    }
}

/// Whether a signature is by its key; `None` where the engine cannot tell.
pub async fn holds(signature: &Signature) -> Option<bool> {
    let key = Uint8Array::from(signature.key.bytes().as_slice());
    let uses = Array::of1(&JsValue::from_str("verify"));
    let key = subtle("importKey", &[&JsValue::from_str("raw"), &key, &algorithm(), &JsValue::FALSE, &uses]).await?;
    let (signed, text) = (Uint8Array::from(signature.bytes.as_slice()), Uint8Array::from(signature.text.as_bytes()));
    subtle("verify", &[&algorithm(), &key, &signed, &text]).await?.as_bool()
}

fn algorithm() -> JsValue {
    JsValue::from_str("Ed25519")
}

/// Calls a method of Web Crypto, which there is only where the page came over a secure way.
async fn subtle(method: &str, arguments: &[&JsValue]) -> Option<JsValue> {
    js::call_async(&js::get(&js::global("crypto")?, "subtle")?, method, arguments).await.ok()
}

fn bytes<const N: usize>(buffer: &JsValue) -> Option<[u8; N]> {
    Uint8Array::new(buffer).to_vec().try_into().ok()
}
