//! Short tones for the verdicts, made by the browser's synthesizer: no sound file, and silence where there is none.

use std::cell::{Cell, RefCell};

use wasm_bindgen::JsValue;
use wasm_bindgen_futures::spawn_local;
use web_sys::{AudioContext, OscillatorType};

use super::js;

/// What a tone says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// In: two rising notes.
    In,
    /// Out: one low note.
    Out,
    /// Can't tell: one note in the middle.
    CantTell,
}

/// One note: hertz, and seconds.
#[derive(Clone, Copy)]
struct Note(f32, f64);

impl Tone {
    fn notes(self) -> &'static [Note] {
        match self {
            Self::In => &[Note(660.0, 0.11), Note(880.0, 0.16)],
            Self::Out => &[Note(220.0, 0.35)],
            Self::CantTell => &[Note(440.0, 0.2)],
        }
    }
}

/// Loudness of a note, as a share of full scale.
const LOUDNESS: f32 = 0.25;
/// Rise and fall of a note in seconds, so that it does not click.
const RAMP: f64 = 0.015;
/// A tone that could not start within this many milliseconds is not played late.
const LATE: f64 = 400.0;

thread_local! {
    static CONTEXT: RefCell<Option<AudioContext>> = const { RefCell::new(None) };
    static QUIET: Cell<bool> = const { Cell::new(false) };
}

/// Silences every tone from now on, or lets them sound.
pub fn quiet(quiet: bool) {
    QUIET.set(quiet);
}

/// Plays a tone, if the browser lets the page sound; the first call must follow a tap.
pub fn play(tone: Tone) {
    sound(tone.notes());
}

/// How near a value that is being stepped is to what is sought: a short note, the higher the nearer, and a longer one at the target.
/// `nearness`: 0 far off, 1 there; anything else is taken for the nearer of the two.
pub fn approach(nearness: f32) {
    let there = nearness >= 1.0;
    let nearness = if nearness.is_finite() { nearness.clamp(0.0, 1.0) } else { 0.0 };
    sound(&[Note(FAR_OFF * (AT_TARGET / FAR_OFF).powf(nearness), if there { 0.18 } else { 0.06 })]);
}

/// The notes of [`approach`], in hertz: two octaves apart, both within what a phone's speaker gives.
const FAR_OFF: f32 = 247.0;
const AT_TARGET: f32 = 988.0;

fn sound(notes: &[Note]) {
    if QUIET.get() || !js::touched() {
        return;
    }
    let Some(context) = context() else { return };
    let asked = js_sys::Date::now();
    let notes = notes.to_vec();
    spawn_local(async move {
        // Running already, or put to sleep by the browser while the app was in the background.
        let awake = js::call_async(&context, "resume", &[]).await;
        if awake.is_ok() && js_sys::Date::now() - asked < LATE {
            drop(schedule(&context, &notes));
        }
    });
}

/// The page's one audio context, made at the first use.
fn context() -> Option<AudioContext> {
    CONTEXT.with_borrow_mut(|kept| {
        if kept.is_none() {
            *kept = AudioContext::new().ok();
        }
        kept.clone()
    })
}

fn schedule(context: &AudioContext, notes: &[Note]) -> Result<(), JsValue> {
    let mut start = context.current_time() + 0.01;
    for Note(hertz, seconds) in notes {
        let end = start + seconds;
        let (oscillator, volume) = (context.create_oscillator()?, context.create_gain()?);
        // A triangle has overtones enough for a low note to be heard from a phone's small speaker.
        oscillator.set_type(OscillatorType::Triangle);
        oscillator.frequency().set_value(*hertz);
        let level = volume.gain();
        level.set_value_at_time(0.0, start)?;
        level.linear_ramp_to_value_at_time(LOUDNESS, start + RAMP)?;
        level.set_value_at_time(LOUDNESS, end - RAMP)?;
        level.linear_ramp_to_value_at_time(0.0, end)?;
        oscillator.connect_with_audio_node(&volume)?;
        volume.connect_with_audio_node(&context.destination())?;
        oscillator.start_with_when(start)?;
        oscillator.stop_with_when(end)?;
        start = end;
    }
    Ok(())
}
