//! Reading numbers: the pad, the readings taken, the hand-over to a second person.

use crate::app::prelude::*;

use super::Screen;
use crate::app::address::{Address, Page};
use crate::app::browser::{clock, focus};
use crate::app::controls::{PadWork, button, button_when, named, pad_panel, para, who_field};
use crate::app::live::{live, tap};
use crate::app::pages::people::everybody;
use crate::app::pages::record::strike_out;
use crate::app::shop::Shop;
use crate::app::widgets::attempts;
use crate::language::tr;
use crate::procedure::{
    Doubt, Face, Slot, SlotRow, StepKind, Words, asked_once_closed, context_of, doubt, fill, instrument_for, plausible,
    slot_rows, state_words,
};
use crate::quantity::{Command, Quantity};
use crate::record::{AirframeId, EntryId, Instrument, role_words};
use crate::sketch::attempts_chart;

/// One number: which, where, how often; what has to be said of the instrument; the pad; and what the number is doubted for.
pub(super) fn read(screen: Screen, slot: Slot, repeat: usize, attempt: usize) -> AnyView {
    let known = screen.airframe.get_untracked().zip(screen.run.get_untracked()).zip(screen.step.get_untracked());
    let Some(((airframe, run), step)) = known else { return ().into_any() };
    let Some(instrument) = instrument_for(screen.procedure, &airframe, &step, &slot) else {
        return para(
            "lead",
            tr!("First accept the {instrument}: an earlier step.", instrument = role_words(&slot.role)),
        );
    };
    let context = context_of(screen.procedure, &airframe, &run, &step, &slot, &instrument);
    let refusal = RwSignal::new(String::new());
    let doubted = RwSignal::new(None::<(Doubt, Quantity)>);
    // Asked about already: the same number again is what was read.
    let looked = RwSignal::new(None::<(f64, String)>);
    let draft_key = draft_key(screen, &slot, repeat, attempt);
    let count =
        if slot.repeats > 1 { tr!("{repeat} of {repeats}", repeat, repeats = slot.repeats) } else { String::new() };
    let expected = step.expected.map(|expected| Words::prediction(expected, instrument.step));
    let (title, place) = (fill(&slot.title, &airframe.specification), fill(&slot.place, &airframe.specification));
    let state = state_words(&run, &instrument, clock::now().date_naive());
    let take = taking(screen, &slot, &instrument, &draft_key);
    let shop = Shop::here();
    let own = shop.settings.with_untracked(|settings| settings.device);
    let asked = shop.ledger.with_untracked(|ledger| asked_once_closed(airframe.id, run.id, ledger, own));
    // Who reads blind, and that it is measured again, is asked anew after a start.
    let asked_anew = screen.again.get_untracked() || screen.reader.with_untracked(Option::is_some);
    let until = if asked_anew { Some(0) } else { asked.map(|at| at.timestamp_millis()) };
    let on_keep = {
        let (slot, context) = (slot.clone(), context.clone());
        Callback::new(move |value: Quantity| {
            doubted.set(None);
            let before = looked.get_untracked().filter(|(number, _)| *number == value.value);
            match plausible(&value, &slot, &airframe) {
                Err(refused) => refusal.set(refused.to_string()),
                Ok(()) if before.is_some() => take.run((value, before.map(|(_, question)| question))),
                Ok(()) => match doubt(&value, &context) {
                    Some(found) => {
                        looked.set(Some((value.value, found.to_string())));
                        doubted.set(Some((found, value)));
                        // Whoever keeps by keyboard reads the question before anything is pressed again.
                        focus::focus_after_frame("doubt-words");
                    }
                    None => take.run((value, None)),
                },
            }
        })
    };
    let on_command = Callback::new(move |command: Command| screen.command(command));
    let said_near = context.expected.map(|expected| expected.value);
    let blind = matches!(&step.step.kind, StepKind::Measure { blind: true, .. });
    let about = said_near.filter(|_| !blind);
    let on_touch = Callback::new(move |()| doubted.set(None));
    let on_say = Callback::new(move |words: String| screen.say(&words));
    Effect::new(move |_| {
        let question = doubted.with(|doubted| doubted.as_ref().map(|(found, _)| found.to_string()));
        let words = question.unwrap_or_else(|| refusal.get());
        if !words.is_empty() {
            // What asks something may not stay unseen behind the far view.
            screen.views.come_near();
            screen.say(&words);
        }
    });
    let typed = screen.views.typed;
    let work =
        PadWork { draft_key, expected: said_near, about, until, on_keep, refusal, on_touch, typed, on_say, on_command };
    view! {
        <h2 id="slot-title" data-slot=slot.id.clone() data-repeat=repeat.to_string()>{title} " " <small>{count}</small></h2>
        {para("place", place)}
        {(!state.is_empty()).then(|| named("instrument-state", "hint", state.join(" ")))}
        {expected.map(|words| named("expected", "hint", tr!("After that move: {prediction}.", prediction = words)))}
        {live(move || doubted.get().map(|(found, value)| doubt_panel(found, value, doubted, take)))}
        {pad_panel(slot, instrument, work)}
    }
}

/// Under which the half-typed reading of a slot is kept.
pub(super) fn draft_key(screen: Screen, slot: &Slot, repeat: usize, attempt: usize) -> String {
    let path = screen.here().map(|(run, step)| format!("{run}/{step}")).unwrap_or_default();
    format!("{path}/{}/{attempt}/{repeat}", slot.id)
}

/// Keeps a number as the slot's reading, with what was asked about it; what was half typed is forgotten once it is stored.
pub(super) fn taking(
    screen: Screen,
    slot: &Slot,
    instrument: &Instrument,
    draft_key: &str,
) -> Callback<(Quantity, Option<String>)> {
    let shop = Shop::here();
    let busy = StoredValue::new(false);
    let (slot, instrument, draft_key) = (slot.id.clone(), instrument.clone(), draft_key.to_owned());
    Callback::new(move |(value, asked): (Quantity, Option<String>)| {
        // A second hit of a glove while the first is being stored would be another reading.
        if busy.get_value() {
            return;
        }
        busy.set_value(true);
        let draft_key = draft_key.clone();
        let stored = move |kept: bool| {
            busy.try_set_value(false);
            if kept {
                shop.put_draft(draft_key, String::new());
            }
        };
        screen.take(slot.clone(), value, instrument.clone(), asked, stored);
    })
}

/// Asks once: it is what was read, or what was probably meant, or look again.
fn doubt_panel(
    found: Doubt,
    value: Quantity,
    doubted: RwSignal<Option<(Doubt, Quantity)>>,
    take: Callback<(Quantity, Option<String>)>,
) -> AnyView {
    let question = found.to_string();
    let asked = Some(question.clone());
    let as_read = button(
        "as-read",
        "plain",
        tr!("It is what I read: {reading}", reading = value.print()),
        tap({
            let value = value.clone();
            move |_| take.run((value.clone(), asked.clone()))
        }),
    );
    let meant = found.meant.map(|meant| {
        let label = tr!("I meant {reading}", reading = meant.print());
        button("as-meant", "plain", label, tap(move |_| take.run((meant.clone(), None))))
    });
    let again = button("look-again", "plain", "Let me look again", tap(move |_| doubted.set(None)));
    view! {
        <section id="doubt" class="notice" role="alertdialog" aria-labelledby="doubt-words">
            {named("doubt-words", "lead", question)}
            {meant}
            {as_read}
            {again}
        </section>
    }
}

/// The readings of the set on the screen as chips; a tap strikes one out. And how the attempts have come together.
pub(super) fn readings(screen: Screen) -> AnyView {
    let striking = screen.striking;
    let shown = Memo::new(move |_| {
        let (step, face, airframe) = (screen.step.get()?, screen.face.get()?, screen.airframe.get()?);
        let attempt = if matches!(face, Face::Judged) { step.attempt() } else { step.begun() };
        (!face.hides(&step))
            .then(|| attempt.map(|attempt| slot_rows(&step, attempt, &airframe.specification)).unwrap_or_default())
    });
    let chips = move || {
        let rows = shown.get().unwrap_or_default();
        let mut last = rows.iter().flat_map(|row| row.readings.iter().map(|(entry, _)| *entry)).max();
        if screen.written.is_some() {
            last = None;
        }
        let airframe = screen.airframe.with_untracked(|airframe| airframe.as_ref().map(|airframe| airframe.id));
        let of_last = last.zip(airframe);
        let one = |row: SlotRow| {
            let here = of_last.filter(|(last, _)| row.readings.iter().any(|(entry, _)| entry == last));
            slot_row(row, striking, here.map(|(entry, airframe)| photo_of(airframe, entry)))
        };
        rows.into_iter().map(one).collect::<Vec<_>>()
    };
    let form = move || {
        let airframe = screen.airframe.with_untracked(|airframe| airframe.as_ref().map(|airframe| airframe.id))?;
        Some(strike_out(striking.get()?, airframe, Callback::new(move |()| striking.set(None))))
    };
    let chart = move || {
        let (step, face) = (screen.step.get()?, screen.face.get()?);
        let several = step.results.iter().flatten().count() > 1;
        let chart = if several && !face.hides(&step) { attempts_chart(&step) } else { None };
        chart.map(|chart| attempts(&chart))
    };
    view! { {live(chips)}{live(form)}{live(chart)} }
}

/// The way to a photo of the reading just taken.
fn photo_of(airframe: AirframeId, entry: EntryId) -> AnyView {
    let address = Address::Of(airframe, Page::Photo(entry)).path();
    view! { <li><a id="photo" class="chip photo-of" href=address aria-label="Photo of the last reading">"Photo"</a></li> }
}

fn slot_row(row: SlotRow, striking: RwSignal<Option<EntryId>>, photo: Option<AnyView>) -> AnyView {
    let SlotRow { title, readings, summary } = row;
    let chips = readings.into_iter().map(|(entry, text)| chip(entry, text, striking)).collect::<Vec<_>>();
    let words = summary.map_or_else(|| title.clone(), |summary| tr!("{title}: {summary}", title, summary));
    view! {
        {para("row-title", words)}
        <ul class="chips" aria-label=title>{chips}{photo}</ul>
    }
}

fn chip(entry: EntryId, text: String, striking: RwSignal<Option<EntryId>>) -> AnyView {
    let label = tr!("{reading}: strike out", reading = text);
    let strike = tap(move |_| striking.set(Some(entry)));
    view! { <li><button type="button" class="reading chip" aria-label=label on:click=strike>{text}</button></li> }
}

/// A second person takes the phone and says who they are.
pub(super) fn hand_over(screen: Screen) -> AnyView {
    let name = RwSignal::new(String::new());
    let known = everybody(screen.airframe);
    let given = move || name.with(|name| !name.trim().is_empty());
    let begin = tap(move |_| screen.reader.set(Some(name.get_untracked().trim().to_owned())));
    view! {
        {para("lead", "Hand the phone to the second person now.")}
        {who_field("reader", "Your name", "You read alone. The first values stay hidden until your last one is in.", known, name)}
        {button_when("begin-reading", "Begin to read", given, begin)}
    }
}
