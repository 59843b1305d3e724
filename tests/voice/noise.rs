//! The noises of a hangar, made with a fixed seed.

use std::f32::consts::TAU;

use crate::hearing::RATE;

use super::sound::power;

/// Length of a piece of noise: 20 s.
const LENGTH: usize = RATE as usize * 20;

/// A piston compressor: hum of the motor (50 Hz and the rotor's 24.5 Hz with their harmonics), clatter of the valves (bursts that
/// ring at 1.8 to 3.6 kHz, 16 a second) and a broad hiss that falls by 3 dB per octave. Of the power a third each.
pub(crate) fn compressor(seed: u64) -> Vec<f32> {
    let mut random = fastrand::Rng::with_seed(seed);
    let hum = unit(&hum(&mut random));
    let clatter = unit(&clatter(&mut random));
    let hiss = unit(&hiss(&mut random));
    (0..LENGTH).map(|at| hum[at] + clatter[at] + hiss[at]).collect()
}

/// What other people say, all at once.
pub(crate) fn babble(others: &[Vec<f32>], seed: u64) -> Vec<f32> {
    let mut random = fastrand::Rng::with_seed(seed);
    let mut out = vec![0.0; LENGTH];
    for _ in 0..6 {
        let mut at = random.usize(0..RATE as usize);
        while at < LENGTH {
            let said = unit(&others[random.usize(0..others.len())]);
            for (sample, more) in out[at..].iter_mut().zip(&said) {
                *sample += more;
            }
            at += said.len() + random.usize(0..RATE as usize / 4);
        }
    }
    out
}

fn hum(random: &mut fastrand::Rng) -> Vec<f32> {
    let mut out = vec![0.0; LENGTH];
    for (base, count) in [(50.0, 24), (24.5, 12)] {
        for harmonic in 1..=count {
            let hz = base * harmonic as f32;
            let (phase, loud) = (random.f32() * TAU, (0.5 + random.f32()) / (harmonic as f32).sqrt());
            for (at, sample) in out.iter_mut().enumerate() {
                *sample += loud * (TAU * hz * at as f32 / RATE as f32 + phase).sin();
            }
        }
    }
    out
}

fn clatter(random: &mut fastrand::Rng) -> Vec<f32> {
    let mut out = vec![0.0; LENGTH];
    let mut at = 0;
    while at < LENGTH {
        let (hz, loud) = (1800.0 + 1800.0 * random.f32(), 0.5 + random.f32());
        for (time, sample) in out[at..].iter_mut().take(RATE as usize / 20).enumerate() {
            let seconds = time as f32 / RATE as f32;
            *sample += loud * (-seconds / 0.008).exp() * (TAU * hz * seconds).sin() * (0.5 + random.f32());
        }
        at += RATE as usize / 16 + random.usize(0..160);
    }
    out
}

/// White noise through Kellet's filter for pink noise (from memory; its slope is tested below).
fn hiss(random: &mut fastrand::Rng) -> Vec<f32> {
    let (mut a, mut b, mut c) = (0.0, 0.0, 0.0);
    let mut sample = || {
        let white = random.f32() * 2.0 - 1.0;
        a = 0.99765 * a + white * 0.099_046;
        b = 0.963 * b + white * 0.296_516_4;
        c = 0.57 * c + white * 1.052_691_3;
        a + b + c + white * 0.1848
    };
    (0..LENGTH).map(|_| sample()).collect()
}

/// At a mean power of one.
fn unit(samples: &[f32]) -> Vec<f32> {
    let gain = (1.0 / power(samples)).sqrt() as f32;
    samples.iter().map(|sample| sample * gain).collect()
}
