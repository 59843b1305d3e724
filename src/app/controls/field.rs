//! Form fields with their labels, large enough for a glove.

use crate::app::live::changing;
use crate::app::prelude::*;

use crate::record::MAX_TEXT;

/// One line of text.
#[component]
pub(crate) fn TextField(
    /// The input's id.
    #[prop(into)]
    id: String,
    /// Its label.
    #[prop(into)]
    label: String,
    /// The text.
    value: RwSignal<String>,
    /// A word more.
    #[prop(optional, into)]
    hint: String,
    /// "decimal" for numbers, "text" otherwise.
    #[prop(default = "text")]
    inputmode: &'static str,
) -> impl IntoView {
    let hint_id = format!("{id}-hint");
    let target = id.clone();
    let described = (!hint.is_empty()).then(|| hint_id.clone());
    view! {
        <div class="field">
            <label for=target>{label}</label>
            <input id=id type="text" inputmode=inputmode autocomplete="off" maxlength=(MAX_TEXT / 4).to_string()
                aria-describedby=described prop:value=changing(move || value.get()) on:input:target=move |event| value.set(event.target().value())/>
            {(!hint.is_empty()).then(|| view! { <p class="hint" id=hint_id>{hint}</p> })}
        </div>
    }
}

/// One of a few, as large buttons. Each option is its key and its label; ids are `name-key` unless `numbered`.
#[component]
pub(crate) fn Choice(
    /// Name of the group and first part of the ids.
    #[prop(into)]
    name: String,
    /// What is chosen.
    #[prop(into)]
    label: String,
    /// The key chosen.
    value: RwSignal<String>,
    /// Keys and labels.
    options: Vec<(String, String)>,
    /// Ids are `name-0`, `name-1`, … instead.
    #[prop(optional)]
    numbered: bool,
) -> impl IntoView {
    let buttons = options
        .into_iter()
        .enumerate()
        .map(|(place, (key, label))| {
            let id = if numbered { format!("{name}-{place}") } else { format!("{name}-{key}") };
            let (target, chosen, chooses) = (id.clone(), key.clone(), key.clone());
            view! {
                <label class="choice" for=target>
                    <input type="radio" id=id name=name.clone() value=key prop:checked=changing(move || value.with(|value| *value == chosen))
                        on:change=move |_| value.set(chooses.clone())/>
                    <span>{label}</span>
                </label>
            }
        })
        .collect_view();
    view! {
        <fieldset class="choices">
            <legend>{label}</legend>
            {buttons}
        </fieldset>
    }
}
