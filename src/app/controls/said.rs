//! What was said: one large field for the keyboard's dictation key, and the readings that it may mean.

use crate::app::prelude::*;

use super::{button, para};
use crate::app::live::{changing, live, tap};
use crate::language::tr;
use crate::procedure::read_back;
use crate::quantity::{Command, Heard, Quantity, Unit, hear};

/// A number that was said, and what else it may have been.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Spoken {
    /// The words as they came.
    pub(crate) words: String,
    /// The readings, likeliest first; never empty.
    readings: Vec<Quantity>,
    /// Which of them is meant.
    chosen: usize,
    /// It need not be asked about.
    sure: bool,
}

impl Spoken {
    /// The reading that is meant, as long as nobody says otherwise.
    pub(crate) fn quantity(&self) -> &Quantity {
        &self.readings[self.chosen.min(self.readings.len() - 1)]
    }

    /// Of words, when they are a number.
    pub(crate) fn of(words: &str, unit: Unit, step: f64, expected: Option<f64>) -> Option<Self> {
        match hear(words, unit, step, expected) {
            Heard::Reading(readings) => Some(Self { words: words.to_owned(), sure: true, readings, chosen: 0 }),
            Heard::Command(_) | Heard::Unheard(_) => None,
        }
    }

    /// Of what a recogniser heard; `None` of nothing.
    pub(crate) fn heard(readings: Vec<Quantity>, sure: bool) -> Option<Self> {
        let words = readings.first()?.text.clone();
        Some(Self { words, readings, chosen: 0, sure })
    }

    /// The reading as it is read back on the screen: a question where it is not clear.
    pub(crate) fn read_back(&self, shown: &Quantity) -> String {
        if self.sure { shown.say() } else { read_back(std::slice::from_ref(shown), false, None).join(" ") }
    }
}

/// The field. What it hears goes to `spoken`; a command goes to `command` when the field is sent off (the keyboard's own key).
pub(crate) fn said_field(
    unit: Unit,
    step: f64,
    expected: Option<f64>,
    spoken: RwSignal<Option<Spoken>>,
    command: Callback<Command>,
) -> AnyView {
    let words = RwSignal::new(
        spoken.with_untracked(|spoken| spoken.as_ref().map(|spoken| spoken.words.clone()).unwrap_or_default()),
    );
    let trouble = RwSignal::new(String::new());
    let listen = move |typed: String| {
        trouble.set(match hear(&typed, unit, step, expected) {
            Heard::Unheard(why) if !typed.trim().is_empty() => why.to_string(),
            _ => String::new(),
        });
        spoken.set(Spoken::of(&typed, unit, step, expected));
        words.set(typed);
    };
    let send = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if let Heard::Command(heard) = words.with_untracked(|words| hear(words, unit, step, expected)) {
            words.set(String::new());
            command.run(heard);
        }
    };
    view! {
        <form class="said field" on:submit=send>
            <label for="said">"Say it with the keyboard's microphone key, or type the words"</label>
            <input id="said" type="text" autocomplete="off" autocapitalize="off" enterkeyhint="done" maxlength="200"
                prop:value=changing(move || words.get()) on:input:target=move |event| listen(event.target().value())/>
            <p id="unheard" class="hint" role="status">{live(move || trouble.get())}</p>
        </form>
    }
}

/// What else it may have been, each to be taken instead.
pub(crate) fn others(spoken: RwSignal<Option<Spoken>>) -> AnyView {
    let others = move || {
        let heard = spoken.get().filter(|heard| heard.readings.len() > 1)?;
        let choices =
            heard.readings.iter().enumerate().filter(|(place, _)| *place != heard.chosen).map(|(place, reading)| {
                let take = tap(move |_| {
                    spoken.update(|spoken| {
                        if let Some(spoken) = spoken {
                            spoken.chosen = place;
                            spoken.sure = true;
                            spoken.words = spoken.readings[place].text.clone();
                        }
                    });
                });
                button(
                    format!("heard-{place}"),
                    "plain",
                    tr!("{reading}: {words}", reading = reading.print(), words = reading.say()),
                    take,
                )
            });
        let choices = choices.collect::<Vec<_>>();
        Some(view! { {para("", "Or was it")}{choices} })
    };
    view! { {live(others)} }
}
