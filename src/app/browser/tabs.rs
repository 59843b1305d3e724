//! What the app's tabs tell each other: which of them may write, and that entries were kept.

use std::cell::RefCell;

use js_sys::Array;
use wasm_bindgen::JsValue;

use super::js;
pub use super::writer::{ask_for_writer, hold_writer_lock};

const CHANNEL: &str = "trammel-entries";
const KIND: &str = "kind";
const COMMITTED: &str = "committed";
const RELEASE: &str = "release";

thread_local! {
    static OPEN: RefCell<Option<JsValue>> = const { RefCell::new(None) };
}

/// Tells the other tabs that these entries are kept, so that they read them. Call it after the commit.
pub fn announce(ids: &[String]) {
    let ids: Array = ids.iter().map(|id| JsValue::from_str(id)).collect();
    post(&[(KIND, JsValue::from_str(COMMITTED)), ("ids", ids.into())]);
}

/// Hears of entries that another tab has kept, by their ids.
pub fn listen(on_message: impl Fn(Vec<String>) + 'static) {
    hear(COMMITTED, move |message| {
        let ids = js::get(message, "ids").map(|ids| Array::from(&ids)).unwrap_or_default();
        on_message(ids.iter().filter_map(|id| id.as_string()).collect());
    });
}

/// Asks whichever tab writes to hand over to the tab called `to`.
pub(super) fn post_release(to: &str) {
    post(&[(KIND, JsValue::from_str(RELEASE)), ("to", JsValue::from_str(to))]);
}

/// Hears that a tab wants to write, by its name.
pub(super) fn hear_release(on_message: impl Fn(String) + 'static) {
    hear(RELEASE, move |message| on_message(js::text(message, "to").unwrap_or_default()));
}

fn post(message: &[(&str, JsValue)]) {
    if let Some(channel) = channel() {
        drop(js::call(&channel, "postMessage", &[&js::object(message)]));
    }
}

fn hear(kind: &'static str, handler: impl Fn(&JsValue) + 'static) {
    let Some(channel) = channel() else { return };
    js::on(&channel, "message", move |event| {
        if let Some(message) = js::get(&event, "data").filter(|data| js::text(data, KIND).as_deref() == Some(kind)) {
            handler(&message);
        }
    });
}

/// The page's one channel, opened at the first use; a channel does not hear itself.
fn channel() -> Option<JsValue> {
    OPEN.with_borrow_mut(|open| {
        if open.is_none() {
            *open = js::construct("BroadcastChannel", &[&JsValue::from_str(CHANNEL)]).ok();
        }
        open.clone()
    })
}
