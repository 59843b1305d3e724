//! What is said of one step beside what is measured at it.

mod left;
mod more;
mod photo;
mod write;

pub(super) use left::left_list;
pub(super) use more::time_form;
pub(super) use photo::{attached, form, shown, thumbnail};

use crate::app::prelude::*;

use super::missing;
use crate::app::address::{Address, Page};
use crate::app::controls::{para, part, says};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::live;
use crate::app::shop::Shop;
use crate::procedure::Procedure;
use crate::record::{About, AirframeId};
use crate::report::{Line, left_at, lines_about};

/// A step that something is said of.
#[derive(Clone)]
struct Said {
    airframe: AirframeId,
    about: About,
}

/// The page.
pub(crate) fn notes(id: AirframeId, procedure: &'static Procedure, step: String) -> AnyView {
    let there = data::step_of(id, procedure, step);
    let shown = live(move || match there.get() {
        Some((run, step, title)) => {
            let said = Said { airframe: id, about: About { run: Some(run), step: Some(step.clone()), entry: None } };
            page(&said, procedure, step, title)
        }
        None => missing(),
    });
    view! { {shown} }
}

fn page(said: &Said, procedure: &'static Procedure, step: String, title: String) -> AnyView {
    let (shop, Said { airframe, about }) = (Shop::here(), said.clone());
    let left = Memo::new(move |_| shop.ledger.with(|ledger| left_at(ledger, airframe, &about)));
    let back = Address::Of(said.airframe, Page::Run(procedure.id.clone(), step)).path();
    view! {
        <main class="notes">
            {still_head("Notes", (back, title))}
            {left_list(airframe, left, false)}
            {so_far(said)}
            {write::note(said)}
            {more::more(said, procedure)}
            {form(said.airframe, said.about.clone())}
        </main>
    }
}

/// Everything that was said of the step, the newest last.
fn so_far(said: &Said) -> AnyView {
    let (shop, Said { airframe, about }) = (Shop::here(), said.clone());
    let rows = Memo::new(move |_| shop.ledger.with(|ledger| lines_about(ledger, airframe, &about)));
    let none = live(move || rows.with(Vec::is_empty).then(|| para("", "Nothing yet.")));
    let line = move |line: Line| view! { <li class="entry">{para("entry-when", format!("{} · {}", line.when, line.by))}{para("entry-what", line.what)}{thumbnail(airframe, line.entry)}</li> };
    let list = live(move || rows.get().into_iter().map(line).collect::<Vec<_>>());
    part("So far", vec![says("", "", "", none), view! { <ol class="entries">{list}</ol> }])
}
