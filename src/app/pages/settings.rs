//! Settings of this phone, and how well it keeps things.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::send::sending;
use super::sound::{listening, sound};
use crate::app::address::Address;
use crate::app::browser;
use crate::app::browser::keeping::{self, Keeping};
use crate::app::browser::worker::WorkerState;
use crate::app::controls::{button, choice_of, link, para, part, says, text_field};
use crate::app::frame::{hangar, still_head};
use crate::app::live::{live, tap};
use crate::app::settings::Look;
use crate::app::shop::Shop;
use crate::app::tongue;
use crate::language::{self, Language, tr, words};
use crate::record::{AirframeId, Ledger};
use crate::report::{Parcel, backup_words, photos_of, storage_words};

/// What the keys of a keyboard do.
const KEYS: &str = "Page down or the right arrow goes on, page up or the left arrow goes back. Enter does what the large button says. \
                    Digits, the point, the stroke of a fraction and the minus go to the pad. Backspace takes the last one back.";

/// The page.
pub(crate) fn settings() -> AnyView {
    let shop = Shop::here();
    let now = shop.settings.get_untracked();
    let name = RwSignal::new(now.name);
    let look = RwSignal::new(now.look.key().to_owned());
    let hand = RwSignal::new(if now.left_hand { "left" } else { "right" }.to_owned());
    let keys = RwSignal::new(if now.keys_off { "off" } else { "on" }.to_owned());
    Effect::new(move |_| {
        let (name, look, hand, keys) = (name.get(), look.get(), hand.get(), keys.get());
        let look = Look::ALL.iter().find(|(_, key, _)| *key == look).map_or(Look::System, |(look, ..)| *look);
        shop.settings.update(|settings| {
            settings.name = name;
            settings.look = look;
            settings.left_hand = hand == "left";
            settings.keys_off = keys == "off";
        });
    });
    let looks = Look::ALL.iter().map(|(_, key, name)| ((*key).to_owned(), language::ours(name).to_owned())).collect();
    let offline = says("worker", "", "", live(move || worker_words(&shop.worker.get())));
    view! {
        <main>
            {still_head("Settings", hangar())}
            {text_field("name", "Who is at the phone", "Stands beside every reading.", name)}
            {choice_of("look", "Look", look, looks)}
            {choice_of("hand", "Keys for the thumb of the", hand, vec![("right".into(), words!("right hand").into()), ("left".into(), words!("left hand").into())])}
            {choice_of("keys", "Keys of a keyboard or a clicker, at a step", keys, vec![("on".into(), words!("do what is said below").into()), ("off".into(), words!("do nothing").into())])}
            {para("hint", KEYS)}
            {sound(shop)}
            {listening(shop)}
            {language_choice(shop)}
            {storage()}
            {part("Without a network", vec![offline])}
            {part("With others", vec![link("folder", "plain", Address::Folder.path(), "Folder and outbox")])}
            {everything(shop)}
            {para("hint", "Nothing leaves this phone until you send it. There is no account and no server of ours.")}
        </main>
    }
}

/// The language; the app starts anew with another one.
fn language_choice(shop: Shop) -> AnyView {
    let chosen = RwSignal::new(shop.settings.with_untracked(|settings| settings.language.clone()));
    let refusal = RwSignal::new(String::new());
    Effect::new(move |before: Option<String>| {
        let now = chosen.get();
        if before.is_some_and(|before| before != now) {
            let wanted = now.clone();
            refusal.set(String::new());
            spawn_local(async move {
                match tongue::fetch(&wanted).await {
                    Ok(()) => {
                        shop.settings.update(|settings| settings.language = wanted);
                        browser::settings::start_anew();
                    }
                    Err(why) => {
                        refusal.try_set(tr!("It has to be fetched once with a network, and could not be: {why}.", why));
                    }
                }
            });
        }
        now
    });
    let own = (String::new(), words!("As the phone").to_owned());
    let options = Language::ALL.iter().map(|language| (language.code().to_owned(), language.own_name().to_owned()));
    view! {
        {choice_of("language", "Language", chosen, [own].into_iter().chain(options).collect())}
        {says("language-refusal", "refusal", "alert", live(move || refusal.get()))}
    }
}

fn worker_words(state: &WorkerState) -> String {
    match state {
        WorkerState::Unsupported => {
            words!("This browser keeps no app files: the network is needed each time.").to_owned()
        }
        WorkerState::Installing => words!("The app's files are being kept…").to_owned(),
        WorkerState::ReadyOffline => words!("The app opens without a network.").to_owned(),
        WorkerState::UpdateReady => words!("The app opens without a network. A new version is ready.").to_owned(),
        WorkerState::Failed(why) => tr!("The app's files could not be kept: {why}", why),
    }
}

fn storage() -> AnyView {
    let health = RwSignal::new(Keeping::default());
    spawn_local(async move {
        health.try_set(keeping::keeping().await);
    });
    let ask = tap(move |_| {
        spawn_local(async move {
            health.try_set(keeping::ask_to_keep().await);
        });
    });
    let said = says("keeping", "", "", live(move || keeping_words(health.get())));
    part("Storage", vec![said, button("ask-to-keep", "plain", "Ask the browser to keep it", ask)])
}

fn keeping_words(health: Keeping) -> String {
    let bytes = |bytes: Option<f64>| bytes.map(|bytes| bytes as u64);
    storage_words(health.persisted, bytes(health.usage), bytes(health.quota))
}

/// Everything that is on this phone as one file: to keep, or to open on another phone.
fn everything(shop: Shop) -> AnyView {
    let wanted = RwSignal::new(false);
    let words = move || {
        shop.ledger.with(|ledger| {
            let airframes = ledger.airframes();
            let ids: Vec<AirframeId> = airframes.iter().map(|airframe| airframe.id).collect();
            backup_words(&airframes, ledger.len(), &photos_of(ledger, &ids))
        })
    };
    let way = move || {
        if shop.ledger.with(Ledger::is_empty) {
            ().into_any()
        } else if wanted.get() {
            sending(None, Box::new(|| Some(Parcel::Whole)))
        } else {
            button("make-all", "plain", "Make one file of everything", tap(move |_| wanted.set(true)))
        }
    };
    part(
        "Everything in one file",
        vec![
            says("everything", "", "", live(words)),
            view! { {live(way)} },
            para("hint", "On another phone, open it in the hangar: nothing there is replaced, and photos come along."),
        ],
    )
}
