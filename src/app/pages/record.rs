//! The record of one airframe: every entry, legible, with the way to strike one out.

use std::sync::Arc;

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::todo::ways;
use super::{keep_once, with_airframe};
use crate::app::address::{Address, Page};
use crate::app::controls::{Keyed, button, button_when, drawn_view, keyed, list, para, row, says, text_field};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::{Tap, changing, live, tap};
use crate::app::shop::Shop;
use crate::language::tr;
use crate::record::{Airframe, AirframeId, Body, EntryId};
use crate::report::{Line, Wholeness, latest_lines, lines_of};

/// How many entries are drawn at first, and how many more at a tap.
const PAGE: usize = 200;

/// The page.
pub(crate) fn record(id: AirframeId) -> AnyView {
    let shop = Shop::here();
    with_airframe(data::airframe(id), move |airframe| all_lines(shop, &airframe))
}

fn all_lines(shop: Shop, airframe: &Airframe) -> AnyView {
    let id = airframe.id;
    let shown = RwSignal::new(PAGE);
    let rows = Memo::new(move |_| shop.ledger.with(|ledger| latest_lines(ledger, id, shown.get())));
    let all = Memo::new(move |_| shop.ledger.with(|ledger| ledger.of(id).count()));
    let striking = RwSignal::new(None::<EntryId>);
    let count = move || {
        tr!("{n} entries, the newest first. Nothing is ever erased."
            | "{n} entries, the newest first. Nothing is ever erased." % all.get())
    };
    let older = move || {
        let left = all.get().saturating_sub(shown.get());
        let more = tap(move |_| shown.update(|shown| *shown += PAGE));
        (left > 0).then(|| button("older", "plain", tr!("Show older ones ({count} more)", count = left), more))
    };
    let list = move || {
        let one = |line: Line| -> Keyed {
            let key = format!("{} {}", line.entry, line.struck.is_some());
            (key, Arc::new(move || line_view(line.clone(), striking, id)))
        };
        rows.get().into_iter().rev().map(one).collect()
    };
    view! {
        <main class="record">
            {still_head("Record", (Address::Of(id, Page::Overview).path(), airframe.details.model.clone()))}
            {whole(shop, id, all)}
            {row(ways(id))}
            {says("entry-count", "", "", live(count))}
            <ol class="entries" reversed=true>
                {keyed(list)}
            </ol>
            {live(older)}
        </main>
    }
}

/// Whether the record is whole and as it was written; where it is not, each place with its entry.
fn whole(shop: Shop, id: AirframeId, entries: Memo<usize>) -> AnyView {
    let found = RwSignal::new(None::<Wholeness>);
    Effect::new(move |_| {
        let asked = entries.get();
        spawn_local(async move {
            let whole = shop.wholeness(id).await;
            // More was written meanwhile: that has its own answer.
            if entries.try_get_untracked() == Some(asked) {
                found.try_set(Some(whole));
            }
        });
    });
    let said = move || {
        let Some(found) = found.get() else { return para("lead", "Following the record from entry to entry…") };
        let mut all = vec![para("lead", found.lead)];
        let broken: Vec<EntryId> = found.places.iter().map(|(entry, _)| *entry).take(PAGE).collect();
        let lines = shop.ledger.with_untracked(|ledger| lines_of(ledger, id, &broken));
        let places: Vec<AnyView> =
            lines.into_iter().zip(found.places).map(|(line, (_, wrong))| place(line, wrong)).collect();
        if !places.is_empty() {
            all.push(view! { <ol class="entries broken">{places}</ol> });
        }
        all.extend(found.said.into_iter().map(|words| para("", words)));
        if !found.keys.is_empty() {
            let hint = "Ask whoever holds a phone to read out the words of its key: the same words, the same phone.";
            all.push(list("keys-list", found.keys));
            all.push(para("hint", hint));
        }
        all.into_any()
    };
    let state = changing(move || found.with(|found| found.as_ref().map(|found| found.unbroken.to_string())));
    view! { <section id="whole" class="whole" data-unbroken=state aria-live="polite">{live(said)}</section> }
}

/// A place where the record is not as it was written.
fn place(line: Line, wrong: String) -> AnyView {
    view! {
        <li class="entry">
            {para("entry-when", format!("{} · {}", line.when, line.by))}
            {para("entry-what", line.what)}
            {para("entry-struck", wrong)}
        </li>
    }
}

fn line_view(line: Line, striking: RwSignal<Option<EntryId>>, airframe: AirframeId) -> AnyView {
    let entry = line.entry;
    let label = tr!("Strike out: {entry}", entry = line.what);
    let class = if line.struck.is_some() { "entry struck" } else { "entry" };
    let can_strike = line.can_strike && line.struck.is_none();
    let strike = move || {
        if !can_strike {
            ().into_any()
        } else if striking.get() == Some(entry) {
            strike_out(entry, airframe, Callback::new(move |()| striking.set(None)))
        } else {
            let begin = tap(move |_| striking.set(Some(entry)));
            view! { <button class="plain strike" aria-label=label.clone() on:click=begin>"Strike out"</button> }
        }
    };
    view! {
        <li class=class>
            {para("entry-when", format!("{} · {}", line.when, line.by))}
            {para("entry-what", line.what)}
            {super::notes::thumbnail(airframe, entry)}
            {drawn(entry)}
            {line.struck.map(|reason| para("entry-struck", tr!("Struck out: {reason}", reason)))}
            {live(strike)}
        </li>
    }
}

/// The signature of an entry as it was drawn, where it was.
pub(crate) fn drawn(entry: EntryId) -> Option<AnyView> {
    Shop::here().ledger.with_untracked(|ledger| match &ledger.get(entry)?.body {
        Body::HoldSigned { drawn: Some(strokes), .. } => drawn_view(strokes),
        _ => None,
    })
}

/// Strikes an entry out for a reason, once however often it is hit; `done` is run once it is stored.
pub(crate) fn strikes(
    entry: EntryId,
    airframe: AirframeId,
    reason: impl Fn() -> String + 'static,
    done: Callback<()>,
) -> Tap {
    keep_once(airframe, move || Some(Body::Struck { entry, reason: reason() }), done)
}

/// Asks for the reason and strikes an entry out.
pub(crate) fn strike_out(entry: EntryId, airframe: AirframeId, done: Callback<()>) -> AnyView {
    let reason = RwSignal::new(String::new());
    let strike = strikes(entry, airframe, move || reason.get_untracked().trim().to_owned(), done);
    let given = move || reason.with(|reason| !reason.trim().is_empty());
    view! {
        <div class="strike-out">
            {text_field("reason", "Why is it struck out?", "It stays legible, with this reason beside it.", reason)}
            {row(vec![
                button("", "plain", "Leave it", tap(move |_| done.run(()))),
                button_when("strike-out", "Strike it out", given, strike),
            ])}
        </div>
    }
}
