//! A phone that keeps turning its picture while it is handled is told of once.

use crate::app::prelude::*;

use crate::app::browser::turning::Turning;
use crate::app::controls::{button, para};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::procedure::{Turns, turning_words};

/// What is said of it, until it is put away.
pub(super) fn turning() -> AnyView {
    let shop = Shop::here();
    let said = RwSignal::new(false);
    let mut turns = Turns::default();
    let watch = Turning::start(move |at| {
        let before = shop.settings.with_untracked(|settings| settings.turning);
        if turns.turned(at) && !before {
            said.try_set(true);
            shop.tell(turning_words());
            shop.settings.update(|settings| settings.turning = true);
        }
    });
    let watch = StoredValue::new_local(Some(watch));
    on_cleanup(move || {
        watch.try_update_value(Option::take);
    });
    let notice = move || {
        let away = button("turning-seen", "plain", "Put this away", tap(move |_| said.set(false)));
        said.get().then(|| view! { <section id="turning" class="notice">{para("", turning_words())}{away}</section> })
    };
    view! { {live(notice)} }
}
