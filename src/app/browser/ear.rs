//! The app's own recogniser: a second program that is fetched when it is first asked for (`src/bin/hearing.rs`), and the microphone that it
//! hears with. What is heard stays in this tab.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use js_sys::{Function, Reflect, Uint8Array, Uint32Array};
use wasm_bindgen::{JsCast, JsValue};

use super::js;
use crate::hearing::Lesson;
use crate::procedure::{Deaf, Utterance};
use crate::quantity::taught::Listening;

/// What the microphone brings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Event {
    /// How loud it is now, and how loud when nobody speaks, both in decibels below full scale.
    Level(f64, f64),
    /// Somebody began to speak.
    Began,
    /// They stopped, or spoke too long: there is an utterance.
    Ended,
}

/// Every so many pieces of sound the level is told.
const LEVEL_EVERY: u32 = 5;
/// Names of the files: the worklet that hands over the sound, the recogniser's binding script and its program.
const WORKLET: &str = "ear.js";
const GLUE: &str = "hearing.js";
const PROGRAM: &str = "hearing.wasm";

/// The recogniser, with what it was taught. Dropped, it lets the microphone go.
pub struct Ear {
    context: JsValue,
    ear: JsValue,
    /// What it was to be given could not be read.
    pub unreadable: bool,
    microphone: RefCell<Option<Microphone>>,
    /// Nothing is heard: the phone itself is speaking.
    deaf: Rc<Cell<bool>>,
}

struct Microphone {
    stream: JsValue,
    source: JsValue,
    node: JsValue,
    _listening: js::Listening,
}

impl Drop for Microphone {
    fn drop(&mut self) {
        drop(js::call(&self.source, "disconnect", &[]));
        drop(js::call(&self.node, "disconnect", &[]));
        if let Ok(tracks) = js::call(&self.stream, "getTracks", &[]) {
            js_sys::Array::from(&tracks).iter().for_each(|track| drop(js::call(&track, "stop", &[])));
        }
    }
}

impl Drop for Ear {
    fn drop(&mut self) {
        self.close();
        js::call_and_forget(&self.context, "close", &[]);
        drop(js::call(&self.ear, "free", &[]));
    }
}

fn address(name: &str) -> Result<JsValue, Deaf> {
    js::beside(name).map(|address| JsValue::from_str(&address)).ok_or(Deaf::NotFetched)
}

/// The recogniser's module, started once.
async fn module() -> Result<JsValue, Deaf> {
    let missing = |_| Deaf::NotFetched;
    let module = js::call_async(&js_sys::global(), "trammelImport", &[&address(GLUE)?]).await.map_err(missing)?;
    let program = js::object(&[("module_or_path", address(PROGRAM)?)]);
    js::call_async(&module, "default", &[&program]).await.map_err(missing)?;
    Ok(module)
}

fn new(class: &JsValue, arguments: &[&JsValue]) -> Result<JsValue, JsValue> {
    let class: &Function = class.dyn_ref().ok_or(JsValue::NULL)?;
    Reflect::construct(class, &js::list(arguments))
}

impl Ear {
    /// Fetches the recogniser, where it is not kept yet, and gives it what was taught. The first call must follow a tap.
    ///
    /// # Errors
    /// When it cannot be fetched, or the browser lets no page make or hear sound.
    pub async fn open(taught: &[u8]) -> Result<Self, Deaf> {
        let context = js::construct("AudioContext", &[]).map_err(|_| Deaf::NoWorklet)?;
        let rate = js::get(&context, "sampleRate").ok_or(Deaf::NoWorklet)?;
        let class = js::get(&module().await?, "Ear").ok_or(Deaf::NotFetched)?;
        let kept = new(&class, &[&Uint8Array::from(taught), &rate]);
        let unreadable = kept.is_err();
        let ear = match kept {
            Ok(ear) => ear,
            Err(_) => new(&class, &[&Uint8Array::new_with_length(0), &rate]).map_err(|_| Deaf::Broken)?,
        };
        Ok(Self { context, ear, unreadable, microphone: RefCell::new(None), deaf: Rc::new(Cell::new(false)) })
    }

    /// Opens the microphone, raw: what a phone does to a call's sound would make each word another. `on` is called until it is closed.
    ///
    /// # Errors
    /// When the person or the browser refuses it, or there is none.
    pub async fn hear(&self, on: impl Fn(Event) + 'static) -> Result<(), Deaf> {
        let devices = js::navigator("mediaDevices").ok_or(Deaf::NoMicrophone)?;
        let raw = ["echoCancellation", "noiseSuppression", "autoGainControl"].map(|key| (key, JsValue::FALSE));
        let asked = js::object(&[("audio", js::object(&raw))]);
        let stream = js::call_async(&devices, "getUserMedia", &[&asked]).await;
        let stream = stream.map_err(|thrown| Deaf::of_microphone(&js::name_of(&thrown)))?;
        let microphone = self.wire(stream.clone(), on).await;
        if microphone.is_err()
            && let Ok(tracks) = js::call(&stream, "getTracks", &[])
        {
            js_sys::Array::from(&tracks).iter().for_each(|track| drop(js::call(&track, "stop", &[])));
        }
        self.microphone.replace(Some(microphone?));
        Ok(())
    }

    async fn wire(&self, stream: JsValue, on: impl Fn(Event) + 'static) -> Result<Microphone, Deaf> {
        let missing = |_| Deaf::NoWorklet;
        let worklet = js::get(&self.context, "audioWorklet").ok_or(Deaf::NoWorklet)?;
        js::call_async(&worklet, "addModule", &[&address(WORKLET)?]).await.map_err(missing)?;
        js::call_async(&self.context, "resume", &[]).await.map_err(missing)?;
        let options = js::object(&[("numberOfOutputs", JsValue::from(0))]);
        let name = JsValue::from_str("trammel-ear");
        let node = js::construct("AudioWorkletNode", &[&self.context, &name, &options]).map_err(missing)?;
        let source = js::call(&self.context, "createMediaStreamSource", &[&stream]).map_err(missing)?;
        js::call(&source, "connect", &[&node]).map_err(missing)?;
        let port = js::get(&node, "port").ok_or(Deaf::NoWorklet)?;
        let (ear, deaf, pieces) = (self.ear.clone(), Rc::clone(&self.deaf), Cell::new(0_u32));
        let listening = js::Listening::new(&port, "message", move |event| {
            let Some(sound) = js::get(&event, "data").filter(|_| !deaf.get()) else { return };
            let said = js::call(&ear, "push", &[&sound]).ok().and_then(|said| said.as_f64());
            pieces.set(pieces.get().wrapping_add(1));
            if pieces.get().is_multiple_of(LEVEL_EVERY) {
                let number = |method| js::call(&ear, method, &[]).ok().and_then(|it| it.as_f64()).unwrap_or(-100.0);
                on(Event::Level(number("level"), number("noise")));
            }
            match said.map(|said| said as u8) {
                Some(1) => on(Event::Began),
                Some(2 | 3) => on(Event::Ended),
                _ => {}
            }
        });
        drop(js::call(&port, "start", &[]));
        Ok(Microphone { stream, source, node, _listening: listening })
    }

    /// Lets the microphone go.
    pub fn close(&self) {
        // Its listener may be running: it is dropped once that has returned.
        if let Some(microphone) = self.microphone.take() {
            js::after(0, move || drop(microphone));
        }
    }

    /// Whether the microphone is open.
    #[must_use]
    pub fn hears(&self) -> bool {
        self.microphone.borrow().is_some()
    }

    /// Stops its ears while the phone itself speaks, or opens them.
    pub fn deafen(&self, deaf: bool) {
        self.deaf.set(deaf);
    }

    /// Waits for an utterance from now on.
    pub fn listen(&self) {
        self.deaf.set(false);
        drop(js::call(&self.ear, "listen", &[]));
    }

    /// Ends the utterance now; whether there is one.
    pub fn stop(&self) -> bool {
        js::call(&self.ear, "stop", &[]).is_ok_and(|there| there.is_truthy())
    }

    /// The utterance in the words of a vocabulary; `None` where it is like none of them.
    #[must_use]
    pub fn recognise(&self, words: &Listening) -> Option<Utterance> {
        let labels: js_sys::Array = words.labels.iter().map(|label| JsValue::from_str(label)).collect();
        let (roles, follows) = (Uint8Array::from(&words.roles[..]), Uint32Array::from(&words.follows[..]));
        let heard = js::call(&self.ear, "recognise", &[&labels, &roles, &follows]).ok()?;
        let way = |key: &str| {
            let words = js_sys::Array::from(&js::get(&heard, key)?);
            let words: Vec<String> = words.iter().filter_map(|word| word.as_string()).collect();
            (!words.is_empty()).then(|| words.join(" "))
        };
        let verdict = js::text(&heard, "verdict")?;
        let ways: Vec<String> = way("words").into_iter().chain(way("other")).collect();
        (verdict != "nothing" && !ways.is_empty()).then(|| Utterance { ways, sure: verdict == "sure", labels: true })
    }

    /// Takes the utterance for a word.
    pub fn teach(&self, word: &str) -> Lesson {
        let answer = js::call(&self.ear, "teach", &[&JsValue::from_str(word)]).ok().and_then(|it| it.as_string());
        Lesson::of(&answer.unwrap_or_default())
    }

    /// Takes the utterance for a whole reading, its words with a space between each.
    pub fn teach_phrase(&self, phrase: &str) -> Lesson {
        let words: js_sys::Array = phrase.split(' ').map(JsValue::from_str).collect();
        let answer = js::call(&self.ear, "teach_phrase", &[&words]).ok().and_then(|it| it.as_string());
        Lesson::of(&answer.unwrap_or_default())
    }

    /// Another word that the last take is nearly as like to; empty where there is none.
    #[must_use]
    pub fn closest(&self) -> String {
        js::call(&self.ear, "closest", &[]).ok().and_then(|it| it.as_string()).unwrap_or_default()
    }

    /// How many takes there are of a word.
    #[must_use]
    pub fn takes(&self, word: &str) -> u32 {
        let takes = js::call(&self.ear, "takes", &[&JsValue::from_str(word)]).ok().and_then(|it| it.as_f64());
        takes.unwrap_or_default() as u32
    }

    /// Forgets a word.
    pub fn forget(&self, word: &str) {
        drop(js::call(&self.ear, "forget", &[&JsValue::from_str(word)]));
    }

    /// Everything that was taught, as bytes to keep.
    #[must_use]
    pub fn export(&self) -> Vec<u8> {
        let bytes = js::call(&self.ear, "export", &[]).ok().and_then(|it| it.dyn_into::<Uint8Array>().ok());
        bytes.map(|bytes| bytes.to_vec()).unwrap_or_default()
    }
}
