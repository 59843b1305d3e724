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
mod parts;
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

use address::Address;
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

/// The page of the address. A page stays while only the step of its run changes.
#[component]
fn Places() -> impl IntoView {
    let here = address::here();
    let page = Memo::new(move |_| here.with(Address::page));
    let view = move || parts::page_of(page.get(), here);
    view! {
        {frame::notices()}
        {live(view)}
    }
}
