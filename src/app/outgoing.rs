//! What waits for a network: said on every page, and sent at one tap when there is one.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::browser::focus;
use super::controls::{button, group, named, para, part, row};
use super::live::{live, tap};
use super::shop::Shop;
use crate::folder::outbox_words;
use crate::language::tr;

/// What waits, with the one tap that sends; nothing where nothing waits.
pub(crate) fn notice(shop: Shop) -> AnyView {
    let sending = shop.sending;
    let words = Memo::new(move |_| {
        let back = sending.back.get() && sending.has_folder();
        let online = sending.online.get();
        sending.waiting.with(|waiting| {
            let names: Vec<&str> = waiting.iter().map(|file| file.name.as_str()).collect();
            outbox_words(&names, online, back)
        })
    });
    let shown = move || {
        let words = words.get();
        if words.is_empty() {
            return ().into_any();
        }
        let send = tap(move |_| {
            let folder = sending.back.get_untracked() && sending.has_folder();
            sending.back.set(false);
            sending.sent.set(String::new());
            spawn_local(async move {
                // The share sheet first: it opens for nothing but a tap.
                sending.send_next(shop).await;
                if folder {
                    sending.bring_into_step(shop).await;
                    sending.sent.update(|sent| *sent = format!("{sent} {}", sending.said.get_untracked().join(" ")));
                }
            });
        });
        let later = tap(move |_| {
            sending.back.set(false);
            focus::focus_after_frame("heading");
        });
        let (online, only_folder) = (sending.online.get(), sending.waiting.with(Vec::is_empty));
        let ways = match (online, only_folder) {
            (false, _) => ().into_any(),
            (true, true) => row(vec![
                button("send-waiting", "plain", "Bring into step", send),
                button("", "plain", "Not now", later),
            ]),
            (true, false) => button("send-waiting", "plain", "Send it", send),
        };
        view! { <section id="outbox-notice" class="notice">{para("", words)}{ways}</section> }
    };
    let told = move || {
        let words = sending.sent.get();
        (!words.is_empty()).then(|| {
            let read = tap(move |_| {
                sending.sent.set(String::new());
                focus::focus_after_frame("heading");
            });
            let inside = vec![named("outbox-said", "", words.trim().to_owned()), button("", "plain", "Read", read)];
            view! { <section class="notice">{inside}</section> }
        })
    };
    shop.tell_what_is_said(sending.sent);
    view! { {live(shown)}{live(told)} }
}

/// The files that wait, each with the way to take it out.
pub(crate) fn outbox(shop: Shop) -> AnyView {
    let sending = shop.sending;
    let list = move || {
        let waiting = sending.waiting.get();
        if waiting.is_empty() {
            return para("", "Nothing waits. A file that is sent without a network is put here.");
        }
        let one = |(place, file): (usize, super::browser::outbox::Waiting)| {
            let name = file.name.clone();
            let remove = tap(move |_| {
                let file = file.clone();
                spawn_local(async move { sending.remove(shop, file).await });
            });
            group(
                "waits",
                vec![
                    para("", name.clone()),
                    button(format!("unsend-{place}"), "plain", tr!("Take out {name}", name), remove),
                ],
            )
        };
        let mut items: Vec<AnyView> = waiting.into_iter().enumerate().map(one).collect();
        let send = tap(move |_| spawn_local(async move { sending.send_next(shop).await }));
        items.push(button("send-next", "plain", "Send the first now", send));
        view! { {items} }.into_any()
    };
    part("Outbox", vec![view! { {live(list)} }])
}
