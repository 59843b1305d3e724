//! Taught words put into the noise that is there now.
//!
//! A word taught in quiet and the same word in the noise of a compressor have little in common but what stands out of the noise.
//! So the present noise is added to the clean word, band by band, and only then the two are compared: what the noise hides is
//! noise on both sides. (Model combination in the spectral domain, after Gales and Young 1996; here with templates.)

use super::cepstra::{Cosines, Feature};
use super::front::{BANDS, Bands};
use super::taught::Take;
use super::{Tuning, db, power};

/// The present noise and level, against which both sides are made alike.
pub(super) struct Fit<'a> {
    cosines: &'a Cosines,
    tuning: &'a Tuning,
    /// Mean power of the noise.
    noise: [f32; BANDS],
    /// What is added to both sides: it hides the scatter of the noise, and in quiet what is too faint to matter.
    veil: [f32; BANDS],
}

impl<'a> Fit<'a> {
    /// `level` is that of the speech, dB.
    pub(super) fn new(cosines: &'a Cosines, tuning: &'a Tuning, noise: &Bands, level: f32) -> Self {
        let faint = power(level - tuning.depth) / BANDS as f32;
        let noise = noise.map(power);
        let veil = noise.map(|noise| noise * tuning.veil + faint);
        Self { cosines, tuning, noise, veil }
    }

    /// What was heard.
    pub(super) fn heard(&self, frames: &[Bands]) -> Vec<Feature> {
        let veiled = |bands: &Bands| std::array::from_fn(|b| db(power(bands[b]) + self.veil[b]));
        self.weighed(&frames.iter().map(veiled).collect::<Vec<_>>())
    }

    /// A take, `gain` dB louder than it was, in the present noise instead of its own.
    pub(super) fn taught(&self, take: &Take, gain: f32) -> Vec<Feature> {
        let gain = power(gain);
        let own = take.noise.map(power);
        let moved = |bands: &Bands| {
            std::array::from_fn(|b| {
                // What is left of the take's own noise is not added to the present noise a second time.
                let all = power(bands[b]);
                let clean = (all - own[b]).max(0.05 * all) * gain;
                db(clean + self.noise[b] + self.veil[b])
            })
        };
        self.weighed(&take.frames.iter().map(moved).collect::<Vec<_>>())
    }

    fn weighed(&self, frames: &[Bands]) -> Vec<Feature> {
        let mut features = self.cosines.features(frames);
        for feature in &mut features {
            for (value, weight) in feature.iter_mut().zip(&self.tuning.weights) {
                *value *= weight;
            }
        }
        features
    }
}

/// How unlike two frames are.
pub(super) fn distance(a: &Feature, b: &Feature) -> f32 {
    let mut sum = 0.0;
    for (a, b) in a.iter().zip(b) {
        sum += (a - b) * (a - b);
    }
    sum.sqrt()
}
