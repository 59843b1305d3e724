//! The step as it is seen from two metres: one number and one word, as large as the screen. A tap anywhere ends it.

use crate::app::prelude::*;

use super::Screen;
use super::views::FAR;
use crate::app::browser::dialog;
use crate::app::live::{changing, live, tap};
use crate::app::widgets::fitted;
use crate::procedure::Far;

/// The far view, while it is wanted.
pub(super) fn far(screen: Screen) -> AnyView {
    view! { {live(move || screen.views.far.get().then(|| shown(screen)))} }
}

fn shown(screen: Screen) -> AnyView {
    let seen = Memo::new(move |_| {
        let (airframe, step, face) = (screen.airframe.get()?, screen.step.get()?, screen.face.get()?);
        let typed = screen.views.typed.get();
        screen.run.with(|run| Some(Far::of(screen.procedure, &airframe, run.as_ref()?, &step, &face, &typed)))
    });
    let of = move |part: fn(&Far) -> String| seen.with(|seen| seen.as_ref().map(part).unwrap_or_default());
    let number = move || seen.with(|seen| seen.as_ref().map(Far::pieces).unwrap_or_default());
    let word = move || of(|far| far.word.clone()).split(' ').map(str::to_owned).collect();
    let kind = changing(move || of(|far| far.seen.key().to_owned()));
    let ended = move |_| screen.views.far.set(false);
    dialog::open(FAR);
    view! {
        <dialog id=FAR class="far" aria-modal="true" aria-label="Far view" data-seen=kind on:close=ended>
            <button id="far-leave" type="button" class="far-leave" on:click=tap(move |_| screen.views.come_near())>
                {fitted("far-number", number)}
                {fitted("far-word", word)}
                <span class="unseen">{live(move || of(Far::sentence))}</span>
                <span class="far-hint">"Tap anywhere to go back"</span>
            </button>
        </dialog>
    }
}
