//! The verdict, and what to do about it.

use crate::app::prelude::*;

use super::Screen;
use super::said::waits;
use crate::app::address::{Address, Page};
use crate::app::controls::{button, link, list, named, para, row, says, text_field};
use crate::app::live::{live, tap};
use crate::app::widgets::mark_of;
use crate::language::tr;
use crate::metrology::Verdict;
use crate::procedure::{Advice, CheckResult, Correction, Procedure, ProposedMove, StepKind, StepState, Words};
use crate::record::Airframe;

/// A step's verdict and advice.
pub(super) fn judged(screen: Screen) -> AnyView {
    let panels = move || {
        screen.step.with(|step| {
            let step = step.as_ref()?;
            let result = step.result()?;
            let advice = step.advice.clone().unwrap_or_default();
            let verdict = screen
                .airframe
                .with_untracked(|airframe| verdict_panel(screen.procedure, airframe.as_ref(), step, result));
            Some(vec![verdict, view! { {waits(step)} }, advice_panel(screen, advice)])
        })
    };
    let together = screen.airframe.with_untracked(|airframe| {
        let place = Address::Of(airframe.as_ref()?.id, Page::Place(screen.procedure.id.clone())).path();
        Some(link("together", "plain", place, "With all the other readings"))
    });
    let read = screen.step.with_untracked(|step| {
        step.as_ref()
            .is_some_and(|step| matches!(&step.step.kind, StepKind::Measure { slots, .. } if !slots.is_empty()))
    });
    let again = if read {
        button("again", "plain", "Measure it again", tap(move |_| screen.again.set(true)))
    } else {
        para("hint", "Worked out from the readings before it and the sheet: there is nothing to read here.")
    };
    view! { {live(panels)}{row(vec![again, together.into_any()])} }
}

pub(super) const fn key(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::In => "in",
        Verdict::Out(_) => "out",
        Verdict::CantTell => "cant-tell",
        Verdict::NotJudged => "not-judged",
    }
}

/// Word, mark and number; the sheet's limits, their page, and how sure the reading is.
pub(in crate::app::pages) fn verdict_panel(
    procedure: &Procedure,
    airframe: Option<&Airframe>,
    step: &StepState,
    result: &CheckResult,
) -> AnyView {
    let check = match &step.step.kind {
        StepKind::Measure { check, .. } => procedure.check(check),
        _ => None,
    };
    let item = |airframe: &Airframe| Some(Words::sheet(airframe.specification.item(check?.judged_by.as_deref()?)?));
    let sheet = airframe.and_then(item);
    let word = Words::verdict(result.verdict);
    let value = Words::value(result);
    let label =
        tr!("{verdict}: {value}, {uncertainty}", verdict = word, value, uncertainty = Words::uncertainty(result));
    view! {
        <div id="verdict" class="verdict" data-verdict=key(result.verdict)>
            {para("verdict-word", word)}
            {named("value", "verdict-value", value)}
            {mark_of(result.mark, result.verdict, label)}
            {para("verdict-sheet", Words::footing(result, sheet))}
        </div>
    }
}

fn advice_panel(screen: Screen, advice: Advice) -> AnyView {
    let title = |key: &String| screen.procedure.item(key).map_or_else(|| key.clone(), |item| item.title.clone());
    let needs = (!advice.needs.is_empty()).then(|| {
        let titles = advice.needs.iter().map(title).collect::<Vec<_>>().join(", ");
        let id = screen.airframe.with_untracked(|airframe| airframe.as_ref().map(|airframe| airframe.id));
        let sheet =
            id.map(|id| Address::Of(id, Page::Specification(screen.procedure.id.clone())).path()).unwrap_or_default();
        vec![
            named("needs", "notice", tr!("To work out a move, enter from the manual: {titles}.", titles)),
            link("", "plain", sheet, "Numbers from the manual"),
        ]
    });
    let better = (!advice.better.is_empty()).then(|| view! { <div id="better">{list("better", advice.better)}</div> });
    view! {
        {advice.meaning.map(|words| named("meaning", "lead", format!("{words}.")))}
        {advice.stop.map(|words| view! { <p id="stop" class="notice trouble" role="alert">{words}</p> })}
        {advice.correction.map(|correction| correction_panel(screen, correction))}
        {needs}
        {better}
    }
}

/// The moves as orders, each with the way to say that it was made; and what goes stale with them.
fn correction_panel(screen: Screen, correction: Correction) -> AnyView {
    let mut words = tr!("Then {prediction}.", prediction = Words::prediction(correction.predicted, correction.step));
    if let Some(precedent) = &correction.precedent {
        words.push_str(&format!(" {precedent}"));
    }
    if !correction.stale.is_empty() {
        words.push(' ');
        words.push_str(&tr!("To be measured again afterwards: {checks}.", checks = correction.stale.join(", ")));
    }
    let others = (!correction.others.is_empty())
        .then(|| vec![para("hint", "The other checks should then read:"), list("", correction.others)]);
    view! { {orders(screen, correction.moves, words)}{others} }
}

/// Orders, each to be said as done; `words` stand below them.
fn orders(screen: Screen, moves: Vec<ProposedMove>, words: String) -> AnyView {
    let each = moves.iter().enumerate().map(|(place, proposed)| {
        let mut left = moves.clone();
        left.remove(place);
        order(screen, proposed.clone(), left)
    });
    let each = each.collect::<Vec<_>>();
    view! {
        <section id="orders" class="orders" aria-label="What to move">
            <ol>{each}</ol>
            {para("hint", words)}
        </section>
    }
}

/// The rest of a correction that was begun, with the way to leave it.
pub(super) fn rest(screen: Screen, left: Vec<ProposedMove>) -> AnyView {
    let leave = tap(move |_| screen.pending.set(Vec::new()));
    view! {
        {orders(screen, left, String::new())}
        {button("leave-rest", "plain", "Leave that, measure again", leave)}
    }
}

fn order(screen: Screen, proposed: ProposedMove, left: Vec<ProposedMove>) -> AnyView {
    let ProposedMove { adjuster, amount, order } = proposed.clone();
    let (data_adjuster, data_amount) = (adjuster.clone(), amount.value.to_string());
    let (moved, by, rest) = (adjuster, amount, left.clone());
    let made = tap(move |_| screen.moved(moved.clone(), by.clone(), rest.clone()));
    let other = RwSignal::new(false);
    let another = move || {
        if other.get() {
            other_amount(screen, proposed.clone(), left.clone())
        } else {
            button("", "plain", "Moved another amount", tap(move |_| other.set(true)))
        }
    };
    view! {
        <li>
            {para("order", order)}
            <button type="button" class="primary moved" data-adjuster=data_adjuster data-amount=data_amount on:click=made>
                "Moved exactly that"
            </button>
            {live(another)}
        </li>
    }
}

/// What was really moved, when it was not what was asked: the same way, another amount.
fn other_amount(screen: Screen, proposed: ProposedMove, left: Vec<ProposedMove>) -> AnyView {
    let typed = RwSignal::new(String::new());
    let refusal = RwSignal::new(String::new());
    let id = format!("amount-{}", proposed.adjuster);
    let label = tr!("Moved that way by ({unit})", unit = proposed.amount.unit.symbol());
    let keep = tap(move |_| match proposed.instead(&typed.get_untracked()) {
        Err(error) => refusal.set(error.to_string()),
        Ok(moved) => screen.moved(proposed.adjuster.clone(), moved, left.clone()),
    });
    view! {
        {text_field(&id, &label, "The other way: put a minus before it.", typed)}
        {says("", "refusal", "alert", live(move || refusal.get()))}
        {button("", "primary", "Keep that amount", keep)}
    }
}
