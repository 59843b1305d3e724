//! Sound as samples at 16 kHz: files, levels, mixing.

use std::path::Path;

use crate::hearing::{RATE, Resampler};

/// The first channel of a RIFF file of 16-bit samples, at 16 kHz.
pub(crate) fn read(file: &Path) -> Vec<f32> {
    let bytes = std::fs::read(file).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
    assert_eq!(&bytes[..4], b"RIFF", "{}", file.display());
    let number = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap()) as usize;
    let (mut at, mut rate, mut channels) = (12, 0, 1);
    loop {
        let (name, length) = (&bytes[at..at + 4], number(at + 4));
        at += 8;
        if name == b"fmt " {
            channels = usize::from(bytes[at + 2]);
            rate = number(at + 4);
        }
        if name == b"data" {
            let end = (at + length).min(bytes.len());
            let samples = bytes[at..end].chunks_exact(2 * channels);
            let samples: Vec<f32> =
                samples.map(|two| f32::from(i16::from_le_bytes([two[0], two[1]])) / 32768.0).collect();
            return resampled(&samples, rate as f64);
        }
        at += length + length % 2;
    }
}

/// From `rate` to 16 kHz.
fn resampled(samples: &[f32], rate: f64) -> Vec<f32> {
    let mut out = Vec::new();
    let mut resampler = Resampler::new(rate).unwrap();
    resampler.push(samples, &mut out);
    resampler.push(&[0.0; 400], &mut out);
    out
}

/// Writes a RIFF file of 16-bit samples.
pub(crate) fn write(file: &Path, samples: &[f32], rate: u32) {
    let data = samples.len() as u32 * 2;
    let mut out = b"RIFF".to_vec();
    out.extend((36 + data).to_le_bytes());
    out.extend(b"WAVEfmt ");
    out.extend(16_u32.to_le_bytes());
    out.extend([1, 0, 1, 0]);
    out.extend(rate.to_le_bytes());
    out.extend((rate * 2).to_le_bytes());
    out.extend([2, 0, 16, 0]);
    out.extend(b"data");
    out.extend(data.to_le_bytes());
    out.extend(samples.iter().flat_map(|sample| ((sample * 32767.0).clamp(-32768.0, 32767.0) as i16).to_le_bytes()));
    std::fs::write(file, out).unwrap();
}

/// Without the silence at both ends, in which some voices differ by half a second.
pub(crate) fn trimmed(samples: &[f32]) -> Vec<f32> {
    let top = samples.iter().fold(0.0_f32, |top, sample| top.max(sample.abs()));
    let loud = |sample: &f32| sample.abs() > top * 0.02;
    let (Some(first), Some(last)) = (samples.iter().position(loud), samples.iter().rposition(loud)) else {
        return Vec::new();
    };
    samples[first.saturating_sub(480)..(last + 480).min(samples.len())].to_vec()
}

/// The active speech level as mean power, by method B of ITU-T P.56: the power while the envelope (two exponential averages of
/// 30 ms) is above a threshold, 0.2 s longer, where the threshold lies 15.9 dB below that very level. The threshold is found by
/// bisection instead of from a table of powers of two.
pub(crate) fn active_power(samples: &[f32]) -> f64 {
    let keep = (-1.0 / (f64::from(RATE) * 0.03)).exp();
    let (mut p, mut q) = (0.0, 0.0);
    let envelope: Vec<f64> = samples
        .iter()
        .map(|sample| {
            p = keep * p + (1.0 - keep) * f64::from(sample.abs());
            q = keep * q + (1.0 - keep) * p;
            q
        })
        .collect();
    let energy: f64 = samples.iter().map(|sample| f64::from(*sample).powi(2)).sum();
    let power_at = |threshold: f64| {
        let (mut active, mut since) = (0_usize, usize::MAX);
        for value in &envelope {
            since = if *value >= threshold { 0 } else { since.saturating_add(1) };
            active += usize::from(since < RATE as usize / 5);
        }
        // A threshold that is never reached is too high.
        if active == 0 { 0.0 } else { energy / active as f64 }
    };
    let (mut low, mut high) = (1e-6_f64, 1.0_f64);
    for _ in 0..40 {
        let middle = (low * high).sqrt();
        // The higher the threshold, the smaller the distance between the level and it.
        if 10.0 * (power_at(middle) / middle.powi(2)).log10() > 15.9 { low = middle } else { high = middle }
    }
    power_at(low)
}

/// The mean power.
pub(crate) fn power(samples: &[f32]) -> f64 {
    samples.iter().map(|sample| f64::from(*sample).powi(2)).sum::<f64>() / samples.len().max(1) as f64
}

/// Noise before the speech, 0.8 s, and behind it, 1 s.
const AROUND: (usize, usize) = (RATE as usize * 4 / 5, RATE as usize);

/// What [`mixed`] gave, with no more than 0.3 s of noise on either side.
pub(crate) fn near_speech(sound: &[f32]) -> Vec<f32> {
    let left = RATE as usize * 3 / 10;
    sound[AROUND.0 - left..sound.len() - (AROUND.1 - left)].to_vec()
}

/// `speech` with noise around it, in `noise` (used from `from` on, round and round) `ratio` dB below the active level.
pub(crate) fn mixed(speech: &[f32], noise: &[f32], from: usize, ratio: f64) -> Vec<f32> {
    let lead = AROUND.0;
    let length = lead + speech.len() + AROUND.1;
    let gain = (active_power(speech) / power(noise) / 10_f64.powf(ratio / 10.0)).sqrt() as f32;
    let sample = |at: usize| {
        let said = at.checked_sub(lead).and_then(|at| speech.get(at)).copied().unwrap_or(0.0);
        said + gain * noise[(from + at) % noise.len()]
    };
    (0..length).map(sample).collect()
}

/// Somebody stands elsewhere: another loudness, and three reflections from walls and wings, 3 to 25 ms late and 8 to 16 dB down.
pub(crate) fn elsewhere(speech: &[f32], random: &mut fastrand::Rng) -> Vec<f32> {
    let gain = 10_f32.powf((random.f32() * 10.0 - 5.0) / 20.0);
    let mut out: Vec<f32> = speech.iter().map(|sample| sample * gain).collect();
    out.resize(speech.len() + 400, 0.0);
    for _ in 0..3 {
        let late = random.usize(48..400);
        let reflected = gain * 10_f32.powf(-(8.0 + random.f32() * 8.0) / 20.0);
        for (at, sample) in speech.iter().enumerate() {
            out[at + late] += reflected * sample;
        }
    }
    out
}

/// By hand: a tone is active for as long as it sounds, for the 0.2 s that are added, and while the envelope falls from the tone's
/// mean to the threshold, at most 20 dB: four of its time constants of 30 ms.
#[test]
fn the_active_level_is_that_of_the_sound_without_its_pauses() {
    for seconds in [2.0, 0.5, 0.1] {
        let sounding = (seconds * f64::from(RATE)) as usize;
        let mut tone: Vec<f32> = (0..sounding).map(|at| (at as f32 * 0.4).sin() * 0.5).collect();
        tone.resize(sounding + 3 * RATE as usize, 0.0);
        let level = 10.0 * (active_power(&tone) / 0.125).log10();
        let least = 10.0 * (seconds / (seconds + 0.2 + 4.0 * 0.03)).log10();
        assert!((least..0.1).contains(&level), "{seconds} s: {level} dB");
    }
}
