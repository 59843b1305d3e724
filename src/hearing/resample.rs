//! From the rate that a microphone has to [`RATE`].

use std::f64::consts::PI;

use super::RATE;

/// Zero crossings of the kernel on each side.
const CROSSINGS: f64 = 12.0;
/// What is let through, as a share of the half of the smaller rate.
const PASSED: f64 = 0.92;
/// Kernel values between two zero crossings; between them is interpolated.
const FINE: usize = 64;

/// A windowed sinc at any ratio, as the samples come.
pub struct Resampler {
    /// Input samples per output sample.
    step: f64,
    /// Kernel stretch: input samples per zero crossing.
    wide: f64,
    kernel: Vec<f32>,
    kept: Vec<f32>,
    /// Where the next output lies, in samples of `kept`.
    at: f64,
}

impl Resampler {
    /// From `rate` Hz; none outside 8 to 192 kHz, which is what microphones of phones and desks have.
    pub fn new(rate: f64) -> Option<Self> {
        if !(8_000.0..=192_000.0).contains(&rate) {
            return None;
        }
        let step = rate / f64::from(RATE);
        let wide = step.max(1.0) / PASSED;
        let value = |place: usize| {
            let x = place as f64 / FINE as f64;
            let sinc = if place == 0 { 1.0 } else { (PI * x).sin() / (PI * x) };
            // Hann's window over the kernel; the area is one in input samples.
            let window = 0.5 + 0.5 * (PI * x / CROSSINGS).cos();
            (sinc * window / wide) as f32
        };
        let kernel = (0..=CROSSINGS as usize * FINE).map(value).collect();
        let lead = (CROSSINGS * wide).ceil();
        Some(Self { step, wide, kernel, kept: vec![0.0; lead as usize], at: lead })
    }

    /// Takes samples and appends what they make to `out`.
    pub fn push(&mut self, samples: &[f32], out: &mut Vec<f32>) {
        if (self.step - 1.0).abs() < 1e-9 {
            out.extend_from_slice(samples);
            return;
        }
        self.kept.extend(samples.iter().map(|&sample| if sample.is_finite() { sample } else { 0.0 }));
        let reach = CROSSINGS * self.wide;
        while self.at + reach < self.kept.len() as f64 {
            let (first, last) = ((self.at - reach).ceil().max(0.0) as usize, (self.at + reach).floor() as usize);
            let mut sum = 0.0;
            for (place, &sample) in self.kept[first..=last].iter().enumerate() {
                let fine = ((first + place) as f64 - self.at).abs() / self.wide * FINE as f64;
                let whole = fine as usize;
                let near = self.kernel.get(whole).copied().unwrap_or(0.0);
                let next = self.kernel.get(whole + 1).copied().unwrap_or(0.0);
                sum += sample * (near + (next - near) * (fine - whole as f64) as f32);
            }
            out.push(sum);
            self.at += self.step;
        }
        let done = ((self.at - reach).floor().max(0.0) as usize).min(self.kept.len());
        self.kept.drain(..done);
        self.at -= done as f64;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tone(rate: f64, hz: f64) -> Vec<f32> {
        (0..rate as usize / 2).map(|at| (2.0 * PI * hz * at as f64 / rate).sin() as f32).collect()
    }

    fn resampled(rate: f64, samples: &[f32]) -> Vec<f32> {
        let mut out = Vec::new();
        let mut resampler = Resampler::new(rate).unwrap();
        for piece in samples.chunks(128) {
            resampler.push(piece, &mut out);
        }
        out
    }

    #[test]
    fn a_tone_stays_the_tone() {
        for rate in [8_000.0, 16_000.0, 22_050.0, 44_100.0, 48_000.0, 96_000.0] {
            let out = resampled(rate, &tone(rate, 1000.0));
            for (at, &sample) in out.iter().enumerate().skip(400).take(6000) {
                let wanted = (2.0 * PI * 1000.0 * at as f64 / f64::from(RATE)).sin() as f32;
                assert!((sample - wanted).abs() < 0.01, "{rate} Hz, sample {at}: {sample} is not {wanted}");
            }
        }
    }

    /// Above half the rate it would come back as another tone (Nyquist).
    #[test]
    fn what_is_too_high_is_kept_out() {
        for hz in [9_500.0, 12_000.0, 20_000.0] {
            let loudest =
                resampled(48_000.0, &tone(48_000.0, hz))[400..6000].iter().fold(0.0_f32, |a, b| a.max(b.abs()));
            assert!(loudest < 0.003, "{hz} Hz comes through with {loudest}");
        }
    }

    #[test]
    fn odd_rates_and_broken_samples_do_no_harm() {
        assert!(Resampler::new(0.0).is_none() && Resampler::new(f64::NAN).is_none() && Resampler::new(1e9).is_none());
        assert!(resampled(44_100.0, &[f32::NAN; 5000]).iter().all(|sample| *sample == 0.0));
        assert!(resampled(44_100.0, &[]).is_empty());
    }
}
