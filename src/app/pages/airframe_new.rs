//! Adding an airframe.

use crate::app::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;
use wasm_bindgen_futures::spawn_local;

use crate::app::address::{Address, Page};
use crate::app::browser::{ids, keeping};
use crate::app::controls::{choice_of, says, text_field};
use crate::app::frame::{hangar, still_head};
use crate::app::live::{Busy, live};
use crate::app::shop::Shop;
use crate::language::words;
use crate::record::{AirframeDetails, AirframeId, Body, Units};

/// The form for a new airframe.
pub(crate) fn new_airframe() -> AnyView {
    let shop = Shop::here();
    let (navigate, busy) = (use_navigate(), Busy::new());
    let (model, serial) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let builder = RwSignal::new(shop.settings.with_untracked(|settings| settings.name.clone()));
    let manual = RwSignal::new(String::new());
    let units = RwSignal::new("inches".to_owned());
    let refusal = RwSignal::new("");
    let make = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if model.with(|model| model.trim().is_empty()) || builder.with(|builder| builder.trim().is_empty()) {
            refusal.set("The type and the builder's name are needed: they stand in every export.");
            return;
        }
        let trimmed = |signal: RwSignal<String>| signal.get_untracked().trim().to_owned();
        let details = AirframeDetails {
            model: trimmed(model),
            serial: trimmed(serial),
            builder: trimmed(builder),
            manual: trimmed(manual),
            units: if units.get_untracked() == "inches" { Units::Inches } else { Units::Millimetres },
            invented: false,
        };
        shop.settings.update(|settings| {
            if settings.name.is_empty() {
                settings.name.clone_from(&details.builder);
            }
        });
        if !busy.begin() {
            return;
        }
        let id = AirframeId(ids::new());
        let navigate = navigate.clone();
        spawn_local(async move {
            let kept = shop.keep(id, vec![Body::AirframeMade { details }]).await;
            busy.end();
            if kept.is_ok() {
                navigate(&Address::Of(id, Page::Overview).route(), NavigateOptions::default());
                // The browser may ask the person; nothing waits for the answer.
                keeping::ask_to_keep().await;
            }
        });
    };
    view! {
        <main>
            {still_head("New airframe", hangar())}
            <form on:submit=make>
                {text_field("model", "Type", "What the kit is called.", model)}
                {text_field("serial", "Serial or registration", "", serial)}
                {text_field("builder", "Builder", "Your name, as you sign.", builder)}
                {text_field("manual", "Manual and revision", "For example: assembly manual, revision C.", manual)}
                {choice_of("units", "The manual is written in", units, vec![("inches".into(), words!("Inches").into()), ("millimetres".into(), words!("Millimetres").into())])}
                {says("", "refusal", "alert", live(move || refusal.get()))}
                <button id="make-airframe" class="primary" type="submit">"Add to the hangar"</button>
            </form>
        </main>
    }
}
