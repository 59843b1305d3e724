//! Taking in numbers from a file: what would change is shown first, and each item can be left out.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::app::browser::pick;
use crate::app::controls::{button, button_when, group, list, para, part, row, says, text_field, tick};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::language::{tr, words};
use crate::record::{Airframe, AirframeId};
use crate::report::{Change, MAX_SPECIFICATION_BYTES, Offer, bodies, offer, read_specification};

/// The part of a page that takes a file.
pub(super) fn take_in(airframe: Memo<Option<Airframe>>) -> AnyView {
    let said = RwSignal::new(String::new());
    // The file as it came: what it would change is worked out when it is shown.
    let file = RwSignal::new(String::new());
    let choose = move |event| {
        let Some(chosen) = pick::chosen(&event) else { return };
        file.set(String::new());
        said.set(words!("Reading the file…").to_owned());
        spawn_local(async move {
            let limit = u64::try_from(MAX_SPECIFICATION_BYTES).unwrap_or(u64::MAX);
            let read = pick::read_text(&chosen, limit).await.map_err(|error| error.to_string());
            match read.and_then(|text| would_change(airframe, &text).map(|found| (text, found.changes.len()))) {
                Ok((text, count)) => {
                    said.try_set(tr!("{n} item would change." | "{n} items would change." % count));
                    file.try_set(text);
                }
                Err(refusal) => drop(said.try_set(refusal)),
            }
        });
    };
    let input = view! {
        <label class="plain file">
            "Choose a file"
            <input id="import" type="file" accept=".json,.txt,application/json,text/plain" on:change=choose/>
        </label>
    };
    let shown = move || {
        let found = file.with(|text| if text.is_empty() { None } else { would_change(airframe, text).ok() })?;
        let id = airframe.with_untracked(|airframe| airframe.as_ref().map(|airframe| airframe.id))?;
        Some(offer_view(id, found, file, said))
    };
    part(
        "Take in numbers from a file",
        vec![
            para(
                "",
                "What would change is shown first. Hold each number against the manual: the manual outranks the file.",
            ),
            input.into_any(),
            says("import-result", "", "status", live(move || said.get())),
            live(shown).into_any(),
        ],
    )
}

fn would_change(airframe: Memo<Option<Airframe>>, text: &str) -> Result<Offer, String> {
    let file = read_specification(text).map_err(|error| error.to_string())?;
    let now = airframe.try_get_untracked().flatten().ok_or_else(|| words!("This is not on this phone.").to_owned())?;
    offer(&now, &file).map_err(|refused| refused.to_string())
}

fn offer_view(id: AirframeId, offer: Offer, file: RwSignal<String>, said: RwSignal<String>) -> AnyView {
    let shop = Shop::here();
    let handed = RwSignal::new(String::new());
    let left = offer.left_aside();
    let takes: Vec<(Change, RwSignal<bool>)> =
        offer.changes.into_iter().map(|change| (change, RwSignal::new(true))).collect();
    let rows: Vec<AnyView> = takes.iter().map(|(change, taken)| change_view(change, *taken)).collect();
    let differs: Vec<AnyView> = offer.differs.into_iter().map(|words| para("notice trouble", words)).collect();
    let any = !takes.is_empty();
    let take = tap(move |_| {
        let chosen = takes.iter().filter(|(_, taken)| taken.get_untracked()).map(|(change, _)| change);
        let bodies = bodies(chosen, &handed.get_untracked());
        let count = bodies.len();
        spawn_local(async move {
            if count == 0 || shop.keep(id, bodies).await.is_ok() {
                file.try_set(String::new());
                said.try_set(tr!("{n} items taken in. Somebody else has to read them again."
                    | "{n} items taken in. Somebody else has to read them again." % count));
            } else {
                said.try_set(words!("Nothing was kept.").to_owned());
            }
        });
    });
    let leave = tap(move |_| {
        file.set(String::new());
        said.set(words!("Nothing was taken in.").to_owned());
    });
    let named = move || handed.with(|name| !name.trim().is_empty());
    let ways = any.then(|| {
        view! {
            {text_field("handed-by", "Who handed you this file?", "It stands beside the page of every item.", handed)}
            {row(vec![button("leave-file", "plain", "Take in nothing", leave), button_when("take-file", "Take in what is marked", named, take)])}
        }
    });
    view! {
        <div id="differs">{differs}</div>
        {list("hint", left)}
        {group("changes", rows)}
        {ways}
    }
}

fn change_view(change: &Change, taken: RwSignal<bool>) -> AnyView {
    let page = if change.source.is_empty() { words!("no page named") } else { &change.source };
    let words = tr!(
        "{title}\nIn the file: {then} ({page})\nNow: {now}",
        title = change.title,
        then = change.then,
        page,
        now = change.now
    );
    tick(format!("take-{}", change.key), words, taken)
}
