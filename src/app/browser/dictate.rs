//! Speech turned into text, where the browser does that (the Web Speech API). Many send the voice to a service of their maker: whoever
//! uses this asks first what [`service`] there is, and listens over a network only with the person's leave.

use wasm_bindgen::JsValue;

use super::js;
use crate::procedure::{Deaf, Utterance};

/// The names under which browsers have it.
const CLASSES: [&str; 2] = ["SpeechRecognition", "webkitSpeechRecognition"];
/// As many ways of hearing one utterance are asked for.
const WAYS: u32 = 4;
/// Below this the recogniser does not stand by what it gives (a judgement; its confidence is from 0 to 1, and 0 from many that have none).
const SURE: f64 = 0.5;
/// How much likelier the given phrases are made, on the interface's scale from 0 to 10.
const BOOST: f64 = 4.0;

/// What comes of listening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Heard {
    /// What was said since the beginning; `last` when it will not change any more.
    Words {
        /// The words.
        heard: Utterance,
        /// Whether they are the recogniser's last word.
        last: bool,
    },
    /// It stopped by itself or was stopped.
    Ended,
    /// It could not be done.
    Refused(Deaf),
}

/// What recogniser there is for the app's language.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Service {
    /// None.
    None,
    /// One on this phone.
    Here,
    /// One that can be fetched, to be on this phone.
    Fetchable,
    /// One that may send the voice away.
    Network,
}

fn class() -> Option<&'static str> {
    CLASSES.into_iter().find(|class| js::global(class).is_some())
}

/// Whether this browser turns speech into text at all.
#[must_use]
pub fn hears() -> bool {
    class().is_some()
}

/// What there is; only a browser that says that it listens on the phone is believed to.
pub async fn service() -> Service {
    let Some(class) = class().and_then(js::global) else { return Service::None };
    let answer = js::call_async(&class, "available", &[&here()]).await;
    match answer.ok().and_then(|answer| answer.as_string()).as_deref() {
        Some("available") => Service::Here,
        Some("downloadable" | "downloading") => Service::Fetchable,
        _ => Service::Network,
    }
}

/// Has the browser fetch its recogniser for the app's language. False when it did not.
pub async fn fetch() -> bool {
    let Some(class) = class().and_then(js::global) else { return false };
    let answer = js::call_async(&class, "install", &[&here()]).await;
    answer.is_ok_and(|done| done.as_bool() == Some(true))
}

/// The app's language, on the phone.
fn here() -> JsValue {
    let langs = js::list(&[&JsValue::from_str(&js::language())]);
    js::object(&[("langs", langs.into()), ("processLocally", JsValue::TRUE)])
}

/// How to listen.
#[derive(Clone, Debug, Default)]
pub struct Manner {
    /// On the phone only.
    pub local: bool,
    /// Until it is stopped, and not only to one utterance.
    pub on_and_on: bool,
    /// What is likely to be said.
    pub phrases: Vec<String>,
}

/// Listens until it is stopped or dropped.
pub struct Dictation {
    recognition: JsValue,
    _listening: [js::Listening; 3],
}

impl Dictation {
    /// Begins to listen. `None` where the browser cannot, or refuses at once.
    #[must_use]
    pub fn start(manner: &Manner, on: impl Fn(Heard) + Clone + 'static) -> Option<Self> {
        let recognition = js::construct(class()?, &[]).ok()?;
        let settings = [
            ("continuous", JsValue::from_bool(manner.on_and_on)),
            ("interimResults", JsValue::TRUE),
            ("maxAlternatives", JsValue::from(WAYS)),
            ("processLocally", JsValue::from_bool(manner.local)),
            ("lang", JsValue::from_str(&js::language())),
        ];
        for (key, value) in settings {
            js::set(&recognition, key, &value);
        }
        give(&recognition, &manner.phrases);
        let (words, failed, ended) = (on.clone(), on.clone(), on);
        let listening = [
            js::Listening::new(&recognition, "result", move |event| {
                if let Some(heard) = said(&event) {
                    words(heard);
                }
            }),
            js::Listening::new(&recognition, "error", move |event| {
                if let Some(why) = Deaf::of(&js::text(&event, "error").unwrap_or_default()) {
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

impl Dictation {
    /// Breaks off: what was said and not yet heard is lost.
    pub fn abort(&self) {
        drop(js::call(&self.recognition, "abort", &[]));
    }
}

impl Drop for Dictation {
    fn drop(&mut self) {
        self.abort();
    }
}

/// Gives the recogniser the phrases, where it takes them.
fn give(recognition: &JsValue, phrases: &[String]) {
    if js::get(recognition, "phrases").is_none() {
        return;
    }
    let made = phrases.iter().filter_map(|phrase| {
        js::construct("SpeechRecognitionPhrase", &[&JsValue::from_str(phrase), &JsValue::from(BOOST)]).ok()
    });
    let list: js_sys::Array = made.collect();
    if list.length() > 0 {
        js::set(recognition, "phrases", &list);
    }
}

/// Every piece so far, in its likeliest words; of a single piece its other ways too.
fn said(event: &JsValue) -> Option<Heard> {
    let results = js::get(event, "results")?;
    let count = |of: &JsValue| js::get(of, "length").and_then(|length| length.as_f64()).unwrap_or_default() as u32;
    let pieces: Vec<JsValue> = (0..count(&results)).filter_map(|place| js::get(&results, &place.to_string())).collect();
    let words = |piece: &JsValue, way: u32| {
        let way = js::get(piece, &way.to_string())?;
        Some(js::text(&way, "transcript")?.trim().to_owned()).filter(|words| !words.is_empty())
    };
    let joined = pieces.iter().filter_map(|piece| words(piece, 0)).collect::<Vec<_>>().join(" ");
    let mut ways = if joined.is_empty() { Vec::new() } else { vec![joined] };
    if let [only] = pieces.as_slice() {
        ways.extend((1..count(only).min(WAYS)).filter_map(|way| words(only, way)));
    }
    let confidence = |piece: &JsValue| js::get(&js::get(piece, "0")?, "confidence")?.as_f64();
    let sure = pieces.iter().filter_map(confidence).all(|confidence| confidence == 0.0 || confidence >= SURE);
    let last = pieces.iter().all(|piece| js::get(piece, "isFinal").is_none_or(|last| last.is_truthy()));
    Some(Heard::Words { heard: Utterance { ways, sure, labels: false }, last })
}
