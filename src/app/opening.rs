//! Taking in a record file, from wherever it comes: chosen in the hangar, shared to the app, opened with it.

use crate::app::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;
use wasm_bindgen_futures::spawn_local;

use super::address::{Address, Page};
use super::browser::{focus, handed, pick};
use super::controls::{button, named, para, row};
use super::live::{live, tap};
use super::parts;
use super::shop::Shop;
use crate::language::{tr, words};
use crate::record::{Digest, Merged};
use crate::report::{MAX_BYTES, read_record};

/// What became of a file, in words; and the question that it asks or answers, with whether anything of it was new.
pub(crate) type Opened = (String, Option<(Address, bool)>);

/// Takes a file in, all of it or nothing. Pages ask for it by [`parts::take_in`].
pub(super) async fn take_in(shop: Shop, file: web_sys::File) -> Result<Opened, String> {
    let limit = u64::try_from(MAX_BYTES).unwrap_or(u64::MAX);
    let text = pick::read_text(&file, limit).await.map_err(|error| error.to_string())?;
    let file = read_record(&text).map_err(|error| error.to_string())?;
    drop(text);
    let question = file.question;
    let entries = file.entries.iter().map(|entry| entry.id).collect();
    let photos: Vec<Digest> = file.photos.iter().map(|(digest, _)| *digest).collect();
    let merged = shop.import(file).await.map_err(|error| error.to_string())?;
    let came = photos.len();
    shop.note_file(entries, photos).await;
    let there = question.and_then(|question| {
        let airframe = shop.ledger.with_untracked(|ledger| ledger.get(question).map(|entry| entry.airframe))?;
        Some((Address::Of(airframe, Page::Question(question)), !merged.added.is_empty()))
    });
    Ok((outcome(&merged, came), there))
}

fn outcome(merged: &Merged, photos: usize) -> String {
    let mut words =
        vec![tr!("{new} new entries, {known} known already.", new = merged.added.len(), known = merged.known)];
    if photos > 0 {
        words.push(tr!("{n} photos came with them." | "{n} photos came with them." % photos));
    }
    if !merged.conflicts.is_empty() {
        words.push(tr!("{n} entries differ from the copies here: one of the files was altered outside the app."
            | "{n} entries differ from the copies here: one of the files was altered outside the app."
                % merged.conflicts.len()));
    }
    words.join(" ")
}

/// A file that the platform handed over: named, and opened when somebody says so. Any page on the network can post a form, so that
/// nothing is merged unasked.
pub(crate) fn handed_over(shop: Shop) -> AnyView {
    let said = RwSignal::new(String::new());
    let navigate = use_navigate();
    let open = Callback::new(move |()| {
        shop.handed.set(String::new());
        let Some(file) = handed::take() else { return };
        let navigate = navigate.clone();
        said.set(words!("Reading the file…").to_owned());
        spawn_local(async move {
            let (words, there) = parts::take_in(shop, file).await.unwrap_or_else(|refusal| (refusal, None));
            handed::forget().await;
            match there {
                Some((question, _)) => {
                    said.set(String::new());
                    navigate(&question.route(), NavigateOptions::default());
                }
                None => said.set(words),
            }
        });
    });
    let leave = Callback::new(move |()| {
        shop.handed.set(String::new());
        drop(handed::take());
        spawn_local(handed::forget());
    });
    let offer = move || {
        let name = shop.handed.get();
        (!name.is_empty() && shop.ready.get()).then(|| {
            let words = tr!(
                "{name} was handed to this app. Opened, it is merged with what is here; nothing here is replaced.",
                name
            );
            view! {
                <section id="handed" class="notice">
                    {para("", words)}
                    {row(vec![
                        button("leave-handed", "plain", "Leave it", tap(move |_| leave.run(()))),
                        button("open-handed", "plain", "Open it", tap(move |_| open.run(()))),
                    ])}
                </section>
            }
        })
    };
    let told = move || {
        let words = said.get();
        (!words.is_empty()).then(|| {
            let good = tap(move |_| {
                said.set(String::new());
                focus::focus_after_frame("heading");
            });
            view! {
                <section class="notice">
                    {named("handed-said", "", words)}
                    {button("", "plain", "Read", good)}
                </section>
            }
        })
    };
    shop.tell_what_is_said(said);
    view! { {live(offer)}{live(told)} }
}
