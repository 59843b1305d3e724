//! The verdict's mark.

use crate::app::prelude::*;

use super::sketch::sheet;
use crate::metrology::{Mark, Verdict};
use crate::sketch::verdict_mark;

/// The tolerance band as two posts, the reading as a bar as wide as its uncertainty.
#[component]
pub(crate) fn VerdictMark(
    /// Where posts and bar stand.
    mark: Mark,
    /// Solid where it is sure, hollow where it is not.
    verdict: Verdict,
    /// The verdict in words: the mark's accessible name.
    label: String,
) -> impl IntoView {
    let look = match verdict {
        Verdict::In => "is-in",
        Verdict::Out(_) => "is-out",
        Verdict::CantTell => "is-unsure",
        Verdict::NotJudged => "is-not-judged",
    };
    sheet(&verdict_mark(mark, verdict, label), format!("sketch sketch-mark {look}"))
}
