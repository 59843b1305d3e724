//! The whole: from a microphone's chunks to taught words and heard ones.

use super::bytes::Refusal;
use super::endpoint::{Endpointer, Event};
use super::front::Front;
use super::lesson::{self, Lesson};
use super::recognise::{Heard, Verdict, recognise};
use super::resample::Resampler;
use super::taught::Taught;
use super::utterance::Utterance;
use super::vocabulary::Vocabulary;
use super::{RATE, Tuning, db, power};

/// Samples that a level is taken over: 100 ms.
const METER: usize = RATE as usize / 10;
/// A sample that is at the end of the scale.
const TOP: f32 = 0.985;
/// From the bands of the front end to decibels of full scale, for noise that is the same everywhere.
const FULL_SCALE: f32 = -18.0;

/// A microphone's ear.
pub struct Ear {
    taught: Taught,
    tuning: Tuning,
    resampler: Resampler,
    front: Front,
    ends: Endpointer,
    /// Sum of squares of recent samples, and how many.
    meter: (f32, usize),
    level: f32,
    /// Samples at the end of the scale since the utterance began, and all.
    clipped: (usize, usize),
    pending: Option<Utterance>,
    last_taught: String,
}

impl Ear {
    /// With what was taught before (no bytes: nothing), for a microphone of `rate` Hz.
    ///
    /// # Errors
    /// When the bytes are not of [`export`](Self::export), or no microphone has that rate.
    pub fn new(taught: &[u8], rate: f64) -> Result<Self, Refusal> {
        Ok(Self {
            taught: Taught::from_bytes(taught)?,
            tuning: Tuning::default(),
            resampler: Resampler::new(rate).ok_or(Refusal::Rate)?,
            front: Front::new(),
            ends: Endpointer::new(),
            meter: (0.0, 0),
            level: -100.0,
            clipped: (0, 0),
            pending: None,
            last_taught: String::new(),
        })
    }

    /// Waits for the next utterance; the noise learnt so far is kept.
    pub fn listen(&mut self) {
        self.pending = None;
        self.clipped = (0, 0);
        self.ends.listen();
    }

    /// Takes a chunk of samples in −1..1, of any length.
    pub fn push(&mut self, samples: &[f32]) -> Event {
        let mut at_rate = Vec::with_capacity(samples.len());
        self.resampler.push(samples, &mut at_rate);
        for &sample in &at_rate {
            self.measure(sample);
        }
        let mut event = Event::Nothing;
        let (ends, clipped) = (&mut self.ends, &mut self.clipped);
        self.front.push(&at_rate, |bands| match ends.push(bands) {
            Event::Nothing => {}
            found => {
                if found == Event::Began {
                    *clipped = (0, 0);
                }
                event = found;
            }
        });
        self.clipped.0 += samples.iter().filter(|sample| sample.abs() >= TOP).count();
        self.clipped.1 += samples.len();
        if matches!(event, Event::Ended | Event::TooLong) {
            self.take();
        }
        event
    }

    /// Ends by hand; whether there is an utterance.
    pub fn stop(&mut self) -> bool {
        if self.pending.is_none() && self.ends.stop() {
            self.take();
        }
        self.pending.is_some()
    }

    fn take(&mut self) {
        let clipped = self.clipped.0 as f32 / self.clipped.1.max(1) as f32;
        self.pending = self.ends.utterance().map(|utterance| Utterance { clipped, ..utterance });
    }

    fn measure(&mut self, sample: f32) {
        if sample.is_finite() {
            self.meter.0 += sample * sample;
        }
        self.meter.1 += 1;
        if self.meter.1 == METER {
            self.level = db(self.meter.0 / METER as f32);
            self.meter = (0.0, 0);
        }
    }

    /// The level of the last 100 ms, dB of full scale, −100..0.
    pub fn level(&self) -> f32 {
        self.level.clamp(-100.0, 0.0)
    }

    /// The level of the noise, dB of full scale, about.
    pub fn noise(&self) -> f32 {
        let all = self.ends.noise().iter().map(|&band| power(band)).sum();
        (db(all) + FULL_SCALE).clamp(-100.0, 0.0)
    }

    /// The utterance that ended.
    pub fn utterance(&self) -> Option<&Utterance> {
        self.pending.as_ref()
    }

    /// What the utterance says, in words of `vocabulary`.
    pub fn recognise(&self, vocabulary: &Vocabulary) -> Option<Heard> {
        self.pending.as_ref().map(|utterance| recognise(&self.taught, utterance, vocabulary, &self.tuning))
    }

    /// Whether the utterance makes a verdict at all; for callers that want no option.
    pub fn hear(&self, vocabulary: &Vocabulary) -> Heard {
        self.recognise(vocabulary).unwrap_or_else(Heard::nothing)
    }

    /// Keeps the utterance as a take of a word.
    pub fn teach(&mut self, word: &str) -> Lesson {
        let Some(utterance) = &self.pending else { return Lesson::Nothing };
        let lesson = lesson::teach(&mut self.taught, word, utterance, &self.tuning);
        self.last_taught.clear();
        if lesson == Lesson::Accepted {
            self.last_taught.push_str(word);
        }
        lesson
    }

    /// Keeps the utterance as a take of each of these words, said in this order in one go.
    pub fn teach_phrase(&mut self, words: &[&str]) -> Lesson {
        let Some(utterance) = &self.pending else { return Lesson::Nothing };
        lesson::teach_phrase(&mut self.taught, words, utterance, &self.tuning)
    }

    /// A word that the take accepted last is nearly as like to.
    pub fn closest(&self) -> Option<&str> {
        lesson::closest(&self.taught, &self.last_taught, &self.tuning)
    }

    /// What is taught.
    pub fn taught(&self) -> &Taught {
        &self.taught
    }

    /// Forgets a word.
    pub fn forget(&mut self, word: &str) {
        self.taught.forget(word);
    }

    /// All that is taught.
    pub fn export(&self) -> Vec<u8> {
        self.taught.to_bytes()
    }
}

impl Heard {
    /// Whether it is to be read back without asking first.
    pub fn is_sure(&self) -> bool {
        self.verdict == Verdict::Sure
    }
}
