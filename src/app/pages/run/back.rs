//! Back at a run after an interruption: asked once, before anything else is done.

use std::cell::Cell;

use crate::app::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;

use super::Screen;
use crate::app::address::{Address, Page};
use crate::app::browser::clock;
use crate::app::browser::front::InFront;
use crate::app::controls::{button, list, named, para, part};
use crate::app::frame::still_head;
use crate::app::live::{Tap, tap};
use crate::app::shop::Shop;
use crate::procedure::{Return, interrupted};
use crate::record::EntryId;

thread_local! {
    /// A run was open since the app was started.
    static OPENED: Cell<bool> = const { Cell::new(false) };
    /// The pause that was asked about last, by the entry before it.
    static ANSWERED: Cell<Option<EntryId>> = const { Cell::new(None) };
}

/// Whether a run asks first.
#[derive(Clone, Copy)]
pub(super) struct Gate {
    screen: Screen,
    shop: Shop,
    asked: RwSignal<Option<Return>>,
    looked: StoredValue<bool>,
}

impl Gate {
    /// Of a run that is opened now. It looks again each time that the app comes back to the front.
    pub(super) fn open(screen: Screen) -> Self {
        let gate = Self { screen, shop: Shop::here(), asked: RwSignal::new(None), looked: StoredValue::new(false) };
        let watch = InFront::start(move || gate.look(false));
        let watch = StoredValue::new_local(Some(watch));
        on_cleanup(move || {
            watch.try_update_value(Option::take);
        });
        gate
    }

    /// What is asked now. The run must be there.
    pub(super) fn asks(self) -> Option<Return> {
        if !self.looked.get_value() && self.screen.run.with(Option::is_some) {
            self.looked.set_value(true);
            self.look(!OPENED.replace(true));
        }
        self.asked.get()
    }

    fn look(self, closed: bool) {
        let own = self.shop.settings.with_untracked(|settings| settings.device);
        let found = self.screen.run.try_with_untracked(|run| {
            let airframe = self.screen.airframe.get_untracked()?;
            let here = (self.screen.procedure, &airframe, run.as_ref()?);
            self.shop.ledger.with_untracked(|ledger| interrupted(here, ledger, own, clock::now(), closed))
        });
        let found = found.flatten().filter(|found| ANSWERED.get() != Some(found.since));
        if found.is_some() {
            self.screen.views.come_near();
            self.asked.try_set(found);
        }
    }

    fn answer(self, found: &Return) {
        ANSWERED.set(Some(found.since));
        self.asked.set(None);
    }
}

/// The question, with a key for each answer.
pub(super) fn panel(screen: Screen, gate: Gate, found: Return) -> AnyView {
    let Some(id) = screen.airframe.with_untracked(|airframe| airframe.as_ref().map(|airframe| airframe.id)) else {
        return ().into_any();
    };
    let own = screen.procedure;
    let go = |procedure: &str, step: &str| -> Tap {
        let there = Address::Of(id, Page::Run(procedure.to_owned(), step.to_owned())).route();
        let (navigate, found) = (use_navigate(), found.clone());
        tap(move |_| {
            gate.answer(&found);
            navigate(&there, NavigateOptions::default());
        })
    };
    let datum = found
        .datum
        .as_ref()
        .map(|datum| button("back-datum", "primary", datum.words.clone(), go(&datum.procedure, &datum.step)));
    let over = found.back.as_ref().map(|step| {
        let class = if datum.is_none() { "primary" } else { "plain" };
        button("back-over", class, found.back_words(), go(&own.id, step))
    });
    let list = (!found.over.is_empty()).then(|| part("Look over", vec![list("", found.over.clone())]));
    let answered = found.clone();
    let on = button("back-on", "plain", "Go on here", tap(move |_| gate.answer(&answered)));
    view! {
        <main class="run back">
            {still_head("Back at the work", (Address::Of(id, Page::Work(own.id.clone())).path(), own.title.clone()))}
            {named("back-words", "lead", found.words.clone())}
            {para("", "Look at the supports and the clamps before you touch anything: did anything move meanwhile?")}
            {list}
            <div class="back-keys">{datum}{over}{on}</div>
        </main>
    }
}
