//! What is left to do, each with the way to be done with it.

use std::sync::Arc;

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::app::address::{Address, Page};
use crate::app::controls::{Keyed, button, button_when, keyed, link, para, row, says, text_field};
use crate::app::live::{Busy, live, tap};
use crate::app::pages::keep_once;
use crate::app::pages::question::answered;
use crate::app::shop::Shop;
use crate::record::{AirframeId, Body, EntryId, MAX_TEXT};
use crate::report::{Left, LeftKind};

/// Everything of a list, each with its form once it is asked for; `ways`: with the way to the step that it is about.
pub(crate) fn left_list(airframe: AirframeId, all: Memo<Vec<Left>>, ways: bool) -> AnyView {
    let open = RwSignal::new(None::<EntryId>);
    let rows = move || {
        let one = |left: Left| -> Keyed {
            (left.entry.to_string(), Arc::new(move || left_view(airframe, left.clone(), open, ways)))
        };
        all.get().into_iter().map(one).collect()
    };
    view! { <ol class="entries left">{keyed(rows)}</ol> }
}

fn left_view(airframe: AirframeId, left: Left, open: RwSignal<Option<EntryId>>, ways: bool) -> AnyView {
    let Left { entry, kind, what, who, at } = left;
    let step = at.filter(|_| ways).map(|(procedure, step)| {
        link("", "plain", Address::Of(airframe, Page::Run(procedure, step)).path(), "To the step")
    });
    let form = move || {
        if open.get() == Some(entry) {
            return match kind {
                LeftKind::Item => close_item(airframe, entry, open),
                _ => told_answer(airframe, entry, open),
            };
        }
        let begin =
            move |label: &'static str| button("", "plain done-with", label, tap(move |_| open.set(Some(entry))));
        match kind {
            LeftKind::Item => begin("It is done"),
            LeftKind::Deviation => begin("Write down the answer"),
            LeftKind::Question => {
                link("", "plain", Address::Of(airframe, Page::Question(entry)).path(), "To the question")
            }
        }
    };
    view! { <li class="entry">{para("entry-when", who)}{para("entry-what", what)}{step}{live(form)}</li> }
}

/// Closes an open item by saying how it was done.
fn close_item(airframe: AirframeId, item: EntryId, open: RwSignal<Option<EntryId>>) -> AnyView {
    let how = RwSignal::new(String::new());
    let ready = move || how.with(|how| !how.trim().is_empty() && how.len() <= MAX_TEXT);
    let body = move || Some(Body::ItemClosed { item, how: how.get_untracked().trim().to_owned() });
    let close = keep_once(airframe, body, Callback::new(|()| ()));
    view! {
        {text_field("how", "How was it done?", "", how)}
        {row(vec![
            button("", "plain", "Leave it", tap(move |_| open.set(None))),
            button_when("close-item", "Close it", ready, close),
        ])}
    }
}

/// An answer that somebody gave by telephone or in person.
fn told_answer(airframe: AirframeId, deviation: EntryId, open: RwSignal<Option<EntryId>>) -> AnyView {
    let shop = Shop::here();
    let new = || RwSignal::new(String::new());
    let (name, answer, refusal, busy) = (new(), new(), new(), Busy::new());
    let say = Callback::new(move |accepted: bool| {
        let Some(answered) = answered(deviation, accepted, (name, answer), refusal, shop) else { return };
        if !busy.begin() {
            return;
        }
        spawn_local(async move {
            drop(shop.keep(airframe, vec![Body::DeviationAnswered(answered)]).await);
            busy.end();
        });
    });
    view! {
        {text_field("answered-by", "Who answered?", "Not who asked. Their name stands in the record, and that you wrote it down.", name)}
        {text_field("answer-told", "What did they say?", "Word for word.", answer)}
        {says("answer-refusal", "refusal", "alert", live(move || refusal.get()))}
        {row(vec![
            button("", "plain", "Leave it", tap(move |_| open.set(None))),
            button("told-declined", "plain", "It may not stand", tap(move |_| say.run(false))),
            button("told-accepted", "plain", "It may stand", tap(move |_| say.run(true))),
        ])}
    }
}
