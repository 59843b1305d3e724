//! Files that a browser takes for a microphone.

use std::fmt::Write as _;
use std::path::Path;

use super::pupil::{lessons, spoken};
use super::script::SAID_AS;
use super::sound::{mixed, write as write_sound};
use super::speaker::Speaker;
use super::{cache, noise};

/// The readings of the end-to-end test: said at 10 dB of compressor.
const READINGS: [&str; 4] =
    ["two two seven and eleven sixteenths", "minus one point two", "keep it", "one eight three point five"];

/// Writes `lessons.wav` with `lessons.tsv` (start in seconds, end, what is said) and one file for each reading.
pub(crate) fn write(speaker: &Speaker, folder: &Path) {
    let cache = cache();
    std::fs::create_dir_all(folder).unwrap();
    let (mut all, mut list) = (Vec::new(), String::new());
    for (text, sound) in lessons(speaker, &cache) {
        let start = all.len() as f64 / 16_000.0;
        all.extend(sound);
        writeln!(list, "{start:.2}\t{:.2}\t{text}", all.len() as f64 / 16_000.0).unwrap();
    }
    write_sound(&folder.join("lessons.wav"), &thrice(&all), 48_000);
    std::fs::write(folder.join("lessons.tsv"), list).unwrap();
    let compressor = noise::compressor(1);
    for (text, sound) in READINGS.iter().zip(spoken(speaker, &READINGS, SAID_AS[0], &cache)) {
        let noisy = mixed(&sound, &compressor, 0, 10.0);
        write_sound(&folder.join(format!("{}.wav", text.replace(' ', "-"))), &thrice(&noisy), 48_000);
    }
}

/// From 16 to 48 kHz: zeros between, then a triangle over them, which draws straight lines from sample to sample.
fn thrice(samples: &[f32]) -> Vec<f32> {
    let next = samples.iter().skip(1).chain(samples.last());
    samples.iter().zip(next).flat_map(|(a, b)| [*a, a + (b - a) / 3.0, a + (b - a) * 2.0 / 3.0]).collect()
}
