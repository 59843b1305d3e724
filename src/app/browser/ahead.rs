//! The picture of the pad that stands on the screen before this program does (`public/ahead.js`): it is told which pad stands here, and gives
//! back the keys that were hit on it.

use js_sys::Array;
use wasm_bindgen::JsValue;

use super::js;
use crate::language::words;
use crate::quantity::Key;

/// A pad of the program, for as long as it stands: the next start may begin with a picture of it.
#[derive(Clone, Debug)]
pub struct Pictured {
    key: String,
    until: String,
}

impl Pictured {
    /// A pad stands whose draft is kept under `key`; `until`, in milliseconds since 1970, it is what the app begins with here.
    #[must_use]
    pub fn new(key: &str, until: Option<i64>, draft: &str) -> Self {
        let until = until.map(|until| until.to_string()).unwrap_or_default();
        let pad = Self { key: key.to_owned(), until };
        pad.note(draft);
        pad
    }

    /// Its draft is another.
    pub fn note(&self, draft: &str) {
        ask("at", &[&self.key, draft, &self.until, words!("Opening…")]);
    }
}

impl Drop for Pictured {
    fn drop(&mut self) {
        ask("gone", &[&self.key]);
    }
}

/// Takes the picture away and gives the keys that were hit on it, in their order; `None` when they were meant for another pad than this, or for
/// the same with something else on it.
#[must_use]
pub fn hits(key: &str, draft: &str) -> Option<Vec<Key>> {
    let hits = ask("hits", &[key, draft]).unwrap_or_else(|| Array::new().into());
    if hits.is_null() {
        return None;
    }
    let keys = Array::from(&hits).into_iter().filter_map(|key| key.as_string());
    Some(keys.filter_map(|key| meant(&key)).collect())
}

/// Takes the picture away: whatever comes now is the program's own.
pub fn leave() {
    ask("leave", &[]);
}

fn meant(key: &str) -> Option<Key> {
    Some(match key {
        "point" => Key::Point,
        "back" => Key::Back,
        "clear" => Key::Clear,
        digit => Key::Digit(digit.parse().ok()?),
    })
}

fn ask(what: &str, arguments: &[&str]) -> Option<JsValue> {
    let arguments: Vec<JsValue> = arguments.iter().map(|argument| JsValue::from_str(argument)).collect();
    js::call(&js::global("trammelAhead")?, what, &arguments.iter().collect::<Vec<_>>()).ok()
}
