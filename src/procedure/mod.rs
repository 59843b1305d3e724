//! Procedures as data, and a run of one as a pure fold over the record's entries.
//!
//! A [`Procedure`] knows the order of the work, what is measured and what may be moved; it knows no airframe's numbers. A
//! [`Run`] is what the entries of one run say about it, held against one airframe's rigging specification: which step is next,
//! every check's verdict, what has gone stale, what to move, which hold point is open. Deliberately absent: any state of its
//! own. Fold the entries again and the same run comes out.

mod adjuster;
mod advice;
mod attempt;
mod check;
mod drift;
mod example;
mod fit;
mod fold;
mod format;
mod guard;
mod hold;
mod instruments;
mod learning;
mod levers;
mod library;
mod moved;
mod pooled;
mod precedent;
mod rows;
mod screen;
mod specify;
mod undo;
mod words;

pub use adjuster::{Adjuster, LeverKind, SettableStep};
pub use advice::{Advice, Correction, ProposedMove};
pub use attempt::{Attempt, TakenReading};
pub use check::CheckResult;
pub use drift::{AtGate, Drift, drift};
pub use example::{ExampleAirframe, examples};
pub use fit::{Fit, FittedCheck, FittedReading, Forecast, NoFit, Together, WhatIf, fit};
pub use fold::{Run, State, StepState};
pub use format::{
    Ask, Check, Condition, Formula, Pass, Picture, Procedure, Role, Slot, SpecForm, SpecItem, Step, StepKind,
};
pub use guard::{Context, Doubt, Expected, FarOff, LastTyped, Slip, Source, WrongMode, context_of, doubt, plausible};
pub use hold::{Hold, Missing};
pub use instruments::{
    InstrumentDraft, InstrumentError, LongPull, LongPullError, Preset, describe, draft_of_instrument, instrument_for,
    instrument_now, instrument_words, presets, reversal_slots, reversal_words, reversed, state_words, zero_of,
};
pub use library::{MATE_AFT_FUSELAGE, procedure};
pub use moved::Moved;
pub use precedent::Precedent;
pub use rows::{SlotRow, slot_rows};
pub use screen::Face;
pub use specify::{SpecDraft, SpecError, draft_of, specify};
pub use undo::{FreshMove, NOT_MOVED, fresh_move};
pub use words::{Words, fill, order};
