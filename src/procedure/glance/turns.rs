//! A phone that keeps turning its picture while it is handled.

use crate::language::words;

/// What is said of it, once.
#[must_use]
pub fn turning_words() -> &'static str {
    words!(
        "The picture keeps turning with the phone. To stop that, lock the rotation in the phone's own quick settings."
    )
}

/// Two turns within this many milliseconds are not meant (a judgement): nobody turns a phone and back again to read it.
const SHORTLY: f64 = 5_000.0;

/// Counts the turns of a phone.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Turns {
    last: Option<f64>,
}

impl Turns {
    /// The phone turned its picture at a time in milliseconds of any clock that does not stop; whether it did so shortly before too.
    pub fn turned(&mut self, at: f64) -> bool {
        let again = self.last.is_some_and(|last| (0.0..=SHORTLY).contains(&(at - last)));
        self.last = Some(at);
        again
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_second_turn_soon_after_the_first_is_said() {
        let mut turns = Turns::default();
        assert_eq!([0.0, 9_000.0, 12_000.0].map(|at| turns.turned(at)), [false, false, true]);
        assert!(!turns.turned(11_000.0), "a clock that was set back says nothing");
    }
}
