//! Numbers that a second person reads again in the manual, without seeing what was entered.

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::specification::{Typed, inputs, length_words};
use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::controls::{TextField, button, named, para, says};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::procedure::{Procedure, Reread, SheetCount, SpecDraft, SpecItem, read_again, unread};
use crate::record::{Airframe, AirframeId, Body, SpecValue};

/// The page: every number of a procedure, or of the airframe, that nobody has read again.
pub(crate) fn reread(id: AirframeId, of: Option<&'static Procedure>) -> AnyView {
    let airframe = data::airframe(id);
    with_airframe(airframe, move |now| sheet(airframe, &now, of))
}

fn sheet(airframe: Memo<Option<Airframe>>, now: &Airframe, of: Option<&'static Procedure>) -> AnyView {
    let id = now.id;
    let by = RwSignal::new(String::new());
    let items: Vec<AnyView> = unread(now, of).into_iter().map(|item| item_view(airframe, id, item, by)).collect();
    let up = of.map_or_else(
        || (Address::Of(id, Page::WholeSpecification).path(), "Rigging specification".to_owned()),
        |procedure| (Address::Of(id, Page::Work(procedure.id.clone())).path(), procedure.title.clone()),
    );
    let open = move || {
        let open = airframe.with(|airframe| airframe.as_ref().map_or(0, |airframe| unread(airframe, of).len()));
        if open == 0 {
            return "Every number that is entered here was read again by a second person.".to_owned();
        }
        SheetCount { unread: open, ..SheetCount::default() }.unread_words()
    };
    let about = format!(
        "Hand the phone to somebody else. Read each number in the manual, in {}, and type it: what was entered is not shown.",
        length_words(now.details.units)
    );
    view! {
        <main class="specification">
            {still_head("Read again by a second person", up)}
            {says("open", "lead", "status", live(open))}
            {para("", about)}
            <TextField id="reader" label="Name of who reads now" value=by hint="Somebody else than who entered the numbers."/>
            {items}
        </main>
    }
    .into_any()
}

/// What became of an item's second reading.
#[derive(Clone, PartialEq)]
enum Outcome {
    /// Not read yet, or it could not be read.
    Open(String),
    /// Another number than was entered.
    Different(SpecValue, String),
    /// Done, in these words.
    Done(&'static str),
}

fn item_view(
    airframe: Memo<Option<Airframe>>,
    id: AirframeId,
    item: &'static SpecItem,
    by: RwSignal<String>,
) -> AnyView {
    let shop = Shop::here();
    let key = &item.key;
    let typed = Typed::of(SpecDraft::default());
    let outcome = RwSignal::new(Outcome::Open(String::new()));
    let keep = move |body: Body, words: &'static str| {
        let by = by.get_untracked().trim().to_owned();
        spawn_local(async move {
            if shop.keep_by(id, vec![body], by).await.is_ok() {
                outcome.try_set(Outcome::Done(words));
            }
        });
    };
    let compare = move || {
        let Some(now) = airframe.get_untracked() else { return };
        let Some(kept) = now.specification.item(&item.key) else { return };
        let draft = typed.draft();
        if draft == SpecDraft::default() {
            outcome.set(Outcome::Open("Type what the manual says first.".to_owned()));
            return;
        }
        match read_again(item, kept, &draft, now.details.units, &by.get_untracked()) {
            Ok(Reread::Same) => {
                keep(Body::SpecificationReread { key: item.key.clone(), entry: kept.entry }, "The same. Kept.");
            }
            Ok(Reread::Different(read, words)) => outcome.set(Outcome::Different(read, words)),
            Err(error) => outcome.set(Outcome::Open(error.to_string())),
        }
    };
    let correct = move |value: SpecValue| {
        let source = airframe
            .with_untracked(|now| now.as_ref()?.specification.item(&item.key).map(|kept| kept.source.clone()))
            .unwrap_or_default();
        let body = Body::SpecificationSet { key: item.key.clone(), value, source };
        keep(body, "Corrected to what you read. Somebody else has to read it again now.");
    };
    let units = airframe.with_untracked(|now| now.as_ref().map(|now| now.details.units)).unwrap_or_default();
    let face = move || match outcome.get() {
        Outcome::Done(words) => named("", "lead", words),
        Outcome::Open(words) => view! {
            {inputs(item, units, "again", typed)}
            <p class="refusal" role="alert">{words}</p>
            {button(format!("compare-{}", item.key), "plain", "Compare", tap(move |_| compare()))}
        }
        .into_any(),
        Outcome::Different(read, words) => view! {
            <p class="notice trouble" role="alert">{words}</p>
            {inputs(item, units, "again", typed)}
            {button(format!("compare-{}", item.key), "plain", "I misread: compare again", tap(move |_| compare()))}
            {button(format!("correct-{}", item.key), "plain", "The entered one is wrong: keep what I read",
                tap(move |_| correct(read.clone())))}
        }
        .into_any(),
    };
    view! {
        <section id=format!("again-{key}") class="spec-item">
            <h2>{item.title.clone()}</h2>
            {para("hint", item.help.clone())}
            {live(face)}
        </section>
    }
    .into_any()
}
