//! A step said aloud, and the ways to have it said and to hear it again.

use crate::app::prelude::*;

use super::Screen;
use crate::app::browser::voice::Voice;
use crate::app::controls::{Ears, button, group, latch, says, talk};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::app::sound::{Sound, voice_state};
use crate::procedure::{Face, Script, Told};

impl Screen {
    /// What the screen says now.
    fn script(self) -> Option<Script> {
        let (airframe, run, step, face) = (self.airframe.get()?, self.run.get()?, self.step.get()?, self.face.get()?);
        Some(Script::of(self.procedure, &airframe, &run, (&step, &face), &self.pending.get()))
    }

    /// Says the step once more.
    pub(super) fn say_again(self) {
        if let Some(script) = untrack(move || self.script()) {
            sound().say(script.all(), || ());
        }
    }

    /// Says something that is not in the step's script: a question, a refusal. Numbers in it are said as people say them.
    pub(super) fn say(self, words: &str) {
        sound().say(vec![crate::quantity::aloud(words)], || ());
    }
}

fn sound() -> Sound {
    Shop::here().settings.with_untracked(|settings| settings.sound)
}

/// Says what is new whenever the screen changes; and the keys for it.
pub(super) fn aloud(screen: Screen) -> AnyView {
    let shop = Shop::here();
    let speaks = Memo::new(move |_| shop.settings.with(|settings| settings.sound.speaks()));
    let script = Memo::new(move |_| if speaks.get() { screen.script() } else { None });
    let told = StoredValue::new(Told::default());
    Effect::new(move |_| {
        let due = script.with(|script| {
            script.as_ref().and_then(|script| told.try_update_value(|told| told.due(script))).unwrap_or_default()
        });
        if !due.is_empty() {
            shop.settings.with_untracked(|settings| settings.sound).say(due, || ());
        }
    });
    on_cleanup(crate::app::browser::voice::hush);
    let state = voice_state();
    let toggle = latch(
        "speak-steps".to_owned(),
        "plain",
        "Say it aloud",
        move || speaks.get(),
        tap(move |_| {
            let on = !speaks.get_untracked();
            if on {
                told.set_value(Told::default());
            }
            shop.settings.update(|settings| {
                settings.sound.voice = on;
                settings.sound.quiet &= !on;
            });
        }),
    );
    let again = move || {
        (speaks.get() && state.get() == Voice::Ready)
            .then(|| button("say-again", "plain", "Say again", tap(move |_| screen.say_again())))
    };
    let trouble = move || match state.get() {
        Voice::NoneHere if speaks.get() => "The phone has no voice of its own for this language: see the settings.",
        Voice::Unsupported if speaks.get() => "This browser cannot speak.",
        _ => "",
    };
    // A pad has ears of its own.
    let reads = Memo::new(move |_| screen.face.with(|face| matches!(face, Some(Face::Read { .. }))));
    let ears = move || (!reads.get()).then(|| talk(commands(screen)));
    let missing = says("voice-missing", "hint", "status", live(trouble));
    group("run-voice", vec![toggle, view! { {live(again)} }, missing, view! { {live(ears)} }])
}

/// Ears for commands, where no number is asked for.
fn commands(screen: Screen) -> Ears {
    Ears {
        asked: None,
        on_reading: Callback::new(|_| ()),
        on_sign: Callback::new(|_| ()),
        on_command: Callback::new(move |command| screen.command(command)),
        waiting: Signal::stored(None),
        unsigned: Signal::stored(false),
    }
}
