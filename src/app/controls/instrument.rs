//! What is typed of an instrument: what it reads to, what is written on it, what its card says.

use crate::app::prelude::*;

use super::{button, choice_of, number_field, numbered_choice_of, says, text_field};
use crate::app::live::{live, tap};
use crate::language::words;
use crate::procedure::{InstrumentDraft, describe, draft_of_instrument, presets};
use crate::record::{Instrument, InstrumentKind, Units};

/// The form for an instrument of a kind; `now` is what is known of it. `accept` takes it when every field can be read.
pub(crate) fn instrument_form(
    kind: InstrumentKind,
    units: Units,
    now: Option<&Instrument>,
    accept: Callback<Instrument>,
) -> AnyView {
    let offered = presets(kind, units);
    let same = |instrument: &Instrument| {
        offered.iter().position(|preset| preset.step == instrument.step && preset.unit == instrument.unit)
    };
    let place = now.and_then(same).unwrap_or(0);
    let Some(first) = offered.get(place).copied() else { return ().into_any() };
    let draft = now.map(|instrument| draft_of_instrument(instrument, first)).unwrap_or_default();
    let InstrumentDraft { name, accuracy, class, checked, due_after } = draft;
    let preset = RwSignal::new(place.to_string());
    let (name, class) = (RwSignal::new(name), RwSignal::new(class));
    let [accuracy, checked, due_after] = [accuracy, checked, due_after].map(RwSignal::new);
    let refusal = RwSignal::new(String::new());
    let take = tap(move |_| {
        let place = preset.with_untracked(|place| place.parse::<usize>().unwrap_or(0));
        let Some(preset) = offered.get(place).copied() else { return };
        let draft = InstrumentDraft {
            name: name.get_untracked(),
            accuracy: accuracy.get_untracked(),
            class: class.get_untracked(),
            checked: checked.get_untracked(),
            due_after: due_after.get_untracked(),
        };
        match describe(&draft, kind, preset) {
            Err(error) => refusal.set(error.to_string()),
            Ok(instrument) => accept.run(instrument),
        }
    });
    let options = offered.iter().enumerate().map(|(place, preset)| (place.to_string(), preset.label())).collect();
    let classes = InstrumentDraft::classes(kind);
    let limit = words!("Good to plus or minus").to_owned();
    view! {
        {numbered_choice_of("preset", kind.title(), preset, options)}
        {text_field("instrument-name", "What is written on it", "So that it is known again.", name)}
        <details>
            <summary class="plain">"What its card says"</summary>
            {(!classes.is_empty()).then(|| choice_of("class", "Class printed on the tape", class, classes))}
            {number_field("instrument-accuracy", &limit, "Its maker's limit of error. Blank: as above.", "decimal", accuracy)}
            {text_field("instrument-checked", "Last checked against a reference", "Year-month-day, such as 2026-03-31.", checked)}
            {number_field("instrument-due", "A check holds for this many days", "", "numeric", due_after)}
        </details>
        {says("instrument-refusal", "refusal", "alert", live(move || refusal.get()))}
        {button("accept", "primary", "Accept it", take)}
    }
}
