//! What the phone says and sounds, and how it listens: settings that may be lost.

use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use super::browser::{tone, voice};
use crate::language::words;

/// How fast the voice speaks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Speed {
    /// Slower than the voice's own.
    Slow,
    /// The voice's own.
    #[default]
    Usual,
    /// Faster.
    Quick,
    /// Faster still, for whoever knows the words.
    Fastest,
}

impl Speed {
    /// Every speed, in the order in which they are offered.
    pub(crate) const ALL: [Self; 4] = [Self::Slow, Self::Usual, Self::Quick, Self::Fastest];

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Slow => words!("Slow"),
            Self::Usual => words!("Usual"),
            Self::Quick => words!("Quick"),
            Self::Fastest => words!("Fastest"),
        }
    }

    /// As a multiple of the voice's own.
    pub(crate) const fn rate(self) -> f64 {
        match self {
            Self::Slow => 0.8,
            Self::Usual => 1.0,
            Self::Quick => 1.25,
            Self::Fastest => 1.5,
        }
    }

    pub(crate) const fn key(self) -> &'static str {
        match self {
            Self::Slow => "slow",
            Self::Usual => "usual",
            Self::Quick => "quick",
            Self::Fastest => "fastest",
        }
    }
}

/// By what the phone listens to a number or a command.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Listening {
    /// Not by itself: the microphone key of the phone's keyboard.
    Keyboard,
    /// What the browser has.
    #[default]
    Browser,
    /// The words that were taught on this phone.
    Taught,
}

impl Listening {
    /// Every way, in the order in which they are offered.
    pub(crate) const ALL: [Self; 3] = [Self::Browser, Self::Taught, Self::Keyboard];

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Browser => words!("The browser's own listening"),
            Self::Taught => words!("The words that I taught it"),
            Self::Keyboard => words!("The microphone key of the keyboard"),
        }
    }

    pub(crate) const fn key(self) -> &'static str {
        match self {
            Self::Browser => "browser",
            Self::Taught => "taught",
            Self::Keyboard => "keyboard",
        }
    }
}

/// Voice, tones, listening.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Sound {
    /// Steps, numbers and verdicts are said.
    #[serde(default)]
    pub(crate) voice: bool,
    /// How fast.
    #[serde(default)]
    pub(crate) speed: Speed,
    /// No sound at all: no voice and no tones.
    #[serde(default)]
    pub(crate) quiet: bool,
    /// How it listens.
    #[serde(default)]
    pub(crate) listening: Listening,
    /// How many whole readings were said, of those that are taught after the words.
    #[serde(default)]
    pub(crate) phrases: usize,
}

impl Sound {
    /// Whether anything is said.
    pub(crate) const fn speaks(self) -> bool {
        self.voice && !self.quiet
    }

    /// Says these in place of whatever is being said, where the person wants that; `done` is called when all was said, at once where
    /// nothing is.
    pub(crate) fn say(self, words: Vec<String>, done: impl FnOnce() + 'static) {
        if self.speaks() { voice::say(words, self.speed.rate(), done) } else { done() }
    }

    /// What changes at once when the settings do.
    pub(crate) fn apply(self) {
        tone::quiet(self.quiet);
        if !self.speaks() {
            voice::hush();
        }
    }
}

/// Whether the phone can speak, followed as long as the page stands.
pub(crate) fn voice_state() -> RwSignal<voice::Voice> {
    let state = RwSignal::new(voice::state());
    let watching = StoredValue::new_local(voice::watch(move |now| {
        state.try_set(now);
    }));
    on_cleanup(move || {
        watching.try_update_value(|watching| drop(watching.take()));
    });
    state
}
