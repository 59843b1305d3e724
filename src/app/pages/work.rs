//! One procedure on one airframe: what it is for, what it needs, how far it has come.

use leptos::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;
use wasm_bindgen_futures::spawn_local;

use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::browser::ids;
use crate::app::controls::{link, list, para, part, says};
use crate::app::data::{self, run_of};
use crate::app::frame::still_head;
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::procedure::{LeverKind, Procedure, Run, procedure as built_in};
use crate::record::{Airframe, AirframeId, Body, RunId};

/// The page.
pub(crate) fn work(id: AirframeId, procedure: &'static Procedure) -> AnyView {
    let airframe = data::airframe(id);
    let run = run_of(airframe, procedure);
    with_airframe(airframe, move |airframe| about(&airframe, procedure, run))
}

fn about(airframe: &Airframe, procedure: &'static Procedure, run: Memo<Option<Run>>) -> AnyView {
    let id = airframe.id;
    let items = &procedure.specification;
    let entered = items.iter().filter(|item| airframe.specification.item(&item.key).is_some()).count();
    let sheet = Address::Of(id, Page::Specification(procedure.id.clone())).path();
    let numbers = (!items.is_empty()).then(|| {
        part(
            "Rigging specification",
            vec![
                para("", format!("{entered} of {} items entered.", items.len())),
                link("specification", "plain", sheet, "Numbers from the manual"),
            ],
        )
    });
    let mates = procedure.adjusters.iter().any(|adjuster| matches!(adjuster.lever, LeverKind::Joint { .. }));
    let place = Address::Of(id, Page::Place(procedure.id.clone())).path();
    let first: Vec<String> =
        procedure.needs.iter().filter_map(|needed| built_in(needed)).map(|needed| needed.title.clone()).collect();
    view! {
        <main class="work-page">
            {still_head(procedure.title.clone(), (Address::Of(id, Page::Overview).path(), airframe.details.model.clone()))}
            {para("", procedure.purpose.clone())}
            {(!first.is_empty()).then(|| para("hint", format!("Best after: {}.", first.join(", "))))}
            {says("progress", "", "", live(move || run.with(|run| progress_words(run.as_ref()))))}
            {live(move || run.with(|run| run.as_ref().map(progress_bar)))}
            {open_run(id, procedure, run)}
            {mates.then(|| link("place", "plain", place, "Where it sits, by all readings"))}
            {numbers}
            {part("At hand", vec![list("", procedure.tools.clone())])}
        </main>
    }
    .into_any()
}

fn progress_words(run: Option<&Run>) -> String {
    run.map_or_else(|| "Not started.".to_owned(), |run| format!("{} of {} steps done.", run.done(), run.steps.len()))
}

fn progress_bar(run: &Run) -> AnyView {
    view! {
        <progress max=run.steps.len().to_string() value=run.done().to_string() aria-label="Steps done"></progress>
    }
    .into_any()
}

fn open_run(id: AirframeId, procedure: &'static Procedure, run: Memo<Option<Run>>) -> AnyView {
    let shop = Shop::here();
    let navigate = use_navigate();
    let go = tap(move |event| {
        event.prevent_default();
        let navigate = navigate.clone();
        let there = Address::Of(id, Page::Run(procedure.id.clone(), String::new())).route();
        if run.with_untracked(Option::is_some) {
            navigate(&there, NavigateOptions::default());
            return;
        }
        let begun = begun(procedure);
        spawn_local(async move {
            if shop.keep(id, vec![begun]).await.is_ok() {
                navigate(&there, NavigateOptions::default());
            }
        });
    });
    let words = move || {
        run.with(|run| match run {
            None => "Start",
            Some(run) if run.current.is_none() => "Finished: look at it again",
            Some(_) => "Go on",
        })
    };
    view! { <a id="open-run" class="primary" href=Address::Of(id, Page::Run(procedure.id.clone(), String::new())).path() on:click=go>{live(words)}</a> }
        .into_any()
}
