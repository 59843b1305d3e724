//! One part of a procedure that is being written: its fields, drawn by what the library says they are.

use std::sync::Arc;

use crate::app::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;

use super::outline::{folded, section_view};
use super::{Desk, missing};
use crate::app::controls::{Keyed, button, group, keyed, para, row, says};
use crate::app::frame::head;
use crate::app::live::{live, tap};
use crate::language::{tr, words};
use crate::procedure::faults;
use crate::procedure::writing::{self, Choosable, Field, FieldForm, Part, StepAt, fields, readings_of};

/// The page of a part.
pub(super) fn part(desk: Desk, part: Part) -> AnyView {
    let asked = Memo::new(move |_| desk.draft.with(|draft| fields(draft, part)));
    if asked.with_untracked(Vec::is_empty) {
        return missing();
    }
    let title = move || {
        let first = asked.with(|fields| fields.first().map(|field| field.value.clone())).unwrap_or_default();
        if first.is_empty() { words!("Without a title").to_owned() } else { first }
    };
    let up = match part {
        Part::Reading(at, _) => (desk.address(&at.to_string()).path(), words!("Step").to_owned()),
        _ => (desk.address("").path(), words!("All of it").to_owned()),
    };
    let list = move || {
        let one = |field: Field| -> Keyed {
            let key = format!("{} {} {:?}", field.key, field.label, field.form);
            (key, Arc::new(move || field_view(desk, part, field.clone())))
        };
        asked.get().into_iter().map(one).collect()
    };
    let wrong = move || {
        desk.draft.with(|draft| {
            let here = |place| writing::part_of(draft, place).0 == part;
            let all: Vec<String> =
                faults(draft).iter().filter(|fault| here(&fault.place)).map(|fault| fault.what.clone()).collect();
            if all.is_empty() { String::new() } else { tr!("To be mended: {faults}.", faults = all.join("; ")) }
        })
    };
    view! {
        <main class="write">
            {head(Signal::derive(title), up)}
            {keyed(list)}
            {live(move || step_readings(desk, part))}
            {says("part-faults", "refusal", "status", live(wrong))}
            {ways(desk, part)}
        </main>
    }
}

/// The readings of a measuring step.
fn step_readings(desk: Desk, part: Part) -> Option<AnyView> {
    let Part::Step(at) = part else { return None };
    let section = Memo::new(move |_| desk.draft.with(|draft| readings_of(draft, at)));
    section.get().map(|section| section_view(desk, section))
}

fn field_view(desk: Desk, part: Part, field: Field) -> AnyView {
    let refusal = RwSignal::new(String::new());
    let key = StoredValue::new(field.key.clone());
    let write = Callback::new(move |words: String| {
        let outcome = desk.change(|draft| key.with_value(|key| writing::set(draft, part, key, &words)));
        refusal.set(outcome.err().unwrap_or_default());
    });
    let id = format!("field-{}", field.key);
    let (shut, label) = (folded(&field.form), field.label.clone());
    let inside = match field.form {
        FieldForm::Line => input(id, field.label, field.value, "text", write),
        FieldForm::Number => input(id, field.label, field.value, "decimal", write),
        FieldForm::Lines => lines(id, field.label, field.value, write),
        FieldForm::One(options) => {
            let chosen = RwSignal::new(field.value);
            // The first run only reads what is chosen.
            Effect::new(move |before: Option<String>| {
                let now = chosen.get();
                if before.is_some_and(|before| before != now) {
                    write.run(now.clone());
                }
                now
            });
            one_of(id, field.label, options, chosen)
        }
        FieldForm::Any(options) => any_of(id, field.label, options, field.value, write),
        FieldForm::Yes => {
            let label = (String::from("yes"), field.label);
            any_of(id, String::new(), vec![label], field.value, write)
        }
    };
    let hint = (!field.hint.is_empty()).then(|| para("hint", field.hint));
    let refused = says("", "refusal", "alert", live(move || refusal.get()));
    if shut {
        return view! { <details class="folded"><summary>{label}</summary>{inside}{hint}</details> };
    }
    group("asked", vec![inside, hint.unwrap_or_else(|| ().into_any()), refused])
}

fn input(id: String, label: String, value: String, inputmode: &'static str, write: Callback<String>) -> AnyView {
    let target = id.clone();
    view! {
        <div class="field">
            <label for=target>{label}</label>
            <input id=id type="text" inputmode=inputmode autocomplete="off" maxlength="1000" prop:value=value
                on:input:target=move |event| write.run(event.target().value())/>
        </div>
    }
}

fn lines(id: String, label: String, value: String, write: Callback<String>) -> AnyView {
    let target = id.clone();
    view! {
        <div class="field">
            <label for=target>{label}</label>
            <textarea id=id rows="4" maxlength="4000" prop:value=value
                on:input:target=move |event| write.run(event.target().value())></textarea>
        </div>
    }
}

/// One of a list, by the platform's own picker.
pub(in crate::app::pages) fn one_of(
    id: String,
    label: String,
    options: Vec<Choosable>,
    chosen: RwSignal<String>,
) -> AnyView {
    let now = chosen.get_untracked();
    let options = options
        .into_iter()
        .map(|(key, title)| {
            let selected = key == now;
            view! { <option value=key selected=selected>{title}</option> }
        })
        .collect::<Vec<_>>();
    let target = id.clone();
    view! {
        <div class="field">
            <label for=target>{label}</label>
            <select id=id on:change:target=move |event| chosen.set(event.target().value())>{options}</select>
        </div>
    }
}

/// Any of a list.
fn any_of(id: String, label: String, options: Vec<Choosable>, value: String, write: Callback<String>) -> AnyView {
    let chosen = StoredValue::new(value.lines().map(str::to_owned).collect::<Vec<String>>());
    let boxes = options
        .into_iter()
        .map(|(key, title)| {
            let id = format!("{id}-{}", key.replace('/', "-"));
            let checked = chosen.with_value(|chosen| chosen.contains(&key));
            let target = id.clone();
            let turn = move |on: bool| {
                chosen.update_value(|chosen| {
                    chosen.retain(|other| *other != key);
                    if on {
                        chosen.push(key.clone());
                    }
                });
                write.run(chosen.with_value(|chosen| chosen.join("\n")));
            };
            view! {
                <label class="choice" for=target>
                    <input type="checkbox" id=id prop:checked=checked on:change:target=move |event| turn(event.target().checked())/>
                    <span>{title}</span>
                </label>
            }
        })
        .collect::<Vec<_>>();
    if label.is_empty() {
        return group("choices", vec![boxes.into_any()]);
    }
    view! { <fieldset class="choices"><legend>{label}</legend>{boxes}</fieldset> }
}

/// Moving the part among its neighbours, and taking it out.
fn ways(desk: Desk, part: Part) -> AnyView {
    if part == Part::About {
        return ().into_any();
    }
    let navigate = use_navigate();
    let to = {
        let navigate = navigate.clone();
        move |there: String| {
            navigate(&desk.address(&there).route(), NavigateOptions { replace: true, ..Default::default() });
        }
    };
    let moved = |part: Part, later: bool| {
        let step = |place: usize| if later { place + 1 } else { place.saturating_sub(1) };
        match part {
            Part::Step(at) => Part::Step(StepAt { place: step(at.place), ..at }),
            Part::Reading(at, place) => Part::Reading(at, step(place)),
            other => other,
        }
    };
    let shift = |id: &'static str, label: &'static str, later: bool| {
        let to = to.clone();
        let action = tap(move |_| {
            desk.change(|draft| writing::shift(draft, part, later));
            let there = moved(part, later);
            let still = desk.draft.with_untracked(|draft| fields(draft, there).is_empty());
            to(if still { part } else { there }.to_string());
        });
        button(id, "plain", label, action)
    };
    let mut buttons = Vec::new();
    if matches!(part, Part::Step(_) | Part::Reading(..)) {
        buttons.push(shift("earlier", "One place earlier", false));
        buttons.push(shift("later", "One place later", true));
    }
    let asking = RwSignal::new(false);
    let out = Callback::new(move |()| {
        desk.change(|draft| writing::remove(draft, part));
        to(match part {
            Part::Reading(at, _) => at.to_string(),
            _ => String::new(),
        });
    });
    let taken = move || {
        if !asking.get() {
            return button("take-out", "plain", "Take it out…", tap(move |_| asking.set(true)));
        }
        row(vec![
            button("", "plain", "Leave it in", tap(move |_| asking.set(false))),
            button("take-out-now", "plain", "Take it out", tap(move |_| out.run(()))),
        ])
    };
    view! { {row(buttons)}{live(taken)} }
}
