//! A note, typed or by the keyboard's own dictation.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::Said;
use crate::app::controls::{button_when, part, text_field};
use crate::app::live::tap;
use crate::app::shop::Shop;
use crate::record::{Body, MAX_TEXT};

/// The form.
pub(super) fn note(said: &Said) -> AnyView {
    let (shop, said) = (Shop::here(), said.clone());
    let text = RwSignal::new(String::new());
    let ready = move || text.with(|text| !text.trim().is_empty() && text.len() <= MAX_TEXT);
    let keep = tap(move |_| {
        let Said { airframe, about } = said.clone();
        let body = Body::NoteMade { about, text: text.get_untracked().trim().to_owned(), spoken: false };
        spawn_local(async move {
            if shop.keep(airframe, vec![body]).await.is_ok() {
                text.try_set(String::new());
            }
        });
    });
    let field =
        text_field("note", "A note on this step", "The microphone of your phone's keyboard works here too.", text);
    part("Note", vec![field, button_when("keep-note", "Keep the note", ready, keep)])
}
