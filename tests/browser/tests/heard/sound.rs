//! Sound for a fake microphone: words of a synthesiser (espeak-ng), noise of a fixed seed, written as a wav file.

use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, bail, ensure};

/// Samples per second of what is written: what a browser's microphone gives.
const RATE: u32 = 48_000;

/// How a word is said: two takes of one word are never alike.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Manner {
    /// Words per minute.
    pub(crate) speed: u32,
    /// From 0 to 99.
    pub(crate) pitch: u32,
}

/// Sound that grows at its end, at full scale 1.
#[derive(Default)]
pub(crate) struct Tape {
    samples: Vec<f32>,
    /// Sum of squares of what was said, and how many samples that is.
    spoken: (f64, usize),
}

impl Tape {
    /// Nothing, for so many seconds.
    pub(crate) fn pause(&mut self, seconds: f64) {
        let count = (seconds * f64::from(RATE)) as usize;
        self.samples.extend(std::iter::repeat_n(0.0, count));
    }

    /// Somebody says this.
    pub(crate) fn say(&mut self, words: &str, manner: Manner) -> Result<()> {
        let said = synthesised(words, manner)?;
        // Only where there is speech: a level that counts pauses would call the same noise louder.
        let loud = said.iter().filter(|sample| sample.abs() > 0.01);
        self.spoken.0 += loud.clone().map(|&sample| f64::from(sample).powi(2)).sum::<f64>();
        self.spoken.1 += loud.count();
        self.samples.extend(said);
        Ok(())
    }

    /// A compressor beside it all: the hum of its motor and the rush of air, so many decibels below the speech.
    pub(crate) fn with_noise(mut self, below: f64, seed: u64) -> Self {
        let level = (self.spoken.0 / self.spoken.1.max(1) as f64).sqrt() * 10_f64.powf(-below / 20.0);
        let mut random = fastrand::Rng::with_seed(seed);
        let mut rush = 0.0;
        let noise: Vec<f64> = (0..self.samples.len())
            .map(|at| {
                let time = at as f64 / f64::from(RATE);
                let hum: f64 =
                    (1..=6).map(|k| (std::f64::consts::TAU * 49.0 * f64::from(k) * time).sin() / f64::from(k)).sum();
                rush = 0.7 * rush + 0.3 * (random.f64() * 2.0 - 1.0);
                0.15 * hum + rush
            })
            .collect();
        let power = (noise.iter().map(|it| it * it).sum::<f64>() / noise.len().max(1) as f64).sqrt();
        for (sample, noise) in self.samples.iter_mut().zip(noise) {
            *sample += (noise / power * level) as f32;
        }
        self
    }

    /// Writes it as 16 bit mono.
    pub(crate) fn write(&self, file: &Path) -> Result<()> {
        let most = self.samples.iter().fold(0.0_f32, |most, sample| most.max(sample.abs()));
        ensure!(most < 1.0, "it would be cut off: {most}");
        let data: Vec<u8> = self.samples.iter().flat_map(|it| ((it * 32_767.0) as i16).to_le_bytes()).collect();
        let mut wav = Vec::with_capacity(44 + data.len());
        wav.extend(b"RIFF");
        wav.extend((36 + data.len() as u32).to_le_bytes());
        wav.extend(b"WAVEfmt ");
        wav.extend(16_u32.to_le_bytes());
        wav.extend(1_u16.to_le_bytes());
        wav.extend(1_u16.to_le_bytes());
        wav.extend(RATE.to_le_bytes());
        wav.extend((RATE * 2).to_le_bytes());
        wav.extend(2_u16.to_le_bytes());
        wav.extend(16_u16.to_le_bytes());
        wav.extend(b"data");
        wav.extend((data.len() as u32).to_le_bytes());
        wav.extend(data);
        std::fs::write(file, wav).with_context(|| file.display().to_string())
    }
}

/// What the synthesiser makes of words, at half of full scale.
fn synthesised(words: &str, manner: Manner) -> Result<Vec<f32>> {
    let out = Command::new("espeak-ng")
        .args(["-v", "en-gb", "--stdout", "-s", &manner.speed.to_string(), "-p", &manner.pitch.to_string(), words])
        .output()
        .context("espeak-ng is missing: install the package espeak-ng")?;
    let wav = out.stdout;
    let Some(at) = wav.windows(4).position(|it| it == b"data") else { bail!("espeak-ng gave no sound") };
    let number = |at: usize| u32::from_le_bytes([wav[at], wav[at + 1], wav[at + 2], wav[at + 3]]);
    let rate = number(24);
    let samples: Vec<f32> =
        wav[at + 8..].chunks_exact(2).map(|it| f32::from(i16::from_le_bytes([it[0], it[1]])) / 32_768.0).collect();
    let most = samples.iter().fold(1e-6_f32, |most, sample| most.max(sample.abs()));
    let step = f64::from(rate) / f64::from(RATE);
    let count = (samples.len() as f64 / step) as usize;
    let at = |place: usize| {
        let (whole, part) = ((place as f64 * step) as usize, (place as f64 * step).fract() as f32);
        let next = samples.get(whole + 1).copied().unwrap_or_default();
        (samples.get(whole).copied().unwrap_or_default() * (1.0 - part) + next * part) / most * 0.4
    };
    Ok((0..count).map(at).collect())
}
