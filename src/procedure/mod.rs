//! Procedures as data, and a run of one as a pure fold over the record's entries.
//!
//! A [`Procedure`] knows the order of the work, what is measured and what may be moved; it knows no airframe's numbers. A
//! [`Run`] is what the entries of one run say about it, held against one airframe's rigging specification: which step is next,
//! every check's verdict, what has gone stale, what to move, which hold point is open. Deliberately absent: any state of its
//! own. Fold the entries again and the same run comes out.

mod adjuster;
mod advice;
mod aircraft;
mod aloud;
mod attempt;
mod bench;
mod better;
mod check;
mod drift;
mod example;
mod faults;
mod fit;
mod fold;
mod foreign;
mod format;
mod glance;
mod guard;
mod hold;
mod hole_rows;
mod holes;
mod instruments;
mod learning;
mod levers;
mod library;
mod listen;
mod moved;
mod own;
mod picture;
mod pooled;
mod precedent;
mod reckoned;
mod reread;
mod rows;
mod screen;
mod shape;
mod sheet;
mod shown;
mod specify;
mod stale;
mod told;
mod undo;
mod waits;
mod worded;
mod words;
pub mod writing;

pub use adjuster::{Adjuster, Counted, Effect, Effects, How, LeverKind, SettableStep};
pub use advice::{Advice, Correction, ProposedMove};
pub use aircraft::{Progress, Work, aircraft, applies_to, next_work};
pub use aloud::{Part as SpokenPart, Script, Told};
pub use attempt::{Attempt, TakenReading};
pub use bench::{BenchAnswer, BenchEntry, bench_answer, bench_kinds, bench_label, bench_purpose, bench_unit};
pub use check::CheckResult;
pub use drift::{AtGate, Drift, drift};
pub use example::{ExampleAirframe, example_details, examples};
pub use faults::{Fault, Place, faults};
pub use fit::{Fit, FittedCheck, FittedReading, Forecast, NoFit, Together, WhatIf, fit};
pub(crate) use fold::applies;
pub use fold::{Run, State, StepState};
pub use foreign::{ProcedureError, about_file, read_procedure, taken_in, write_procedure};
pub use format::{Ask, Check, Formula, Pass, Procedure, Role, Slot, Step, StepKind};
pub use glance::{
    Arranged, DatumAgain, Far, Flash, HelperCard, HelperReading, ReadBlind, Return, Seen, Turns, arrange,
    asked_once_closed, cannot_be, flash, handed_back, hang, helper_cards, interrupted, look_once_more, read_blind,
    turning_words,
};
pub use guard::{Context, Doubt, Expected, FarOff, LastTyped, Slip, Source, WrongMode, context_of, doubt, plausible};
pub use hold::{Hold, Missing, may_not_sign};
pub use hole_rows::{RowsError, rows_of, rows_words};
pub use holes::{HoleMap, HoleState, HoleTool, mark_words, not_bad, place_words};
pub use instruments::{
    InstrumentDraft, InstrumentError, LongPull, LongPullError, Preset, describe, draft_of_instrument, instrument_for,
    instrument_now, instrument_words, presets, reversal_slots, reversal_words, reversed, state_words, zero_of,
};
pub use library::{MATE_AFT_FUSELAGE, built_in_ids, cautions, procedure, procedures, sheet_items};
pub use listen::{
    Asked as AskedNumber, Deaf, Meaning, NextTake, TAKES, Utterance, is_taught, next_take, phrases, read_back,
    take_words, taught_words, understand,
};
pub use moved::Moved;
pub use own::{all_in_use, held, in_use, newest, next_version, of_run, unreadable};
pub use picture::Picture;
pub use precedent::Precedent;
pub use reckoned::{ChartAt, Input, MeanOf, Reckoned, SlotOf};
pub use reread::{Reread, RereadError, SheetCount, read_again, same_value, unread};
pub use rows::{SlotRow, slot_rows};
pub use screen::Face;
pub use shape::{SHAPES, Shape, choice_items, leaves_out, option_title};
pub use sheet::{Condition, SpecForm, SpecItem};
pub use shown::{equipped, shown_run};
pub use specify::{SpecDraft, SpecError, draft_of, specify};
pub use stale::stirs;
pub use told::{told, told_kept};
pub use undo::{FreshMove, fresh_move, not_moved};
pub(crate) use waits::counts;
pub use waits::{Accepted, Unfinished, Waits, departure};
pub use worded::worded_texts;
pub use words::{Words, fill, order};
