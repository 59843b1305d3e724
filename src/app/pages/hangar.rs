//! The hangar: every airframe on this phone.

use crate::app::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;
use wasm_bindgen_futures::spawn_local;

use crate::app::address::{Address, Page};
use crate::app::browser::keeping::{self, Platform};
use crate::app::browser::{clock, ids, pick};
use crate::app::controls::{button, guide, link, list, para, part, says};
use crate::app::frame::still_head;
use crate::app::live::{Busy, live, tap};
use crate::app::parts;
use crate::app::shop::Shop;
use crate::language::words;
use crate::procedure::{cautions as first_cautions, example_details};
use crate::record::{AirframeDetails, AirframeId, Ledger};
use crate::report::{read_sent, unsent};

/// The list of airframes, and the ways to a first one.
pub(crate) fn hangar() -> AnyView {
    let shop = Shop::here();
    let airframes = Memo::new(move |_| {
        let airframes = shop.ledger.with(Ledger::airframes);
        airframes.into_iter().map(|airframe| (airframe.id, airframe.details)).collect::<Vec<_>>()
    });
    let cautions = move || (!shop.settings.with(|settings| settings.cautioned)).then(|| cautions(shop));
    let links = move || {
        if !shop.ready.get() {
            return para("", "Reading the record…");
        }
        let airframes = airframes.get();
        if airframes.is_empty() {
            return para("lead", "No airframe yet. Add yours, or try the app on an invented one.");
        }
        let items = airframes.into_iter().map(|(id, details)| airframe_link(id, details)).collect::<Vec<_>>();
        view! { <ul class="airframes">{items}</ul> }
    };
    let many = move || airframes.with(|airframes| airframes.len() > 1);
    let desk =
        move || many().then(|| link("desk", "plain", Address::Desk.path(), "Desk: all airframes, and what waits"));
    let mut tries = vec![para("", "Invented aircraft with invented numbers: for trying the app, never for building.")];
    tries
        .extend(example_details().into_iter().enumerate().map(|(place, details)| example_button(shop, place, details)));
    view! {
        <main class="hangar">
            {still_head("Hangar", Default::default())}
            {live(cautions)}
            {home_screen_advice(shop)}
            {live(links)}
            {unsent_yet(shop)}
            {link("new-airframe", "primary", Address::NewAirframe.path(), "Add an airframe")}
            {part("Try it with an example airframe", tries)}
            {import(shop)}
            {live(desk)}
            {link("bench", "plain", Address::Bench.path(), "Bench: a quick answer")}
            {link("", "plain", Address::Settings.path(), "Settings")}
            {guide("")}
        </main>
    }
}

fn airframe_link(id: AirframeId, details: AirframeDetails) -> AnyView {
    view! { <li><a href=Address::Of(id, Page::Overview).path() class="airframe">{model(details)}</a></li> }
}

fn model(details: AirframeDetails) -> AnyView {
    view! {
        <span class="airframe-model">{details.model}</span>
        <span class="airframe-serial">{details.serial}</span>
        {details.invented.then(|| view! { <span class="invented">{words!("invented example")}</span> })}
    }
}

fn example_button(shop: Shop, place: usize, details: AirframeDetails) -> AnyView {
    let (navigate, busy) = (use_navigate(), Busy::new());
    let make = tap(move |_| {
        if !busy.begin() {
            return;
        }
        let id = AirframeId(ids::new());
        let navigate = navigate.clone();
        spawn_local(async move {
            match parts::example(place).await {
                Err(why) => shop.trouble.set(Some(why)),
                Ok(bodies) => {
                    if shop.keep(id, bodies).await.is_ok() {
                        navigate(&Address::Of(id, Page::Overview).route(), NavigateOptions::default());
                    }
                }
            }
            busy.end();
        });
    });
    view! {
        <button id=format!("example-{place}") type="button" class="plain example" on:click=make>{model(details)}</button>
    }
}

/// The cautions, once on each phone, before anything else.
fn cautions(shop: Shop) -> AnyView {
    let read = tap(move |_| shop.settings.update(|settings| settings.cautioned = true));
    view! {
        <section id="cautions" class="cautions" aria-labelledby="cautions-heading">
            <h2 id="cautions-heading">"Before you use this"</h2>
            {list("", first_cautions())}
            {button("understood", "primary", "I have read this", read)}
        </section>
    }
}

/// Where data in a browser tab is not safe: how to put the app on the home screen, before the first entry.
fn home_screen_advice(shop: Shop) -> AnyView {
    let words = match keeping::platform_hint() {
        Platform::IosTab => {
            "On this phone a browser tab may lose its data after some days. Put Trammel on the home screen before you enter \
             anything: the share button, then “Add to Home Screen”. Data does not follow from the tab."
        }
        Platform::PhoneTab => {
            "Put Trammel on the home screen (the browser's menu, “Add to Home screen” or “Install”): it opens without a \
             network, and the phone keeps its data more surely."
        }
        Platform::Installed | Platform::Other => return ().into_any(),
    };
    let advice = move || {
        (!shop.settings.with(|settings| settings.advised)).then(|| {
            let done = tap(move |_| shop.settings.update(|settings| settings.advised = true));
            view! {
                <section id="home-screen" class="notice">
                    {para("", words)}
                    {button("", "plain", "Done, or not now", done)}
                </section>
            }
        })
    };
    view! { {live(advice)} }
}

/// After a working day that was sent nowhere: what would be lost with the phone.
fn unsent_yet(shop: Shop) -> AnyView {
    let words = Memo::new(move |_| {
        let today = clock::now().date_naive();
        shop.settings.with(|settings| shop.ledger.with(|ledger| unsent(ledger, &read_sent(&settings.sent), today)))
    });
    let shown = live(move || {
        words.get().map(|words| {
            view! {
                <section id="unsent" class="notice">
                    {para("", words)}
                    {link("keep-copy", "plain", Address::Settings.path(), "Everything in one file")}
                </section>
            }
        })
    });
    view! { {shown} }
}

/// Opens a record file that somebody sent.
fn import(shop: Shop) -> AnyView {
    let said = RwSignal::new(String::new());
    let question = RwSignal::new(String::new());
    let navigate = use_navigate();
    let choose = move |event| {
        let Some(file) = pick::chosen(&event) else { return };
        said.set(words!("Reading the file…").to_owned());
        question.set(String::new());
        let navigate = navigate.clone();
        spawn_local(async move {
            let (words, there) = parts::take_in(shop, file).await.unwrap_or_else(|refusal| (refusal, None));
            said.try_set(words);
            if let Some((address, fresh)) = there {
                if fresh {
                    navigate(&address.route(), NavigateOptions::default());
                }
                question.try_set(address.path());
            }
        });
    };
    let to_question = live(move || {
        let there = question.get();
        (!there.is_empty()).then(|| link("to-question", "primary", there, "To the question"))
    });
    let file = view! {
        <label class="plain file">
            "Choose a file"
            <input id="import" type="file" accept=".json,.txt,application/json,text/plain" on:change=choose/>
        </label>
    };
    part(
        "Open a record file",
        vec![
            para("", "It is merged with what is here. Nothing here is replaced."),
            file.into_any(),
            says("import-result", "", "status", live(move || said.get())),
            view! { {to_question} },
        ],
    )
}
