//! What is left to do on an airframe, and the work log.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::notes::{left_list, time_form};
use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::browser::{clock, share};
use crate::app::controls::{button, link, para, part, says};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::language::{tr, words};
use crate::record::{About, Airframe, AirframeId, day_text};
use crate::report::{
    LONGEST_PAUSE, Worked, file_name, left_to_do, time_words, work_days, work_log, work_log_csv, work_sum,
};

/// What is left to do.
pub(crate) fn todo(id: AirframeId) -> AnyView {
    let shop = Shop::here();
    with_airframe(data::airframe(id), move |airframe| {
        let all = Memo::new(move |_| shop.ledger.with(|ledger| left_to_do(ledger, id)));
        let none = live(move || all.with(Vec::is_empty).then(|| para("", "Nothing is left open.")));
        view! {
            <main class="todo">
                {still_head("Left to do", back(&airframe))}
                {para("hint", "Open items, deviations and questions that wait for an answer. They are written down at a step, under Notes.")}
                {says("", "", "", none)}
                {left_list(id, all, true)}
            </main>
        }
    })
}

fn back(airframe: &Airframe) -> (String, String) {
    (Address::Of(airframe.id, Page::Overview).path(), airframe.details.model.clone())
}

/// The work log by day.
pub(crate) fn time(id: AirframeId) -> AnyView {
    let shop = Shop::here();
    with_airframe(data::airframe(id), move |airframe| {
        let rows = Memo::new(move |_| shop.ledger.with(|ledger| work_log(ledger, id)));
        let total = move || {
            rows.with(|rows| {
                if rows.is_empty() {
                    words!("No time yet.").to_owned()
                } else {
                    tr!("In all {time}.", time = work_sum(rows))
                }
            })
        };
        let days = move || {
            let day = |(day, rows): (chrono::NaiveDate, Vec<Worked>)| {
                let heading = tr!("{day}: {time}", day = day_text(day), time = work_sum(&rows));
                let rows = rows.into_iter().map(worked_row).collect::<Vec<_>>();
                part(heading, vec![view! { <ol class="entries">{rows}</ol> }])
            };
            work_days(rows.get()).into_iter().rev().map(day).collect::<Vec<_>>()
        };
        let rule = tr!(
            "A step takes the time since the entry before it on the same phone. More than {minutes} minutes without an entry is a \
             pause and is not counted: what was worked then, write it down by hand.",
            minutes = LONGEST_PAUSE
        );
        let by_hand = part("By hand", vec![time_form(id, &About::default(), Callback::new(|()| ()))]);
        view! {
            <main class="time">
                {still_head("Time", back(&airframe))}
                {says("time-total", "lead", "", live(total))}
                {para("hint", rule)}
                {by_hand}
                {send(airframe)}
                {live(days)}
            </main>
        }
    })
}

fn worked_row(row: Worked) -> AnyView {
    let Worked { title, who, minutes, by_hand, .. } = row;
    let how = if by_hand.is_some() { words!("by hand") } else { words!("from the entries") };
    let when = [time_words(u64::from(minutes)), who, how.to_owned()];
    let when = when.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(" · ");
    let words: Vec<String> =
        [title, by_hand.unwrap_or_default()].into_iter().filter(|words| !words.is_empty()).collect();
    view! { <li class="entry">{para("entry-when", when)}{para("entry-what", words.join(": "))}</li> }
}

fn send(airframe: Airframe) -> AnyView {
    let (shop, said) = (Shop::here(), RwSignal::new(String::new()));
    let send = tap(move |_| {
        let name = file_name(clock::now().date_naive(), &airframe, "work-log.csv");
        let text = shop.ledger.with_untracked(|ledger| work_log_csv(&airframe, ledger));
        spawn_local(async move {
            let sent = shop.sending.send(shop, &name, "text/csv", text.as_bytes()).await;
            said.try_set(share::outcome(&name, sent));
        });
    });
    view! {
        {button("export-time", "plain", "Send the work log (CSV)", send)}
        {says("export-result", "", "status", live(move || said.get()))}
    }
}

/// The ways to both, on the overview and the record page.
pub(crate) fn ways(id: AirframeId) -> Vec<AnyView> {
    let shop = Shop::here();
    let left = Memo::new(move |_| shop.ledger.with(|ledger| left_to_do(ledger, id).len()));
    let words = move || match left.get() {
        0 => words!("Left to do").to_owned(),
        count => tr!("Left to do: {count}", count),
    };
    let todo = Address::Of(id, Page::Todo).path();
    vec![
        view! { <a id="todo" class="plain" href=todo>{live(words)}</a> },
        link("time", "plain", Address::Of(id, Page::Time).path(), "Time"),
    ]
}
