//! Sending a file on: through the platform's share sheet where there is one, else as a download.

use core::fmt;

use js_sys::{Array, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{HtmlElement, Url};

use super::js;
use crate::folder::waits_words;
use crate::language::{tr, words};

/// How long a downloaded file's address stays valid, in milliseconds: the browser reads it after the click.
const DOWNLOAD_GRACE: u32 = 60_000;

/// Where the file went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shared {
    /// Handed to what the user chose in the share sheet.
    Sheet,
    /// Given to the browser to download.
    Downloaded,
    /// Put into the outbox: there is no network.
    Waits,
}

impl Shared {
    /// It is somewhere else than in the app.
    #[must_use]
    pub const fn left(self) -> bool {
        !matches!(self, Self::Waits)
    }
}

/// Why the file went nowhere.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ShareError {
    /// The user closed the share sheet.
    Cancelled,
    /// Neither the sheet nor the download could be started.
    Failed(String),
}

impl fmt::Display for ShareError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Cancelled => formatter.write_str(words!("Not sent.")),
            Self::Failed(reason) => {
                formatter.write_str(&tr!("This browser could neither share nor save the file: {reason}", reason))
            }
        }
    }
}

impl std::error::Error for ShareError {}

/// A file, part by part: the browser holds them, and may put them on its disk, so that a long one never stands in the app's memory.
#[derive(Clone, Debug, Default)]
pub struct Parts {
    list: Array,
    bytes: usize,
}

impl Parts {
    /// Puts bytes at the end.
    pub fn push(&mut self, bytes: &[u8]) {
        let bare: JsValue = Uint8Array::from(bytes).into();
        let part = js::construct("Blob", &[&js::list(&[&bare])]).unwrap_or(bare);
        self.list.push(&part);
        self.bytes += bytes.len();
    }

    /// Puts other parts at the end.
    pub fn append(&mut self, other: &Self) {
        other.list.iter().for_each(|part| {
            self.list.push(&part);
        });
        self.bytes += other.bytes;
    }

    /// The file as one value that a storage keeps.
    ///
    /// # Errors
    /// When the browser cannot read its parts.
    pub(super) async fn whole(&self) -> Result<JsValue, JsValue> {
        let blob = js::construct("Blob", &[&self.list])?;
        Ok(Uint8Array::new(&js::call_async(&blob, "arrayBuffer", &[]).await?).into())
    }

    /// The file that [`Self::whole`] gave.
    pub(super) fn again(whole: &JsValue) -> Self {
        let bytes = whole.dyn_ref::<Uint8Array>().map_or(0, Uint8Array::length) as usize;
        Self { list: js::list(&[whole]), bytes }
    }

    /// How many bytes it has.
    #[must_use]
    pub const fn bytes(&self) -> usize {
        self.bytes
    }
}

/// Shares a file, or downloads it where sharing is missing or refused. Call it from a tap: browsers open the share
/// sheet for nothing else.
///
/// Some engines refuse to share any type that is not on their list, and say so only after the tap is spent; JSON is not
/// on it (Web Share issues 142 and 200). So `application/json` goes into the sheet as `<name>.txt`, plain text; a
/// download keeps the name.
///
/// # Errors
/// [`ShareError::Cancelled`] when the user closed the sheet; [`ShareError::Failed`] when not even a download could
/// start.
pub async fn share_parts(name: &str, mime: &str, parts: &Parts) -> Result<Shared, ShareError> {
    match sheet(name, mime, parts).await {
        Ok(true) => return Ok(Shared::Sheet),
        Err(thrown) if js::name_of(&thrown) == "AbortError" => return Err(ShareError::Cancelled),
        Ok(false) | Err(_) => {}
    }
    download(name, mime, parts).map_err(|thrown| ShareError::Failed(js::line_of(&thrown)))?;
    Ok(Shared::Downloaded)
}

/// Whether this browser has a share sheet that takes files of this type.
pub(crate) fn has_sheet(name: &str, mime: &str, parts: &Parts) -> bool {
    prepared(name, mime, parts).is_ok_and(|data| data.is_some())
}

/// Shares through the sheet; `Ok(false)` when this browser has none for files of this type.
async fn sheet(name: &str, mime: &str, parts: &Parts) -> Result<bool, JsValue> {
    let Some((navigator, data)) = prepared(name, mime, parts)? else { return Ok(false) };
    js::call_async(&navigator, "share", &[&data]).await?;
    Ok(true)
}

/// What the sheet is handed, where there is one that takes it.
fn prepared(name: &str, mime: &str, parts: &Parts) -> Result<Option<(JsValue, JsValue)>, JsValue> {
    let (name, mime) =
        if mime == "application/json" { (format!("{name}.txt"), "text/plain") } else { (String::from(name), mime) };
    let Some(navigator) = js::global("navigator") else { return Ok(None) };
    let options = js::object(&[("type", JsValue::from_str(mime))]);
    let file = js::construct("File", &[&parts.list, &JsValue::from_str(&name), &options])?;
    let data = js::object(&[("files", js::list(&[&file]).into())]);
    let takes = js::call(&navigator, "canShare", &[&data])?.is_truthy();
    Ok(takes.then_some((navigator, data)))
}

fn download(name: &str, mime: &str, parts: &Parts) -> Result<(), JsValue> {
    let options = js::object(&[("type", JsValue::from_str(mime))]);
    let blob = js::construct("Blob", &[&parts.list, &options])?;
    let address = Url::create_object_url_with_blob(blob.unchecked_ref())?;
    let document = web_sys::window().and_then(|window| window.document()).ok_or("no document")?;
    let link: HtmlElement = document.create_element("a")?.unchecked_into();
    link.set_attribute("href", &address)?;
    link.set_attribute("download", name)?;
    document.body().ok_or("no body")?.append_child(&link)?;
    link.click();
    link.remove();
    js::after(DOWNLOAD_GRACE, move || drop(Url::revoke_object_url(&address)));
    Ok(())
}

/// What became of a file that was to be sent, in words; empty when the person thought better of it.
pub(crate) fn outcome(name: &str, sent: Result<Shared, ShareError>) -> String {
    match sent {
        Ok(Shared::Sheet) => tr!("{name} was handed over.", name),
        Ok(Shared::Downloaded) => tr!("{name} is in this phone's downloads.", name),
        Ok(Shared::Waits) => waits_words(name),
        Err(ShareError::Cancelled) => String::new(),
        Err(error) => error.to_string(),
    }
}
