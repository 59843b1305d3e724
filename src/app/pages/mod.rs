//! The pages, one file each.

mod airframe;
mod airframe_new;
mod ask;
mod bench;
mod desk;
mod folder;
mod hangar;
mod instruments;
mod notes;
mod people;
mod photo;
mod place;
mod question;
mod record;
mod reread;
mod run;
mod send;
mod settings;
mod sound;
mod specification;
mod take_in;
mod teach;
mod todo;
mod undo;
mod whole_specification;
mod work;
mod write;

pub(crate) use airframe::airframe;
pub(crate) use airframe_new::new_airframe;
pub(crate) use ask::ask;
pub(crate) use bench::{bench, bench_of};
pub(crate) use desk::desk;
pub(crate) use folder::folder;
pub(crate) use hangar::hangar;
pub(crate) use instruments::instruments;
pub(crate) use notes::notes;
pub(crate) use people::people;
pub(crate) use photo::photo;
pub(crate) use place::place;
pub(crate) use question::question;
pub(crate) use record::record;
pub(crate) use reread::reread;
pub(crate) use run::{helper, run};
pub(crate) use send::send;
pub(crate) use settings::settings;
pub(crate) use specification::specification;
pub(crate) use teach::teach;
pub(crate) use todo::{time, todo};
pub(crate) use whole_specification::whole_specification;
pub(crate) use work::work;
pub(crate) use write::write;

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::address::Address;
use super::controls::{link, para};
use super::frame::{head, still_head};
use super::live::{Busy, Tap, live, tap};
use super::shop::Shop;
use crate::language::words;
use crate::record::{Airframe, AirframeId, Body};

/// An address that leads nowhere.
pub(crate) fn nowhere() -> AnyView {
    view! {
        <main>
            {still_head("No such page", Default::default())}
            {para("", "This address leads nowhere in the app.")}
            {link("", "primary", Address::Hangar.path(), "To the hangar")}
        </main>
    }
}

/// The page of an airframe once it is there; until then, that it is being read; else, that it is not on this phone. The page is
/// drawn anew only when the airframe comes or goes: what changes inside draws itself.
pub(crate) fn with_airframe(
    airframe: Memo<Option<Airframe>>,
    page: impl Fn(Airframe) -> AnyView + Send + Sync + 'static,
) -> AnyView {
    let there = Memo::new(move |_| airframe.with(Option::is_some));
    let shown = live(move || {
        let found = if there.get() { airframe.get_untracked() } else { None };
        found.map_or_else(missing, &page)
    });
    view! { {shown} }
}

/// Keeps one entry, once however often it is hit while that is being stored, and again after a failure; `done` is run once it is stored.
pub(crate) fn keep_once(airframe: AirframeId, body: impl Fn() -> Option<Body> + 'static, done: Callback<()>) -> Tap {
    fn keep(shop: Shop, airframe: AirframeId, body: Body, busy: Busy, done: Callback<()>) {
        if !busy.begin() {
            return;
        }
        spawn_local(async move {
            let kept = shop.keep(airframe, vec![body]).await;
            busy.end();
            if kept.is_ok() {
                done.run(());
            }
        });
    }
    let (shop, busy) = (Shop::here(), Busy::new());
    tap(move |_| {
        if let Some(body) = body() {
            keep(shop, airframe, body, busy, done);
        }
    })
}

/// What a page shows instead of what it cannot find.
pub(crate) fn missing() -> AnyView {
    let shop = Shop::here();
    let title = move || if shop.ready.get() { words!("Not here") } else { words!("Opening") }.to_owned();
    let words = move || if shop.ready.get() { "This is not on this phone." } else { "Reading the record…" };
    view! {
        <main>
            {head(Signal::derive(title), Default::default())}
            <p>{live(words)}</p>
            {link("", "primary", Address::Hangar.path(), "To the hangar")}
        </main>
    }
}
