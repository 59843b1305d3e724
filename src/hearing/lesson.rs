//! Teaching: which takes are taken, and why others are not.

use super::Tuning;
use super::cepstra::{Cosines, Feature};
use super::fit::{Fit, distance};
use super::recognise::aligned;
use super::taught::{MOST_TAKES, TAKE_FRAMES, Take, Taught, rounded};
use super::utterance::Utterance;

/// What became of a take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lesson {
    /// Kept.
    Accepted,
    /// No word: a knock.
    TooShort,
    /// More than one word, or a drawl.
    TooLong,
    /// The sound is cut off at the top.
    TooLoud,
    /// Hardly above what the microphone can hear.
    TooQuiet,
    /// Hardly above the noise.
    TooNoisy,
    /// Unlike the earlier takes of this word.
    Unlike,
    /// The word has all the takes that it can have, or there are too many words.
    Full,
    /// Nothing was said.
    Nothing,
}

impl Lesson {
    const ALL: [Self; 9] = [
        Self::Accepted,
        Self::TooShort,
        Self::TooLong,
        Self::TooLoud,
        Self::TooQuiet,
        Self::TooNoisy,
        Self::Unlike,
        Self::Full,
        Self::Nothing,
    ];

    /// By its [`Self::word`]; one that is not known is nothing heard.
    #[must_use]
    pub fn of(word: &str) -> Self {
        Self::ALL.into_iter().find(|lesson| lesson.word() == word).unwrap_or(Self::Nothing)
    }

    /// A word for the shell.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Accepted => "accepted",
            Self::TooShort => "too-short",
            Self::TooLong => "too-long",
            Self::TooLoud => "too-loud",
            Self::TooQuiet => "too-quiet",
            Self::TooNoisy => "too-noisy",
            Self::Unlike => "unlike",
            Self::Full => "full",
            Self::Nothing => "nothing",
        }
    }
}

/// Most samples at the end of the scale, as a share.
const CLIPPED: f32 = 0.004;
/// Least level of a word, dB of the front end: some 55 dB below full scale.
const QUIET: f32 = -50.0;
/// Least distance of speech from noise, dB.
const NOISY: f32 = 6.0;
/// Fewest frames of a word that is said alone.
const SHORTEST: usize = 8;
/// Frames of soft beginning and end that are kept with a word.
const SOFT: usize = 4;
/// Mean distance per frame above which two takes are not the same word, when they are also more like another word.
const UNLIKE: f32 = 1.6;

/// What became of it, and the take when it is good.
pub(super) fn teach(taught: &mut Taught, label: &str, utterance: &Utterance, tuning: &Tuning) -> Lesson {
    let Some((from, to)) = utterance.speech() else { return Lesson::Nothing };
    if utterance.clipped > CLIPPED {
        return Lesson::TooLoud;
    }
    if utterance.level() < QUIET {
        return Lesson::TooQuiet;
    }
    if utterance.level() - utterance.noise_level() < NOISY {
        return Lesson::TooNoisy;
    }
    let (from, to) = (from.saturating_sub(SOFT), (to + SOFT).min(utterance.frames.len()));
    if to - from < SHORTEST + 2 * SOFT {
        return Lesson::TooShort;
    }
    if to - from > TAKE_FRAMES.1 {
        return Lesson::TooLong;
    }
    let frames = utterance.frames[from..to].iter().map(rounded).collect();
    let take = Take { frames, noise: rounded(&utterance.noise) };
    if taught.takes(label).len() >= MOST_TAKES {
        return Lesson::Full;
    }
    if is_unlike(taught, label, &take, tuning) {
        return Lesson::Unlike;
    }
    if taught.add(label, take) { Lesson::Accepted } else { Lesson::Full }
}

/// Cuts an utterance that was said in one go into its words, each of which must be taught already, and keeps each as a take.
pub(super) fn teach_phrase(taught: &mut Taught, labels: &[&str], utterance: &Utterance, tuning: &Tuning) -> Lesson {
    if utterance.clipped > CLIPPED {
        return Lesson::TooLoud;
    }
    if utterance.level() < QUIET {
        return Lesson::TooQuiet;
    }
    if utterance.level() - utterance.noise_level() < NOISY {
        return Lesson::TooNoisy;
    }
    let Some(placed) = aligned(taught, labels, utterance, tuning) else { return Lesson::Unlike };
    let noise = rounded(&utterance.noise);
    for (label, (from, to)) in labels.iter().zip(placed) {
        if (TAKE_FRAMES.0..=TAKE_FRAMES.1).contains(&(to - from)) {
            let frames = utterance.frames[from..to].iter().map(rounded).collect();
            // A word that has all its takes needs no more.
            taught.add(label, Take { frames, noise });
        }
    }
    Lesson::Accepted
}

fn is_unlike(taught: &Taught, label: &str, take: &Take, tuning: &Tuning) -> bool {
    let own = nearest(taught.takes(label), take, tuning);
    let other = taught.words.iter().filter(|word| word.label != label);
    let other = other.map(|word| nearest(&word.takes, take, tuning)).fold(f32::INFINITY, f32::min);
    own.is_finite() && own > UNLIKE && own > other
}

/// Another word that the last take of `label` is nearly as like to as to the word's other takes.
pub(super) fn closest<'a>(taught: &'a Taught, label: &str, tuning: &Tuning) -> Option<&'a str> {
    let takes = taught.takes(label);
    let (last, earlier) = takes.split_last()?;
    let own = nearest(earlier, last, tuning);
    let own = if own.is_finite() { own } else { UNLIKE / 2.0 };
    let others = taught.words.iter().filter(|word| word.label != label);
    let (distance, label) = others
        .map(|word| (nearest(&word.takes, last, tuning), word.label.as_str()))
        .min_by(|a, b| a.0.total_cmp(&b.0))?;
    (distance < own * 1.1).then_some(label)
}

fn nearest(takes: &[Take], take: &Take, tuning: &Tuning) -> f32 {
    takes.iter().map(|other| unlikeness(take, other, tuning)).fold(f32::INFINITY, f32::min)
}

/// The mean distance per frame of two takes, each put into the noise of both.
fn unlikeness(a: &Take, b: &Take, tuning: &Tuning) -> f32 {
    let noise = std::array::from_fn(|band| a.noise[band].max(b.noise[band]));
    let cosines = Cosines::new();
    let fit = Fit::new(&cosines, tuning, &noise, a.level());
    warp(&fit.taught(a, 0.0), &fit.taught(b, a.level() - b.level()))
}

/// Sakoe and Chiba's symmetric dynamic time warping (1978), slope free: the least sum of distances along a path from both
/// beginnings to both ends, a diagonal step counted twice, over the sum of both lengths.
pub fn warp(a: &[Feature], b: &[Feature]) -> f32 {
    let mut row = vec![f32::INFINITY; b.len() + 1];
    row[0] = 0.0;
    for x in a {
        let mut diagonal = row[0];
        row[0] = f32::INFINITY;
        for (at, y) in b.iter().enumerate() {
            let d = distance(x, y);
            let next = (row[at] + d).min(row[at + 1] + d).min(diagonal + 2.0 * d);
            diagonal = row[at + 1];
            row[at + 1] = next;
        }
    }
    row[b.len()] / (a.len() + b.len()).max(1) as f32
}
