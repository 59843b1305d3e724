//! A taught recogniser, and what is said to it.

use std::path::Path;

use crate::hearing::{Ear, Event, Heard, Lesson, RATE, Vocabulary};
use crate::taught::{Listening, PHRASES, TAUGHT, readings};

use super::noise;
use super::script::{COMMANDS, DECIMALS, FRACTIONS, SAID_AS, TALK, TAUGHT_AS};
use super::sound::{elsewhere, mixed, read, trimmed};
use super::speaker::{DEVELOPMENT, Delivery, HELD_OUT, Speaker};

/// Speech over the noise of a quiet shop in which is taught, dB.
const QUIET: f64 = 35.0;

/// How a word is said again that was not taken.
const AGAIN: Delivery = Delivery { stretch: 0.92, pitch: 1.0 };

/// What is said, and what is listened for.
pub(crate) struct Said {
    pub(crate) text: &'static str,
    pub(crate) sound: Vec<f32>,
    /// A tape of sixteenths, or a scale with decimals.
    pub(crate) finest: Option<u32>,
}

/// All voices.
pub(crate) fn everybody() -> impl Iterator<Item = Speaker> {
    DEVELOPMENT.into_iter().chain(HELD_OUT)
}

/// What `speaker` says, each text so.
pub(crate) fn spoken(speaker: &Speaker, texts: &[&str], how: Delivery, cache: &Path) -> Vec<Vec<f32>> {
    let texts: Vec<_> = texts.iter().map(|&text| (text.to_owned(), how)).collect();
    speaker.say(&texts, cache).iter().map(|file| trimmed(&read(file))).collect()
}

/// The single words that are taught for a tape of sixteenths and a decimal scale.
pub(crate) fn words() -> Vec<&'static str> {
    TAUGHT.into_iter().filter(|&(_, _, finest)| finest <= 16).map(|(label, _, _)| label).collect()
}

/// Everything that is said in teaching, in order: each word `TAKES` times alone, then the phrases; the sound with the quiet
/// around it.
pub(crate) fn lessons(speaker: &Speaker, cache: &Path) -> Vec<(&'static str, Vec<f32>)> {
    let quiet = noise::compressor(7);
    let mut random = fastrand::Rng::with_seed(1);
    let mut lessons = Vec::new();
    for (texts, how) in [(words(), TAUGHT_AS[0]), (words(), TAUGHT_AS[1]), (PHRASES.to_vec(), TAUGHT_AS[2])] {
        for (text, sound) in texts.iter().zip(spoken(speaker, &texts, how, cache)) {
            lessons.push((*text, mixed(&sound, &quiet, random.usize(0..100_000), QUIET)));
        }
    }
    lessons
}

/// The taught bytes of a speaker, and what was refused on the way.
pub(crate) fn taught(speaker: &Speaker, cache: &Path) -> (Vec<u8>, Vec<(&'static str, Lesson)>) {
    let mut ear = Ear::new(&[], f64::from(RATE)).unwrap();
    let mut refused = Vec::new();
    for (text, sound) in lessons(speaker, cache) {
        hold(&mut ear, &sound);
        let lesson = keep(&mut ear, text);
        if lesson != Lesson::Accepted {
            refused.push((text, lesson));
        }
    }
    // Who is told that a word was not taken says it once more.
    let quiet = noise::compressor(7);
    for (text, _) in refused.clone() {
        for sound in spoken(speaker, &[text], AGAIN, cache) {
            hold(&mut ear, &mixed(&sound, &quiet, 0, QUIET));
            keep(&mut ear, text);
        }
    }
    (ear.export(), refused)
}

/// Teaches what was just said.
fn keep(ear: &mut Ear, text: &str) -> Lesson {
    if PHRASES.contains(&text) { ear.teach_phrase(&text.split(' ').collect::<Vec<_>>()) } else { ear.teach(text) }
}

/// What is said in the test: every reading and command in both deliveries, from other places than was taught in.
pub(crate) fn test(speaker: &Speaker, cache: &Path) -> Vec<Said> {
    let mut random = fastrand::Rng::with_seed(2);
    let mut all = Vec::new();
    for how in SAID_AS {
        let lists = [(&DECIMALS[..], None), (&FRACTIONS[..], Some(16)), (&COMMANDS[..], Some(16))];
        for (texts, finest) in lists {
            for (text, sound) in texts.iter().zip(spoken(speaker, texts, how, cache)) {
                all.push(Said { text, sound: elsewhere(&sound, &mut random), finest });
            }
        }
    }
    all
}

/// The talk of everybody but `speaker`.
pub(crate) fn babble(speaker: &Speaker, cache: &Path) -> Vec<f32> {
    let others = everybody().filter(|other| other.name != speaker.name);
    let talk: Vec<Vec<f32>> = others.flat_map(|other| spoken(&other, &TALK, TAUGHT_AS[0], cache)).collect();
    noise::babble(&talk, 3)
}

/// Press to talk, say it, and let go if it has not ended by itself.
pub(crate) fn hold(ear: &mut Ear, sound: &[f32]) {
    ear.listen();
    let ended = sound.chunks(128).any(|chunk| matches!(ear.push(chunk), Event::Ended | Event::TooLong));
    if !ended {
        ear.stop();
    }
}

/// The words of a place, as the recogniser takes them.
pub(crate) fn vocabulary(finest: Option<u32>) -> Vocabulary {
    let Listening { labels, roles, follows } = readings(finest);
    Vocabulary::new(labels.into_iter().map(str::to_owned).collect(), roles, follows)
}

/// What a pupil hears.
pub(crate) fn heard(taught: &[u8], sound: &[f32], finest: Option<u32>) -> Heard {
    let mut ear = Ear::new(taught, f64::from(RATE)).unwrap();
    hold(&mut ear, sound);
    ear.hear(&vocabulary(finest))
}
