//! What somebody who is not there was asked about this step, and what they said.

use crate::app::prelude::*;

use super::Screen;
use crate::app::address::{Address, Page};
use crate::app::controls::{button, link, named, para};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::language::tr;
use crate::procedure::{Face, ProposedMove, StepState};
use crate::record::{AirframeId, EntryId};
use crate::report::{Said, questions, remarks};

/// Questions and remarks at the step; nothing where there are none, and while somebody reads blind.
pub(super) fn said(screen: Screen) -> AnyView {
    if screen.written.is_some() {
        return ().into_any();
    }
    let shop = Shop::here();
    let shown = move || {
        let airframe = screen.airframe.with(|airframe| airframe.as_ref().map(|airframe| airframe.id))?;
        let run = screen.run.with(|run| run.as_ref().map(|run| run.id))?;
        let step = screen.step.get()?;
        if screen.face.with(|face| face.as_ref().is_some_and(|face| face.hides(&step))) {
            return None;
        }
        let (asked, said) = shop
            .ledger
            .with(|ledger| (questions(ledger, airframe, run, &step.path), remarks(ledger, airframe, run, &step.path)));
        // Under a verdict it stands beside it.
        let judged = screen.face.with(|face| matches!(face, Some(Face::Judged)));
        let mut all: Vec<AnyView> = waits(&step).filter(|_| !judged).into_iter().collect();
        all.extend(asked.into_iter().map(|question| question_link(airframe, question)));
        all.extend(said.into_iter().map(|said| remark(said, Some(screen.pending))));
        Some(all)
    };
    view! { {live(shown)} }
}

/// What bears on a step beside its readings: one line, where there is something.
pub(super) fn waits(step: &StepState) -> Option<AnyView> {
    let words = step.waits_words().join(" ");
    (!words.is_empty()).then(|| named("waits", "notice", words))
}

fn question_link(airframe: AirframeId, (question, words): (EntryId, String)) -> AnyView {
    link("", "plain asked", Address::Of(airframe, Page::Question(question)).path(), words)
}

/// A remark; `orders`: where a move that it proposes is put to be made, at the step that it is about.
pub(in crate::app::pages) fn remark(said: Said, orders: Option<RwSignal<Vec<ProposedMove>>>) -> AnyView {
    let Said { who, text, of, proposes, moved_since, .. } = said;
    let proposal = proposes.map(|proposed| proposal(proposed, moved_since, orders));
    view! {
        <section class="notice remark">
            {para("entry-when", who)}
            {of.map(|of| para("hint", of))}
            {para("remark-text", text)}
            {proposal}
        </section>
    }
}

fn proposal(proposed: ProposedMove, moved_since: bool, orders: Option<RwSignal<Vec<ProposedMove>>>) -> AnyView {
    let order = para("order", tr!("Proposed: {order}", order = proposed.order));
    if moved_since {
        return view! { {order}{para("hint", "It was moved since.")} };
    }
    let make = orders.map(|orders| {
        let take = tap(move |_| orders.set(vec![proposed.clone()]));
        button("", "plain take-proposal", "Show it as an order", take)
    });
    view! { {order}{para("hint", "A proposal moves nothing: say here once you have moved it.")}{make} }
}
