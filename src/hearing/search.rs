//! The one pass: which words, in which order, at which times, are most like what was heard.
//!
//! Ney's one-stage dynamic time warping (1984) over all takes of all words at once, synchronous with the frames heard, so that every
//! path through the same sound has the same number of costs and can be held against any other. Two different word sequences are
//! kept at every place: the second best at the end is the runner-up.

use super::Tuning;
use super::cepstra::Feature;
use super::fit::distance;
use super::vocabulary::{MOST_ROLES, Vocabulary};

/// Most words of an utterance.
pub const MOST_WORDS: usize = 12;

const NEVER: f32 = f32::INFINITY;

/// One take, ready to be held against what was heard.
pub(super) struct Model {
    /// Which word of the vocabulary.
    pub(super) word: usize,
    pub(super) frames: Vec<Feature>,
}

/// A word of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Placed {
    pub(super) word: usize,
    /// First frame, and the one behind the last.
    pub(super) from: usize,
    pub(super) to: usize,
    /// Sum of the distances between them.
    pub(super) cost: f32,
}

/// A word sequence and what it costs.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Path {
    pub(super) words: Vec<Placed>,
    pub(super) cost: f32,
}

#[derive(Clone, Copy)]
struct Token {
    cost: f32,
    /// The cost when the word was entered, and when that was.
    entry: f32,
    start: u32,
    node: u32,
    /// Of the finished words: tells sequences apart.
    hash: u32,
    /// The word finished last.
    word: u32,
}

impl Token {
    const NONE: Self = Self { cost: NEVER, entry: 0.0, start: 0, node: 0, hash: 0, word: 0 };
}

/// The best token and the best with other words.
#[derive(Clone, Copy)]
struct Pair([Token; 2]);

impl Pair {
    const NONE: Self = Self([Token::NONE; 2]);

    fn offer(&mut self, token: Token) {
        let [first, second] = &mut self.0;
        if token.cost < first.cost {
            if token.hash != first.hash {
                *second = *first;
            }
            *first = token;
        } else if token.cost < second.cost && token.hash != first.hash {
            *second = token;
        }
    }

    fn offer_all(&mut self, other: &Self, more: f32) {
        for token in other.0 {
            if token.cost < NEVER {
                self.offer(Token { cost: token.cost + more, ..token });
            }
        }
    }

    fn add(&mut self, cost: f32) {
        for token in &mut self.0 {
            token.cost += cost;
        }
    }

    fn best(&self) -> f32 {
        self.0[0].cost
    }
}

/// A finished word in the history of a token.
struct Node {
    before: u32,
    depth: u32,
    placed: Placed,
}

struct Search<'a> {
    vocabulary: &'a Vocabulary,
    models: &'a [Model],
    tuning: &'a Tuning,
    /// Per model, per frame of it.
    states: Vec<Vec<Pair>>,
    /// After the last word of each role, before the next frame: at its very end, and in the pause behind it.
    ends: Vec<Pair>,
    pauses: Vec<Pair>,
    nodes: Vec<Node>,
}

/// The best and the second best word sequence for `heard`; empty ones when no words fit the order at all. `noise` are frames of the noise alone.
pub(super) fn search(
    vocabulary: &Vocabulary,
    models: &[Model],
    heard: &[Feature],
    noise: &[Feature],
    tuning: &Tuning,
) -> [Path; 2] {
    let mut pauses = vec![Pair::NONE; MOST_ROLES + 1];
    pauses[0].offer(Token { cost: 0.0, entry: 0.0, start: 0, node: 0, hash: 1, word: 0 });
    let root = Node { before: 0, depth: 0, placed: Placed { word: 0, from: 0, to: 0, cost: 0.0 } };
    let states = models.iter().map(|model| vec![Pair::NONE; model.frames.len()]).collect();
    let ends = vec![Pair::NONE; MOST_ROLES + 1];
    let mut search = Search { vocabulary, models, tuning, states, ends, pauses, nodes: vec![root] };
    for (time, frame) in heard.iter().enumerate() {
        search.step(time, frame, noise);
    }
    search.finish()
}

impl Search<'_> {
    fn step(&mut self, time: usize, frame: &Feature, noise: &[Feature]) {
        let entries = self.entries(time);
        let best = self.best();
        let quiet = noise.iter().map(|noise| distance(noise, frame)).fold(NEVER, f32::min).min(1e6) + self.tuning.pause;
        for (pause, end) in self.pauses.iter_mut().zip(&self.ends) {
            pause.offer_all(end, 0.0);
            pause.add(quiet);
        }
        self.ends.fill(Pair::NONE);
        for (at, model) in self.models.iter().enumerate() {
            let role = usize::from(self.vocabulary.roles[model.word]);
            let states = &mut self.states[at];
            // From the last frame down, so that each still finds what its neighbours were one frame ago.
            for state in (0..model.frames.len()).rev() {
                let mut pair = Pair::NONE;
                pair.offer_all(&states[state], self.tuning.stay);
                if state > 0 {
                    pair.offer_all(&states[state - 1], 0.0);
                } else {
                    pair.offer_all(&entries[role], self.tuning.word);
                }
                if state > 1 {
                    pair.offer_all(&states[state - 2], self.tuning.skip);
                } else if state == 1 {
                    pair.offer_all(&entries[role], self.tuning.word + self.tuning.skip);
                }
                if pair.best() > best + self.tuning.beam {
                    pair = Pair::NONE;
                } else {
                    pair.add(distance(&model.frames[state], frame));
                }
                states[state] = pair;
            }
        }
        self.leave(time);
    }

    /// What a word of each role may begin with at `time`.
    fn entries(&self, time: usize) -> Vec<Pair> {
        let mut entries = vec![Pair::NONE; MOST_ROLES + 1];
        for (role, entry) in entries.iter_mut().enumerate().skip(1) {
            for before in 0..=MOST_ROLES {
                if self.vocabulary.may_follow(before, role) {
                    entry.offer_all(&self.ends[before], 0.0);
                    entry.offer_all(&self.pauses[before], 0.0);
                }
            }
            for token in &mut entry.0 {
                if self.nodes[token.node as usize].depth >= MOST_WORDS as u32 {
                    token.cost = NEVER;
                }
                token.start = time as u32;
                token.entry = token.cost;
            }
            if entry.best() == NEVER {
                entry.0.swap(0, 1);
            }
        }
        entries
    }

    fn best(&self) -> f32 {
        let states = self.states.iter().flatten().map(Pair::best).fold(NEVER, f32::min);
        self.pauses.iter().chain(&self.ends).map(Pair::best).fold(states, f32::min)
    }

    /// Words whose last frame was reached are finished.
    fn leave(&mut self, time: usize) {
        let mut finished = vec![Pair::NONE; MOST_ROLES + 1];
        for (at, model) in self.models.iter().enumerate() {
            let role = usize::from(self.vocabulary.roles[model.word]);
            let last = model.frames.len().saturating_sub(1);
            for (state, more) in [(last, 0.0), (last.saturating_sub(1), self.tuning.skip)] {
                for token in self.states[at][state].0 {
                    let word = model.word as u32;
                    // The hash of Fowler, Noll and Vo, over words instead of bytes.
                    let hash = token.hash.wrapping_mul(16_777_619) ^ (word + 1);
                    finished[role].offer(Token { cost: token.cost + more, hash, word, ..token });
                }
            }
        }
        for token in finished.iter_mut().flat_map(|pair| &mut pair.0) {
            if token.cost < NEVER {
                let (word, from) = (token.word as usize, token.start as usize);
                let placed = Placed { word, from, to: time + 1, cost: token.cost - token.entry };
                let depth = self.nodes[token.node as usize].depth + 1;
                self.nodes.push(Node { before: token.node, depth, placed });
                token.node = (self.nodes.len() - 1) as u32;
            }
        }
        self.ends = finished;
    }

    fn finish(&self) -> [Path; 2] {
        let mut last = Pair::NONE;
        for role in 0..=MOST_ROLES {
            if self.vocabulary.may_follow(role, 0) || role == 0 {
                last.offer_all(&self.ends[role], 0.0);
                last.offer_all(&self.pauses[role], 0.0);
            }
        }
        last.0.map(|token| self.path(token))
    }

    fn path(&self, token: Token) -> Path {
        let mut words = Vec::new();
        let mut at = token.node as usize;
        while at != 0 && token.cost < NEVER {
            words.push(self.nodes[at].placed);
            at = self.nodes[at].before as usize;
        }
        words.reverse();
        Path { words, cost: token.cost }
    }
}
