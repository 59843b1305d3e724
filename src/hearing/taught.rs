//! What was taught: for each word some takes, and the noise that each was taken in.

use super::front::{BANDS, Bands};
use super::utterance::level;

/// Most words that can be taught.
pub(super) const MOST_WORDS: usize = 80;
/// Most takes of a word.
pub const MOST_TAKES: usize = 6;
/// Takes that a word wants before it is said among others.
pub const TAKES: usize = 2;
/// Longest name of a word, bytes.
pub(super) const LONGEST_LABEL: usize = 40;
/// Fewest and most frames of a take: 0.06 s, which "and" is among other words, and 1.6 s.
pub(super) const TAKE_FRAMES: (usize, usize) = (6, 160);

/// One reading of one word.
#[derive(Clone, Debug, PartialEq)]
pub struct Take {
    /// Its frames, without noise before and after.
    pub frames: Vec<Bands>,
    /// The noise it was taken in.
    pub noise: Bands,
}

impl Take {
    /// The level of the speech, dB.
    pub(super) fn level(&self) -> f32 {
        level(&self.frames, &self.noise)
    }
}

/// A word and its takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Word {
    /// What it is called: the word itself, or two that are said as one.
    pub label: String,
    /// Its takes, the oldest first.
    pub takes: Vec<Take>,
}

/// All words that were taught.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Taught {
    /// In the order in which they were begun; no label twice.
    pub words: Vec<Word>,
}

impl Taught {
    /// The takes of a word.
    pub fn takes(&self, label: &str) -> &[Take] {
        self.words.iter().find(|word| word.label == label).map_or(&[], |word| &word.takes)
    }

    /// Forgets a word.
    pub fn forget(&mut self, label: &str) {
        self.words.retain(|word| word.label != label);
    }

    /// Adds a take; whether there was room for it.
    pub(super) fn add(&mut self, label: &str, take: Take) -> bool {
        if label.is_empty() || label.len() > LONGEST_LABEL {
            return false;
        }
        if let Some(word) = self.words.iter_mut().find(|word| word.label == label) {
            let room = word.takes.len() < MOST_TAKES;
            if room {
                word.takes.push(take);
            }
            return room;
        }
        let room = self.words.len() < MOST_WORDS;
        if room {
            self.words.push(Word { label: label.to_owned(), takes: vec![take] });
        }
        room
    }
}

/// A level in dB as one byte: half decibels from −100 dB up.
pub(super) fn squeeze(level: f32) -> u8 {
    ((level + 100.0) * 2.0).round().clamp(0.0, 255.0) as u8
}

/// And back.
pub(super) fn unsqueeze(byte: u8) -> f32 {
    f32::from(byte) / 2.0 - 100.0
}

/// What is left of `bands` when they have been kept as bytes: takes are rounded when they are taught, so that what is exported
/// and read again hears the same.
pub(super) fn rounded(bands: &Bands) -> Bands {
    let mut out = [0.0; BANDS];
    for (out, band) in out.iter_mut().zip(bands) {
        *out = unsqueeze(squeeze(*band));
    }
    out
}
