//! A second copy of the entries, in the cache storage: a browser that finds its database broken throws it away, with all that it held.
//!
//! Cache `trammel-copy`. A piece is a response of some entries, the JSON of one in each line, in the order in which they came; its address ends
//! with the first one's id, the last one's, how many bytes and how many entries. What is in two pieces does no harm: an entry is known by its id.
//!
//! Nothing waits for this copy, and where it cannot be made the app is as it was without it.

use std::cell::RefCell;
use std::slice;

use wasm_bindgen::JsValue;

use super::{clock, js};

const NAME: &str = "trammel-copy";
/// What is kept one by one is written again with the next, until it is this many.
const TAIL: usize = 100;
/// No piece holds more.
const AT_MOST: usize = 5000;

/// An entry's id and its JSON.
type Row = (String, String);

/// What was kept one by one since the last full piece, and where the piece of it lies.
#[derive(Default)]
struct Latest {
    rows: Vec<Row>,
    lies: Option<String>,
}

thread_local! {
    static LATEST: RefCell<Latest> = RefCell::default();
}

/// The copy, where this browser has one.
pub struct Copy {
    cache: JsValue,
}

impl Copy {
    /// Opens it, and makes it on the first visit.
    pub async fn open() -> Option<Self> {
        let cache = js::call_async(&js::global("caches")?, "open", &[&JsValue::from_str(NAME)]).await.ok()?;
        Some(Self { cache })
    }

    /// Adds what was just kept.
    pub async fn add(&self, rows: Vec<Row>) {
        if rows.len() > TAIL {
            for piece in rows.chunks(AT_MOST) {
                self.put(&address(piece), piece).await;
            }
            return;
        }
        let (together, before) = LATEST.with_borrow_mut(|latest| {
            latest.rows.extend(rows);
            let (together, before) = (latest.rows.clone(), latest.lies.clone());
            if together.len() >= TAIL {
                *latest = Latest::default();
            }
            (together, before)
        });
        let there = address(&together);
        if !self.put(&there, &together).await {
            return;
        }
        // The piece that has less goes once the one that has more is there.
        if let Some(before) = before.filter(|before| *before != there) {
            self.delete(&JsValue::from_str(&before)).await;
        }
        LATEST.with_borrow_mut(|latest| {
            if latest.rows.len() >= together.len() {
                latest.lies = Some(there);
            }
        });
    }

    /// In how many pieces how many entries are.
    pub async fn size(&self) -> (usize, usize) {
        let pieces = self.pieces().await;
        let entries =
            pieces.iter().filter_map(|piece| js::text(piece, "url")?.rsplit('/').next()?.parse::<usize>().ok());
        (pieces.len(), entries.sum())
    }

    /// The JSON of every entry, and whether every piece could be read.
    pub async fn read(&self) -> (Vec<String>, bool) {
        let (mut found, mut whole) = (Vec::new(), true);
        for piece in self.pieces().await {
            let response = js::call_async(&self.cache, "match", &[&piece]).await.unwrap_or_default();
            match js::call_async(&response, "text", &[]).await.ok().and_then(|text| text.as_string()) {
                Some(text) => found.extend(text.lines().map(str::to_owned)),
                None => whole = false,
            }
        }
        (found, whole)
    }

    /// Makes it of these rows and nothing else, in few pieces; one that is there already is left alone. The rows are asked for once it is known
    /// what there is: what is kept meanwhile is in a piece that nobody deletes.
    pub async fn make_anew(&self, rows: impl FnOnce() -> Vec<Row>) {
        let old = self.pieces().await;
        let rows = rows();
        let mut kept = Vec::new();
        for piece in rows.chunks(AT_MOST) {
            let there = address(piece);
            let known = old.iter().any(|old| lies(old, slice::from_ref(&there)));
            if !known && !self.put(&there, piece).await {
                return;
            }
            kept.push(there);
            clock::pause().await;
        }
        for old in old.iter().filter(|old| !lies(old, &kept)) {
            self.delete(old).await;
        }
        LATEST.take();
    }

    async fn pieces(&self) -> Vec<JsValue> {
        let keys = js::call_async(&self.cache, "keys", &[]).await;
        keys.map(|keys| js_sys::Array::from(&keys).to_vec()).unwrap_or_default()
    }

    async fn put(&self, address: &str, rows: &[Row]) -> bool {
        let lines: Vec<&str> = rows.iter().map(|(_, text)| text.as_str()).collect();
        let Ok(response) = js::construct("Response", &[&JsValue::from_str(&lines.join("\n"))]) else { return false };
        js::call_async(&self.cache, "put", &[&JsValue::from_str(address), &response]).await.is_ok()
    }

    async fn delete(&self, piece: &JsValue) {
        drop(js::call_async(&self.cache, "delete", &[piece]).await);
    }
}

/// Whether a piece lies at one of these addresses.
fn lies(piece: &JsValue, addresses: &[String]) -> bool {
    js::text(piece, "url").is_some_and(|url| addresses.iter().any(|address| url.ends_with(address)))
}

fn address(rows: &[Row]) -> String {
    let id = |row: Option<&Row>| row.map(|(id, _)| id.clone()).unwrap_or_default();
    let bytes: usize = rows.iter().map(|(_, text)| text.len()).sum();
    format!("/copy/{}/{}/{bytes}/{}", id(rows.first()), id(rows.last()), rows.len())
}
