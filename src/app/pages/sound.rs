//! Settings of what the phone says and sounds, and by what it listens.

use crate::app::prelude::*;

use crate::app::address::Address;
use crate::app::browser::dictate;
use crate::app::browser::voice::Voice;
use crate::app::controls::{button, choice_of, link, para, part, says, tick};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::app::sound::{Listening, Speed, voice_state};
use crate::quantity::{Unit, say};

/// Voice, speed, quiet.
pub(super) fn sound(shop: Shop) -> AnyView {
    let now = shop.settings.with_untracked(|settings| settings.sound);
    let (voice, quiet) = (RwSignal::new(now.voice), RwSignal::new(now.quiet));
    let speed = RwSignal::new(now.speed.key().to_owned());
    Effect::new(move |_| {
        let (voice, quiet, speed) = (voice.get(), quiet.get(), speed.get());
        let speed = Speed::ALL.into_iter().find(|known| known.key() == speed).unwrap_or_default();
        shop.settings.update(|settings| {
            settings.sound.voice = voice;
            settings.sound.quiet = quiet;
            settings.sound.speed = speed;
        });
    });
    let state = voice_state();
    let words = live(move || voice_words(state.get()));
    let speeds = Speed::ALL.map(|speed| (speed.key().to_owned(), speed.name().to_owned())).into();
    let sample = say(227.6875, Unit::Inch, 1.0 / 16.0);
    let ready = move || voice.get() && !quiet.get() && state.get() == Voice::Ready;
    let try_it = move || {
        let sample = sample.clone();
        let hear = move |_| shop.settings.with_untracked(|settings| settings.sound).say(vec![sample.clone()], || ());
        ready().then(|| button("try-voice", "plain", "Hear it", tap(hear)))
    };
    part(
        "Voice and tones",
        vec![
            tick("voice", "Say steps, numbers and verdicts aloud", voice),
            says("voice-state", "hint", "status", words),
            choice_of("speed", "How fast it speaks", speed, speeds),
            view! { {live(try_it)} },
            tick("quiet", "Quiet: no voice and no tones", quiet),
            para("hint", "In quiet the phone still vibrates, if it can."),
        ],
    )
}

/// By what it listens, and whether the voice may leave the phone for it.
pub(super) fn listening(shop: Shop) -> AnyView {
    let now = shop.settings.with_untracked(|settings| (settings.sound.listening, settings.voice));
    let (way, away) = (RwSignal::new(now.0.key().to_owned()), RwSignal::new(now.1));
    Effect::new(move |_| {
        let (way, away) = (way.get(), away.get());
        let way = Listening::ALL.into_iter().find(|known| known.key() == way).unwrap_or_default();
        shop.settings.update(|settings| {
            settings.sound.listening = way;
            settings.voice = away;
        });
    });
    let ways = Listening::ALL.map(|way| (way.key().to_owned(), way.name().to_owned())).into();
    let words = if dictate::hears() {
        "What is heard is read back, and kept only when you say or tap that it is to be kept."
    } else {
        "This browser turns no speech into text. The microphone key of the phone's keyboard does, in the field under Say it."
    };
    part(
        "Listening",
        vec![
            choice_of("listening", "How it listens to numbers", way, ways),
            para("hint", words),
            link("teach", "plain", Address::Teach.path(), "Teach your voice"),
            tick("voice-away", "The browser may send my voice to its maker to be turned into text", away),
        ],
    )
}

/// What the phone can do about it.
fn voice_words(state: Voice) -> &'static str {
    match state {
        Voice::Ready => "It speaks with a voice that is on this phone. Nothing is sent.",
        Voice::Waiting => "Looking for a voice on this phone…",
        Voice::NoneHere => {
            "This phone has no voice of its own for this language. It can be added in the phone's settings, under text to speech. \
             Voices that work only over the network are not used."
        }
        Voice::Unsupported => "This browser cannot speak. The tones and the screen tell the same.",
    }
}
