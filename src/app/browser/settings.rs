//! Settings that may be lost: the look, the hand, the last page. Kept in local storage as JSON under `trammel.<key>`.
//!
//! Local storage loses acknowledged writes when the browser is killed, so nothing of the record belongs here.

use serde::Serialize;
use serde::de::DeserializeOwned;
use web_sys::Storage;

/// The setting kept under `key`; `None` when there is none, it does not fit `T` any more, or site data are blocked.
#[must_use]
pub fn load<T: DeserializeOwned>(key: &str) -> Option<T> {
    serde_json::from_str(&storage()?.get_item(&full(key)).ok()??).ok()
}

/// Keeps a setting. Where that is not possible (site data blocked, storage full) it holds until the page is closed.
pub fn save<T: Serialize>(key: &str, value: &T) {
    if let Some(storage) = storage() {
        drop(storage.set_item(&full(key), &serde_json::to_string(value).unwrap_or_default()));
    }
}

fn full(key: &str) -> String {
    format!("trammel.{key}")
}

/// Local storage; `None` where the browser keeps it from this page.
fn storage() -> Option<Storage> {
    web_sys::window()?.local_storage().ok().flatten()
}
