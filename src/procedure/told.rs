//! What is told, once, to whoever does not see the screen, when a reading has been kept.

use crate::language::tr;
use crate::procedure::{StepState, Words};
use crate::quantity::Quantity;

/// The reading, and the verdict when it was the last of its set: `step` as it is with the reading in it. Nothing more of a set that is not
/// complete: somebody may be reading blind.
#[must_use]
pub fn told(step: &StepState, kept: &Quantity) -> String {
    let kept = told_kept(kept);
    let complete = step.attempt().is_some_and(|attempt| attempt.complete && attempt.stale.is_none());
    match step.result().filter(|_| complete) {
        Some(result) => {
            let (verdict, value) = (Words::verdict(result.verdict), Words::value(result));
            tr!("{kept} {verdict}: {value}.", kept, verdict, value)
        }
        None => kept,
    }
}

/// The reading alone: for somebody who must not hear what became of it.
#[must_use]
pub fn told_kept(kept: &Quantity) -> String {
    let read = kept.print();
    tr!("Kept: {read}.", read)
}
