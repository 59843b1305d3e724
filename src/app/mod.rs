//! The shell: pages, widgets and the browser's seams. It draws what the library hands out and sends back what was tapped; no
//! arithmetic, no rule of the trade and no wording of a verdict lives here.

#![allow(clippy::needless_pass_by_value, reason = "props are handed over whole")]
#![allow(unreachable_pub, reason = "the component macro makes each props struct pub")]

mod address;
pub mod browser;
mod controls;
mod data;
mod element;
mod frame;
mod live;
mod opening;
mod outgoing;
mod pages;
mod parcel;
mod pen;
mod prelude;
mod sending;
mod settings;
mod shop;
mod sound;
mod taught;
mod tongue;
mod upkeep;
mod widgets;

use crate::app::prelude::*;
use leptos_router::components::{FlatRoutes, Route, Router};
use leptos_router::path;

use crate::procedure::Procedure;
use crate::record::AirframeId;

use address::{Address, Page};
use live::live;
use shop::Shop;

/// Mounts the app on the document's body and takes the static shell away.
pub fn mount() {
    browser::panic::install();
    browser::twice::ignore();
    browser::keyboard::leave_focus();
    if tongue::needs_catalogue() {
        wasm_bindgen_futures::spawn_local(async {
            tongue::learn().await;
            mount_to_body(App);
        });
    } else {
        mount_to_body(App);
    }
}

#[component]
fn App() -> impl IntoView {
    provide_context(Shop::open());
    // One route takes every path: what a path means is `Address`'s to say, and the router's part is the browser's history.
    leptos::view! {
        <Router base=frame::base_path()>
            <FlatRoutes fallback=pages::nowhere>
                <Route path=path!("*any") view=Places/>
            </FlatRoutes>
        </Router>
    }
}

type OfProcedure = Box<dyn Fn(AirframeId, &'static Procedure) -> AnyView + Send>;

/// A page about a procedure in the version that the airframe is at, when there is one.
fn of_procedure(id: AirframeId, procedure: String, page: OfProcedure) -> AnyView {
    let found = data::procedure_of(id, procedure);
    view! { {live(move || found.get().map_or_else(pages::missing, |procedure| page(id, procedure)))} }
}

/// The page of the address. A page stays while only the step of its run changes.
#[component]
fn Places() -> impl IntoView {
    let here = address::here();
    let page = Memo::new(move |_| here.with(Address::page));
    let view = move || match page.get() {
        Address::Hangar => pages::hangar(),
        Address::Settings => pages::settings(),
        Address::Folder => pages::folder(),
        Address::Teach => pages::teach(),
        Address::NewAirframe => pages::new_airframe(),
        Address::Desk => pages::desk(),
        Address::Bench => pages::bench(),
        Address::BenchOf(id) => pages::bench_of(&id),
        Address::Of(id, Page::Overview) => pages::airframe(id),
        Address::Of(id, Page::Work(procedure)) => of_procedure(id, procedure, Box::new(pages::work)),
        Address::Of(id, Page::Specification(procedure)) => of_procedure(id, procedure, Box::new(pages::specification)),
        Address::Of(id, Page::Write(procedure, _)) => pages::write(id, procedure, here),
        Address::Of(id, Page::WholeSpecification) => pages::whole_specification(id),
        Address::Of(id, Page::Reread(of)) if of.is_empty() => pages::reread(id, None),
        Address::Of(id, Page::Reread(of)) => {
            of_procedure(id, of, Box::new(|id, procedure| pages::reread(id, Some(procedure))))
        }
        Address::Of(id, Page::Instruments) => pages::instruments(id),
        Address::Of(id, Page::People) => pages::people(id),
        Address::Of(id, Page::Place(procedure)) => of_procedure(id, procedure, Box::new(pages::place)),
        Address::Of(id, Page::Record) => pages::record(id),
        Address::Of(id, Page::Send) => pages::send(id),
        Address::Of(id, Page::Todo) => pages::todo(id),
        Address::Of(id, Page::Time) => pages::time(id),
        Address::Of(id, Page::Photo(entry)) => pages::photo(id, entry),
        Address::Of(id, Page::Question(entry)) => pages::question(id, entry),
        Address::Of(id, Page::Ask(of, step)) => {
            of_procedure(id, of, Box::new(move |id, procedure| pages::ask(id, procedure, step.clone())))
        }
        Address::Of(id, Page::Notes(of, step)) => {
            of_procedure(id, of, Box::new(move |id, procedure| pages::notes(id, procedure, step.clone())))
        }
        Address::Of(id, Page::Helper(procedure, _)) => of_procedure(id, procedure, Box::new(pages::helper)),
        Address::Of(id, Page::Run(procedure, _)) => of_procedure(id, procedure, Box::new(pages::run)),
        Address::Unknown => pages::nowhere(),
    };
    view! {
        {frame::notices()}
        {live(view)}
    }
}
