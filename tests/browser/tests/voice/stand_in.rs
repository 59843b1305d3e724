//! A voice and a recogniser that do as a test says, put into every page before the app starts. Only Chromium's driver can do that.

use anyhow::Result;
use serde_json::{Value, json};
use trammel_browser_tests::Page;

/// A phone with one voice of its own and one that needs a network. What is said is written down; each utterance ends a moment later. The
/// page counts as touched unless `untouched` is set: the tests tap by script, which no browser takes for a finger.
const VOICE: &str = r"
window.spoken = [];
window.broken = 0;
let voices = VOICES;
let queue = [];
let changed = null;
class Utterance {
  constructor(text) { this.text = text; this.handlers = {}; }
  addEventListener(name, handler) { this.handlers[name] = handler; }
  removeEventListener(name) { delete this.handlers[name]; }
}
const synthesis = {
  getVoices: () => voices,
  speak: (it) => {
    queue.push(it);
    window.spoken.push({ text: it.text, rate: it.rate, lang: it.lang, voice: it.voice?.name ?? null });
    setTimeout(() => {
      if (queue.includes(it)) { queue = queue.filter((other) => other !== it); it.handlers.end?.({}); }
    }, 30);
  },
  cancel: () => { if (queue.length) window.broken += 1; queue = []; },
  addEventListener: (name, handler) => { changed = handler; },
  removeEventListener: () => { changed = null; },
};
window.voicesCome = (all) => { voices = all; changed?.({}); };
Object.defineProperty(window, 'speechSynthesis', { value: synthesis, configurable: true });
window.SpeechSynthesisUtterance = Utterance;
window.touched = TOUCHED;
Object.defineProperty(navigator, 'userActivation', { value: { get hasBeenActive() { return window.touched; } } });";

/// The voices of a phone.
pub(crate) fn voices(here: bool) -> Value {
    let away = json!({ "name": "Away", "lang": "en-US", "localService": false, "default": true });
    let other = json!({ "name": "Andere", "lang": "de-DE", "localService": true, "default": false });
    let own = json!({ "name": "Here", "lang": "en_GB", "localService": true, "default": false });
    if here { json!([away, other, own]) } else { json!([away, other]) }
}

/// Gives every page this voice from now on.
pub(crate) async fn give_voice(page: &Page, voices: &Value, touched: bool) -> Result<()> {
    let script = VOICE.replace("VOICES", &voices.to_string()).replace("TOUCHED", &touched.to_string());
    page.before_every_page(&format!("(() => {{ {script} }})();")).await
}

/// A recogniser. Each listening does what the next line of the script says: words that may change, words that will not, an error, the end.
/// `available` is what the browser answers about listening on the phone; null for a browser that does not know the question.
const EAR: &str = r"
window.listened = [];
window.script = SCRIPT;
class Phrase { constructor(phrase, boost) { this.phrase = phrase; this.boost = boost; } }
class Recognition {
  constructor() { this.handlers = {}; this.phrases = []; this.running = false; }
  addEventListener(name, handler) { this.handlers[name] = handler; }
  removeEventListener(name) { delete this.handlers[name]; }
  tell(name, event) { this.handlers[name]?.(event); }
  start() {
    const lines = window.script.shift() ?? [];
    if (lines === 'throws') throw new DOMException('no', 'InvalidStateError');
    this.running = true;
    window.listened.push({
      local: this.processLocally, lang: this.lang, interim: this.interimResults, ways: this.maxAlternatives,
      phrases: this.phrases.map((it) => it.phrase),
    });
    let at = 20;
    for (const [what, value] of lines) {
      at += 300;
      setTimeout(() => {
        if (!this.running) return;
        if (what === 'error') this.tell('error', { error: value });
        else if (what === 'end') { this.running = false; this.tell('end', {}); }
        else {
          const result = value.map(([transcript, confidence]) => ({ transcript, confidence }));
          result.isFinal = what === 'last';
          this.tell('result', { results: [result] });
        }
      }, at);
    }
  }
  stop() { if (this.running) { this.running = false; setTimeout(() => this.tell('end', {}), 10); } }
  abort() { this.running = false; }
}
const available = AVAILABLE;
if (available !== null) {
  Recognition.available = async (asked) => (asked.processLocally && asked.langs.length === 1 ? available : 'unavailable');
  Recognition.install = async () => { window.installed = true; return INSTALLS; };
}
window.SpeechRecognition = NONE ? undefined : Recognition;
window.webkitSpeechRecognition = undefined;
window.SpeechRecognitionPhrase = Phrase;";

/// What the recogniser of the pages is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Has {
    /// None.
    Nothing,
    /// One on the phone.
    Here,
    /// One that can be fetched, and whether that succeeds.
    Fetchable(bool),
    /// One that does not say where it listens.
    Silent,
}

/// Gives every page this recogniser from now on.
pub(crate) async fn give_ear(page: &Page, has: Has, script: &Value) -> Result<()> {
    let available = match has {
        Has::Here => json!("available"),
        Has::Fetchable(_) => json!("downloadable"),
        Has::Nothing | Has::Silent => Value::Null,
    };
    let script = EAR
        .replace("SCRIPT", &script.to_string())
        .replace("AVAILABLE", &available.to_string())
        .replace("INSTALLS", &(has == Has::Fetchable(true)).to_string())
        .replace("NONE", &(has == Has::Nothing).to_string());
    page.before_every_page(&format!("(() => {{ {script} }})();")).await
}

/// Words that will not change, each with the recogniser's confidence.
pub(crate) fn last(ways: &[(&str, f64)]) -> Value {
    json!(["last", ways])
}
