//! The whole rigging specification of an airframe: its shape, how much is entered and read again, and its numbers as a file.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::take_in::take_in;
use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::browser::clock;
use crate::app::browser::share;
use crate::app::controls::{button, link, list, numbered_choice_of, para, part, says, text_field};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::language::{tr, words};
use crate::procedure::{SheetCount, SpecItem, applies_to, choice_items, leaves_out, option_title, procedures, unread};
use crate::record::{Airframe, AirframeId, Body, SpecValue};
use crate::report::{file_name, write_specification};

/// The page.
pub(crate) fn whole_specification(id: AirframeId) -> AnyView {
    let airframe = data::airframe(id);
    with_airframe(airframe, move |now| whole(airframe, &now))
}

fn whole(airframe: Memo<Option<Airframe>>, now: &Airframe) -> AnyView {
    let id = now.id;
    let counts = move || airframe.with(|airframe| airframe.as_ref().map(counts));
    view! {
        <main class="specification">
            {still_head("Rigging specification", (Address::Of(id, Page::Overview).path(), now.details.model.clone()))}
            {para("", "The kit's own numbers, each with the page it was copied from. What is left blank is recorded and not judged. A \
                number that is changed judges anew, and a hold point signed before has to be signed again.")}
            {part("The shape of the aircraft", vec![shape(now)])}
            {part("Numbers from the manual", vec![live(counts).into_any()])}
            {part("Send the numbers", send(airframe))}
            {take_in(airframe)}
        </main>
    }
}

/// The choices, to be kept together.
fn shape(airframe: &Airframe) -> AnyView {
    let (shop, id) = (Shop::here(), airframe.id);
    let source = RwSignal::new(String::new());
    let said = RwSignal::new(String::new());
    let chosen: Vec<(&'static SpecItem, RwSignal<String>)> = choice_items()
        .into_iter()
        .map(|item| (item, RwSignal::new(airframe.specification.words(&item.key).unwrap_or_default().to_owned())))
        .collect();
    let mut choices: Vec<AnyView> = chosen.iter().map(|(item, value)| choice(item, *value)).collect();
    let others = choices.split_off(2);
    let keep = tap(move |_| {
        let Some(now) = shop.ledger.with_untracked(|ledger| ledger.airframe(id)) else { return };
        let page = source.get_untracked().trim().to_owned();
        let changed = |(item, value): &(&SpecItem, RwSignal<String>)| {
            let words = value.get_untracked();
            let new = !words.is_empty() && now.specification.words(&item.key) != Some(&words);
            new.then(|| Body::SpecificationSet {
                key: item.key.clone(),
                value: SpecValue { words: Some(words), ..SpecValue::default() },
                source: page.clone(),
            })
        };
        let bodies: Vec<Body> = chosen.iter().filter_map(changed).collect();
        let count = bodies.len();
        spawn_local(async move {
            let kept = count == 0 || shop.keep(id, bodies).await.is_ok();
            said.try_set(if kept { tr!("Kept: {count}.", count) } else { words!("Nothing was kept.").to_owned() });
        });
    });
    view! {
        {choices}
        <details><summary>"Other choices"</summary>{others}</details>
        {text_field("shape-source", "Page and revision", "", source)}
        {button("keep-shape", "plain", "Keep these choices", keep)}
        {says("shape-kept", "", "status", live(move || said.get()))}
    }
}

fn choice(item: &'static SpecItem, value: RwSignal<String>) -> AnyView {
    let options = item.options.iter().map(|option| (option.clone(), option_title(item, option))).collect();
    let out =
        move || value.with(|option| if option.is_empty() { String::new() } else { leaves_out(&item.key, option) });
    view! {
        {numbered_choice_of(&format!("shape-{}", item.key), &item.title, value, options)}
        {says("", "hint", "", live(out))}
    }
}

/// Each procedure that applies: how much of it is entered and read again, and the way to its sheet.
fn counts(airframe: &Airframe) -> AnyView {
    let id = airframe.id;
    let line = |procedure: &'static crate::procedure::Procedure| {
        let count = SheetCount::of(procedure, airframe);
        let there = Address::Of(id, Page::Specification(procedure.id.clone())).path();
        view! {
            <li>
                <a id=format!("sheet-{}", procedure.id) class="plain" href=there>{procedure.title.clone()}</a>
                <span class="hint">{format!("{} {}", count.words(), count.unread_words())}</span>
            </li>
        }
    };
    let lines: Vec<AnyView> =
        procedures().filter(|found| applies_to(found, airframe) && !found.specification.is_empty()).map(line).collect();
    let open = unread(airframe, None).len();
    let again =
        link("reread", "plain", Address::Of(id, Page::Reread(String::new())).path(), "Read again by a second person");
    view! {
        <ol class="works">{lines}</ol>
        {(open > 0).then(|| vec![para("", SheetCount { unread: open, ..SheetCount::default() }.unread_words()), again])}
    }
}

fn send(airframe: Memo<Option<Airframe>>) -> Vec<AnyView> {
    let shop = Shop::here();
    let said = RwSignal::new(String::new());
    let invented = airframe.with_untracked(|airframe| airframe.as_ref().is_some_and(|it| it.details.invented));
    let send = tap(move |_| {
        let made = airframe.with_untracked(|airframe| {
            airframe
                .as_ref()
                .map(|it| (file_name(clock::now().date_naive(), it, "specification.json"), write_specification(it)))
        });
        let Some((name, text)) = made else { return };
        spawn_local(async move {
            let sent = shop.sending.send(shop, &name, "application/json", text.as_bytes()).await;
            said.try_set(share::outcome(&name, sent));
        });
    });
    let mut about = vec![
        words!("The numbers alone, with their pages: for another airframe of the type, whose builder looks at each.")
            .to_owned(),
    ];
    if invented {
        about.push(words!("The file says that these are invented: no real airframe takes them in.").to_owned());
    }
    vec![
        list("", about),
        button("export-specification", "plain", "Send the numbers (JSON)", send),
        says("export-result", "", "status", live(move || said.get())),
    ]
}
