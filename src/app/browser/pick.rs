//! Reading a file that the user chose.

use core::fmt;

use js_sys::Uint8Array;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Event, File, HtmlInputElement};

use super::js;
use crate::language::{tr, words};

/// Why a chosen file was not read. [`fmt::Display`] is what the screen shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PickError {
    /// The file has more bytes than the limit; it was not read.
    TooLarge {
        /// Bytes in the file.
        size: u64,
        /// Bytes allowed.
        limit: u64,
    },
    /// The bytes are not UTF-8 text.
    NotText,
    /// The browser could not read the file (moved, deleted, no permission).
    Unreadable(String),
}

impl fmt::Display for PickError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge { size, limit } => {
                let [size, limit] = [*size, *limit].map(|bytes| bytes as f64 / 1e6);
                let [size, limit] = [size, limit].map(|size| format!("{size:.1}"));
                formatter.write_str(&tr!(
                    "This file has {size} MB; a record has {limit} MB at most. It was not read.",
                    size,
                    limit
                ))
            }
            Self::NotText => {
                formatter.write_str(words!("This file is not text, so it is not a record. It was not read."))
            }
            Self::Unreadable(reason) => formatter.write_str(&tr!("This file could not be read: {reason}", reason)),
        }
    }
}

impl std::error::Error for PickError {}

/// The file just chosen, from the `change` event of an `<input type="file">`. The input is emptied, so that choosing
/// the same file again is noticed.
#[must_use]
pub fn chosen(change: &Event) -> Option<File> {
    let input: HtmlInputElement = change.target()?.dyn_into().ok()?;
    let file = input.files()?.get(0);
    input.set_value("");
    file
}

/// The text of `file`, without a byte order mark.
///
/// # Errors
/// [`PickError`]; a file above `limit` bytes is refused before any of it is read.
pub async fn read_text(file: &File, limit: u64) -> Result<String, PickError> {
    let size = file.size() as u64;
    if size > limit {
        return Err(PickError::TooLarge { size, limit });
    }
    let unreadable = |thrown: JsValue| PickError::Unreadable(js::line_of(&thrown));
    let buffer = js::call_async(file, "arrayBuffer", &[]).await.map_err(unreadable)?;
    let text = String::from_utf8(Uint8Array::new(&buffer).to_vec()).map_err(|_| PickError::NotText)?;
    Ok(text.strip_prefix('\u{feff}').map(String::from).unwrap_or(text))
}
