//! Words as large as their room allows.

use crate::app::prelude::*;

use crate::app::browser::room::{self, Room};
use crate::app::live::{changing, live};
use crate::procedure::{arrange, hang};

/// Words that fill an element of this id, broken where that makes them larger. A screen reader passes them over.
pub(crate) fn fitted(id: &'static str, words: impl Fn() -> Vec<String> + Send + Sync + 'static) -> AnyView {
    let size = RwSignal::new((0.0, 0.0));
    let watch = Room::watch(id, move |width, height| {
        size.try_set((width, height));
    });
    let watch = StoredValue::new_local(Some(watch));
    on_cleanup(move || {
        watch.try_update_value(Option::take);
    });
    let lines = move || {
        let (words, room) = (words(), size.get());
        let space = room::widths(id, &[" ".to_owned()])[0];
        let found = arrange(&room::widths(id, &words), space, hang(&words), room);
        let lines = found.on_lines(&words).into_iter().zip(&found.baselines);
        let line = |(words, base): (String, &f64)| {
            view! {
                <text x=(room.0 / 2.0).to_string() y=base.to_string() font-size=found.size.to_string() text-anchor="middle">
                    {words}
                </text>
            }
        };
        lines.map(line).collect::<Vec<_>>()
    };
    let view_box = changing(move || {
        let (width, height) = size.get();
        format!("0 0 {width} {height}")
    });
    view! { <div id=id class="fitted"><svg viewBox=view_box aria-hidden="true">{live(lines)}</svg></div> }
}
