//! The power spectrum of 512 real samples.

use std::f32::consts::PI;

/// Samples of one transform.
pub(super) const POINTS: usize = 512;
/// Lines of its spectrum, from 0 Hz to half the sampling rate.
pub(super) const LINES: usize = POINTS / 2 + 1;

/// A transform of [`POINTS`] samples: decimation in time, radix 2, as any textbook of signal processing has it.
///
/// Our own since the module's bytes are what a phone without a network pays for, and one length is all that is needed.
pub(super) struct Fft {
    /// cos and sin of −2πk/[`POINTS`].
    turns: Vec<(f32, f32)>,
    re: Vec<f32>,
    im: Vec<f32>,
}

impl Fft {
    pub(super) fn new() -> Self {
        let turn = |k: usize| {
            let angle = -2.0 * PI * k as f32 / POINTS as f32;
            (angle.cos(), angle.sin())
        };
        Self { turns: (0..POINTS / 2).map(turn).collect(), re: vec![0.0; POINTS], im: vec![0.0; POINTS] }
    }

    /// |X|²/[`POINTS`] of `samples`, which are followed by zeros when they are fewer.
    pub(super) fn power(&mut self, samples: &[f32], out: &mut [f32; LINES]) {
        let bits = POINTS.trailing_zeros();
        for at in 0..POINTS {
            let from = at.reverse_bits() >> (usize::BITS - bits);
            self.re[at] = samples.get(from).copied().unwrap_or(0.0);
            self.im[at] = 0.0;
        }
        let mut half = 1;
        while half < POINTS {
            let step = POINTS / (2 * half);
            for start in (0..POINTS).step_by(2 * half) {
                for k in 0..half {
                    let (cos, sin) = self.turns[k * step];
                    let (a, b) = (start + k, start + k + half);
                    let (re, im) = (self.re[b] * cos - self.im[b] * sin, self.re[b] * sin + self.im[b] * cos);
                    (self.re[b], self.im[b]) = (self.re[a] - re, self.im[a] - im);
                    (self.re[a], self.im[a]) = (self.re[a] + re, self.im[a] + im);
                }
            }
            half *= 2;
        }
        for (line, power) in out.iter_mut().enumerate() {
            *power = (self.re[line] * self.re[line] + self.im[line] * self.im[line]) / POINTS as f32;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The definition of the discrete Fourier transform, summed in double precision.
    #[test]
    fn is_the_transform_by_its_definition() {
        let mut random = 1_u32;
        let samples: Vec<f32> = (0..400)
            .map(|_| {
                random = random.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (random >> 8) as f32 / 8_388_608.0 - 1.0
            })
            .collect();
        let mut found = [0.0; LINES];
        Fft::new().power(&samples, &mut found);
        for (line, &found) in found.iter().enumerate() {
            let (mut re, mut im) = (0.0, 0.0);
            for (at, &sample) in samples.iter().enumerate() {
                let angle = -2.0 * std::f64::consts::PI * (line * at) as f64 / POINTS as f64;
                re += f64::from(sample) * angle.cos();
                im += f64::from(sample) * angle.sin();
            }
            let power = (re * re + im * im) / POINTS as f64;
            assert!((f64::from(found) - power).abs() < 1e-4 * (1.0 + power), "line {line}: {found} is not {power}");
        }
    }
}
