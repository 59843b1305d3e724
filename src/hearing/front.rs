//! The front end: samples to mel-band energies, ten milliseconds apart.

use std::collections::VecDeque;
use std::f32::consts::PI;

use super::fft::{Fft, LINES, POINTS};
use super::{RATE, db};

/// Samples of one frame: 25 ms.
pub const FRAME: usize = 400;
/// Samples from one frame to the next: 10 ms.
pub const HOP: usize = 160;
/// Mel bands.
pub const BANDS: usize = 24;
/// Lowest edge, Hz.
const LOW: f32 = 80.0;
/// Highest edge, Hz.
const HIGH: f32 = 7600.0;
/// y(t) = x(t) − 0.97·x(t−1).
const PRE_EMPHASIS: f32 = 0.97;

/// Energies of the mel bands of one frame, dB; see [`bands`](Front::push).
pub type Bands = [f32; BANDS];

/// Frequency in Hz as mel: 2595·log10(1 + f/700), the formula of the HTK book.
pub fn mel(hz: f32) -> f32 {
    2595.0 * (1.0 + hz / 700.0).log10()
}

/// The frequency in Hz of a mel value.
pub fn hz(mel: f32) -> f32 {
    700.0 * (10_f32.powf(mel / 2595.0) - 1.0)
}

/// Samples at [`RATE`] to frames, as they come.
pub struct Front {
    last: f32,
    kept: VecDeque<f32>,
    window: Vec<f32>,
    /// First line of the spectrum and the weights from there on, per band.
    filters: Vec<(usize, Vec<f32>)>,
    fft: Fft,
}

impl Default for Front {
    fn default() -> Self {
        Self::new()
    }
}

impl Front {
    /// Nothing heard yet.
    pub fn new() -> Self {
        let window = |at: usize| 0.54 - 0.46 * (2.0 * PI * at as f32 / (FRAME - 1) as f32).cos();
        Self {
            last: 0.0,
            kept: VecDeque::with_capacity(FRAME),
            window: (0..FRAME).map(window).collect(),
            filters: filters(),
            fft: Fft::new(),
        }
    }

    /// Takes samples in −1..1 and hands each full frame's bands to `out`: 10·log10 of |X|²/512 of the pre-emphasised,
    /// Hamming-windowed frame summed under triangles of equal width in mel, not below −100 dB.
    pub fn push(&mut self, samples: &[f32], mut out: impl FnMut(Bands)) {
        for &sample in samples {
            // Whatever a broken device delivers, the rest of the way is finite.
            let sample = if sample.is_finite() { sample.clamp(-4.0, 4.0) } else { 0.0 };
            self.kept.push_back(sample - PRE_EMPHASIS * self.last);
            self.last = sample;
            if self.kept.len() == FRAME {
                out(self.bands());
                self.kept.drain(..HOP);
            }
        }
    }

    fn bands(&mut self) -> Bands {
        let windowed: Vec<f32> = self.kept.iter().zip(&self.window).map(|(sample, weight)| sample * weight).collect();
        let mut power = [0.0; LINES];
        self.fft.power(&windowed, &mut power);
        let energy = |(first, weights): &(usize, Vec<f32>)| -> f32 {
            weights.iter().zip(&power[*first..]).map(|(weight, power)| weight * power).sum()
        };
        let mut bands = [0.0; BANDS];
        for (band, filter) in bands.iter_mut().zip(&self.filters) {
            *band = db(energy(filter));
        }
        bands
    }
}

/// Triangles whose corners are spread evenly in mel and lie on lines of the spectrum.
fn filters() -> Vec<(usize, Vec<f32>)> {
    let (low, high) = (mel(LOW), mel(HIGH));
    let corner = |at: usize| {
        let frequency = hz(low + (high - low) * at as f32 / (BANDS + 1) as f32);
        ((POINTS + 1) as f32 * frequency / RATE as f32) as usize
    };
    let filter = |band: usize| {
        let (from, top, to) = (corner(band), corner(band + 1), corner(band + 2));
        let weight = |line: usize| {
            if line < top { (line - from) as f32 / (top - from) as f32 } else { (to - line) as f32 / (to - top) as f32 }
        };
        (from, (from..to).map(weight).collect())
    };
    (0..BANDS).map(filter).collect()
}

/// The bands of all full frames of a whole recording at [`RATE`].
pub fn bands_of(samples: &[f32]) -> Vec<Bands> {
    let mut all = Vec::new();
    Front::new().push(samples, |bands| all.push(bands));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    /// From the table of the mel scale in Stevens, Volkmann and Newman's definition: 1000 Hz at 40 dB is 1000 mel.
    #[test]
    fn a_thousand_hertz_are_a_thousand_mel() {
        assert!((mel(1000.0) - 1000.0).abs() < 0.1);
        assert!((hz(mel(3456.0)) - 3456.0).abs() < 0.5);
    }

    #[test]
    fn frames_come_every_ten_milliseconds_however_the_samples_come() {
        let samples: Vec<f32> = (0..RATE as usize).map(|at| (at as f32 * 0.3).sin() * 0.2).collect();
        let whole = bands_of(&samples);
        assert_eq!(whole.len(), 98);
        let mut pieces = Vec::new();
        let mut front = Front::new();
        for piece in samples.chunks(7) {
            front.push(piece, |bands| pieces.push(bands));
        }
        assert_eq!(whole, pieces);
    }

    #[test]
    fn whatever_comes_is_finite() {
        for bad in [0.0, 1.0, -1.0, 1e30, f32::NAN, f32::INFINITY, f32::NEG_INFINITY, f32::MIN_POSITIVE] {
            for bands in bands_of(&[bad; 1000]) {
                assert!(bands.iter().all(|band| (-100.0..60.0).contains(band)), "{bad}: {bands:?}");
            }
        }
    }
}
