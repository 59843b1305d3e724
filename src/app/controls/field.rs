//! Form fields with their labels, large enough for a glove.

use super::Text;
use crate::app::live::changing;
use crate::app::prelude::*;

use crate::record::MAX_TEXT;

/// One line of text. `hint`: a word more, empty where there is none.
pub(crate) fn text_field(id: &str, label: impl Into<Text>, hint: &'static str, value: RwSignal<String>) -> AnyView {
    number_field(id, label, hint, "text", value)
}

/// One line of text for which the phone shows the keys of `inputmode`: "decimal" or "numeric" for numbers.
pub(crate) fn number_field(
    id: &str,
    label: impl Into<Text>,
    hint: &'static str,
    inputmode: &'static str,
    value: RwSignal<String>,
) -> AnyView {
    fn build(
        id: String,
        label: String,
        hint: &'static str,
        inputmode: &'static str,
        value: RwSignal<String>,
    ) -> AnyView {
        let hint_id = format!("{id}-hint");
        let described = (!hint.is_empty()).then(|| hint_id.clone());
        view! {
            <div class="field">
                <label for=id.clone()>{label}</label>
                <input id=id type="text" inputmode=inputmode autocomplete="off" maxlength=(MAX_TEXT / 4).to_string()
                    aria-describedby=described prop:value=changing(move || value.get()) on:input:target=move |event| value.set(event.target().value())/>
                {(!hint.is_empty()).then(|| view! { <p class="hint" id=hint_id>{hint}</p> })}
            </div>
        }
    }
    build(id.to_owned(), label.into().0, hint, inputmode, value)
}

/// One of a few, as large buttons. Each option is its key and its label; ids are `name-key`.
pub(crate) fn choice_of(
    name: &str,
    label: impl Into<Text>,
    value: RwSignal<String>,
    options: Vec<(String, String)>,
) -> AnyView {
    choices(name, label.into().0, value, options, false)
}

/// One of a few, with ids `name-0`, `name-1`, …
pub(crate) fn numbered_choice_of(
    name: &str,
    label: impl Into<Text>,
    value: RwSignal<String>,
    options: Vec<(String, String)>,
) -> AnyView {
    choices(name, label.into().0, value, options, true)
}

fn choices(
    name: &str,
    label: String,
    value: RwSignal<String>,
    options: Vec<(String, String)>,
    numbered: bool,
) -> AnyView {
    let buttons: Vec<AnyView> = options
        .into_iter()
        .enumerate()
        .map(|(place, (key, label))| {
            let id = if numbered { format!("{name}-{place}") } else { format!("{name}-{key}") };
            let (target, chosen, chooses) = (id.clone(), key.clone(), key.clone());
            view! {
                <label class="choice" for=target>
                    <input type="radio" id=id name=name.to_owned() value=key prop:checked=changing(move || value.with(|value| *value == chosen))
                        on:change=move |_| value.set(chooses.clone())/>
                    <span>{label}</span>
                </label>
            }
        })
        .collect();
    view! {
        <fieldset class="choices">
            <legend>{label}</legend>
            {buttons}
        </fieldset>
    }
}
