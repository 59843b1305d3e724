//! The folder that records are kept in step with, and the outbox.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::app::address::Address;
use crate::app::controls::{button, list, para, part, says, text_field, tick};
use crate::app::frame::still_head;
use crate::app::live::{changing, live, tap};
use crate::app::outgoing::outbox;
use crate::app::shop::Shop;
use crate::language::{tr, words};

/// The page.
pub(crate) fn folder() -> AnyView {
    let shop = Shop::here();
    let sending = shop.sending;
    Effect::new(move |_| sending.keep_place(shop));
    let way = move || {
        if sending.busy.get() {
            return button("folder-stop", "primary", "Stop", tap(move |_| sending.stop()));
        }
        let bring = tap(move |_| spawn_local(async move { sending.bring_into_step(shop).await }));
        button("folder-now", "primary", "Bring into step now", bring)
    };
    let said = live(move || list("", sending.said.get()));
    let last = live(move || {
        let last = if sending.busy.get() || !shop.ready.get() { String::new() } else { sending.last(shop) };
        if last.is_empty() { last } else { tr!("Last in step: {when}.", when = last) }
    });
    let about = "A folder that speaks WebDAV: a club's, a box at home, rented space. Phones that name the same folder keep their records \
                 in step through it. Every airframe on this phone goes there with its photos, invented examples excepted; whoever can \
                 read the folder can read them.";
    view! {
        <main>
            {still_head("Folder", (Address::Settings.path(), words!("Settings").to_owned()))}
            {para("", about)}
            {text_field("folder-address", "Address", words!("Begins with https://"), sending.address)}
            {text_field("folder-name", "Name", "As the folder's owner gave it.", sending.name)}
            {password(sending.password)}
            {tick("folder-keep", "Keep the password on this phone\nElse it is asked for again when the app was closed.", sending.keep)}
            {live(way)}
            <div id="folder-result" role="status">{said}</div>
            {says("folder-last", "hint", "", last)}
            {outbox(shop)}
            {part("What it does", vec![list("", vec![
                words!("It reads what other phones put there and joins it with what is here. Nothing here is replaced, nothing there is deleted.").to_owned(),
                words!("It happens when you tap, never by itself.").to_owned(),
            ])])}
        </main>
    }
}

fn password(value: RwSignal<String>) -> AnyView {
    view! {
        <div class="field">
            <label for="folder-password">"Password"</label>
            <input id="folder-password" type="password" autocomplete="off"
                prop:value=changing(move || value.get()) on:input:target=move |event| value.set(event.target().value())/>
        </div>
    }
}
