//! The verdict's mark.

use crate::app::prelude::*;

use super::sketch::sheet;
use crate::metrology::{Mark, Verdict};
use crate::sketch::verdict_mark;

/// The tolerance band as two posts, the reading as a bar as wide as its uncertainty: solid where it is sure, hollow where it is
/// not. `label`: the verdict in words, the mark's accessible name.
pub(crate) fn mark_of(mark: Mark, verdict: Verdict, label: String) -> AnyView {
    let look = match verdict {
        Verdict::In => "is-in",
        Verdict::Out(_) => "is-out",
        Verdict::CantTell => "is-unsure",
        Verdict::NotJudged => "is-not-judged",
    };
    sheet(&verdict_mark(mark, verdict, label), format!("sketch sketch-mark {look}"))
}
