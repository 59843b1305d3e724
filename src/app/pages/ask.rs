//! Asking somebody who is not there about a step.

use crate::app::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;
use wasm_bindgen_futures::spawn_local;

use super::missing;
use crate::app::address::{Address, Page};
use crate::app::controls::{button_when, numbered_choice_of, para, text_field};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::{Busy, live, tap};
use crate::app::shop::Shop;
use crate::language::words;
use crate::procedure::Procedure;
use crate::record::{About, Airframe, AirframeId, Body, MAX_TEXT, Question, Role, same_person};

/// The page.
pub(crate) fn ask(id: AirframeId, procedure: &'static Procedure, step: String) -> AnyView {
    let (airframe, there) = (data::airframe(id), data::step_of(id, procedure, step));
    let shown = live(move || match there.get().zip(airframe.get_untracked()) {
        Some(((run, step, title), airframe)) => {
            page(&airframe, procedure, About { run: Some(run), step: Some(step), entry: None }, title)
        }
        None => missing(),
    });
    view! { {shown} }
}

fn page(airframe: &Airframe, procedure: &'static Procedure, about: About, title: String) -> AnyView {
    let (shop, navigate, id) = (Shop::here(), use_navigate(), airframe.id);
    let step = about.step.clone().unwrap_or_default();
    let back = Address::Of(id, Page::Run(procedure.id.clone(), step)).path();
    let people = airframe.people.clone();
    let mentors: Vec<String> =
        people.iter().filter(|person| person.role == Role::Mentor).map(|person| person.name.clone()).collect();
    let chosen = RwSignal::new(mentors.first().cloned().unwrap_or_default());
    let (text, typed, busy) = (RwSignal::new(String::new()), RwSignal::new(String::new()), Busy::new());
    let known = (!mentors.is_empty()).then(|| {
        let mut options: Vec<(String, String)> = mentors.into_iter().map(|name| (name.clone(), name)).collect();
        options.push((String::new(), words!("somebody else").to_owned()));
        numbered_choice_of("mentor", "Whom do you ask?", chosen, options)
    });
    let other = move || {
        chosen
            .with(String::is_empty)
            .then(|| text_field("to", "Whom do you ask?", "A name, as it is to stand in the record.", typed))
    };
    let to =
        move || chosen.with(|chosen| if chosen.is_empty() { typed.get().trim().to_owned() } else { chosen.clone() });
    let ready = move || !to().is_empty() && text.with(|text| !text.trim().is_empty() && text.len() <= MAX_TEXT);
    let keep = tap(move |_| {
        if !busy.begin() {
            return;
        }
        let name = untrack(to);
        let mut bodies = Vec::new();
        if !people.iter().any(|person| same_person(&person.name, &name)) {
            bodies.push(Body::PersonNamed { name: name.clone(), role: Role::Mentor });
        }
        let question = text.get_untracked().trim().to_owned();
        bodies.push(Body::QuestionAsked(Question { about: about.clone(), question, to: name }));
        let navigate = navigate.clone();
        spawn_local(async move {
            let kept = shop.keep(id, bodies).await;
            busy.end();
            if let Some(question) = kept.ok().and_then(|kept| kept.last().copied()) {
                let options = NavigateOptions { replace: true, ..Default::default() };
                navigate(&Address::Of(id, Page::Question(question)).route(), options);
            }
        });
    });
    view! {
        <main class="ask">
            {still_head("Ask a mentor", (back, title))}
            {para("", "The readings of this step, its drawing and its photos go with the question, in one file that you send.")}
            {text_field("question", "Your question", "What you saw, what you tried, what you want to know. The microphone of your phone's keyboard works here too.", text)}
            {known}
            {live(other)}
            {button_when("ask-it", "Keep the question", ready, keep)}
            {para("hint", "It is sent from the next page.")}
        </main>
    }
}
