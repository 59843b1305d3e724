//! Numbers that a second person reads again in the manual, without seeing what was entered.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::people::everybody;
use super::specification::{Typed, inputs, length_words};
use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::controls::{button, group, named, para, row, says, who_field};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::language::{tr, words};
use crate::procedure::{Procedure, Reread, SheetCount, SpecDraft, SpecItem, read_again, unread};
use crate::record::{Airframe, AirframeId, Body};

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
        || (Address::Of(id, Page::WholeSpecification).path(), words!("Rigging specification").to_owned()),
        |procedure| (Address::Of(id, Page::Work(procedure.id.clone())).path(), procedure.title.clone()),
    );
    let open = move || {
        let open = airframe.with(|airframe| airframe.as_ref().map_or(0, |airframe| unread(airframe, of).len()));
        if open == 0 {
            return words!("Every number that is entered here was read again by a second person.").to_owned();
        }
        SheetCount { unread: open, ..SheetCount::default() }.unread_words()
    };
    let about = tr!(
        "Hand the phone to somebody else. Read each number in the manual, in {units}, and type it: what was entered is not shown.",
        units = length_words(now.details.units)
    );
    view! {
        <main class="specification">
            {still_head("Read again by a second person", up)}
            {says("open", "lead", "status", live(open))}
            {para("", about)}
            {who_field("reader", "Name of who reads now", "Somebody else than who entered the numbers.", everybody(airframe), by)}
            {items}
        </main>
    }
}

fn item_view(
    airframe: Memo<Option<Airframe>>,
    id: AirframeId,
    item: &'static SpecItem,
    by: RwSignal<String>,
) -> AnyView {
    let shop = Shop::here();
    let typed = Typed::of(SpecDraft::default());
    let said = RwSignal::new(String::new());
    let differs = RwSignal::new(false);
    let done = RwSignal::new("");
    // Two ways to go on: what was entered is right, or what is typed here is.
    let compare = move |correct: bool| {
        let Some(now) = airframe.get_untracked() else { return };
        let Some(kept) = now.specification.item(&item.key) else { return };
        let draft = typed.draft();
        if draft == SpecDraft::default() {
            return said.set(words!("Type what the manual says first.").to_owned());
        }
        let reader = by.get_untracked().trim().to_owned();
        let (key, source) = (item.key.clone(), kept.source.clone());
        let (body, words) = match read_again(item, kept, &draft, now.details.units, &reader) {
            Ok(Reread::Same) => (Body::SpecificationReread { key, entry: kept.entry }, "The same. Kept."),
            Ok(Reread::Different(value, _)) if correct => {
                let words = "Corrected to what you read. Somebody else has to read it again now.";
                (Body::SpecificationSet { key, value, source }, words)
            }
            Ok(Reread::Different(_, words)) => {
                differs.set(true);
                return said.set(words);
            }
            Err(error) => return said.set(error.to_string()),
        };
        spawn_local(async move {
            if shop.keep_by(id, vec![body], reader).await.is_ok() {
                done.try_set(words);
            }
        });
    };
    let units = airframe.with_untracked(|now| now.as_ref().map(|now| now.details.units)).unwrap_or_default();
    let ways = move || {
        let label = if differs.get() { "I misread: compare again" } else { "Compare" };
        let mut ways = vec![button(format!("compare-{}", item.key), "plain", label, tap(move |_| compare(false)))];
        if differs.get() {
            let label = "The entered one is wrong: keep what I read";
            ways.push(button(format!("correct-{}", item.key), "plain", label, tap(move |_| compare(true))));
        }
        row(ways)
    };
    let face = move || {
        let words = done.get();
        if !words.is_empty() {
            return named("", "lead", words);
        }
        group(
            "",
            vec![
                group("", inputs(item, units, "again", typed)),
                says("", "refusal", "alert", live(move || said.get())),
                live(ways).into_any(),
            ],
        )
    };
    view! {
        <section id=format!("again-{}", item.key) class="spec-item">
            <h2>{item.title.clone()}</h2>
            {para("hint", item.help.clone())}
            {live(face)}
        </section>
    }
}
