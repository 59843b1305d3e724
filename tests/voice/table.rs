//! The table: voices, noises, ratios.

use std::path::Path;

use super::other;
use super::pupil::{Said, babble, heard, taught, test};
use super::score::Score;
use super::sound::{mixed, near_speech};
use super::speaker::Speaker;
use super::{cache, noise};

/// Noise, speech over it in dB.
pub(crate) const CONDITIONS: [(&str, f64); 7] = [
    ("quiet", 45.0),
    ("compressor", 20.0),
    ("compressor", 10.0),
    ("compressor", 5.0),
    ("babble", 20.0),
    ("babble", 10.0),
    ("babble", 5.0),
];

/// What came of one voice in one noise.
pub(crate) struct Cell {
    pub(crate) ours: Score,
    /// None where the other is not to be had.
    pub(crate) other: Option<Score>,
}

/// The row of a voice: taught, then tested in each of `conditions`.
pub(crate) fn row(speaker: &Speaker, conditions: &[(&str, f64)], package: Option<&Path>) -> Vec<Cell> {
    let cache = cache();
    let (bytes, refused) = taught(speaker, &cache);
    println!("{}: {} bytes taught, refused: {refused:?}", speaker.name, bytes.len());
    let said = test(speaker, &cache);
    let (compressor, talk) = (noise::compressor(1), babble(speaker, &cache));
    let cell = |&(kind, ratio): &(&str, f64)| {
        let noise = if kind == "babble" { &talk } else { &compressor };
        let sounds: Vec<Vec<f32>> = said
            .iter()
            .enumerate()
            .map(|(at, said)| mixed(&said.sound, noise, at * 48_611 % noise.len(), ratio))
            .collect();
        Cell { ours: ours(&bytes, &said, &sounds), other: package.map(|package| others(package, &said, &sounds)) }
    };
    conditions.iter().map(cell).collect()
}

fn ours(bytes: &[u8], said: &[Said], sounds: &[Vec<f32>]) -> Score {
    let mut score = Score::default();
    for (said, sound) in said.iter().zip(sounds) {
        let heard = heard(bytes, sound, said.finest);
        if std::env::var_os("TRAMMEL_VOICE_EVIDENCE").is_some() {
            println!("evidence\t{}\t{}\t{:?}", said.text, heard.text(), heard.evidence);
        }
        score.count(said.text, &heard.text(), heard.is_sure());
    }
    score
}

/// It gives no confidence for a grammar's sentence: what it gives is taken as said. In the noise before and behind the speech it hears
/// words, so that it is told where the speech begins and ends, to 0.3 s, as ours is not.
fn others(package: &Path, said: &[Said], sounds: &[Vec<f32>]) -> Score {
    let asked: Vec<_> = said.iter().zip(sounds).map(|(said, sound)| (near_speech(sound), said.finest)).collect();
    let mut score = Score::default();
    for (said, heard) in said.iter().zip(other::heard(package, &asked, &cache().join("raw"))) {
        score.count(said.text, &heard, !heard.is_empty());
    }
    score
}
