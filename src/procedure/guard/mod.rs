//! Guards at entry: what the pad refuses, and what it asks about once before it keeps a number.
//!
//! [`plausible`] refuses what is no reading at all. [`doubt`] never refuses: it looks at a number that could be a reading, together
//! with what is known about it ([`Context`], put together by [`context_of`]), and asks when the number is implausible. Where an
//! ordinary slip explains it, the doubt names the slip, and what was meant when that is known. The builder may answer "it is
//! what I read"; nothing is ever changed silently.
//!
//! Deliberately absent: any state. Whether these digits were already asked about is for the screen to remember.

mod context;
mod doubt;
mod gather;
mod plausible;
mod slips;
mod words;

pub use context::{Context, Expected, LastTyped, Source};
pub use doubt::{Doubt, Slip, WrongMode, doubt};
pub use gather::context_of;
pub use plausible::{FarOff, plausible};
