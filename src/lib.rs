//! Trammel: the trade of mating and rigging light aircraft built from kits, as a library that knows no browser,
//! and (on `wasm32` only, and not where it is fed by a fuzzer) the app that is its shell.
//!
//! The floors, top to bottom; each imports only from those below it:
//! `app`, [`folder`], [`report`], [`sketch`], [`procedure`], [`alignment`], [`rigging`],
//! [`metrology`], [`record`], [`quantity`], [`language`]; and beside them [`hearing`], which knows none of them.

// `app::pen::view!` reads a page's lines one after the other.
#![recursion_limit = "1024"]

pub mod alignment;
pub mod folder;
pub mod hearing;
pub mod language;
pub mod metrology;
pub mod procedure;
pub mod quantity;
pub mod record;
pub mod report;
pub mod rigging;
pub mod sketch;

#[cfg(all(target_arch = "wasm32", feature = "app", not(fuzzing)))]
pub mod app;
