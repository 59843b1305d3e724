//! The files of photos: kept in the store `photos` as bytes, each under its digest; shown by an address that is given back.

use indexed_db_futures::transaction::TransactionDurability;
use js_sys::{Function, Uint8Array};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::Url;

use super::db::{Change, Db, ENTRIES, StoreError};
use super::js;
use crate::record::Digest;

const PHOTOS: &str = "photos";

impl Db {
    /// Keeps entries, each an id and its JSON, and files of photos, all in one transaction with strict durability: returns `Ok` only
    /// when the browser says that all of them are on the disk. What is there already is written again.
    ///
    /// # Errors
    /// Neither an entry nor a photo is kept then.
    pub async fn append(&self, entries: &[(String, String)], photos: &[(Digest, Vec<u8>)]) -> Result<(), StoreError> {
        let names: Vec<String> = photos.iter().map(|(digest, _)| digest.to_string()).collect();
        let mut changes = Vec::new();
        for (key, (_, bytes)) in names.iter().zip(photos) {
            changes.push(Change { store: PHOTOS, key, value: Some(Uint8Array::from(bytes.as_slice()).into()) });
        }
        for (key, value) in entries {
            changes.push(Change { store: ENTRIES, key, value: Some(JsValue::from_str(value)) });
        }
        self.change(TransactionDurability::Strict, &changes).await
    }

    /// The file of a photo; none when it is not here.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn photo(&self, digest: Digest) -> Result<Option<Vec<u8>>, StoreError> {
        self.bytes(PHOTOS, &digest.to_string()).await
    }

    /// Which photos have their files here.
    ///
    /// # Errors
    /// See [`StoreError`].
    pub async fn photo_keys(&self) -> Result<Vec<Digest>, StoreError> {
        Ok(self.keys(PHOTOS).await?.iter().filter_map(|key| key.parse().ok()).collect())
    }
}

/// An address inside this page under which a picture can be shown, until this is dropped.
#[derive(Debug)]
pub struct Picture {
    /// The address.
    pub address: String,
}

impl Picture {
    /// Of a JPEG file; none where the browser gives no address.
    #[must_use]
    pub fn of(jpeg: &[u8]) -> Option<Self> {
        let options = js::object(&[("type", JsValue::from_str("image/jpeg"))]);
        let blob = js::construct("Blob", &[&js::list(&[&Uint8Array::from(jpeg)]), &options]).ok()?;
        Some(Self { address: Url::create_object_url_with_blob(blob.unchecked_ref()).ok()? })
    }
}

impl Drop for Picture {
    fn drop(&mut self) {
        drop(Url::revoke_object_url(&self.address));
    }
}

/// Does `task` once, as soon as the element with this id comes near what is seen of the page; at once where the browser cannot tell.
pub fn when_near(id: String, task: impl FnOnce() + 'static) {
    let task = Closure::once_into_js(task).unchecked_into::<Function>();
    js::after(0, move || {
        let run = task.clone();
        let near = Closure::<dyn FnMut(js_sys::Array, JsValue)>::new(move |seen: js_sys::Array, observer: JsValue| {
            if seen.iter().any(|entry| js::get(&entry, "isIntersecting").is_some_and(|near| near.is_truthy())) {
                drop(js::call(&observer, "disconnect", &[]));
                drop(run.call0(&JsValue::NULL));
            }
        });
        let options = js::object(&[("rootMargin", JsValue::from_str("300px"))]);
        let watched = (|| {
            let element = js::call(&js::global("document")?, "getElementById", &[&JsValue::from_str(&id)]).ok()?;
            let observer = js::construct("IntersectionObserver", &[&near.into_js_value(), &options]).ok()?;
            js::call(&observer, "observe", &[&element]).ok()
        })();
        if watched.is_none() {
            drop(task.call0(&JsValue::NULL));
        }
    });
}
