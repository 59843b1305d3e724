//! One airframe: everything that is to be rigged on it and how far it has come, its instruments, its record.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::todo::ways;
use super::with_airframe;
use super::write::NEW;
use crate::app::address::{Address, Page};
use crate::app::browser::pick;
use crate::app::controls::{button, link, list, named, para, part, row, says};
use crate::app::data::{self, works_of};
use crate::app::frame::{hangar, still_head};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::app::widgets::alone;
use crate::language::{tr, words};
use crate::procedure::{Procedure, Work, about_file, next_work, read_procedure, taken_in, unreadable};
use crate::record::{Airframe, AirframeId, MAX_PROCEDURE};
use crate::sketch::whole_aircraft;

/// The page of one airframe.
pub(crate) fn airframe(id: AirframeId) -> AnyView {
    let airframe = data::airframe(id);
    let works = works_of(airframe);
    with_airframe(airframe, move |airframe| overview(airframe, works))
}

fn overview(airframe: Airframe, works: Memo<Vec<Work>>) -> AnyView {
    let id = airframe.id;
    let details = &airframe.details;
    let about = [
        (!details.serial.is_empty()).then(|| tr!("Serial {serial}.", serial = details.serial)),
        (!details.builder.is_empty()).then(|| tr!("Builder {name}.", name = details.builder)),
        (!details.manual.is_empty()).then(|| tr!("Manual: {manual}.", manual = details.manual)),
    ];
    let about = about.into_iter().flatten().collect::<Vec<_>>().join(" ");
    let next = move || {
        works.with(|works| {
            next_work(works).map(|work| {
                let there = Address::Of(id, Page::Work(work.procedure.id.clone())).path();
                link("next-work", "primary", there, tr!("Next: {title}", title = work.procedure.title))
            })
        })
    };
    let all = move || {
        works.with(|works| {
            let lines = works.iter().map(|work| work_line(id, work)).collect::<Vec<_>>();
            view! { <ol class="works">{lines}</ol> }
        })
    };
    let drawn = airframe.clone();
    let picture = move || works.with(|works| alone(&whole_aircraft(&drawn, works)));
    let record = vec![
        link("record", "plain", Address::Of(id, Page::Record).path(), "Everything that happened"),
        link("send", "plain", Address::Of(id, Page::Send).path(), "Send it, print it, keep a copy"),
    ];
    view! {
        <main class="airframe-page">
            {still_head(details.model.clone(), hangar())}
            {para("details", about)}
            {details.invented.then(|| named("", "notice invented",
                "Invented example. Its numbers belong to no real aircraft: never build to them."))}
            {live(next)}
            {row(ways(id))}
            {part("The whole aircraft", vec![view! { {live(picture)} {live(all)} }])}
            {part("Rigging specification", vec![link("whole-specification", "plain", Address::Of(id, Page::WholeSpecification).path(), "Numbers from the manual")])}
            {part("People", vec![super::people::to_people(id)])}
            {part("Instruments", vec![link("instruments", "plain", Address::Of(id, Page::Instruments).path(), "Instruments")])}
            {link("bench", "plain", Address::Bench.path(), "Bench: a quick answer")}
            {own_procedures(&airframe)}
            {part("Record", record)}
        </main>
    }
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
}

/// Writing a procedure, and taking one in from a file.
fn own_procedures(airframe: &Airframe) -> AnyView {
    let (shop, id) = (Shop::here(), airframe.id);
    let said = RwSignal::new(String::new());
    let found = RwSignal::new(None::<Procedure>);
    let choose = move |event| {
        let Some(file) = pick::chosen(&event) else { return };
        found.set(None);
        said.set(words!("Reading the file…").to_owned());
        spawn_local(async move {
            let read = read_file(&file).await;
            said.try_set(read.as_ref().err().cloned().unwrap_or_default());
            found.try_set(read.ok());
        });
    };
    let take = Callback::new(move |procedure: Procedure| {
        let Some(airframe) = shop.ledger.with_untracked(|ledger| ledger.airframe(id)) else { return };
        let body = taken_in(&airframe, procedure);
        spawn_local(async move {
            if shop.keep(id, vec![body]).await.is_ok() {
                found.try_set(None);
                said.try_set(words!("It is kept, and stands in the list above.").to_owned());
            }
        });
    });
    let offer = move || {
        let procedure = found.get()?;
        let words = shop.ledger.with(|ledger| Some(about_file(&ledger.airframe(id)?, &procedure)))?;
        let take = tap(move |_| take.run(procedure.clone()));
        let leave = button("", "plain", "Leave it", tap(move |_| found.set(None)));
        let ways = row(vec![leave, button("take-procedure", "primary", "Take it in", take)]);
        Some(view! { <div id="procedure-found" class="notice">{list("", words)}{ways}</div> })
    };
    let unread = unreadable(airframe);
    let unread = (unread > 0).then(|| {
        para(
            "notice",
            tr!("{n} procedures in the record cannot be read by this version of the app. They stay there."
                | "{n} procedures in the record cannot be read by this version of the app. They stay there." % unread),
        )
    });
    let file = view! {
        <label class="plain file">
            "Open a procedure file"
            <input id="procedure-file" type="file" accept=".json,.txt,application/json,text/plain" on:change=choose/>
        </label>
    };
    let new = Address::Of(id, Page::Write(NEW.to_owned(), String::new())).path();
    part(
        "Procedures of your own",
        vec![
            para("hint", "To change one of the list, open it: the way is at the end of its page."),
            link("write-new", "plain", new, "Write a new procedure"),
            file.into_any(),
            view! { {unread}{live(offer)} },
            says("procedure-result", "", "status", live(move || said.get())),
        ],
    )
}

async fn read_file(file: &web_sys::File) -> Result<Procedure, String> {
    let limit = u64::try_from(MAX_PROCEDURE).unwrap_or(u64::MAX);
    let text = pick::read_text(file, limit).await.map_err(|error| error.to_string())?;
    read_procedure(&text).map_err(|error| error.to_string())
}
