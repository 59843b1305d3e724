//! What is typed of an instrument: what it reads to, what is written on it, what its card says.

use crate::app::prelude::*;

use super::{Choice, TextField, button, says};
use crate::app::live::{live, tap};
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
    let limit = "Good to plus or minus".to_owned();
    view! {
        <Choice name="preset" label=kind.title() value=preset options numbered=true/>
        <TextField id="instrument-name" label="What is written on it" value=name hint="So that it is known again."/>
        <details>
            <summary class="plain">"What its card says"</summary>
            {(!classes.is_empty()).then(|| view! { <Choice name="class" label="Class printed on the tape" value=class options=classes/> })}
            <TextField id="instrument-accuracy" label=limit value=accuracy inputmode="decimal"
                hint="Its maker's limit of error. Blank: as above."/>
            <TextField id="instrument-checked" label="Last checked against a reference" value=checked hint="Year-month-day, such as 2026-03-31."/>
            <TextField id="instrument-due" label="A check holds for this many days" value=due_after inputmode="numeric"/>
        </details>
        {says("instrument-refusal", "refusal", "alert", live(move || refusal.get()))}
        {button("accept", "primary", "Accept it", take)}
    }
}
