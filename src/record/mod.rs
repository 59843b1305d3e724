//! The record: an append-only set of entries, and what an airframe is once they are folded.
//!
//! Frames and signs used throughout (fuselage station aft, buttock line right, waterline up; *pilot's* left and right):
//! see [`Side`] and [`crate::alignment`].
//!
//! Deliberately absent: deleting or changing an entry. A mistake is struck out by a further entry ([`Body::Struck`]) and both
//! stay. Nothing that can be derived is stored: the state of a run, verdicts and staleness are folds
//! (see [`crate::procedure`]).

mod airframe;
mod book;
mod digest;
mod drawn;
mod entry;
mod hole;
mod instrument;
mod integrity;
mod key;
mod ledger;
mod person;
mod photo;
mod picture;
mod seal;
mod specification;
mod statement;
mod strict;
mod time;

pub use airframe::{Airframe, AirframeDetails, Instruments, OwnProcedure, Person, StartedRun, Units};
pub use book::Strikes;
pub use digest::Digest;
pub use drawn::{begin_stroke, drawn_path, go_on};
pub use entry::{
    AirframeId, Body, Entry, EntryId, MAX_PROCEDURE, MAX_TEXT, MovedAdjuster, Reading, RunId, Side, StepPath,
};
pub use hole::{HoleMark, HolePlace, LaidOutHoles, MAX_HOLES, MarkedHole};
pub use instrument::{AccuracyClass, Instrument, InstrumentKind, Mode, Reversal, ZeroError, role_words};
pub use integrity::{Break, Chains, Integrity};
pub use key::{Key, KeyOf, Signature, Signed, announce, keys, signatures};
pub use ledger::{Ledger, Merged};
pub use person::{AtHand, NameError, at_hand, same_person};
pub use photo::{MAX_PHOTO, MAX_PICTURE, PhotoError, clean_jpeg, jpeg_size, photo_not_here, within};
pub use picture::{PICTURE_HEAD, picture_size};
pub use seal::{Head, Seal};
pub use specification::{SpecValue, Specification, SpecifiedItem, Tolerance};
pub use statement::{About, Deviation, DeviationAnswer, OpenItem, Photo, Question, Remark, Role, TimeSpent};
pub use strict::from_json;
pub use time::{day, day_text};
