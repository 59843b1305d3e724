//! Reading numbers: the pad, the readings taken, the hand-over to a second person.

use leptos::prelude::*;

use super::Screen;
use crate::app::controls::{PadEntry, PadPanel, TextField, button_when, named, para};
use crate::app::live::{live, tap};
use crate::app::pages::record::strike_out;
use crate::app::shop::Shop;
use crate::app::widgets::AttemptsChart;
use crate::procedure::{Face, Slot, Words, accept, fill};
use crate::record::EntryId;
use crate::sketch::attempts_chart;

/// One number: which, where, how often; and the pad.
pub(super) fn read(screen: Screen, slot: Slot, repeat: usize, attempt: usize) -> AnyView {
    let shop = Shop::here();
    let Some(airframe) = screen.airframe.get_untracked() else { return ().into_any() };
    let Some((instrument, _)) = airframe.instruments.get(&slot.role).cloned() else {
        return para("lead", format!("First accept the {}: an earlier step.", slot.role));
    };
    let refusal = RwSignal::new(String::new());
    let path = screen.here().map(|(run, step)| format!("{run}/{step}")).unwrap_or_default();
    let draft_key = format!("{path}/{}/{attempt}/{repeat}", slot.id);
    let count = if slot.repeats > 1 { format!("{repeat} of {}", slot.repeats) } else { String::new() };
    let expected = screen
        .step
        .with_untracked(|step| step.as_ref()?.expected.map(|expected| Words::prediction(expected, instrument.step)));
    let title = fill(&slot.title, &airframe.specification);
    let place = fill(&slot.place, &airframe.specification);
    let on_keep = {
        let (slot, instrument, draft_key) = (slot.clone(), instrument.clone(), draft_key.clone());
        Callback::new(move |entry: PadEntry| match accept(&entry.text, entry.negative, &slot, &instrument, &airframe) {
            Err(refused) => refusal.set(refused.to_string()),
            Ok(value) => {
                let draft_key = draft_key.clone();
                let clear = move || shop.put_draft(draft_key, String::new());
                screen.take(slot.id.clone(), value, instrument.clone(), None, clear);
            }
        })
    };
    view! {
        <h2 id="slot-title" data-slot=slot.id.clone() data-repeat=repeat.to_string()>{title} " " <small>{count}</small></h2>
        {para("place", place)}
        {expected.map(|words| named("expected", "hint", format!("After that move: {words}.")))}
        <PadPanel what=slot instrument=instrument draft_key=draft_key on_keep=on_keep refusal=refusal/>
    }
    .into_any()
}

/// The readings of the set on the screen as chips; a tap strikes one out. And how the attempts have come together.
pub(super) fn readings(screen: Screen) -> AnyView {
    let striking = RwSignal::new(None::<EntryId>);
    let path = Memo::new(move |_| screen.step.with(|step| step.as_ref().map(|step| step.path.clone())));
    // A strike begun at one step is not asked for at the next.
    Effect::new(move |_| {
        path.with(|_| ());
        striking.set(None);
    });
    let shown = Memo::new(move |_| {
        let (step, face) = (screen.step.get()?, screen.face.get()?);
        let attempt = if matches!(face, Face::Judged) { step.attempt() } else { step.begun() };
        let readings = attempt?.readings.iter();
        let rows = readings.map(|reading| (reading.entry, format!("{} {}", reading.slot, reading.value.print())));
        (!face.hides(&step)).then(|| rows.collect::<Vec<_>>())
    });
    let chips = move || {
        let rows = shown.get().filter(|rows| !rows.is_empty())?;
        let chips = rows.into_iter().map(|(entry, text)| chip(entry, text, striking)).collect::<Vec<_>>();
        Some(view! { <ul class="chips" aria-label="Readings taken">{chips}</ul> })
    };
    let form = move || {
        let airframe = screen.airframe.with_untracked(|airframe| airframe.as_ref().map(|airframe| airframe.id))?;
        Some(strike_out(striking.get()?, airframe, Callback::new(move |()| striking.set(None))))
    };
    let chart = move || {
        let (step, face) = (screen.step.get()?, screen.face.get()?);
        let several = step.results.iter().flatten().count() > 1;
        let chart = if several && !face.hides(&step) { attempts_chart(&step) } else { None };
        chart.map(|chart| view! { <AttemptsChart chart/> })
    };
    view! { {live(chips)}{live(form)}{live(chart)} }.into_any()
}

fn chip(entry: EntryId, text: String, striking: RwSignal<Option<EntryId>>) -> AnyView {
    let label = format!("{text}: strike out");
    let strike = tap(move |_| striking.set(Some(entry)));
    view! { <li><button type="button" class="reading chip" aria-label=label on:click=strike>{text}</button></li> }
        .into_any()
}

/// A second person takes the phone and says who they are.
pub(super) fn hand_over(screen: Screen) -> AnyView {
    let name = RwSignal::new(String::new());
    let given = move || name.with(|name| !name.trim().is_empty());
    let begin = tap(move |_| screen.reader.set(Some(name.get_untracked().trim().to_owned())));
    view! {
        {para("lead", "Hand the phone to the second person now.")}
        <TextField id="reader" label="Your name" value=name hint="You read alone. The first values stay hidden until your last one is in."/>
        {button_when("begin-reading", "Begin to read", given, begin)}
    }
    .into_any()
}
