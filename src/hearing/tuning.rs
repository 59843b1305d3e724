//! The numbers of the recogniser that no theory gives.

use super::cepstra::{CEPSTRA, SIZE};

/// Found by trial on the development voices of `tests/voice`; how the others fare is in `docs/decisions/0021`.
#[derive(Clone, Debug)]
pub struct Tuning {
    /// Weights of cepstra and slopes.
    pub weights: [f32; SIZE],
    /// The noise once more on both sides, as a share of it.
    pub veil: f32,
    /// What is fainter than the speech by this does not matter, dB.
    pub depth: f32,
    /// Cost of staying in a frame of a take.
    pub stay: f32,
    /// Cost of leaving one out.
    pub skip: f32,
    /// Cost of a word.
    pub word: f32,
    /// Cost of a frame of pause.
    pub pause: f32,
    /// What costs so much more than the best is given up.
    pub beam: f32,
}

impl Default for Tuning {
    fn default() -> Self {
        Self::with(22.0, 2.0, 0.2)
    }
}

impl Tuning {
    /// `lift`: period of the lifter; `slope`: weight of slopes; `loudness`: weight of the zeroth cepstrum.
    pub fn with(lift: f32, slope: f32, loudness: f32) -> Self {
        let weights = std::array::from_fn(|at| {
            let k = at % CEPSTRA;
            // The lifter of the HTK book, scaled so that typical distances are around one.
            let lifted = 1.0 + lift / 2.0 * (std::f32::consts::PI * k as f32 / lift).sin();
            let lifted = if k == 0 { loudness * lifted * 2.0 } else { lifted };
            0.01 * lifted * if at < CEPSTRA { 1.0 } else { slope }
        });
        Self { weights, veil: 0.4, depth: 40.0, stay: 0.5, skip: 0.0, word: 0.0, pause: 0.08, beam: 40.0 }
    }
}
