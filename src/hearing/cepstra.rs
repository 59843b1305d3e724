//! What frames are compared by: cepstra and their slopes.

use std::f32::consts::PI;

use super::front::{BANDS, Bands};

/// Cepstra, the zeroth among them.
pub const CEPSTRA: usize = 13;
/// Numbers of one frame: the cepstra and the slope of each.
pub const SIZE: usize = 2 * CEPSTRA;
/// Frames on each side that a slope is taken over.
const SLOPE: usize = 2;

/// One frame as it is compared.
pub type Feature = [f32; SIZE];

/// The discrete cosine transform (the second, orthonormal) of the bands.
pub struct Cosines(Vec<[f32; BANDS]>);

impl Default for Cosines {
    fn default() -> Self {
        Self::new()
    }
}

impl Cosines {
    /// The table.
    pub fn new() -> Self {
        let row = |k: usize| {
            let share = if k == 0 { 1.0 } else { 2.0 };
            let scale = (share / BANDS as f32).sqrt();
            std::array::from_fn(|band| scale * (PI * k as f32 * (band as f32 + 0.5) / BANDS as f32).cos())
        };
        Self((0..CEPSTRA).map(row).collect())
    }

    /// The cepstra of one frame, in the unit of `bands`.
    pub fn cepstra(&self, bands: &Bands) -> [f32; CEPSTRA] {
        std::array::from_fn(|k| self.0[k].iter().zip(bands).map(|(cos, band)| cos * band).sum())
    }

    /// Cepstra and slopes of frames that follow each other: the slope is the regression of the HTK book over two frames on each
    /// side, the first and the last frame repeated beyond the ends.
    pub fn features(&self, frames: &[Bands]) -> Vec<Feature> {
        let cepstra: Vec<_> = frames.iter().map(|bands| self.cepstra(bands)).collect();
        let last = cepstra.len().saturating_sub(1);
        let divisor = 2.0 * (1..=SLOPE).map(|n| (n * n) as f32).sum::<f32>();
        let feature = |at: usize| {
            let slope = |k: usize| {
                let lean = |n: usize| n as f32 * (cepstra[(at + n).min(last)][k] - cepstra[at.saturating_sub(n)][k]);
                (1..=SLOPE).map(lean).sum::<f32>() / divisor
            };
            std::array::from_fn(|k| if k < CEPSTRA { cepstra[at][k] } else { slope(k - CEPSTRA) })
        };
        (0..cepstra.len()).map(feature).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Parseval: an orthonormal transform keeps the length of what lies in its span.
    #[test]
    fn the_transform_is_orthonormal() {
        let cosines = Cosines::new();
        for (i, row) in cosines.0.iter().enumerate() {
            let found = cosines.cepstra(row);
            for (k, value) in found.into_iter().enumerate() {
                assert!((value - f32::from(u8::from(i == k))).abs() < 1e-5, "{i} on {k}: {value}");
            }
        }
    }

    #[test]
    fn the_slope_of_a_steady_rise_is_the_rise() {
        let frames: Vec<Bands> = (0..9).map(|at| [at as f32; BANDS]).collect();
        let features = Cosines::new().features(&frames);
        let rise = (BANDS as f32).sqrt();
        assert!((features[4][CEPSTRA] - rise).abs() < 1e-4);
        assert!(Cosines::new().features(&[]).is_empty());
    }
}
