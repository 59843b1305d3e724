//! A hold point: what is missing, and the signature.

use crate::app::prelude::*;

use super::Screen;
use crate::app::controls::{button_when, drawn_field, link, named, para, says, tick, who_field};
use crate::app::live::{changing, live, tap};
use crate::app::pages::people::everybody;
use crate::app::pages::record::drawn;
use crate::language::{tr, words};
use crate::procedure::{Hold, Missing, StepState, Words, may_not_sign};
use crate::record::Body;

/// A hold point's screen.
pub(super) fn hold_point(screen: Screen, statement: String) -> AnyView {
    let hold = Memo::new(move |_| screen.step.with(|step| step.as_ref()?.hold.clone()));
    let face = move || {
        let signed = screen.step.with(|step| step.as_ref()?.by.as_ref().map(|(by, _)| by.clone())).unwrap_or_default();
        match hold.get() {
            None => ().into_any(),
            Some(Hold::Shut(missing)) => shut(screen, words!("Shut. Missing:").to_owned(), &missing),
            Some(Hold::Void(missing)) => {
                shut(screen, tr!("Signed by {name}, and no longer good. Missing since:", name = signed), &missing)
            }
            Some(Hold::Ready(not_judged)) => sign(screen, &statement, &not_judged),
            Some(Hold::Signed | Hold::Spent) => {
                let drawn =
                    screen.step.with(|step| step.as_ref()?.by.as_ref().map(|(_, entry)| *entry)).and_then(drawn);
                view! { {para("lead", tr!("Signed by {name}.", name = signed))}{drawn}{para("", statement.clone())} }
            }
        }
    };
    let state = changing(move || hold.with(|hold| hold.as_ref().map(key)));
    view! { <section id="hold" class="hold" data-hold=state>{live(face)}</section> }
}

const fn key(hold: &Hold) -> &'static str {
    match hold {
        Hold::Shut(_) => "shut",
        Hold::Ready(_) => "ready",
        Hold::Signed => "signed",
        Hold::Void(_) => "void",
        Hold::Spent => "spent",
    }
}

/// What is missing, each with the way there.
fn shut(screen: Screen, words: String, missing: &[Missing]) -> AnyView {
    let rows = screen.run.with(|run| {
        let steps = run.as_ref().map(|run| run.steps.as_slice()).unwrap_or_default();
        let row = |missing: &Missing| {
            let step = steps.get(missing.place())?;
            let way = link("", "plain", screen.address(&step.path), Words::missing(missing, steps));
            Some(view! { <li>{way}</li> })
        };
        missing.iter().filter_map(row).collect::<Vec<_>>()
    });
    view! {
        {para("lead", words)}
        <ul id="missing" class="missing">{rows}</ul>
        {button_when("sign", "Sign", || false, tap(|_| ()))}
    }
}

/// Everything is in: the statement, the name, the signature.
fn sign(screen: Screen, statement: &str, not_judged: &[usize]) -> AnyView {
    let name = RwSignal::new(String::new());
    let agree = RwSignal::new(false);
    let drawn = RwSignal::new(String::new());
    let refusal = RwSignal::new(String::new());
    let seen = screen.run.with_untracked(|run| {
        let steps = run.as_ref().map(|run| run.steps.as_slice()).unwrap_or_default();
        let seen = not_judged.iter().filter_map(|&place| steps.get(place));
        let (accepted, not_judged): (Vec<&StepState>, Vec<&StepState>) =
            seen.partition(|step| step.accepted_words().is_some());
        let titles = not_judged.into_iter().map(Words::step_title).collect::<Vec<_>>().join(", ");
        let of = |step: &StepState| {
            let words = step.accepted_words()?;
            Some(tr!("{title}: {words}.", title = Words::step_title(step), words))
        };
        (titles, accepted.into_iter().filter_map(of).collect::<Vec<_>>().join(" "))
    });
    let (titles, accepted) = seen;
    let before = screen.step.with_untracked(|step| step.as_ref().is_some_and(|step| step.by.is_some()));
    let ready = move || agree.get() && name.with(|name| !name.trim().is_empty());
    let sign = tap(move |_| {
        let name = name.get_untracked().trim().to_owned();
        let Some((run, step)) = screen.here() else { return };
        let refused = screen.run.with_untracked(|run| {
            let run = run.as_ref()?;
            may_not_sign(&run.steps, run.place(&step)?, &name)
        });
        refusal.set(refused.clone().unwrap_or_default());
        if refused.is_some() {
            return;
        }
        let named = screen.airframe.with_untracked(|airframe| airframe.as_ref()?.naming_once(&name));
        let drawn = drawn.with_untracked(|drawn| (!drawn.is_empty()).then(|| drawn.as_str().into()));
        let signed = Body::HoldSigned { run, step, name, drawn };
        screen.keep_all(named.into_iter().chain([signed]).collect(), None, Box::new(|_| ()));
    });
    view! {
        {para("lead", Words::ready(!accepted.is_empty()))}
        {(!accepted.is_empty()).then(|| named("accepted", "notice trouble", accepted))}
        {(!titles.is_empty()).then(|| {
            named("not-judged", "notice", tr!("Recorded, not judged, because the sheet has no number to judge by: {titles}.", titles))
        })}
        {before.then(|| para("notice trouble",
            "It was signed before, and that signature does not hold: something was read or a number changed since, or the \
             reader signed where a second person must."))}
        {tick("agree", statement.to_owned(), agree)}
        {who_field("signer", "Name of who signs", "", everybody(screen.airframe), name)}
        {drawn_field(drawn)}
        {says("sign-refusal", "refusal", "alert", live(move || refusal.get()))}
        {button_when("sign", "Sign", ready, sign)}
    }
}
