//! Steps that are not measured: confirm, accept an instrument, count; and a step behind a shut hold point.

use crate::app::prelude::*;

use super::Screen;
use crate::app::controls::{button, instrument_form, link, list, named, number_field, para, says};
use crate::app::live::{live, tap};
use crate::language::tr;
use crate::procedure::Words;
use crate::record::{Body, Instrument};

/// Nothing can be done here until the hold point is open.
pub(super) fn blocked(screen: Screen, hold: Option<usize>) -> AnyView {
    let target = move || {
        screen.run.with(|run| {
            let step = run.as_ref()?.steps.get(hold?)?;
            Some(link("", "plain", screen.address(&step.path), Words::step_title(step)))
        })
    };
    let why = match hold {
        Some(_) => "A hold point before this step is not open. Nothing here can be done yet.",
        None => "Something is left to do first: it is named above, and closed under Notes.",
    };
    view! {
        {para("lead", why)}
        {live(target)}
    }
}

/// Do it and say so.
pub(super) fn confirm(screen: Screen) -> AnyView {
    let done = move || screen.step.with(|step| step.as_ref()?.by.as_ref().map(|(by, _)| by.clone()));
    let face = move || match done() {
        Some(by) if by.is_empty() => para("lead", "Done."),
        Some(by) => para("lead", tr!("Done by {name}.", name = by)),
        None => {
            let confirm = tap(move |_| screen.put(|run, step| Body::StepConfirmed { run, step }));
            button("done", "primary", "Done", confirm)
        }
    };
    view! { {starts(screen)}{live(face)} }
}

/// Where earlier airframes of the type came to rest, at the step after which supports are set for the first time.
fn starts(screen: Screen) -> Option<AnyView> {
    let orders = screen.run.with_untracked(|run| {
        let run = run.as_ref()?;
        let path = screen.step.with_untracked(|step| step.as_ref().map(|step| step.path.clone()))?;
        screen
            .airframe
            .with_untracked(|airframe| Some(run.precedent.starts(screen.procedure, airframe.as_ref()?, run, &path)))
    })?;
    (!orders.is_empty()).then(|| {
        let words = "Earlier airframes of this type came to rest so, counted from the set-up on the sheet. Begin there if nothing \
                     speaks against it:";
        view! { <section id="starts">{para("hint", words)}{list("", orders)}</section> }
    })
}

/// Accept an instrument for a role.
pub(super) fn accept_instrument(screen: Screen, role: String) -> AnyView {
    let Some(kind) = screen.procedure.roles.iter().find(|found| found.role == role).map(|found| found.kind) else {
        return ().into_any();
    };
    let Some(airframe) = screen.airframe.get_untracked() else { return ().into_any() };
    let now = airframe.instruments.get(&role).map(|(instrument, _)| instrument);
    let accept = Callback::new(move |instrument: Instrument| {
        let role = role.clone();
        screen.put(move |_, _| Body::InstrumentAccepted { role, instrument });
    });
    view! {
        {now.map(|instrument| para("lead", tr!("Accepted: {instrument}.", instrument = instrument.name)))}
        {instrument_form(kind, airframe.details.units, now, accept)}
    }
}

/// Count things done: good and bad.
pub(super) fn count(screen: Screen, what: &str, expected: &str) -> AnyView {
    let number = screen
        .airframe
        .with_untracked(|airframe| airframe.as_ref()?.specification.nominal(expected).map(|number| number.value));
    let ask = number.map_or_else(
        || tr!("Count the {things}. The sheet does not say how many there are.", things = what),
        |number| tr!("{number} {things}.", number = format!("{number:.0}"), things = what),
    );
    let counted = move || screen.step.with(|step| step.as_ref()?.counted);
    let so_far =
        move || counted().map(|(good, bad)| named("counted", "", tr!("Counted: {good} good, {bad} bad.", good, bad)));
    let warning = move || {
        counted()
            .filter(|(_, bad)| *bad > 0)
            .map(|_| para("notice trouble", "A bad one keeps this step open. Ask the kit's support, then count again."))
    };
    let (good, bad) = (RwSignal::new(String::new()), RwSignal::new("0".to_owned()));
    let refusal = RwSignal::new("");
    let keep = tap(move |_| {
        let whole = |text: RwSignal<String>| {
            text.with_untracked(|text| text.trim().parse::<u32>().ok()).filter(|&number| number <= 100_000)
        };
        match (whole(good), whole(bad)) {
            (Some(good), Some(bad)) => {
                refusal.set("");
                screen.put(|run, step| Body::Counted { run, step, good, bad });
            }
            _ => refusal.set("Both are whole numbers."),
        }
    });
    view! {
        {para("lead", ask)}
        {live(so_far)}
        {live(warning)}
        {number_field("good", "Done and good", "", "numeric", good)}
        {number_field("bad", "Bad", "", "numeric", bad)}
        {says("", "refusal", "alert", live(move || refusal.get()))}
        {button("keep-count", "primary", "Keep the count", keep)}
    }
}
