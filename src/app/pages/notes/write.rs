//! A note, typed or spoken.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::Said;
use crate::app::browser::dictate::{self, Dictation, Heard, Manner};
use crate::app::controls::{Leave, button_when, latch, leave_to_listen, part, says, text_field};
use crate::app::live::{Busy, live, tap};
use crate::app::shop::Shop;
use crate::procedure::Deaf;
use crate::record::{Body, MAX_TEXT};

/// The form.
pub(super) fn note(said: &Said) -> AnyView {
    let (shop, said) = (Shop::here(), said.clone());
    let (text, spoken, busy) = (RwSignal::new(String::new()), RwSignal::new(false), Busy::new());
    let ready = move || text.with(|text| !text.trim().is_empty() && text.len() <= MAX_TEXT);
    let keep = tap(move |_| {
        let Said { airframe, about } = said.clone();
        let body =
            Body::NoteMade { about, text: text.get_untracked().trim().to_owned(), spoken: spoken.get_untracked() };
        if !busy.begin() {
            return;
        }
        spawn_local(async move {
            let kept = shop.keep(airframe, vec![body]).await;
            busy.end();
            if kept.is_ok() {
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
    let trouble = RwSignal::new(String::new());
    let ear = StoredValue::new_local(None::<Dictation>);
    let begin = move |local: bool| {
        let before = text.get_untracked().trim().to_owned();
        trouble.set(String::new());
        let heard = move |heard: Heard| match heard {
            Heard::Words { heard, .. } => {
                let words = heard.ways.first().cloned().unwrap_or_default();
                let both = if before.is_empty() { words } else { format!("{before} {words}") };
                text.try_set(both);
                spoken.try_set(true);
            }
            Heard::Refused(why) => drop(trouble.try_set(why.to_string())),
            Heard::Ended => {
                listening.try_set(false);
                ear.try_set_value(None);
            }
        };
        let begun = Dictation::start(&Manner { local, on_and_on: true, phrases: Vec::new() }, heard);
        listening.set(begun.is_some());
        if begun.is_none() {
            trouble.set(Deaf::WouldNot.to_string());
        }
        ear.set_value(begun);
    };
    let leave = Leave::new(shop, Callback::new(begin));
    let toggle = tap(move |_| {
        if listening.get_untracked() {
            return ear.with_value(|ear| {
                if let Some(ear) = ear {
                    ear.stop();
                }
            });
        }
        leave.ask();
    });
    let state = live(move || if listening.get() { "Listening. Read it before you keep it." } else { "" });
    view! {
        {latch("speak".to_owned(), "plain", "Speak it", move || listening.get(), toggle)}
        {leave_to_listen(leave)}
        {says("listening", "hint", "status", state)}
        {says("voice-trouble", "refusal", "alert", live(move || trouble.get()))}
    }
}
