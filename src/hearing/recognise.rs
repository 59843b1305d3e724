//! From an utterance to words, and how sure they are.

use super::cepstra::Cosines;
use super::fit::{Fit, distance};
use super::search::{Model, Path, search};
use super::taught::Taught;
use super::utterance::Utterance;
use super::vocabulary::Vocabulary;
use super::{Tuning, sureness};

/// Frames of noise that a pause is held against, besides the mean.
const NOISES: usize = 6;

/// Mean distance per frame above which a word of a phrase is not what was to be said.
const UNLIKE: f32 = 3.5;

/// How much can be made of what was heard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// To be read back.
    Sure,
    /// To be asked.
    Unsure,
    /// No words.
    Nothing,
}

impl Verdict {
    /// A word for the shell.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sure => "sure",
            Self::Unsure => "unsure",
            Self::Nothing => "nothing",
        }
    }
}

/// One word that was heard.
#[derive(Clone, Debug, PartialEq)]
pub struct HeardWord {
    /// Its label.
    pub label: String,
    /// Estimated probability that it is right, 0..1.
    pub confidence: f32,
}

/// What was heard.
#[derive(Clone, Debug, PartialEq)]
pub struct Heard {
    /// What to make of it.
    pub verdict: Verdict,
    /// The words, in order.
    pub words: Vec<HeardWord>,
    /// Estimated probability that all words are right and none is missing, 0..1.
    pub confidence: f32,
    /// The next likely word sequence.
    pub other: Vec<String>,
    /// What the estimate rests on.
    pub evidence: Evidence,
}

/// What a confidence is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Evidence {
    /// What the runner-up costs more, all told.
    pub margin: f32,
    /// Mean distance per frame of the worst word.
    pub worst: f32,
    /// Mean distance per frame of all words.
    pub mean: f32,
    /// How much the worst word's frames are more like anything that was taught, in any order, than like the word; per frame.
    pub garbage: f32,
    /// Speech over noise, dB.
    pub ratio: f32,
}

impl Heard {
    pub(super) fn nothing() -> Self {
        let evidence = Evidence::default();
        Self { verdict: Verdict::Nothing, words: Vec::new(), confidence: 0.0, other: Vec::new(), evidence }
    }

    /// The words as one line.
    pub fn text(&self) -> String {
        self.words.iter().map(|word| word.label.as_str()).collect::<Vec<_>>().join(" ")
    }
}

/// The words of `vocabulary`, as `taught`, that `utterance` is most like.
pub fn recognise(taught: &Taught, utterance: &Utterance, vocabulary: &Vocabulary, tuning: &Tuning) -> Heard {
    let cosines = Cosines::new();
    let fit = Fit::new(&cosines, tuning, &utterance.noise, utterance.level());
    let models = models(taught, vocabulary, &fit, utterance.level());
    if models.is_empty() {
        return Heard::nothing();
    }
    let heard = fit.heard(&utterance.frames);
    let [best, second] = search(vocabulary, &models, &heard, &noises(utterance, &fit), tuning);
    if best.words.is_empty() {
        return Heard::nothing();
    }
    let evidence = evidence(&best, &second, &models, &heard, utterance);
    let judged = sureness::judge(&evidence);
    let label = |word: usize| vocabulary.labels[word].clone();
    let words = best.words.iter().map(|placed| {
        let differs =
            !second.words.iter().any(|other| other.word == placed.word && other.from.abs_diff(placed.from) < 15);
        HeardWord { label: label(placed.word), confidence: sureness::of_word(&evidence, placed, differs) }
    });
    Heard {
        verdict: judged.verdict,
        words: words.collect(),
        confidence: judged.confidence,
        other: second.words.iter().map(|placed| label(placed.word)).collect(),
        evidence,
    }
}

/// Where each of the words lies that were said in this very order; none when one is not taught or nothing like it was said.
pub(super) fn aligned(
    taught: &Taught,
    labels: &[&str],
    utterance: &Utterance,
    tuning: &Tuning,
) -> Option<Vec<(usize, usize)>> {
    // Every place is a role of its own, behind which only the next may come.
    let roles: Vec<u8> = (1..=labels.len()).map(|at| at as u8).collect();
    let follows = (0..=labels.len()).map(|at| if at == labels.len() { 1 } else { 2 << at }).collect();
    let vocabulary = Vocabulary::new(labels.iter().map(|&label| label.to_owned()).collect(), roles, follows);
    let cosines = Cosines::new();
    let fit = Fit::new(&cosines, tuning, &utterance.noise, utterance.level());
    let models = models(taught, &vocabulary, &fit, utterance.level());
    let heard = fit.heard(&utterance.frames);
    let [best, _] = search(&vocabulary, &models, &heard, &noises(utterance, &fit), tuning);
    let fits = best.words.len() == labels.len()
        && best.words.iter().all(|placed| placed.cost < UNLIKE * (placed.to - placed.from) as f32);
    fits.then(|| best.words.iter().map(|placed| (placed.from, placed.to)).collect())
}

/// The takes of the vocabulary's words, at the level of `level` and in the present noise.
fn models(taught: &Taught, vocabulary: &Vocabulary, fit: &Fit<'_>, level: f32) -> Vec<Model> {
    // One gain for all: a phone that is held further away makes every word fainter, and a soft word stays softer than a loud one.
    let mut levels: Vec<f32> =
        vocabulary.labels.iter().flat_map(|label| taught.takes(label)).map(|take| take.level()).collect();
    levels.sort_by(f32::total_cmp);
    let gain = levels.get(levels.len() / 2).map_or(0.0, |usual| (level - usual).clamp(-40.0, 40.0));
    let mut models = Vec::new();
    for (word, label) in vocabulary.labels.iter().enumerate() {
        models.extend(taught.takes(label).iter().map(|take| Model { word, frames: fit.taught(take, gain) }));
    }
    models
}

/// The noise: its mean, and some frames of it as they were.
fn noises(utterance: &Utterance, fit: &Fit<'_>) -> Vec<super::cepstra::Feature> {
    let mean = fit.heard(&[utterance.noise; 3]);
    let quiet = |&at: &usize| utterance.above[at] < utterance.threshold;
    let outside: Vec<usize> = match utterance.speech() {
        Some((first, last)) => (0..first.saturating_sub(6)).chain(last + 10..utterance.frames.len()).collect(),
        None => (0..utterance.frames.len()).filter(quiet).collect(),
    };
    let all = fit.heard(&utterance.frames);
    let step = (outside.len() / NOISES).max(1);
    let some = outside.iter().step_by(step).take(NOISES).map(|&at| all[at]);
    mean.into_iter().take(1).chain(some).collect()
}

fn evidence(
    best: &Path,
    second: &Path,
    models: &[Model],
    heard: &[super::cepstra::Feature],
    utterance: &Utterance,
) -> Evidence {
    let mut worst = (0.0_f32, 0);
    let (mut sum, mut frames) = (0.0, 0);
    for (at, placed) in best.words.iter().enumerate() {
        let count = placed.to - placed.from;
        sum += placed.cost;
        frames += count;
        let mean = placed.cost / count as f32;
        if mean > worst.0 {
            worst = (mean, at);
        }
    }
    let placed = best.words[worst.1];
    // Every third frame is enough to tell.
    let free: Vec<f32> = (placed.from..placed.to)
        .step_by(3)
        .map(|time| {
            let frames = models.iter().flat_map(|model| model.frames.iter().step_by(2));
            frames.map(|frame| distance(frame, &heard[time])).fold(f32::INFINITY, f32::min)
        })
        .collect();
    let free = free.iter().sum::<f32>() / free.len().max(1) as f32;
    let margin = if second.cost.is_finite() { second.cost - best.cost } else { 50.0 };
    Evidence {
        margin: margin.min(50.0),
        worst: worst.0,
        mean: sum / frames.max(1) as f32,
        garbage: worst.0 - free,
        ratio: utterance.level() - utterance.noise_level(),
    }
}
