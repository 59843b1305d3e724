//! One airframe: its numbers, its run, its record.

use leptos::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;
use wasm_bindgen_futures::spawn_local;

use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::browser::{ids, share};
use crate::app::controls::{button, link, named, para, part, row, says};
use crate::app::data::{self, mating, run_of};
use crate::app::frame::{hangar, still_head};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::procedure::{MATE_AFT_FUSELAGE, Run};
use crate::record::{Airframe, AirframeId, Body, RunId};
use crate::report::{file_name, readings_csv, write_json};

/// The page of one airframe.
pub(crate) fn airframe(id: AirframeId) -> AnyView {
    let airframe = data::airframe(id);
    let run = run_of(airframe);
    with_airframe(airframe, move |airframe| overview(airframe, run))
}

fn overview(airframe: Airframe, run: Memo<Option<Run>>) -> AnyView {
    let id = airframe.id;
    let details = &airframe.details;
    let items = &mating().specification;
    let entered = items.iter().filter(|item| airframe.specification.item(&item.key).is_some()).count();
    let about = [("Serial", &details.serial), ("Builder", &details.builder), ("Manual:", &details.manual)]
        .into_iter()
        .filter(|(_, words)| !words.is_empty())
        .map(|(name, words)| format!("{name} {words}. "))
        .collect::<String>();
    let numbers = vec![
        para("", format!("{entered} of {} items entered.", items.len())),
        link("specification", "plain", Address::Of(id, Page::Specification).path(), "Numbers from the manual"),
        link("instruments", "plain", Address::Of(id, Page::Instruments).path(), "Instruments"),
    ];
    let work = vec![
        para("", mating().purpose.clone()),
        says("progress", "", "", live(move || run.with(|run| progress_words(run.as_ref())))),
        view! { {live(move || run.with(|run| run.as_ref().map(progress_bar)))} }.into_any(),
        open_run(id, run),
        link("place", "plain", Address::Of(id, Page::Place).path(), "Where it sits, by all readings"),
    ];
    let mut record = vec![link("record", "plain", Address::Of(id, Page::Record).path(), "Everything that happened")];
    record.extend(exports(airframe.clone()));
    view! {
        <main class="airframe-page">
            {still_head(details.model.clone(), hangar())}
            {para("details", about)}
            {details.invented.then(|| named("", "notice invented",
                "Invented example. Its numbers belong to no real aircraft: never build to them."))}
            {part("Rigging specification", numbers)}
            {part(mating().title.clone(), work)}
            {part("Record", record)}
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

fn open_run(id: AirframeId, run: Memo<Option<Run>>) -> AnyView {
    let shop = Shop::here();
    let navigate = use_navigate();
    let go = tap(move |event| {
        event.prevent_default();
        let navigate = navigate.clone();
        let there = Address::Of(id, Page::Run(String::new())).route();
        if run.with_untracked(Option::is_some) {
            navigate(&there, NavigateOptions::default());
            return;
        }
        let begun = Body::RunStarted {
            run: RunId(ids::new()),
            procedure: MATE_AFT_FUSELAGE.to_owned(),
            version: mating().version,
        };
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
    view! { <a id="open-run" class="primary" href=Address::Of(id, Page::Run(String::new())).path() on:click=go>{live(words)}</a> }
        .into_any()
}

fn exports(airframe: Airframe) -> Vec<AnyView> {
    let shop = Shop::here();
    let said = RwSignal::new(String::new());
    let airframe = StoredValue::new(airframe);
    let send = move |ending: &'static str, mime: &'static str, text: String| {
        let name = airframe.with_value(|airframe| file_name(airframe, ending));
        spawn_local(async move {
            let words = match share::share_file(&name, mime, text.as_bytes()).await {
                Ok(share::Shared::Sheet) => format!("{name} was handed over."),
                Ok(share::Shared::Downloaded) => format!("{name} is in this phone's downloads."),
                Err(share::ShareError::Cancelled) => String::new(),
                Err(error) => error.to_string(),
            };
            said.try_set(words);
        });
    };
    let json = tap(move |_| {
        let text =
            shop.ledger.with_untracked(|ledger| airframe.with_value(|airframe| write_json(ledger.of(airframe.id))));
        send("json", "application/json", text);
    });
    let csv = tap(move |_| {
        let text = shop.ledger.with_untracked(|ledger| airframe.with_value(|airframe| readings_csv(airframe, ledger)));
        send("csv", "text/csv", text);
    });
    vec![
        para("", "Nothing leaves this phone until you send it."),
        row(vec![
            button("export-json", "plain", "Send the record (JSON)", json),
            button("export-csv", "plain", "Send the readings (CSV)", csv),
        ]),
        says("export-result", "", "status", live(move || said.get())),
    ]
}
