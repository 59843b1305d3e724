//! Hearing: a small recogniser of words that their speaker taught it, in any language.
//!
//! A microphone's samples become mel-band energies ([`Front`]); an endpointer finds where somebody speaks; a word is kept as the
//! energies of a few takes ([`Taught`]). To recognise, the takes are put into the noise that is there now and at the level of the
//! voice, and one pass of dynamic time warping finds the words, in an order that a [`Vocabulary`] allows, and the runner-up.
//! What is not clear is said to be unsure: whoever asks must ask back.
//!
//! Words are labels and nothing else: the floor knows no other and no language. Every input is bounded, and no input, however
//! broken, stops it.

#![allow(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "counts of frames and samples, all far below what a float holds exactly"
)]

mod bytes;
mod cepstra;
mod ear;
mod endpoint;
mod fft;
mod fit;
mod front;
mod lesson;
mod recognise;
mod resample;
mod search;
mod sureness;
mod taught;
mod tuning;
mod utterance;
mod vocabulary;

pub use bytes::Refusal;
pub use cepstra::{CEPSTRA, Cosines, Feature, SIZE};
pub use ear::Ear;
pub use endpoint::{Event, LONGEST};
pub use front::{BANDS, Bands, FRAME, Front, HOP, bands_of, hz, mel};
pub use lesson::{Lesson, warp};
pub use recognise::{Evidence, Heard, HeardWord, Verdict, recognise};
pub use resample::Resampler;
pub use search::MOST_WORDS;
pub use taught::{MOST_TAKES, TAKES, Take, Taught, Word};
pub use tuning::Tuning;
pub use utterance::Utterance;
pub use vocabulary::{MOST, MOST_ROLES, Vocabulary};

/// Samples per second that the recogniser works at.
pub const RATE: u32 = 16_000;

/// A power as decibels, not below −100.
fn db(power: f32) -> f32 {
    10.0 * power.max(1e-10).log10()
}

/// Decibels as a power.
fn power(db: f32) -> f32 {
    10_f32.powf(db / 10.0)
}
