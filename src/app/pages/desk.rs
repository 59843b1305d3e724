//! The desk: every airframe on one wide page, what waits for an answer, and how far each check spreads over a type.

use crate::app::prelude::*;

use crate::app::address::{Address, Page};
use crate::app::controls::{link, named, numbered_choice_of, para, part, text_field};
use crate::app::frame::{hangar, still_head};
use crate::app::live::{changing, live};
use crate::app::shop::Shop;
use crate::app::widgets::mark_of;
use crate::language::{tr, words};
use crate::procedure::Words;
use crate::record::{AirframeId, Body, Ledger};
use crate::report::{OnDesk, OneOf, Pending, Spread, on_desk, pending, spreads, types};

/// The page.
pub(crate) fn desk() -> AnyView {
    let shop = Shop::here();
    let filter = RwSignal::new(String::new());
    let rows = move || {
        let rows = shop.ledger.with(on_desk).into_iter().map(|line| row_of(line, filter)).collect();
        table("desk-airframes", &["Airframe", "Builder", "Last entry", "Waiting"], rows)
    };
    let waits = move || {
        let all = shop.ledger.with(pending);
        if all.is_empty() {
            return para("", "Nothing waits for an answer.");
        }
        let items = all.into_iter().map(waiting_item).collect::<Vec<_>>();
        view! { <ol id="waiting" class="entries">{items}</ol> }
    };
    view! {
        <main class="desk">
            {still_head("Desk", hangar())}
            {part("Waiting for an answer", vec![view! { {live(waits)} }])}
            {part("Airframes", vec![text_field("filter", "Only those with", "Words of the type, the serial or the builder.", filter), view! { {live(rows)} }])}
            {over_types(shop)}
        </main>
    }
}

fn table(id: &'static str, heads: &[&'static str], rows: Vec<AnyView>) -> AnyView {
    let heads = heads.iter().map(|head| view! { <th scope="col">{*head}</th> }).collect::<Vec<_>>();
    view! {
        <div class="table">
            <table id=id><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>
        </div>
    }
}

fn row_of(line: OnDesk, filter: RwSignal<String>) -> AnyView {
    let OnDesk { airframe, title, builder, invented, latest, waiting } = line.clone();
    let hidden = changing(move || filter.with(|filter| !line.matches(filter)));
    let there = Address::Of(airframe, Page::Overview).path();
    let waiting = if waiting == 0 { String::new() } else { waiting.to_string() };
    view! {
        <tr hidden=hidden>
            <th scope="row">{link("", "plain", there, title)}{invented.then(|| view! { <span class="invented">{words!("invented example")}</span> })}</th>
            <td data-head="Builder">{builder}</td>
            <td data-head="Last entry">{latest}</td>
            <td data-head="Waiting">{waiting}</td>
        </tr>
    }
}

fn waiting_item(waits: Pending) -> AnyView {
    let Pending { entry, question, airframe, who, what } = waits;
    let page = if question { Some(Page::Question(entry)) } else { step_of(airframe, entry) };
    let there = Address::Of(airframe, page.unwrap_or(Page::Record)).path();
    view! { <li class="entry">{para("entry-when", who)}{link("", "plain", there, what)}</li> }
}

/// The step that a deviation is of.
fn step_of(airframe: AirframeId, entry: crate::record::EntryId) -> Option<Page> {
    Shop::here().ledger.with_untracked(|ledger: &Ledger| {
        let Body::DeviationRaised(raised) = &ledger.get(entry)?.body else { return None };
        let airframe = ledger.airframe(airframe)?;
        let started = airframe.runs.iter().find(|started| Some(started.run) == raised.about.run)?;
        Some(Page::Run(started.procedure.clone(), raised.about.step.clone()?))
    })
}

/// How far the checks of a type spread, once one is chosen.
fn over_types(shop: Shop) -> AnyView {
    let chosen = RwSignal::new(String::new());
    let choice = move || {
        let known = shop.ledger.with(types).into_iter();
        let options: Vec<(String, String)> = known
            .map(|(name, all)| (name.clone(), tr!("{name}, {count} airframes", name, count = all.len())))
            .collect();
        if options.is_empty() {
            para("hint", "As soon as two airframes of a type are here, their checks stand beside each other.")
        } else {
            numbered_choice_of("type", "Which type?", chosen, options)
        }
    };
    let spread = move || {
        let all = chosen.with(|chosen| {
            shop.ledger.with(|ledger| {
                let (_, airframes) = types(ledger).into_iter().find(|(name, _)| name == chosen)?;
                Some(spreads(ledger, &airframes))
            })
        })?;
        if all.is_empty() {
            return Some(named("spreads", "", "No check has been measured on two of them."));
        }
        let rows = all.into_iter().map(spread_row).collect::<Vec<_>>();
        Some(table("spreads", &["Check", "Least", "Middle", "Greatest", "Each"], rows))
    };
    part("Every check over a type", vec![view! { {live(choice)}{live(spread)} }])
}

fn spread_row(spread: Spread) -> AnyView {
    let Spread { procedure, check, least, middle, greatest, each } = spread;
    let one = |one: OneOf| {
        let OneOf { airframe, serial, value, verdict, mark } = one;
        let there = Address::Of(airframe, Page::Work(procedure.id.clone())).path();
        let words = tr!("{serial} {value}: {verdict}", serial, value, verdict = Words::verdict(verdict));
        view! { <li>{mark_of(mark, verdict, words.clone())}{link("", "plain", there, words)}</li> }
    };
    let each = each.into_iter().map(one).collect::<Vec<_>>();
    view! {
        <tr>
            <th scope="row">{check}<span class="hint">{procedure.title.clone()}</span></th>
            <td data-head="Least">{least}</td>
            <td data-head="Middle">{middle}</td>
            <td data-head="Greatest">{greatest}</td>
            <td><ul class="each">{each}</ul></td>
        </tr>
    }
}
