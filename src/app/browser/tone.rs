//! Short tones for the verdicts, made by the browser's synthesizer: no sound file, and silence where there is none.

use std::cell::RefCell;

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
}

/// Plays a tone, if the browser lets the page sound; the first call must follow a tap.
pub fn play(tone: Tone) {
    let untouched = js::navigator("userActivation")
        .and_then(|activation| js::get(&activation, "hasBeenActive"))
        .is_some_and(|touched| touched.is_falsy());
    if untouched {
        return;
    }
    let Some(context) = context() else { return };
    let asked = js_sys::Date::now();
    spawn_local(async move {
        // Running already, or put to sleep by the browser while the app was in the background.
        let awake = js::call_async(&context, "resume", &[]).await;
        if awake.is_ok() && js_sys::Date::now() - asked < LATE {
            drop(schedule(&context, tone.notes()));
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
