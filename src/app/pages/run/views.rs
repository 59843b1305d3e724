//! Other ways to see the step on the screen: from afar, by the helper, in another look.

use crate::app::prelude::*;

use super::Screen;
use crate::app::address::{Address, Page};
use crate::app::browser::{clock, dialog};
use crate::app::controls::{button, link, row};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::language::{self, tr};
use crate::procedure::{self, Flash, Procedure, StepState};

/// How long a verdict fills the screen, in milliseconds.
const SHOWN: u32 = 1_000;

/// What lies over a step, and what it shows.
#[derive(Clone, Copy)]
pub(super) struct Views {
    /// The step is seen from afar.
    pub(super) far: RwSignal<bool>,
    /// What stands on the pad, with its unit; empty while nothing does.
    pub(super) typed: RwSignal<String>,
    /// The verdict that fills the screen, with its number among those shown: each ends itself alone.
    pub(super) flash: RwSignal<Option<(u32, Flash)>>,
    shown: StoredValue<u32>,
    /// Somebody holds the phone who must not see what was read.
    pub(super) handed: bool,
}

impl Views {
    pub(super) fn new() -> Self {
        Self {
            far: RwSignal::new(false),
            typed: RwSignal::new(String::new()),
            flash: RwSignal::new(None),
            shown: StoredValue::new(0),
            handed: false,
        }
    }

    /// On a screen of somebody who must not see what was read.
    pub(super) fn handed() -> Self {
        Self { handed: true, ..Self::new() }
    }

    /// Ends the far view.
    pub(super) fn come_near(self) {
        if self.far.try_get_untracked() == Some(true) && !dialog::close(FAR) {
            self.far.try_set(false);
        }
    }

    /// Fills the screen with the verdict of a step that was just read. From afar it is seen as it is.
    pub(super) fn show(self, of: &'static Procedure, step: Memo<Option<StepState>>) {
        let found = step.try_with_untracked(|step| procedure::flash(of, step.as_ref()?)).flatten();
        let Some(found) = found.filter(|_| self.far.try_get_untracked() == Some(false)) else { return };
        let Some(number) = self.shown.try_get_value().map(|shown| shown.wrapping_add(1)) else { return };
        self.shown.try_set_value(number);
        self.flash.try_set(Some((number, found)));
        clock::after(SHOWN, move || {
            self.flash.try_update(|flash| {
                if flash.as_ref().is_some_and(|(shown, _)| *shown == number) {
                    *flash = None;
                }
            });
        });
    }
}

/// The far view's element.
pub(super) const FAR: &str = "far";

/// The ways there, each one tap.
pub(super) fn ways(screen: Screen) -> Option<AnyView> {
    if screen.written.is_some() {
        return None;
    }
    let shop = Shop::here();
    let far = button("far-view", "plain", "Far view", tap(move |_| screen.views.far.set(true)));
    let helper = move || {
        let id = screen.airframe.with(|airframe| airframe.as_ref().map(|airframe| airframe.id))?;
        let there = Address::Of(id, Page::Helper(screen.procedure.id.clone(), screen.path.get())).path();
        Some(link("to-helper", "plain", there, "To the helper"))
    };
    let look = move || {
        let look = language::ours(shop.settings.with(|settings| settings.look.name()));
        let label = tr!("Look: {look}", look);
        let next = tap(move |_| shop.settings.update(|settings| settings.look = settings.look.next()));
        button("next-look", "plain", label, next)
    };
    Some(row(vec![far, view! { {live(helper)} }, view! { {live(look)} }]))
}
