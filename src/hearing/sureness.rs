//! How sure: from what the paths cost to a probability.

use super::recognise::{Evidence, Verdict};
use super::search::Placed;

/// What is made of the evidence.
pub(super) struct Judged {
    pub(super) verdict: Verdict,
    pub(super) confidence: f32,
}

/// Below this it asks.
const SURE: f32 = 0.95;
/// Below this nothing of it is worth asking about.
const NOTHING: f32 = 0.02;

pub(super) fn judge(evidence: &Evidence) -> Judged {
    let confidence = probability(evidence);
    let verdict = if confidence >= SURE {
        Verdict::Sure
    } else if confidence >= NOTHING {
        Verdict::Unsure
    } else {
        Verdict::Nothing
    };
    Judged { verdict, confidence }
}

/// A word that the runner-up has in the same place is surer than the whole: it is not the one in doubt.
pub(super) fn of_word(evidence: &Evidence, placed: &Placed, differs: bool) -> f32 {
    let own = placed.cost / (placed.to - placed.from).max(1) as f32;
    let margin = if differs { evidence.margin } else { 2.0 * evidence.margin + 4.0 };
    probability(&Evidence { margin, worst: own, garbage: evidence.garbage.min(own), ..*evidence })
}

/// A logistic regression on the development voices; the held-out ones are in `docs/decisions/0021`.
fn probability(evidence: &Evidence) -> f32 {
    let sum = 3.5 * (1.0 + evidence.margin.max(0.0)).ln() - 3.4 * evidence.garbage.max(0.0) - 1.6;
    1.0 / (1.0 + (-sum).exp())
}
