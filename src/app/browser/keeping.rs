//! How well the phone keeps what the app stores, and whether to advise the home screen before a first entry.

use wasm_bindgen::JsValue;

use super::js;

/// What the browser says about this app's storage. `None` where it does not say.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Keeping {
    /// The browser promised not to clear it on its own when space runs short.
    pub persisted: Option<bool>,
    /// Bytes in use by this origin, roughly.
    pub usage: Option<f64>,
    /// Bytes that this origin may use, roughly.
    pub quota: Option<f64>,
}

/// What the browser says now, without asking it for anything.
pub async fn keeping() -> Keeping {
    let Some(storage) = js::navigator("storage") else { return Keeping::default() };
    let persisted = js::call_async(&storage, "persisted", &[]).await.ok().and_then(|answer| answer.as_bool());
    let estimate = js::call_async(&storage, "estimate", &[]).await.unwrap_or(JsValue::UNDEFINED);
    let bytes = |key| js::get(&estimate, key).and_then(|value| value.as_f64());
    Keeping { persisted, usage: bytes("usage"), quota: bytes("quota") }
}

/// Asks the browser to keep the storage for good, then says how things stand. Some engines put a question to the user,
/// so call it after the first entry was kept, not at the start, and let nothing wait for it. A "no" is no error.
pub async fn ask_to_keep() -> Keeping {
    if let Some(storage) = js::navigator("storage") {
        drop(js::call_async(&storage, "persist", &[]).await);
    }
    keeping().await
}

/// Where the app runs, as far as it matters for keeping data.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Platform {
    /// Opened from the home screen or installed.
    Installed,
    /// A tab on an iPhone or iPad: its storage is cleared after days without use, and what is typed here does not move
    /// to the home screen later. Advise the home screen before the first entry.
    IosTab,
    /// A tab on another phone-sized touch screen: the home screen makes the browser keep storage for longer.
    PhoneTab,
    /// Anything else.
    Other,
}

/// Whether the app was opened from the home screen, or as an installed app.
#[must_use]
pub fn installed() -> bool {
    js::navigator("standalone").is_some_and(|value| value.is_truthy())
        || ["standalone", "fullscreen", "minimal-ui"].iter().any(|mode| media(&format!("(display-mode: {mode})")))
}

/// Where the app runs. Told by what the browser can do, not by what it calls itself.
#[must_use]
pub fn platform_hint() -> Platform {
    let fingers = js::navigator("maxTouchPoints").and_then(|value| value.as_f64()).unwrap_or(0.0);
    if installed() {
        Platform::Installed
    } else if js::navigator("standalone").is_some() && fingers > 1.0 {
        // Only the engine of those phones and tablets has this property; on its desktop there is no touch.
        Platform::IosTab
    } else if fingers > 0.0 && media("(pointer: coarse)") && short_side() <= 600.0 {
        Platform::PhoneTab
    } else {
        Platform::Other
    }
}

fn media(query: &str) -> bool {
    js::call(&js_sys::global(), "matchMedia", &[&JsValue::from_str(query)])
        .is_ok_and(|list| js::get(&list, "matches").is_some_and(|value| value.is_truthy()))
}

/// The shorter side of the screen, in CSS pixels.
fn short_side() -> f64 {
    let screen = js::global("screen").unwrap_or(JsValue::UNDEFINED);
    ["width", "height"].iter().filter_map(|side| js::get(&screen, side)?.as_f64()).fold(f64::INFINITY, f64::min)
}
