//! Ordered moves, and moves made.

use crate::procedure::{Adjuster, LeverKind, Procedure, Run, StepState};

/// A move that the step's advice orders.
pub(super) struct Order<'a> {
    pub(super) adjuster: &'a Adjuster,
    /// Along the adjuster's positive direction.
    pub(super) forward: bool,
    /// How far: "5/8 in".
    pub(super) amount: String,
    /// The whole order: "Raise the saddle 5/8 in".
    pub(super) words: &'a str,
}

/// The moves that the step's advice orders, in the order in which to do them.
pub(super) fn orders<'a>(procedure: &'a Procedure, step: &'a StepState) -> Vec<Order<'a>> {
    let correction = step.advice.as_ref().and_then(|advice| advice.correction.as_ref());
    correction
        .into_iter()
        .flat_map(|correction| &correction.moves)
        .filter(|ordered| ordered.amount.value.is_finite())
        .filter_map(|ordered| {
            let mut amount = ordered.amount.clone();
            let forward = amount.value >= 0.0;
            amount.value = amount.value.abs();
            let adjuster = procedure.adjuster(&ordered.adjuster)?;
            Some(Order { adjuster, forward, amount: amount.print(), words: &ordered.order })
        })
        .collect()
}

/// " Raise the saddle 5/8 in." for a drawing's title.
pub(super) fn orders_words(orders: &[Order<'_>]) -> String {
    orders.iter().map(|order| format!(" {}.", order.words)).collect()
}

/// How far the block was slid forward in all, in metres.
pub(super) fn slid(procedure: &Procedure, run: &Run) -> f64 {
    let slides = |id: &str| {
        procedure.adjuster(id).is_some_and(|adjuster| matches!(adjuster.lever, LeverKind::SlopingTube { .. }))
    };
    run.moves.iter().filter(|moved| slides(&moved.adjuster)).map(|moved| moved.length.metres()).sum()
}
