//! Speech turned into text, where the browser does that (the Web Speech API). Many send the voice to a service of their maker: whoever
//! uses this asks before the first time, unless [`on_device`] says that it stays on the phone.

use wasm_bindgen::JsValue;

use super::js;

/// The names under which browsers have it.
const CLASSES: [&str; 2] = ["SpeechRecognition", "webkitSpeechRecognition"];

/// What comes of listening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Heard {
    /// Everything that was said since the beginning.
    Words(String),
    /// It stopped by itself or was stopped.
    Ended,
    /// It could not be done, in words.
    Refused(&'static str),
}

fn class() -> Option<&'static str> {
    CLASSES.into_iter().find(|class| js::global(class).is_some())
}

/// Whether this browser turns speech into text at all.
#[must_use]
pub fn hears() -> bool {
    class().is_some()
}

/// Whether it does so on this phone, without a network: only what says so itself is believed.
pub async fn on_device() -> bool {
    let Some(class) = class().and_then(js::global) else { return false };
    let langs = js::list(&[&language()]);
    let asked = js::object(&[("langs", langs.into()), ("processLocally", JsValue::TRUE)]);
    let answer = js::call_async(&class, "available", &[&asked]).await;
    answer.ok().and_then(|answer| answer.as_string()).as_deref() == Some("available")
}

fn language() -> JsValue {
    js::navigator("language").unwrap_or_else(|| JsValue::from_str("en"))
}

/// Listens until it is stopped or dropped.
pub struct Dictation {
    recognition: JsValue,
    _listening: [js::Listening; 3],
}

impl Dictation {
    /// Begins to listen; `local`: on the phone only. `None` where the browser cannot, or refuses at once.
    #[must_use]
    pub fn start(local: bool, on: impl Fn(Heard) + Clone + 'static) -> Option<Self> {
        let recognition = js::construct(class()?, &[]).ok()?;
        let settings =
            [("continuous", JsValue::TRUE), ("processLocally", JsValue::from_bool(local)), ("lang", language())];
        for (key, value) in settings {
            js::set(&recognition, key, &value);
        }
        let (words, failed, ended) = (on.clone(), on.clone(), on);
        let listening = [
            js::Listening::new(&recognition, "result", move |event| words(Heard::Words(said(&event)))),
            js::Listening::new(&recognition, "error", move |event| {
                if let Some(why) = why(&js::text(&event, "error").unwrap_or_default()) {
                    failed(Heard::Refused(why));
                }
            }),
            // Whoever hears of the end drops this, and a listener cannot be dropped while it runs.
            js::Listening::new(&recognition, "end", move |_| {
                let ended = ended.clone();
                js::after(0, move || ended(Heard::Ended));
            }),
        ];
        js::call(&recognition, "start", &[]).ok()?;
        Some(Self { recognition, _listening: listening })
    }

    /// Asks it to stop; what was said last still comes.
    pub fn stop(&self) {
        drop(js::call(&self.recognition, "stop", &[]));
    }
}

impl Drop for Dictation {
    fn drop(&mut self) {
        drop(js::call(&self.recognition, "abort", &[]));
    }
}

/// The likeliest words of every piece so far.
fn said(event: &JsValue) -> String {
    let Some(results) = js::get(event, "results") else { return String::new() };
    let count = js::get(&results, "length").and_then(|length| length.as_f64()).unwrap_or_default() as u32;
    let piece = |place: u32| {
        let result = js::get(&results, &place.to_string())?;
        Some(js::text(&js::get(&result, "0")?, "transcript")?.trim().to_owned())
    };
    let pieces: Vec<String> = (0..count).filter_map(piece).filter(|piece| !piece.is_empty()).collect();
    pieces.join(" ")
}

/// Why it was not done; nothing where that needs no words (nobody spoke, or it was broken off from here).
fn why(error: &str) -> Option<&'static str> {
    match error {
        "no-speech" | "aborted" => None,
        "not-allowed" | "service-not-allowed" => {
            Some("The browser may not use the microphone here. Type it, or use the microphone of your keyboard.")
        }
        "network" => Some("The browser turns speech into text only with a network, and there is none. Type it."),
        "audio-capture" => Some("No microphone was found. Type it."),
        _ => Some("The browser could not turn that into text. Type it, or try once more."),
    }
}
