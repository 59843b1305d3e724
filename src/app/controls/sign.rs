//! Who somebody is, and their signature drawn with a finger.

use crate::app::prelude::*;

use super::{button, group, latch, text_field};
use crate::app::browser::draw;
use crate::app::live::{changing, live, tap};
use crate::record::{Person, begin_stroke, drawn_path, go_on, same_person};

/// A name: one of those that are known, at a tap, or another, typed.
pub(crate) fn who_field(
    id: &'static str,
    label: &'static str,
    hint: &'static str,
    known: Vec<Person>,
    name: RwSignal<String>,
) -> AnyView {
    let one = |(place, person): (usize, Person)| {
        let (of, label) = (person.name.clone(), format!("{} · {}", person.name, person.role));
        let here = move || name.with(|name| same_person(name, &of));
        let take = tap(move |_| name.set(person.name.clone()));
        latch(format!("{id}-{place}"), "plain", label, here, take)
    };
    let known = group("people", known.into_iter().enumerate().map(one).collect());
    view! { {text_field(id, label, hint, name)}{known} }
}

/// A box in which a signature is drawn, and the way to begin again.
pub(crate) fn drawn_field(drawn: RwSignal<String>) -> AnyView {
    let begin = move |event| {
        if let Some((across, down)) = draw::place(&event) {
            draw::hold(&event);
            drawn.update(|drawn| begin_stroke(drawn, across, down));
        }
    };
    let follow = move |event| {
        if draw::down(&event)
            && let Some((across, down)) = draw::place(&event)
        {
            drawn.update(|drawn| go_on(drawn, across, down));
        }
    };
    let path = changing(move || drawn.with(|drawn| drawn_path(drawn)));
    let clear = move || {
        let empty = drawn.with(String::is_empty);
        (!empty).then(|| button("clear-drawn", "plain", "Draw it again", tap(move |_| drawn.set(String::new()))))
    };
    view! {
        <div class="field">
            <p class="label" id="drawn-label">"Signature, drawn with a finger"</p>
            <div id="drawn" class="drawn" role="img" aria-labelledby="drawn-label" on:pointerdown=begin on:pointermove=follow>
                <svg viewBox="0 0 300 100" aria-hidden="true"><path class="base" d="M20 78L280 78"/><path d=path/></svg>
            </div>
            {live(clear)}
            <p class="hint">"May be left empty: the name signs too."</p>
        </div>
    }
}

/// A signature as it was drawn; nothing where it cannot be read.
pub(crate) fn drawn_view(strokes: &str) -> Option<AnyView> {
    let path = drawn_path(strokes)?;
    Some(view! {
        <div class="drawn still" role="img" aria-label="Signature, drawn by hand">
            <svg viewBox="0 0 300 100" aria-hidden="true"><path d=path/></svg>
        </div>
    })
}
