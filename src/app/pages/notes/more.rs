//! More that can be said of a step: a deviation, something that is left to do, time that was spent. One form at a time.

use crate::app::prelude::*;

use super::Said;
use crate::app::browser::clock;
use crate::app::controls::{button_when, latch, list, number_field, para, part, row, says, text_field};
use crate::app::live::{live, tap};
use crate::app::pages::keep_once;
use crate::app::pages::write::one_of;
use crate::app::shop::Shop;
use crate::language::{self, tr, words};
use crate::procedure::Procedure;
use crate::record::{About, Airframe, AirframeId, Body, Deviation, MAX_TEXT, OpenItem, Role, day_text};
use crate::report::{departure_at, steps_ahead, time_spent};

/// The choice of forms, and the one that is up.
pub(super) fn more(said: &Said, procedure: &'static Procedure) -> AnyView {
    let (up, said) = (RwSignal::new(""), said.clone());
    let choose = |id: &'static str, label: &'static str| {
        let toggle = tap(move |_| up.update(|up| *up = if *up == id { "" } else { id }));
        latch(id.to_owned(), "plain", label, move || up.get() == id, toggle)
    };
    let form = move || match up.get() {
        "add-deviation" => deviation_form(&said, procedure, up),
        "add-item" => item_form(&said, procedure, up),
        "add-time" => time_form(said.airframe, &said.about, Callback::new(move |()| up.set(""))),
        _ => ().into_any(),
    };
    part(
        "Write down",
        vec![
            row(vec![
                choose("add-item", "Something left to do"),
                choose("add-deviation", "A deviation"),
                choose("add-time", "Time spent"),
            ]),
            view! { {live(form)} },
        ],
    )
}

fn filled(text: RwSignal<String>) -> bool {
    text.with(|text| !text.trim().is_empty() && text.len() <= MAX_TEXT)
}

fn trimmed(text: RwSignal<String>) -> String {
    text.with_untracked(|text| text.trim().to_owned())
}

fn known(airframe: AirframeId) -> Option<Airframe> {
    Shop::here().ledger.with_untracked(|ledger| ledger.airframe(airframe))
}

/// What is out or in doubt at the step is put to somebody.
fn deviation_form(said: &Said, procedure: &'static Procedure, up: RwSignal<&'static str>) -> AnyView {
    let (shop, Said { airframe, about }) = (Shop::here(), said.clone());
    let found = known(airframe).and_then(|known| {
        let at = (about.run?, about.step.as_deref()?);
        let found = shop.ledger.with_untracked(|ledger| departure_at(ledger, &known, procedure, at))?;
        Some((known, found))
    });
    let Some((known, (found, limit))) = found else {
        return para("hint", "Nothing is out or in doubt here now: there is nothing to be accepted.");
    };
    let asks = known.people.iter().find(|person| matches!(person.role, Role::Mentor | Role::Inspector));
    let asked = RwSignal::new(asks.map(|person| person.name.clone()).unwrap_or_default());
    let reason = RwSignal::new(String::new());
    let words = vec![tr!("Found: {reading}.", reading = found), tr!("The limit: {limit}.", limit)];
    let body = move || {
        let (about, found, limit) = (about.clone(), found.clone(), limit.clone());
        Some(Body::DeviationRaised(Deviation { about, found, limit, reason: trimmed(reason), asked: trimmed(asked) }))
    };
    let keep = keep_once(airframe, body, Callback::new(move |()| up.set("")));
    view! {
        {list("", words)}
        {text_field("deviation-reason", "Why should it stand?", "", reason)}
        {text_field("deviation-asked", "Who is asked?", "Somebody who may decide it: the kit's support, an inspector.", asked)}
        {para("hint", "Until it is accepted it stays out. Accepted or not, the record says out.")}
        {button_when("raise-deviation", "Put it to them", move || filled(reason) && filled(asked), keep)}
    }
}

/// Something was found that is left to do.
fn item_form(said: &Said, procedure: &'static Procedure, up: RwSignal<&'static str>) -> AnyView {
    let (shop, Said { airframe, about }) = (Shop::here(), said.clone());
    let ahead = known(airframe)
        .zip(about.run)
        .map(|(known, run)| shop.ledger.with_untracked(|ledger| steps_ahead(ledger, &known, procedure, run)));
    let mut options = vec![(String::new(), words!("None").to_owned())];
    options.extend(ahead.unwrap_or_default());
    let (what, blocks) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let body = move || {
        let blocks = Some(blocks.get_untracked()).filter(|path| !path.is_empty());
        Some(Body::ItemOpened(OpenItem { about: about.clone(), what: trimmed(what), blocks }))
    };
    let keep = keep_once(airframe, body, Callback::new(move |()| up.set("")));
    view! {
        {text_field("item-what", "What is left to do?", "", what)}
        {one_of("blocks".to_owned(), words!("Which step stays shut until it is done?").to_owned(), options, blocks)}
        {button_when("open-item", "Keep it", move || filled(what), keep)}
    }
}

/// Time that the entries do not tell of.
pub(crate) fn time_form(airframe: AirframeId, about: &About, done: Callback<()>) -> AnyView {
    let new = || RwSignal::new(String::new());
    let (minutes, what, refusal, about) = (new(), new(), new(), about.clone());
    let day = RwSignal::new(day_text(clock::now().date_naive()));
    let body = move || {
        let read = |text: RwSignal<String>| text.get_untracked();
        let spent = time_spent(about.clone(), &read(day), &read(minutes), &read(what));
        refusal.set(language::ours(spent.as_ref().err().copied().unwrap_or_default()).to_owned());
        spent.ok().map(Body::TimeSpent)
    };
    let kept = Callback::new(move |()| {
        minutes.try_set(String::new());
        what.try_set(String::new());
        done.run(());
    });
    view! {
        {number_field("time-minutes", "How many minutes?", "", "numeric", minutes)}
        {text_field("time-day", "On which day?", "Year, month, day.", day)}
        {text_field("time-what", "What was done?", "", what)}
        {says("time-refusal", "refusal", "alert", live(move || refusal.get()))}
        {button_when("keep-time", "Keep the time", move || filled(minutes) && filled(what), keep_once(airframe, body, kept))}
    }
}
