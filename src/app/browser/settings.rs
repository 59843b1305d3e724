//! Settings that may be lost: the look, the hand, the last page. Kept in local storage as JSON under `trammel.<key>`.
//!
//! Local storage loses acknowledged writes when the browser is killed, so nothing of the record belongs here.

use gloo_storage::{LocalStorage, Storage as _};
use serde::{Deserialize, Serialize};

/// The setting kept under `key`; `None` when there is none, it does not fit `T` any more, or site data are blocked.
#[must_use]
pub fn load<T: for<'de> Deserialize<'de>>(key: &str) -> Option<T> {
    if there() { LocalStorage::get(full(key)).ok() } else { None }
}

/// Keeps a setting. Where that is not possible (site data blocked, storage full) it holds until the page is closed.
pub fn save<T: Serialize>(key: &str, value: &T) {
    if there() {
        drop(LocalStorage::set(full(key), value));
    }
}

/// The language that the browser is set to, as a tag of RFC 5646; empty when it does not say.
#[must_use]
pub fn browser_language() -> String {
    super::js::navigator("language").and_then(|tag| tag.as_string()).unwrap_or_default()
}

/// Starts the app anew, where a setting is read at the start alone.
pub fn start_anew() {
    if let Some(window) = web_sys::window() {
        drop(window.location().reload());
    }
}

fn full(key: &str) -> String {
    format!("trammel.{key}")
}

/// Whether there is a local storage at all: asked first, because the crate panics where the browser keeps it from this page.
fn there() -> bool {
    web_sys::window().is_some_and(|window| matches!(window.local_storage(), Ok(Some(_))))
}
