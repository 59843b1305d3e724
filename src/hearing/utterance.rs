//! What was said between two pauses.

use super::front::{BANDS, Bands};
use super::{db, power};

/// Frames of sound with the noise that they stand in.
#[derive(Clone, Debug, PartialEq)]
pub struct Utterance {
    /// All frames, some of the noise before and after among them.
    pub frames: Vec<Bands>,
    /// For each frame how far it stands above the noise, dB, the mean over the bands.
    pub above: Vec<f32>,
    /// What `above` is exceeded by in speech, dB.
    pub threshold: f32,
    /// The mean power of the noise in each band, dB.
    pub noise: Bands,
    /// Share of the samples that are at the end of the scale.
    pub clipped: f32,
}

impl Utterance {
    /// From the first to behind the last frame of speech; none when there is no speech.
    pub fn speech(&self) -> Option<(usize, usize)> {
        speech(&self.above, self.threshold)
    }

    /// The level of the speech alone, dB; see [`level`].
    pub fn level(&self) -> f32 {
        level(&self.frames, &self.noise)
    }

    /// The level of the noise, dB.
    pub fn noise_level(&self) -> f32 {
        db(self.noise.iter().map(|&band| power(band)).sum())
    }
}

/// The loudest frames, of which the faintest gives the level: more than the clatter of a valve has.
const LOUDEST: usize = 10;

/// The level of speech, dB: what its ten loudest frames reach when `noise` is taken off.
pub(super) fn level(frames: &[Bands], noise: &Bands) -> f32 {
    let mut all: Vec<f32> =
        frames.iter().map(|bands| db((0..BANDS).map(|b| (power(bands[b]) - power(noise[b])).max(0.0)).sum())).collect();
    all.sort_by(|a, b| b.total_cmp(a));
    all.get(LOUDEST - 1).copied().unwrap_or(-100.0)
}

/// Frames on each side that a frame is smoothed over: the clatter of valves is shorter than any sound of speech.
pub(super) const SMOOTH: usize = 3;
/// Fewest frames of a piece of speech.
const PIECE: usize = 5;
/// What is this share of the loudest frame's distance from the noise is no speech, whatever the noise.
const FAINT: f32 = 0.15;

/// The median of what is near.
pub(super) fn median(above: &[f32], at: usize) -> f32 {
    let mut near = above[at.saturating_sub(SMOOTH)..(at + SMOOTH + 1).min(above.len())].to_vec();
    near.sort_by(f32::total_cmp);
    near[near.len() / 2]
}

/// From the first to behind the last frame of speech, from how far each frame stands above the noise, dB.
pub(super) fn speech(above: &[f32], threshold: f32) -> Option<(usize, usize)> {
    let smooth: Vec<f32> = (0..above.len()).map(|at| median(above, at)).collect();
    let top = smooth.iter().copied().fold(0.0, f32::max);
    let threshold = threshold.max(FAINT * top);
    let mut found = None;
    let mut start = None;
    for (at, value) in smooth.iter().chain(&[0.0]).enumerate() {
        match (start, *value > threshold) {
            (None, true) => start = Some(at),
            (Some(from), false) => {
                if at - from >= PIECE {
                    found = Some((found.map_or(from, |(first, _)| first), at));
                }
                start = None;
            }
            _ => {}
        }
    }
    found
}
