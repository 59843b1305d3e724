//! One airframe: everything that is to be rigged on it and how far it has come, its instruments, its record.

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::browser::share;
use crate::app::controls::{button, link, named, para, part, row, says};
use crate::app::data::{self, works_of};
use crate::app::frame::{hangar, still_head};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::procedure::{Work, next_work};
use crate::record::{Airframe, AirframeId};
use crate::report::{file_name, readings_csv, write_json};

/// The page of one airframe.
pub(crate) fn airframe(id: AirframeId) -> AnyView {
    let airframe = data::airframe(id);
    let works = works_of(airframe);
    with_airframe(airframe, move |airframe| overview(airframe, works))
}

fn overview(airframe: Airframe, works: Memo<Vec<Work>>) -> AnyView {
    let id = airframe.id;
    let details = &airframe.details;
    let about = [("Serial", &details.serial), ("Builder", &details.builder), ("Manual:", &details.manual)]
        .into_iter()
        .filter(|(_, words)| !words.is_empty())
        .map(|(name, words)| format!("{name} {words}. "))
        .collect::<String>();
    let next = move || {
        works.with(|works| {
            next_work(works).map(|work| {
                let there = Address::Of(id, Page::Work(work.procedure.id.clone())).path();
                link("next-work", "primary", there, format!("Next: {}", work.procedure.title))
            })
        })
    };
    let all = move || {
        works.with(|works| {
            let lines = works.iter().map(|work| work_line(id, work)).collect::<Vec<_>>();
            view! { <ol class="works">{lines}</ol> }.into_any()
        })
    };
    let mut record = vec![link("record", "plain", Address::Of(id, Page::Record).path(), "Everything that happened")];
    record.extend(exports(airframe.clone()));
    view! {
        <main class="airframe-page">
            {still_head(details.model.clone(), hangar())}
            {para("details", about)}
            {details.invented.then(|| named("", "notice invented",
                "Invented example. Its numbers belong to no real aircraft: never build to them."))}
            {live(next)}
            {part("The whole aircraft", vec![view! { {live(all)} }.into_any()])}
            {part("Instruments", vec![link("instruments", "plain", Address::Of(id, Page::Instruments).path(), "Instruments")])}
            {link("bench", "plain", Address::Bench.path(), "Bench: a quick answer")}
            {part("Record", record)}
        </main>
    }
    .into_any()
}

/// A procedure's line: its title, and how far it has come.
fn work_line(id: AirframeId, work: &Work) -> AnyView {
    let there = Address::Of(id, Page::Work(work.procedure.id.clone())).path();
    let name = format!("work-{}", work.procedure.id);
    view! {
        <li data-progress=work.progress.key()>
            <a id=name class="plain" href=there>{work.procedure.title.clone()}</a>
            <span class="hint">{work.words()}</span>
        </li>
    }
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
