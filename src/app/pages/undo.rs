//! Taking back a move that was only written down.

use crate::app::prelude::*;

use super::record::strikes;
use crate::app::browser::clock;
use crate::app::controls::{button, group, para};
use crate::app::live::tap;
use crate::procedure::{FreshMove, not_moved};
use crate::record::AirframeId;

/// The second hit of a glove on the order that was just written down lands here: so soon (milliseconds) nobody has read the words.
const TOO_SOON: f64 = 700.0;

/// What was written down, with the way to say that it was not done; `done` is run once it is struck out.
pub(crate) fn undo(airframe: AirframeId, fresh: FreshMove, done: Callback<()>) -> AnyView {
    let drawn = clock::elapsed();
    let mut strike = strikes(fresh.entry, airframe, || not_moved().to_owned(), done);
    let strike = tap(move |event| {
        // A browser that does not say how late it is says 0.
        if drawn == 0.0 || clock::elapsed() - drawn > TOO_SOON {
            strike(event);
        }
    });
    group("undo", vec![para("", fresh.words), button("undo-move", "plain", "Undo: it was not moved", strike)])
}
