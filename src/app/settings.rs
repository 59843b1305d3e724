//! What may be lost: the look, the hand, who is at the phone. Everything that may not be lost is an entry of the record.

use leptos::prelude::*;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::browser::{ids, settings};
use super::sound::Sound;

/// The colours of the screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Look {
    /// As the phone says.
    #[default]
    System,
    /// Ink on paper.
    Light,
    /// Chalk on slate.
    Dark,
    /// Black on white, nothing in between.
    Sunlight,
}

impl Look {
    /// Every look, in the order in which they are offered, with its key and its name.
    pub(crate) const ALL: [(Self, &'static str, &'static str); 4] = [
        (Self::System, "system", "As the phone"),
        (Self::Light, "light", "Light"),
        (Self::Dark, "dark", "Dark"),
        (Self::Sunlight, "sunlight", "Sunlight"),
    ];

    pub(crate) fn key(self) -> &'static str {
        Self::ALL.iter().find(|(look, ..)| *look == self).map_or("system", |(_, key, _)| key)
    }

    /// Its name.
    pub(crate) fn name(self) -> &'static str {
        Self::ALL.iter().find(|(look, ..)| *look == self).map_or("", |(.., name)| name)
    }

    /// The one after it, as a tap in a run goes through them.
    pub(crate) fn next(self) -> Self {
        let place = Self::ALL.iter().position(|(look, ..)| *look == self).unwrap_or_default();
        Self::ALL[(place + 1) % Self::ALL.len()].0
    }
}

/// The settings of this phone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Settings {
    /// The look.
    #[serde(default)]
    pub(crate) look: Look,
    /// Keys on the left, for the left thumb.
    #[serde(default)]
    pub(crate) left_hand: bool,
    /// Who is at the phone.
    #[serde(default)]
    pub(crate) name: String,
    /// The cautions were read on this phone.
    #[serde(default)]
    pub(crate) cautioned: bool,
    /// The advice to put the app on the home screen was put away.
    #[serde(default)]
    pub(crate) advised: bool,
    /// What of the record was sent somewhere (`crate::report::read_sent`).
    #[serde(default)]
    pub(crate) sent: String,
    /// The browser may send the voice to its maker to turn it into text.
    #[serde(default)]
    pub(crate) voice: bool,
    /// That the phone keeps turning its picture was said once.
    #[serde(default)]
    pub(crate) turning: bool,
    /// Keys of a keyboard or a clicker do nothing by themselves in a run.
    #[serde(default)]
    pub(crate) keys_off: bool,
    /// Voice, tones, listening.
    #[serde(default)]
    pub(crate) sound: Sound,
    /// The language's code; empty: as the browser says.
    #[serde(default)]
    pub(crate) language: String,
    /// This device's name in the record.
    #[serde(default = "ids::new")]
    pub(crate) device: Uuid,
}

const KEY: &str = "settings";

impl Settings {
    /// What was kept, or a fresh start.
    pub(crate) fn load() -> Self {
        settings::load(KEY).unwrap_or_else(|| {
            let fresh = Self {
                look: Look::default(),
                left_hand: false,
                name: String::new(),
                cautioned: false,
                advised: false,
                sent: String::new(),
                voice: false,
                turning: false,
                keys_off: false,
                sound: Sound::default(),
                language: String::new(),
                device: ids::new(),
            };
            settings::save(KEY, &fresh);
            fresh
        })
    }
}

/// Keeps the settings whenever they change, and shows look and hand on the document.
pub(crate) fn follow(current: RwSignal<Settings>) {
    Effect::new(move |_| {
        current.with(|now| {
            settings::save(KEY, now);
            now.sound.apply();
            if let Some(root) = document().document_element() {
                let _ = root.set_attribute("data-look", now.look.key());
                let _ = root.set_attribute("data-hand", if now.left_hand { "left" } else { "right" });
            }
        });
    });
}
