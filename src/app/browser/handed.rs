//! Files that the platform hands over: shared to the app, which the service worker puts aside (`public/sw.js`), or opened with it.

use std::cell::RefCell;

use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::spawn_local;
use web_sys::{File, Url};

use super::js;

thread_local! {
    static WAITING: RefCell<Option<File>> = const { RefCell::new(None) };
}

/// The file that waits to be opened, taken.
#[must_use]
pub fn take() -> Option<File> {
    WAITING.take()
}

/// The cache that a shared file is put in, and its address there: both under the app's own base.
fn place() -> Option<(JsValue, JsValue)> {
    let base = js::text(&js::global("document")?, "baseURI")?;
    let cache = format!("trammel {} shared", Url::new(&base).ok()?.pathname());
    Some((JsValue::from_str(&cache), JsValue::from_str(&js::beside("shared")?)))
}

/// Looks whether a file was shared that nobody has opened or left, and hears of files that are opened with the app from outside as long as
/// the page lives. `waits` is told the name of the file that waits now.
pub fn listen(waits: impl Fn(String) + Clone + 'static) {
    let wait = move |file: File| {
        let name = file.name();
        WAITING.set(Some(file));
        waits(name);
    };
    on_launch(wait.clone());
    spawn_local(async move {
        if let Some(file) = shared().await {
            wait(file);
        }
    });
}

/// The file that was shared last.
async fn shared() -> Option<File> {
    let (cache, address) = place()?;
    let options = js::object(&[("cacheName", cache)]);
    let response = js::call_async(&js::global("caches")?, "match", &[&address, &options]).await.ok()?;
    let name = js::call(&js::get(&response, "headers")?, "get", &[&JsValue::from_str("X-Name")]).ok()?.as_string()?;
    let name = js_sys::decode_uri_component(&name).ok()?;
    let blob = js::call_async(&response, "blob", &[]).await.ok()?;
    js::construct("File", &[&js::list(&[&blob]), &name]).ok()?.dyn_into().ok()
}

/// Lets go of what was put aside of the file that was shared.
pub async fn forget() {
    if let (Some((cache, _)), Some(caches)) = (place(), js::global("caches")) {
        drop(js::call_async(&caches, "delete", &[&cache]).await);
    }
}

/// Whether the service worker could not put a shared file aside. Asked once: the address forgets it.
#[must_use]
pub fn refused() -> bool {
    let refused = js::global("location").and_then(|here| js::text(&here, "hash")).as_deref() == Some("#share-failed");
    if refused && let (Some(history), Some(document)) = (js::global("history"), js::global("document")) {
        let base = js::get(&document, "baseURI").unwrap_or(JsValue::NULL);
        drop(js::call(&history, "replaceState", &[&JsValue::NULL, &JsValue::from_str(""), &base]));
    }
    refused
}

fn on_launch(opened: impl Fn(File) + Clone + 'static) {
    let Some(queue) = js::global("launchQueue") else { return };
    let consumer = Closure::<dyn FnMut(JsValue)>::new(move |launch: JsValue| {
        let handles = js::get(&launch, "files").map(|files| js_sys::Array::from(&files)).unwrap_or_default();
        for handle in handles.iter() {
            let opened = opened.clone();
            spawn_local(async move {
                let file = js::call_async(&handle, "getFile", &[]).await.ok();
                if let Some(file) = file.and_then(|file| file.dyn_into().ok()) {
                    opened(file);
                }
            });
        }
    });
    drop(js::call(&queue, "setConsumer", &[&consumer.into_js_value()]));
}
