//! Files of the app that are fetched when they are first asked for, and kept from then on by the service worker (`public/sw.js`).

use wasm_bindgen::JsValue;

use super::js;
use crate::language::words;

/// The text of a pack by its name, such as "de.json".
///
/// # Errors
/// When it is not kept yet and cannot be fetched: there is no network, or the host does not have it.
pub async fn text(name: &str) -> Result<String, String> {
    read(name).await.map_err(|thrown| js::line_of(&thrown))
}

async fn read(name: &str) -> Result<String, JsValue> {
    let address = JsValue::from_str(&js::beside(name).ok_or("no base address")?);
    let window = js::global("window").ok_or("no window")?;
    let options = js::object(&[("cache", JsValue::from_str("no-cache"))]);
    let response = js::call_async(&window, "fetch", &[&address, &options]).await?;
    if js::get(&response, "ok").is_none_or(|ok| !ok.is_truthy()) {
        return Err(JsValue::from_str(words!("the host does not have it")));
    }
    js::call_async(&response, "text", &[]).await?.as_string().ok_or_else(|| JsValue::from_str("no text"))
}
