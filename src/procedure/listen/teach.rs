//! Teaching the phone a person's own words: which is next, and what is said of each take.

use crate::hearing::Lesson;
use crate::language::{tr, words};

/// How many takes of each word alone are asked for, before it is said among others.
pub const TAKES: u32 = 2;

/// What is to be said next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NextTake {
    /// A word alone: its place, and the how many-th take of it, from 1.
    Word(usize, u32),
    /// A whole reading in one go: its place.
    Phrase(usize),
}

/// What is said of a take.
#[must_use]
pub fn take_words(lesson: Lesson) -> &'static str {
    match lesson {
        Lesson::Accepted => words!("Good."),
        Lesson::TooShort => words!("That was too short. Say the whole word."),
        Lesson::TooLong => words!("That was too long. Say the word alone."),
        Lesson::TooLoud => words!("That was too loud. Hold the phone a little further away."),
        Lesson::TooQuiet => words!("That was too quiet. Come closer, or speak up."),
        Lesson::TooNoisy => words!("There is too much noise. Come closer, or wait until it is over."),
        Lesson::Unlike => words!("That was unlike the takes before it. Say it as before, or teach this word anew."),
        Lesson::Full => words!("There are takes enough of this word."),
        Lesson::Nothing => words!("Nothing was heard. Say the word."),
    }
}

/// What to say next: the words in order, all takes of one before the next, then the whole readings. `phrases`: how many of those were said, and
/// how many there are. `None` when everything is taught.
#[must_use]
pub fn next_take(takes: &[u32], (said, all): (usize, usize)) -> Option<NextTake> {
    match takes.iter().position(|&takes| takes < TAKES) {
        Some(place) => Some(NextTake::Word(place, takes[place] + 1)),
        None => (said < all && !takes.is_empty()).then_some(NextTake::Phrase(said)),
    }
}

/// How far the teaching has come.
#[must_use]
pub fn taught_words(takes: &[u32], (said, all): (usize, usize)) -> String {
    let (taught, words) = (takes.iter().filter(|&&takes| takes >= TAKES).count(), takes.len());
    let said = said.min(all);
    tr!("{taught} of {words} words taught, and {said} of {all} whole readings.", taught, words, said, all)
}

/// Whether enough is taught to be listened to at all: every word of a reading on a decimal scale or of whole numbers, and the commands.
#[must_use]
pub fn is_taught(takes: &[u32], needed: usize) -> bool {
    takes.len() >= needed && needed > 0 && takes[..needed].iter().all(|&takes| takes > 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_in_order_and_then_whole_readings() {
        assert_eq!(next_take(&[0, 0], (0, 3)), Some(NextTake::Word(0, 1)));
        assert_eq!(next_take(&[1, 0], (0, 3)), Some(NextTake::Word(0, 2)));
        assert_eq!(
            next_take(&[2, 1, 2], (1, 3)),
            Some(NextTake::Word(1, 2)),
            "taught anew, it comes back in its place"
        );
        assert_eq!(next_take(&[2, 4], (1, 3)), Some(NextTake::Phrase(1)));
        assert_eq!(next_take(&[2, 4], (3, 3)), None);
        assert_eq!(next_take(&[], (0, 3)), None);
    }

    #[test]
    fn how_far_it_has_come() {
        assert_eq!(taught_words(&[2, 3, 1], (4, 3)), "2 of 3 words taught, and 3 of 3 whole readings.");
        assert!(!is_taught(&[], 2) && !is_taught(&[3, 0], 2) && !is_taught(&[3, 3], 0));
        assert!(is_taught(&[3, 1, 0], 2));
    }

    #[test]
    fn every_answer_says_what_to_do() {
        let words =
            ["accepted", "too-short", "too-long", "too-loud", "too-quiet", "too-noisy", "unlike", "full", "nothing"];
        let mut said: Vec<String> = words.iter().map(|word| take_words(Lesson::of(word)).to_owned()).collect();
        said.sort();
        said.dedup();
        assert_eq!(said.len(), words.len(), "each its own words");
        assert_eq!(Lesson::of("?"), Lesson::Nothing);
    }
}
