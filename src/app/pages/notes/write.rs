//! A note, typed or spoken.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::Said;
use crate::app::browser::dictate::{self, Dictation, Heard};
use crate::app::controls::{button, button_when, latch, para, part, row, says, text_field};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::language::{self, words};
use crate::record::{Body, MAX_TEXT};

/// The form.
pub(super) fn note(said: &Said) -> AnyView {
    let (shop, said) = (Shop::here(), said.clone());
    let (text, spoken) = (RwSignal::new(String::new()), RwSignal::new(false));
    let ready = move || text.with(|text| !text.trim().is_empty() && text.len() <= MAX_TEXT);
    let keep = tap(move |_| {
        let Said { airframe, about } = said.clone();
        let body =
            Body::NoteMade { about, text: text.get_untracked().trim().to_owned(), spoken: spoken.get_untracked() };
        spawn_local(async move {
            if shop.keep(airframe, vec![body]).await.is_ok() {
                text.try_set(String::new());
                spoken.try_set(false);
            }
        });
    });
    let field =
        text_field("note", "A note on this step", "The microphone of your phone's keyboard works here too.", text);
    let speak = dictate::hears().then(|| dictation(shop, text, spoken));
    part("Note", vec![field, view! { {speak} }, button_when("keep-note", "Keep the note", ready, keep)])
}

/// The button that listens. What it hears goes to the field, to be read and kept by hand.
fn dictation(shop: Shop, text: RwSignal<String>, spoken: RwSignal<bool>) -> AnyView {
    let listening = RwSignal::new(false);
    let (trouble, asks) = (RwSignal::new(String::new()), RwSignal::new(false));
    let ear = StoredValue::new_local(None::<Dictation>);
    let begin = move |local: bool| {
        let before = text.get_untracked().trim().to_owned();
        trouble.set(String::new());
        let heard = move |heard: Heard| match heard {
            Heard::Words(words) => {
                let both = if before.is_empty() { words } else { format!("{before} {words}") };
                text.try_set(both);
                spoken.try_set(true);
            }
            Heard::Refused(why) => drop(trouble.try_set(language::ours(why).to_owned())),
            Heard::Ended => {
                listening.try_set(false);
                ear.try_set_value(None);
            }
        };
        let begun = Dictation::start(local, heard);
        listening.set(begun.is_some());
        if begun.is_none() {
            trouble.set(
                words!("The browser would not listen. Type it, or use the microphone of your keyboard.").to_owned(),
            );
        }
        ear.set_value(begun);
    };
    let toggle = tap(move |_| {
        if listening.get_untracked() {
            return ear.with_value(|ear| {
                if let Some(ear) = ear {
                    ear.stop();
                }
            });
        }
        spawn_local(async move {
            let local = dictate::on_device().await;
            if listening.try_get_untracked().is_none() {
                // The page was left meanwhile.
            } else if local || shop.settings.with_untracked(|settings| settings.voice) {
                begin(local);
            } else {
                asks.try_set(true);
            }
        });
    });
    let leave = move || {
        let agreed = tap(move |_| {
            shop.settings.update(|settings| settings.voice = true);
            asks.set(false);
            begin(false);
        });
        let ways = row(vec![
            button("", "plain", "Leave it", tap(move |_| asks.set(false))),
            button("voice-agreed", "plain", "Speak", agreed),
        ]);
        let words = "Your browser may send your voice to its maker to turn it into text. The app itself sends nothing. \
                     Speak all the same?";
        asks.get().then(|| view! { <section id="voice-asks" class="notice">{para("", words)}{ways}</section> })
    };
    let state = live(move || if listening.get() { "Listening. Read it before you keep it." } else { "" });
    view! {
        {latch("speak".to_owned(), "plain", "Speak it", move || listening.get(), toggle)}
        {live(leave)}
        {says("listening", "hint", "status", state)}
        {says("voice-trouble", "refusal", "alert", live(move || trouble.get()))}
    }
}
