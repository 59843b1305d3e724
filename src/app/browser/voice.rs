//! Words spoken by the phone (`speechSynthesis` of the Web Speech API): by a voice that is on the phone and of the app's language, or not
//! at all. A voice that is not on the phone would send what it says to its maker.

use std::cell::RefCell;

use wasm_bindgen::JsValue;

use super::js;

/// Whether the phone can speak.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Voice {
    /// This browser speaks nothing at all.
    Unsupported,
    /// Its voices have not come yet.
    #[default]
    Waiting,
    /// It has no voice on the phone for this language.
    NoneHere,
    /// It can.
    Ready,
}

/// Between breaking off one thing and beginning the next, in milliseconds: some engines swallow what follows at once, and a verdict's tone
/// is heard out.
const PAUSE: u32 = 350;
/// Voices that did not come within this many milliseconds are taken for none.
const LATE: u32 = 4000;
/// What a word takes at most, and what the engine may take to begin, in milliseconds at the usual speed. Some engines never say that they
/// have ended.
const WORD: f64 = 900.0;
const BEGIN: f64 = 4000.0;

/// What is called when all was said.
type Done = Box<dyn FnOnce()>;

/// What is being said. The utterances are kept: an engine may drop one that nobody holds, and its end with it.
struct Speaking {
    _utterances: Vec<JsValue>,
    _listening: Vec<js::Listening>,
}

#[derive(Default)]
struct Now {
    /// Goes up with everything that is said or broken off.
    turn: u32,
    speaking: Option<Speaking>,
    done: Option<Done>,
    /// What waits for the first touch: a browser speaks for nobody who has not touched the page.
    waiting: Option<(Vec<String>, f64)>,
    /// The first touch is listened for.
    listens: bool,
}

thread_local! {
    static NOW: RefCell<Now> = RefCell::default();
}

fn synthesis() -> Option<JsValue> {
    js::global("speechSynthesis")
}

/// The voice on this phone for the app's language: the one that the phone prefers, else the first.
fn voice() -> Option<JsValue> {
    let voices = js_sys::Array::from(&js::call(&synthesis()?, "getVoices", &[]).ok()?);
    let wanted = js::language();
    let fits = |voice: &JsValue| {
        let language = js::text(voice, "lang").unwrap_or_default().replace('_', "-").to_lowercase();
        let here = js::get(voice, "localService").is_some_and(|local| local.is_truthy());
        here && language.split('-').next() == wanted.split('-').next()
    };
    let mut here: Vec<JsValue> = voices.iter().filter(fits).collect();
    here.sort_by_key(|voice| {
        let exact = js::text(voice, "lang").is_some_and(|lang| lang.replace('_', "-").eq_ignore_ascii_case(&wanted));
        let preferred = js::get(voice, "default").is_some_and(|preferred| preferred.is_truthy());
        (!exact, !preferred)
    });
    here.into_iter().next()
}

/// Whether the phone can speak, as far as is known now.
#[must_use]
pub fn state() -> Voice {
    let Some(synthesis) = synthesis().filter(|_| js::global("SpeechSynthesisUtterance").is_some()) else {
        return Voice::Unsupported;
    };
    let any = js::call(&synthesis, "getVoices", &[]).is_ok_and(|all| js_sys::Array::from(&all).length() > 0);
    match (voice(), any) {
        (Some(_), _) => Voice::Ready,
        (None, true) => Voice::NoneHere,
        (None, false) => Voice::Waiting,
    }
}

/// Tells whether the phone can speak: now, when its voices come, and at last when they do not. Ends when it is dropped.
#[must_use]
pub fn watch(on: impl Fn(Voice) + Clone + 'static) -> Option<impl Sized> {
    on(state());
    let late = on.clone();
    js::after(LATE, move || {
        let state = state();
        late(if state == Voice::Waiting { Voice::NoneHere } else { state });
    });
    Some(js::Listening::new(&synthesis()?, "voiceschanged", move |_| on(state())))
}

/// Says these, one after the other, in place of whatever is being said; `speed`: 1 is the voice's own. `done` is called when all was said
/// or nothing can be, and not when it is broken off.
pub fn say(words: Vec<String>, speed: f64, done: impl FnOnce() + 'static) {
    hush();
    if words.is_empty() || state() == Voice::Unsupported {
        return done();
    }
    let turn = NOW.with_borrow_mut(|now| {
        now.done = Some(Box::new(done));
        now.turn
    });
    if js::touched() {
        js::after(PAUSE, move || begin(turn, &words, speed));
    } else {
        wait_for_a_touch(words, speed);
    }
}

/// Breaks off whatever is being said.
pub fn hush() {
    NOW.with_borrow_mut(|now| {
        now.turn += 1;
        (now.speaking, now.done, now.waiting) = (None, None, None);
    });
    if let Some(synthesis) = synthesis() {
        drop(js::call(&synthesis, "cancel", &[]));
    }
}

fn wait_for_a_touch(words: Vec<String>, speed: f64) {
    let listens = NOW.with_borrow_mut(|now| {
        now.waiting = Some((words, speed));
        std::mem::replace(&mut now.listens, true)
    });
    let document = js::global("document").filter(|_| !listens);
    for event in ["pointerup", "keydown"] {
        let Some(document) = &document else { return };
        js::on(document, event, |_| {
            let due = NOW.with_borrow_mut(|now| now.waiting.take().map(|(words, speed)| (now.turn, words, speed)));
            if let Some((turn, words, speed)) = due {
                begin(turn, &words, speed);
            }
        });
    }
}

fn begin(turn: u32, words: &[String], speed: f64) {
    if NOW.with_borrow(|now| now.turn) != turn {
        return;
    }
    let (Some(synthesis), Some(voice)) = (synthesis(), voice()) else { return finish(turn) };
    let (mut utterances, mut listening) = (Vec::new(), Vec::new());
    for (place, text) in words.iter().enumerate() {
        let Ok(utterance) = js::construct("SpeechSynthesisUtterance", &[&JsValue::from_str(text)]) else {
            return finish(turn);
        };
        js::set(&utterance, "voice", &voice);
        js::set(&utterance, "lang", &js::get(&voice, "lang").unwrap_or(JsValue::UNDEFINED));
        js::set(&utterance, "rate", &JsValue::from(speed));
        if place + 1 == words.len() {
            for event in ["end", "error"] {
                // A listener cannot be dropped while it runs.
                listening.push(js::Listening::new(&utterance, event, move |_| js::after(0, move || finish(turn))));
            }
        }
        utterances.push(utterance);
    }
    for utterance in &utterances {
        drop(js::call(&synthesis, "speak", &[utterance]));
    }
    NOW.with_borrow_mut(|now| now.speaking = Some(Speaking { _utterances: utterances, _listening: listening }));
    let count = words.iter().map(|text| text.split_whitespace().count()).sum::<usize>();
    let longest = BEGIN + WORD * count as f64 / speed.max(0.1);
    js::after(longest as u32, move || finish(turn));
}

/// All was said, or nothing can be.
fn finish(turn: u32) {
    let done = NOW.with_borrow_mut(|now| {
        if now.turn != turn {
            return None;
        }
        now.speaking = None;
        now.done.take()
    });
    if let Some(done) = done {
        done();
    }
}
