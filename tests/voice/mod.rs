//! Voices, noises, a pupil, a table.

use std::path::PathBuf;

pub(crate) mod microphone;
pub(crate) mod noise;
pub(crate) mod other;
pub(crate) mod pupil;
pub(crate) mod score;
pub(crate) mod script;
pub(crate) mod sound;
pub(crate) mod speaker;
pub(crate) mod table;

/// What to do when a voice is not there.
pub(crate) const INSTALL: &str = "the voices are Debian's: \
    apt-get install espeak-ng flite festival festvox-kallpc16k festvox-kdlpc16k festvox-us-slt-hts";

/// Where what was synthesised is kept.
pub(crate) fn cache() -> PathBuf {
    crate::target().join("cache")
}
