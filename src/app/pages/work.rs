//! One procedure on one airframe: what it is for, what it needs, how far it has come.

use crate::app::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;
use wasm_bindgen_futures::spawn_local;

use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::browser::{ids, share};
use crate::app::controls::{button, link, list, named, para, part, row, says};
use crate::app::data::{self, run_of};
use crate::app::frame::still_head;
use crate::app::live::{Busy, live, tap};
use crate::app::shop::Shop;
use crate::language::{tr, words};
use crate::procedure::{LeverKind, Procedure, Run, SheetCount, in_use, newest, write_procedure};
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
    let count = SheetCount::of(procedure, airframe);
    let again = (count.unread > 0).then(|| {
        let there = Address::Of(id, Page::Reread(procedure.id.clone())).path();
        view! { {named("unread", "notice", count.unread_words())}{link("reread", "plain", there, "Read again by a second person")} }
    });
    let sheet = Address::Of(id, Page::Specification(procedure.id.clone())).path();
    let numbers = (!items.is_empty()).then(|| {
        part(
            "Rigging specification",
            vec![
                para("", count.words()),
                link("specification", "plain", sheet, "Numbers from the manual"),
                again.into_any(),
            ],
        )
    });
    let mates = procedure.adjusters.iter().any(|adjuster| matches!(adjuster.lever, LeverKind::Joint { .. }));
    let place = Address::Of(id, Page::Place(procedure.id.clone())).path();
    let helper = Address::Of(id, Page::Helper(procedure.id.clone(), String::new())).path();
    let first: Vec<String> = procedure
        .needs
        .iter()
        .filter_map(|needed| in_use(airframe, needed))
        .map(|needed| needed.title.clone())
        .collect();
    view! {
        <main class="work-page">
            {still_head(procedure.title.clone(), (Address::Of(id, Page::Overview).path(), airframe.details.model.clone()))}
            {para("", procedure.purpose.clone())}
            {(!first.is_empty()).then(|| para("hint", tr!("Best after: {titles}.", titles = first.join(", "))))}
            {says("progress", "", "", live(move || run.with(|run| progress_words(run.as_ref()))))}
            {live(move || run.with(|run| run.as_ref().map(progress_bar)))}
            {open_run(id, newest(airframe, &procedure.id).unwrap_or(procedure), procedure, run)}
            {link("helper", "plain", helper, "The helper's screen: for a second phone")}
            {mates.then(|| link("place", "plain", place, "Where it sits, by all readings"))}
            {numbers}
            {part("At hand", vec![list("", procedure.tools.clone())])}
            {versions(airframe, procedure, run)}
        </main>
    }
}

/// The entry with which a run begins: it holds the procedure file, so that the run stays what it was.
fn begun(procedure: &Procedure) -> Body {
    Body::RunStarted {
        run: RunId(ids::new()),
        procedure: procedure.id.clone(),
        version: procedure.version,
        file: Some(write_procedure(procedure).into()),
    }
}

/// Which version this is, a new run with the newest one, the file of it, and the way to change it.
fn versions(airframe: &Airframe, procedure: &'static Procedure, run: Memo<Option<Run>>) -> AnyView {
    let shop = Shop::here();
    let id = airframe.id;
    let newest = newest(airframe, &procedure.id).unwrap_or(procedure);
    let newer = (newest.version != procedure.version).then(|| {
        let words = tr!(
            "This run stays on version {version}, with which it began. A new run will have version {newest}.",
            version = procedure.version,
            newest = newest.version
        );
        named("newer", "notice", words)
    });
    let asking = RwSignal::new(false);
    let anew = Callback::new(move |()| {
        asking.set(false);
        spawn_local(async move { drop(shop.keep(id, vec![begun(newest)]).await) });
    });
    let again = move || {
        if run.with(Option::is_none) {
            return ().into_any();
        }
        if !asking.get() {
            return button("start-anew", "plain", "Start a new run…", tap(move |_| asking.set(true)));
        }
        let words = tr!(
            "It begins at the first step, with version {version}. The run of now stays in the record.",
            version = newest.version
        );
        let ways = row(vec![
            button("", "plain", "Stay with this run", tap(move |_| asking.set(false))),
            button("start-anew-now", "plain", "Start it", tap(move |_| anew.run(()))),
        ]);
        view! { {para("", words)}{ways} }
    };
    let said = RwSignal::new(String::new());
    let send = tap(move |_| {
        let name = format!("{}-v{}.procedure.json", newest.id, newest.version);
        spawn_local(async move {
            let sent = shop.sending.send(shop, &name, "application/json", write_procedure(newest).as_bytes()).await;
            said.try_set(share::outcome(&name, sent));
        });
    });
    let write = Address::Of(id, Page::Write(procedure.id.clone(), String::new())).path();
    part(
        tr!("Version {version}", version = procedure.version),
        vec![
            newer.unwrap_or_else(|| ().into_any()),
            view! { {live(again)} },
            row(vec![
                link("change-procedure", "plain", write, "Change it for this airframe"),
                button("send-procedure", "plain", "Send it as a file", send),
            ]),
            says("procedure-sent", "", "status", live(move || said.get())),
        ],
    )
}

fn progress_words(run: Option<&Run>) -> String {
    run.map_or_else(
        || words!("Not started.").to_owned(),
        |run| tr!("{done} of {count} steps done.", done = run.done(), count = run.steps.len()),
    )
}

fn progress_bar(run: &Run) -> AnyView {
    view! {
        <progress max=run.steps.len().to_string() value=run.done().to_string() aria-label="Steps done"></progress>
    }
}

fn open_run(
    id: AirframeId,
    newest: &'static Procedure,
    procedure: &'static Procedure,
    run: Memo<Option<Run>>,
) -> AnyView {
    let (shop, navigate, busy) = (Shop::here(), use_navigate(), Busy::new());
    let go = tap(move |event| {
        event.prevent_default();
        let navigate = navigate.clone();
        let there = Address::Of(id, Page::Run(procedure.id.clone(), String::new())).route();
        if run.with_untracked(Option::is_some) {
            navigate(&there, NavigateOptions::default());
            return;
        }
        if !busy.begin() {
            return;
        }
        let begun = begun(newest);
        spawn_local(async move {
            let kept = shop.keep(id, vec![begun]).await;
            busy.end();
            if kept.is_ok() {
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
}
