//! Where an utterance begins and ends, in noise that changes.

use std::collections::VecDeque;

use super::front::{BANDS, Bands};
use super::utterance::{SMOOTH, Utterance, median, speech};
use super::{db, power};

/// Frames kept before an utterance begins: they hold its soft beginning and the noise it stands in.
const LEAD: usize = 50;
/// Of so many frames ...
const ONSET: usize = 8;
/// ... so many must stand above the noise for an utterance to begin: a knock does not last.
const ONSET_LOUD: usize = 6;
/// Frames of noise that end an utterance: 0.7 s.
const PAUSE: usize = 70;
/// Most frames of an utterance: 8 s.
pub const LONGEST: usize = 800;
/// Frames that the noise is learnt from before anything is believed.
const LEARNT: usize = 12;
/// Least distance of speech from noise, dB, the mean over the bands.
const LEAST: f32 = 1.5;
/// The distance in mean deviations of the noise.
const DEVIATIONS: f32 = 4.0;
/// Frames of noise after which a pause in an utterance is believed to be one.
const SETTLED: usize = 30;
/// How much of a frame of noise goes into the noise.
const FORGET: f32 = 0.04;
/// How fast the noise may rise while speech seems to go on, dB per frame: a machine that starts is no utterance for ever.
const CREEP: f32 = 0.05;

/// What a chunk of sound brought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Event {
    /// Nothing new.
    Nothing,
    /// Somebody began to speak.
    Began,
    /// And ended: an utterance is there.
    Ended,
    /// The utterance was cut off at its greatest length.
    TooLong,
}

enum State {
    Waiting,
    Speaking { quiet: usize },
    Done,
}

/// Finds utterances in frames as they come.
pub(super) struct Endpointer {
    /// The noise in each band: its mean power, dB.
    noise: Bands,
    seen: usize,
    /// Mean and mean deviation of how far frames of noise stand above it, dB.
    mean: f32,
    deviation: f32,
    frames: VecDeque<Bands>,
    above: VecDeque<f32>,
    /// Whether the latest frames were speech.
    recent: VecDeque<bool>,
    state: State,
}

impl Endpointer {
    pub(super) fn new() -> Self {
        Self {
            noise: [-100.0; BANDS],
            seen: 0,
            mean: 1.5,
            deviation: 0.5,
            frames: VecDeque::new(),
            above: VecDeque::new(),
            recent: VecDeque::new(),
            state: State::Waiting,
        }
    }

    /// Forgets the utterance, keeps the noise.
    pub(super) fn listen(&mut self) {
        self.frames.clear();
        self.above.clear();
        self.recent.clear();
        self.state = State::Waiting;
    }

    pub(super) fn noise(&self) -> &Bands {
        &self.noise
    }

    fn threshold(&self) -> f32 {
        self.mean + (DEVIATIONS * self.deviation).max(LEAST)
    }

    pub(super) fn push(&mut self, bands: Bands) -> Event {
        if matches!(self.state, State::Done) {
            self.learn(&bands, 0.0, false);
            return Event::Nothing;
        }
        self.above.push_back(distance(&bands, &self.noise));
        self.frames.push_back(bands);
        if self.frames.len() > LONGEST {
            self.frames.pop_front();
            self.above.pop_front();
            self.recent.pop_front();
        }
        // What is judged lies a few frames back, in the middle of what it is smoothed with.
        let Some(at) = self.frames.len().checked_sub(SMOOTH + 1) else { return Event::Nothing };
        let above = median(self.above.make_contiguous(), at);
        let loud = self.seen >= LEARNT && above > self.threshold();
        let judged = self.frames[at];
        self.learn(&judged, above, loud);
        self.recent.push_back(loud);
        match self.state {
            State::Done => {}
            State::Waiting => {
                if loud && self.recent.iter().rev().take(ONSET).filter(|&&loud| loud).count() >= ONSET_LOUD {
                    let spare = self.frames.len().saturating_sub(LEAD + ONSET);
                    self.frames.drain(..spare);
                    self.above.drain(..spare);
                    self.state = State::Speaking { quiet: 0 };
                    return Event::Began;
                }
            }
            State::Speaking { quiet } => {
                let quiet = if loud { 0 } else { quiet + 1 };
                self.state = State::Speaking { quiet };
                if quiet >= PAUSE {
                    self.state = State::Done;
                    return Event::Ended;
                }
                if self.frames.len() >= LONGEST {
                    self.state = State::Done;
                    return Event::TooLong;
                }
            }
        }
        Event::Nothing
    }

    /// Ends by hand; whether anything is there. In noise that hides where the speech begins all since [`listen`](Self::listen) is
    /// the utterance.
    pub(super) fn stop(&mut self) -> bool {
        let something = self.frames.len() >= LEARNT;
        if something {
            self.state = State::Done;
        }
        something
    }

    /// The utterance that has ended.
    pub(super) fn utterance(&self) -> Option<Utterance> {
        if !matches!(self.state, State::Done) {
            return None;
        }
        let frames: Vec<Bands> = self.frames.iter().copied().collect();
        let first: Vec<f32> = self.above.iter().copied().collect();
        let noise = noise_of(&frames, &first, self.threshold()).unwrap_or(self.noise);
        // Once more, against the noise around this very utterance.
        let above = frames.iter().map(|bands| distance(bands, &noise)).collect();
        Some(Utterance { frames, above, threshold: self.threshold(), noise, clipped: 0.0 })
    }

    fn learn(&mut self, bands: &Bands, above: f32, loud: bool) {
        if self.seen < LEARNT {
            self.seen += 1;
            let share = 1.0 / self.seen as f32;
            for (noise, band) in self.noise.iter_mut().zip(bands) {
                *noise = db(power(*noise) * (1.0 - share) + power(*band) * share);
            }
            return;
        }
        // The soft sounds within an utterance are no noise; its pause is, once it has lasted.
        let speaking = matches!(self.state, State::Speaking { quiet } if quiet < SETTLED);
        for (noise, band) in self.noise.iter_mut().zip(bands) {
            if loud || speaking {
                // Words do not stay in a band for long; what does is noise.
                *noise += if band > noise { CREEP } else { 0.0 };
            } else {
                *noise = db(power(*noise) * (1.0 - FORGET) + power(*band) * FORGET);
            }
        }
        if !loud && !speaking {
            self.mean += (above - self.mean) * FORGET;
            self.deviation += ((above - self.mean).abs() - self.deviation) * FORGET;
        }
    }
}

/// Mean over the bands of what stands above the noise, dB.
fn distance(bands: &Bands, noise: &Bands) -> f32 {
    let over = bands.iter().zip(noise).map(|(band, noise)| (band - noise).clamp(0.0, 25.0));
    over.sum::<f32>() / BANDS as f32
}

/// The mean power of the frames that hold no speech and are not beside any; none when they are too few.
fn noise_of(frames: &[Bands], above: &[f32], threshold: f32) -> Option<Bands> {
    let (first, last) = speech(above, threshold).unwrap_or((above.len(), above.len()));
    let outside = |&at: &usize| at + 4 < first || at >= last + 8;
    let quiet: Vec<usize> = (0..frames.len()).filter(outside).collect();
    if quiet.len() < 8 {
        return None;
    }
    Some(std::array::from_fn(|b| db(quiet.iter().map(|&at| power(frames[at][b])).sum::<f32>() / quiet.len() as f32)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn events(levels: &[(usize, f32)]) -> (Vec<Event>, Option<Utterance>) {
        let mut ears = Endpointer::new();
        let mut found = Vec::new();
        let mut random = 7_u32;
        for &(count, level) in levels {
            for _ in 0..count {
                random = random.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let shake = (random >> 16) as f32 / 65_536.0 * 4.0 - 2.0;
                let event = ears.push([level + shake; BANDS]);
                if event != Event::Nothing {
                    found.push(event);
                }
            }
        }
        (found, ears.utterance())
    }

    #[test]
    fn a_word_between_two_silences() {
        let (found, utterance) = events(&[(50, -60.0), (40, -30.0), (100, -60.0)]);
        assert_eq!(found, [Event::Began, Event::Ended]);
        let utterance = utterance.unwrap();
        let (from, to) = utterance.speech().unwrap();
        assert_eq!(to - from, 40);
        assert!((utterance.level() - -16.2).abs() < 2.5, "{}", utterance.level());
    }

    #[test]
    fn a_knock_is_no_word() {
        assert!(events(&[(50, -60.0), (4, -20.0), (100, -60.0)]).0.is_empty());
    }

    #[test]
    fn who_never_ends_is_cut_off() {
        let (found, utterance) = events(&[(50, -60.0), (5, -20.0), (1000, -20.0)]);
        assert_eq!(found[0], Event::Began);
        assert!(utterance.unwrap().frames.len() <= LONGEST);
    }

    #[test]
    fn a_machine_that_starts_becomes_the_noise() {
        let (found, _) = events(&[(50, -60.0), (1500, -42.0), (60, -20.0), (90, -42.0)]);
        assert!(found.len() >= 2);
        let mut ears = Endpointer::new();
        for _ in 0..900 {
            ears.push([-42.0; BANDS]);
        }
        assert!((ears.noise()[5] - -42.0).abs() < 3.0);
    }
}
