//! The few elements that every page is made of, each built in one place: a page stays short to read, and the download small.

use crate::app::prelude::*;

use crate::app::element::framed;
use crate::app::live::{Live, Tap, changing};
use crate::language;

/// Words for a page: a literal of ours is looked up in the catalogue, what is made or was typed stays as it is.
pub(crate) struct Text(pub(crate) String);

impl From<&'static str> for Text {
    fn from(ours: &'static str) -> Self {
        Self(language::ours(ours).to_owned())
    }
}

impl From<&String> for Text {
    fn from(made: &String) -> Self {
        Self(made.clone())
    }
}

impl From<String> for Text {
    fn from(made: String) -> Self {
        Self(made)
    }
}

/// A paragraph.
pub(crate) fn para(class: &'static str, words: impl Into<Text>) -> AnyView {
    named("", class, words)
}

/// A paragraph with an id; an empty id is left away.
pub(crate) fn named(id: &'static str, class: &'static str, words: impl Into<Text>) -> AnyView {
    fn build(id: &'static str, class: &'static str, words: String) -> AnyView {
        view! { <p id=some(id) class=class>{words}</p> }
    }
    build(id, class, words.into().0)
}

/// A paragraph whose words change by themselves; `role` is "status" for news and "alert" for what may not be missed.
pub(crate) fn says(id: &'static str, class: &'static str, role: &'static str, words: Live) -> AnyView {
    view! { <p id=some(id) class=class role=some(role)>{words}</p> }
}

/// A button; `class` is "primary" for the one thing to do, "plain" for the others.
pub(crate) fn button(id: impl Into<String>, class: &'static str, label: impl Into<Text>, action: Tap) -> AnyView {
    fn build(id: String, class: &'static str, label: String, action: Tap) -> AnyView {
        let id = (!id.is_empty()).then_some(id);
        view! { <button id=id type="button" class=class on:click=action>{label}</button> }
    }
    build(id.into(), class, label.into().0, action)
}

/// A button that can be pressed only when `ready`.
pub(crate) fn button_when(
    id: &'static str,
    label: &'static str,
    ready: impl Fn() -> bool + Send + 'static,
    action: Tap,
) -> AnyView {
    fn build(id: &'static str, label: &'static str, shut: Box<dyn FnMut() -> bool + Send>, action: Tap) -> AnyView {
        view! { <button id=id type="button" class="primary" disabled=shut on:click=action>{label}</button> }
    }
    build(id, label, Box::new(move || !ready()), action)
}

/// A button that stays down while `down`.
pub(crate) fn latch(
    id: String,
    class: &'static str,
    label: impl Into<Text>,
    down: impl Fn() -> bool + Send + 'static,
    action: Tap,
) -> AnyView {
    fn build(
        id: String,
        class: &'static str,
        label: String,
        down: Box<dyn FnMut() -> &'static str + Send>,
        action: Tap,
    ) -> AnyView {
        view! { <button id=id type="button" class=class aria-pressed=down on:click=action>{label}</button> }
    }
    build(id, class, label.into().0, Box::new(move || if down() { "true" } else { "false" }), action)
}

/// Something that is marked or not; each line of its words stands on a line of its own.
pub(crate) fn tick(id: impl Into<String>, words: impl Into<Text>, marked: RwSignal<bool>) -> AnyView {
    fn build(id: String, words: String, marked: RwSignal<bool>) -> AnyView {
        let line = |line: &str| view! { <span class="line">{line.to_owned()}</span> };
        let lines: Vec<AnyView> = words.lines().map(line).collect();
        let (target, checked) = (id.clone(), changing(move || marked.get()));
        view! {
            <label class="choice agree" for=target>
                <input id=id type="checkbox" prop:checked=checked on:change:target=move |event| marked.set(event.target().checked())/>
                <span>{lines}</span>
            </label>
        }
    }
    build(id.into(), words.into().0, marked)
}

/// A way to another page of the app.
pub(crate) fn link(id: &'static str, class: &'static str, address: String, label: impl Into<Text>) -> AnyView {
    fn build(id: &'static str, class: &'static str, address: String, label: String) -> AnyView {
        view! { <a href=address id=some(id) class=class>{label}</a> }
    }
    build(id, class, address, label.into().0)
}

/// The way to the user guide (`docs/guide`) at a chapter, its start when empty: pages of their own, which the router leaves to the browser.
pub(crate) fn guide(chapter: &'static str) -> AnyView {
    view! { <a href=format!("help/{chapter}") rel="external" id="guide" class="plain">"User guide"</a> }
}

/// A list of sentences.
pub(crate) fn list(class: &'static str, items: Vec<String>) -> AnyView {
    view! { <ul class=class>{items.into_iter().map(|item| view! { <li>{item}</li> }).collect::<Vec<_>>()}</ul> }
}

/// A part of a page under its own heading.
pub(crate) fn part(heading: impl Into<Text>, inside: Vec<AnyView>) -> AnyView {
    fn build(heading: String, inside: Vec<AnyView>) -> AnyView {
        view! { <section><h2>{heading}</h2>{inside}</section> }
    }
    build(heading.into().0, inside)
}

/// Things beside each other, as far as there is room.
pub(crate) fn row(inside: Vec<AnyView>) -> AnyView {
    group("row", inside)
}

/// Things that the stylesheet lays out together.
pub(crate) fn group(class: &'static str, inside: Vec<AnyView>) -> AnyView {
    view! { <div class=class>{inside}</div> }
}

fn some(text: &'static str) -> Option<&'static str> {
    (!text.is_empty()).then_some(text)
}

/// A member of a list that changes by itself: a key, and how it is drawn while it stays.
pub(crate) type Keyed = (String, std::sync::Arc<dyn Fn() -> AnyView + Send + Sync>);

/// A list of which only what came, went or moved is drawn anew.
pub(crate) fn keyed(list: impl Fn() -> Vec<Keyed> + Send + Sync + 'static) -> AnyView {
    fn build(list: Box<dyn Fn() -> Vec<Keyed> + Send + Sync>) -> AnyView {
        framed(leptos::view! { <For each=list key=|(key, _): &Keyed| key.clone() let((_, draw))>{draw()}</For> })
    }
    build(Box::new(list))
}
