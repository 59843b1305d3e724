//! The desk: every airframe on one wide page, what waits for an answer, and how far each check spreads over a type.

use crate::app::prelude::*;

use crate::app::address::{Address, Page};
use crate::app::controls::{link, named, numbered_choice_of, para, part, text_field};
use crate::app::frame::{hangar, still_head};
use crate::app::live::live;
use crate::app::shop::Shop;
use crate::record::{AirframeId, Body, Ledger};
use crate::report::{OnDesk, Pending, Spread, on_desk, pending, spreads, types};

/// The page.
pub(crate) fn desk() -> AnyView {
    let shop = Shop::here();
    let filter = RwSignal::new(String::new());
    let lines = Memo::new(move |_| shop.ledger.with(on_desk));
    let waiting = Memo::new(move |_| shop.ledger.with(pending));
    let rows = move || {
        let shown =
            filter.with(|filter| lines.get().into_iter().filter(|line| line.matches(filter)).collect::<Vec<_>>());
        let rows = shown.into_iter().map(row_of).collect::<Vec<_>>();
        table("desk-airframes", &["Airframe", "Builder", "Last entry", "Waiting"], rows)
    };
    let waits = move || {
        let all = waiting.get();
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

fn row_of(line: OnDesk) -> AnyView {
    let OnDesk { airframe, title, builder, invented, latest, waiting } = line;
    let there = Address::Of(airframe, Page::Overview).path();
    let waiting = if waiting == 0 { String::new() } else { waiting.to_string() };
    view! {
        <tr>
            <th scope="row">{link("", "plain", there, title)}{invented.then(|| view! { <span class="invented">"invented example"</span> })}</th>
            <td>{builder}</td>
            <td>{latest}</td>
            <td>{waiting}</td>
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
    let known = Memo::new(move |_| shop.ledger.with(types));
    let choice = move || {
        let options: Vec<(String, String)> = known.with(|known| {
            known.iter().map(|(name, all)| (name.clone(), format!("{name}, {} airframes", all.len()))).collect()
        });
        if options.is_empty() {
            para("hint", "As soon as two airframes of a type are here, their checks stand beside each other.")
        } else {
            numbered_choice_of("type", "Which type?", chosen, options)
        }
    };
    let spread = move || {
        let airframes = known.with(|known| {
            chosen.with(|chosen| known.iter().find(|(name, _)| name == chosen).map(|(_, airframes)| airframes.clone()))
        })?;
        let all = shop.ledger.with(|ledger| spreads(ledger, &airframes));
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
    let one = |one: crate::report::OneOf| {
        let there = Address::Of(one.airframe, Page::Work(procedure.id.clone())).path();
        view! { <li>{link("", "plain", there, format!("{} {}: {}", one.serial, one.value, one.verdict))}</li> }
    };
    let each = each.into_iter().map(one).collect::<Vec<_>>();
    view! {
        <tr>
            <th scope="row">{check}<span class="hint">{procedure.title.clone()}</span></th>
            <td>{least}</td>
            <td>{middle}</td>
            <td>{greatest}</td>
            <td><ul class="each">{each}</ul></td>
        </tr>
    }
}
