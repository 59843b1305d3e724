//! The verdict over the whole screen, for a second or until a tap. The screen reader has it from the step's own verdict.

use crate::app::prelude::*;

use super::Screen;
use super::judged::key;
use crate::app::controls::para;
use crate::app::live::{live, tap};
use crate::app::widgets::{fitted, mark_of};
use crate::procedure::Flash;

/// The verdict, while it fills the screen.
pub(super) fn flash(screen: Screen) -> AnyView {
    let over = screen.views.flash;
    view! { {live(move || over.get().map(|(_, flash)| shown(flash, over)))} }
}

fn shown(flash: Flash, over: RwSignal<Option<(u32, Flash)>>) -> AnyView {
    let Flash { mark, verdict, word, way } = flash;
    view! {
        <div id="flash" class="flash" aria-hidden="true" data-verdict=key(verdict) on:click=tap(move |_| over.set(None))>
            {fitted("flash-word", move || word.split(' ').map(str::to_owned).collect())}
            {mark_of(mark, verdict, word.to_owned())}
            {way.map(|way| para("flash-way", way))}
        </div>
    }
}
