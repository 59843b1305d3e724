//! The words that were taught on this phone.

use leptos::prelude::Set;
use wasm_bindgen_futures::spawn_local;

use super::shop::Shop;

/// What is kept; empty where nothing is, or nothing can be read.
pub(crate) async fn read(shop: Shop) -> Vec<u8> {
    let Some(db) = shop.db() else { return Vec::new() };
    db.taught().await.unwrap_or_default()
}

/// Keeps what was taught; what cannot be stored is said on every page.
pub(crate) fn keep(shop: Shop, bytes: Vec<u8>) {
    let Some(db) = shop.db() else { return };
    spawn_local(async move {
        if let Err(error) = db.keep_taught(&bytes).await {
            shop.trouble.set(Some(error.to_string()));
        }
    });
}
