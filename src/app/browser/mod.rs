//! The browser's seams: one small file for each thing that the platform gives.
//!
//! Every one of these may be missing, blocked or refused on the phone in hand (an old browser, a private window, site
//! data switched off), so nothing in here unwraps what the platform answers: a seam says what it could not do, or does
//! nothing where losing it does not matter. No type of the interface's framework appears here.

pub mod ahead;
pub mod clock;
pub mod copy;
pub mod dav;
pub mod db;
pub mod dialog;
pub mod dictate;
pub mod draw;
pub mod ear;
pub mod focus;
pub mod front;
pub mod handed;
pub mod haptics;
pub mod headset;
pub mod ids;
mod js;
pub mod keeping;
pub mod keyboard;
pub mod keys;
pub mod outbox;
pub mod pack;
pub mod panic;
pub mod photos;
pub mod pick;
pub mod room;
pub mod settings;
pub mod share;
pub mod shrink;
mod store_error;
pub mod tabs;
mod taught;
pub mod tone;
pub mod turning;
pub mod twice;
pub mod voice;
pub mod wake;
pub mod worker;
mod writer;
