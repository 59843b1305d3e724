//! The verdict over the whole screen, for a second after the last reading.

use crate::language::words;
use crate::metrology::{Beyond, Mark, Verdict};
use crate::procedure::{Procedure, StepKind, StepState, Words, words as sentences};

/// What fills the screen.
#[derive(Clone, Debug, PartialEq)]
pub struct Flash {
    /// The two posts and the bar.
    pub mark: Mark,
    /// The verdict.
    pub verdict: Verdict,
    /// The verdict in a word.
    pub word: &'static str,
    /// Which way it is out, in the words of the check: "Tail end low by 0.30°".
    pub way: Option<String>,
}

/// The verdict of a step that was just read; none while readings are missing, and none of a blind reading: whoever read it hands the
/// phone back first.
#[must_use]
pub fn flash(procedure: &Procedure, step: &StepState) -> Option<Flash> {
    let StepKind::Measure { check, blind: false, .. } = &step.step.kind else { return None };
    if !step.attempt()?.complete {
        return None;
    }
    let result = step.result()?;
    let way = match result.verdict {
        Verdict::Out(beyond) => {
            let meant = procedure.check(check).and_then(|check| sentences::meaning(check, result));
            let plain = match beyond {
                Beyond::Low => words!("Below the limit"),
                Beyond::High => words!("Above the limit"),
            };
            Some(meant.unwrap_or_else(|| plain.to_owned()))
        }
        Verdict::In | Verdict::CantTell | Verdict::NotJudged => None,
    };
    Some(Flash { mark: result.mark, verdict: result.verdict, word: Words::verdict(result.verdict), way })
}
