//! Who has a part in an airframe, named once, and who is at the phone now.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::controls::{button, choice_of, group, latch, link, para, part, says, text_field};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::language::{tr, words};
use crate::record::{Airframe, AirframeId, Person, Role, at_hand, same_person};

/// The page.
pub(crate) fn people(id: AirframeId) -> AnyView {
    let airframe = data::airframe(id);
    with_airframe(airframe, move |first| {
        view! {
            <main class="people-page">
                {still_head("People", (Address::Of(id, Page::Overview).path(), first.details.model))}
                {part("Who is at the phone now", at_the_phone(airframe))}
                {part("Somebody more", naming(id, airframe))}
            </main>
        }
    })
}

/// Everybody, each a tap to say that they are at the phone.
fn at_the_phone(airframe: Memo<Option<Airframe>>) -> Vec<AnyView> {
    let shop = Shop::here();
    let now = Memo::new(move |_| shop.settings.with(|settings| settings.name.trim().to_owned()));
    let all = move || {
        airframe.track();
        everybody(airframe)
    };
    let words = move || {
        let name = now.get();
        match (name.is_empty(), all().iter().any(|known| same_person(&known.name, &name))) {
            (true, _) => words!("Nobody. What is read now stands in the record without a name.").to_owned(),
            (false, true) => tr!("{name}. This name stands beside everything that is kept.", name),
            (false, false) => {
                tr!("{name}, who is not named below. This name stands beside everything that is kept.", name)
            }
        }
    };
    let list = move || {
        let one = |(place, person): (usize, Person)| {
            let (name, label) = (person.name.clone(), format!("{} · {}", person.name, person.role));
            let here = move || now.with(|now| same_person(now, &name));
            let take = tap(move |_| shop.settings.update(|settings| settings.name.clone_from(&person.name)));
            latch(format!("person-{place}"), "sign", label, here, take)
        };
        group("people", all().into_iter().enumerate().map(one).collect())
    };
    vec![says("at-the-phone", "lead", "status", live(words)), view! { {live(list)} }]
}

/// Everybody who has a part in it, as it stands.
pub(super) fn everybody(airframe: Memo<Option<Airframe>>) -> Vec<Person> {
    airframe.with_untracked(|airframe| airframe.as_ref().map(Airframe::everybody).unwrap_or_default())
}

/// A name and a role, typed once.
fn naming(id: AirframeId, airframe: Memo<Option<Airframe>>) -> Vec<AnyView> {
    let shop = Shop::here();
    let name = RwSignal::new(String::new());
    let role = RwSignal::new(Role::Helper.word().to_owned());
    let said = RwSignal::new(String::new());
    let roles = Role::ALL.iter().map(|role| (role.word().to_owned(), role.to_string())).collect();
    let keep = tap(move |_| {
        let Some(known) = airframe.get_untracked() else { return };
        let chosen = role.with_untracked(|role| Role::ALL.into_iter().find(|one| one.word() == role));
        match known.naming(&name.get_untracked(), chosen.unwrap_or(Role::Helper)) {
            Err(error) => said.set(error.to_string()),
            Ok(body) => spawn_local(async move {
                if shop.keep(id, vec![body]).await.is_ok() {
                    name.try_set(String::new());
                    said.try_set(words!("Named.").to_owned());
                }
            }),
        }
    });
    let hint = "Somebody who is named already gets the role that is chosen now. A hold point for a second person has to be signed by \
                somebody else than who took the readings.";
    vec![
        text_field("person-name", "Name", "As it is to stand in the record.", name),
        choice_of("role", "What they are to this airframe", role, roles),
        says("naming-said", "refusal", "status", live(move || said.get())),
        button("name-person", "primary", "Name them", keep),
        para("hint", hint),
    ]
}

/// The people between whom the phone changes hands, for the head of a page: one tap, and who is at the phone is another.
pub(super) fn hands(airframe: Memo<Option<Airframe>>) -> AnyView {
    /// How many stand beside each other on the narrowest screen.
    const MOST: usize = 3;
    let shop = Shop::here();
    let list = move || {
        let (id, all) = airframe.with(|airframe| airframe.as_ref().map(|known| (known.id, known.everybody())))?;
        let all = shop.settings.with(|settings| at_hand(&all, &settings.name, MOST));
        let nobody = !all.iter().any(|one| one.now);
        let one = |(place, person): (usize, crate::record::AtHand)| {
            let (pressed, label) = (person.now.to_string(), tr!("At the phone: {name}", name = person.name));
            let take = tap(move |_| shop.settings.update(|settings| settings.name.clone_from(&person.name)));
            view! {
                <button id=format!("hand-{place}") type="button" class="hand" aria-pressed=pressed aria-label=label on:click=take>
                    {person.short}
                </button>
            }
        };
        let mut inside: Vec<AnyView> = all.into_iter().enumerate().map(one).collect();
        let (label, name) = if nobody { ("Who?", "Who? People") } else { ("…", "… People") };
        let there = Address::Of(id, Page::People).path();
        inside.push(view! { <a id="hands" class="hand" href=there aria-label=name>{label}</a> });
        Some(view! { <div class="hands" role="group" aria-label="At the phone">{inside}</div> })
    };
    view! { {live(list)} }
}

/// The way to the page.
pub(super) fn to_people(id: AirframeId) -> AnyView {
    link("people", "plain", Address::Of(id, Page::People).path(), "Who is who, and who is at the phone")
}
