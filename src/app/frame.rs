//! What stands around every page: the address base, the header, and the notices that may not be missed.

use crate::app::prelude::*;

use wasm_bindgen_futures::spawn_local;

use super::address::Address;
use super::browser::worker::{self, WorkerState};
use super::browser::{ahead, clock, focus, share, tabs};
use super::controls::{Text, button, link, para, row, says};
use super::live::{live, tap};
use super::opening;
use super::outgoing;
use super::parts;
use super::shop::Shop;
use super::tongue;
use super::upkeep;
use crate::language::{tr, words};
use crate::report::{Parcel, write_json};

/// The path that the app is served under, without its last slash: "" at the root of a host.
pub(crate) fn base_path() -> String {
    let base = document().base_uri().ok().flatten().unwrap_or_default();
    let path = base.split_once("://").and_then(|(_, rest)| rest.find('/').map(|at| rest[at..].to_owned()));
    path.unwrap_or_default().split(['?', '#']).next().unwrap_or_default().trim_end_matches('/').to_owned()
}

/// The page's head: where you are, and the way up. Sets the document's title and takes the focus, since a single page app does
/// not do either by itself. `up` is an address and a name, both empty where there is no way up.
pub(crate) fn head(title: Signal<String>, up: (String, String)) -> AnyView {
    head_with(title, up, ().into_any())
}

/// The same, with something beside the way up.
pub(crate) fn head_with(title: Signal<String>, up: (String, String), beside: AnyView) -> AnyView {
    Effect::new(move |_| {
        focus::title(&format!("{} · Trammel", title.get()));
        focus::focus_after_frame("heading");
    });
    if let Some(shell) = document().get_element_by_id("shell") {
        shell.remove();
    }
    // A pad on this page takes over what was hit on the picture first.
    if Shop::here().ready.get_untracked() {
        clock::soon(ahead::leave);
    }
    let (address, name) = up;
    view! {
        <header class="head">
            {(!name.is_empty()).then(|| link("", "up", address, format!("‹ {name}")))}
            {beside}
            <h1 id="heading" tabindex="-1">{live(move || title.get())}</h1>
        </header>
    }
}

/// A head whose title stays.
pub(crate) fn still_head(title: impl Into<Text>, up: (String, String)) -> AnyView {
    let Text(title) = title.into();
    head(Signal::stored(title), up)
}

/// The way up to the hangar.
pub(crate) fn hangar() -> (String, String) {
    (Address::Hangar.path(), words!("Hangar").to_owned())
}

/// Trouble with storage, another tab that writes, a new version: said on every page until it is over.
pub(crate) fn notices() -> AnyView {
    let shop = Shop::here();
    Effect::new(move |_| {
        if shop.ready.get() {
            clock::soon(parts::leave_picture);
        }
    });
    let trouble = move || {
        shop.trouble.get().map(|words| {
            let export = tap(move |_| spawn_local(async move { export_everything(shop).await }));
            let ways = row(vec![
                button("try-again", "plain", "Try again", tap(move |_| shop.try_again())),
                button("export-now", "plain", "Export what is here", export),
            ]);
            notice("trouble", "notice trouble", words, ways)
        })
    };
    let unstored = move || {
        let count = shop.unstored.get();
        (count > 0).then(|| {
            let words = tr!(
                "{n} entries are only in this tab: the browser stores nothing for this page. Export before you close it."
                    | "{n} entries are only in this tab: the browser stores nothing for this page. Export before you close it."
                    % count
            );
            notice("unstored", "notice trouble", words, ().into_any())
        })
    };
    let not_writer = move || {
        (shop.ready.get() && !shop.writes.get()).then(|| {
            let words = "Another tab of this app is writing. This one shows what is kept.";
            let here = button("write-here", "plain", "Write here instead", tap(move |_| tabs::ask_for_writer()));
            notice("not-writer", "notice", words, here)
        })
    };
    let update = move || {
        matches!(shop.worker.get(), WorkerState::UpdateReady).then(|| {
            let words = "A new version is ready. It waits until you say so.";
            let now = tap(move |_| {
                worker::apply_update();
            });
            notice("update-ready", "notice", words, button("update-now", "plain", "Update now", now))
        })
    };
    let speechless = RwSignal::new(tongue::missing());
    let told = move || {
        let words = speechless.get()?;
        let read = button(
            "language-read",
            "plain",
            "Read",
            tap(move |_| {
                speechless.set(None);
                focus::focus_after_frame("heading");
            }),
        );
        Some(notice("language-missing", "notice", words, read))
    };
    view! {
        <aside class="notices" aria-label="Notices">
            <div role="alert">{live(trouble)}{live(unstored)}</div>
            {upkeep::notices(shop)}
            {opening::handed_over(shop)}
            {outgoing::notice(shop)}
            {live(not_writer)}
            {live(update)}
            {says("told", "unseen", "status", live(move || shop.told.get()))}
            {live(told)}
        </aside>
    }
}

fn notice(id: &'static str, class: &'static str, words: impl Into<Text>, inside: AnyView) -> AnyView {
    view! { <section id=id class=class>{para("", words)}{inside}</section> }
}

/// Everything in this tab's ledger as one file, at once: photos are in the storage that is in trouble.
async fn export_everything(shop: Shop) {
    let text = shop.ledger.with_untracked(|ledger| write_json(ledger.entries()));
    let name = Parcel::Record.name(clock::now().date_naive(), None);
    if let Err(error) = shop.sending.send(shop, &name, "application/json", text.as_bytes()).await
        && !matches!(error, share::ShareError::Cancelled)
    {
        shop.trouble.set(Some(error.to_string()));
    }
}
