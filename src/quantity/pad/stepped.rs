//! Stepping a number up and down by what the instrument resolves.

use super::Pad;
use crate::language::Language;
use crate::quantity::print_number_in;

/// A thousandth of a step: what arithmetic may have added to a number that lies on a mark.
const ON_A_MARK: f64 = 1e-3;

/// The next mark of an instrument with this `step` above (`up`) or below a number, all in the instrument's unit. `now`: the number
/// on the pad, with its sign; on an empty pad `near`, what the number is about, or else 0. Without a sign (`signed` false) never
/// below 0. None when the instrument's step is not known.
#[must_use]
pub fn stepped(now: Option<f64>, near: Option<f64>, step: f64, up: bool, signed: bool) -> Option<f64> {
    if !(step > 0.0 && step.is_finite()) {
        return None;
    }
    let marks = now.or(near).unwrap_or(0.0) / step;
    let next = if up { (marks + ON_A_MARK).floor() + 1.0 } else { (marks - ON_A_MARK).ceil() - 1.0 };
    let lowest = if signed { f64::NEG_INFINITY } else { 0.0 };
    // Zero has no sign.
    let next = next.max(lowest) + 0.0;
    next.is_finite().then_some(next * step)
}

/// So many marks off what is sought a number is far from it.
const FAR: f64 = 32.0;

/// How near a number that is being stepped is to what is sought, all in the instrument's unit: 1 on the nearest mark, 0 from 32 marks off,
/// evenly in between.
#[must_use]
pub fn nearness(value: f64, sought: f64, step: f64) -> f32 {
    let marks = (value - sought).abs() / step;
    if marks <= 0.5 + ON_A_MARK {
        return 1.0;
    }
    #[allow(clippy::cast_possible_truncation, reason = "between 0 and 1, for the ear")]
    let near = (1.0 - marks / FAR).max(0.0) as f32;
    if near.is_finite() { near } else { 0.0 }
}

impl Pad {
    /// Puts a number on the pad in the place of what is there, rounded to `step`; its sign is not the pad's to show.
    pub fn put(&mut self, value: f64, step: f64) {
        *self = Self::restored(&print_number_in(Language::English, value.abs(), self.unit, step), self.unit, step);
    }
}

#[cfg(test)]
mod tests {
    use super::{nearness, stepped};
    use crate::quantity::{Key, Pad, Unit};

    const TAPE: f64 = 1.0 / 32.0;

    #[test]
    fn one_mark_up_or_down_from_what_is_on_the_pad() {
        assert_eq!(stepped(Some(227.6875), None, TAPE, true, false), Some(227.71875));
        assert_eq!(stepped(Some(227.6875), Some(5.0), TAPE, false, false), Some(227.65625));
        let tenths = stepped(Some(0.3), None, 0.1, true, true).expect("a step");
        assert!((tenths - 0.4).abs() < 1e-12, "0.1 · 3 is not 0.3 in binary, and still on the mark: {tenths}");
    }

    #[test]
    fn from_between_two_marks_to_the_nearer_side() {
        assert_eq!(stepped(Some(1.01), None, TAPE, true, false), Some(1.03125));
        assert_eq!(stepped(Some(1.01), None, TAPE, false, false), Some(1.0));
    }

    #[test]
    fn an_empty_pad_steps_from_what_the_number_is_about_or_from_zero() {
        assert_eq!(stepped(None, Some(227.5), TAPE, true, false), Some(227.53125));
        assert_eq!(stepped(None, None, TAPE, true, false), Some(TAPE));
        assert_eq!(stepped(None, None, TAPE, false, false), Some(0.0));
    }

    #[test]
    fn through_zero_only_where_the_number_has_a_sign() {
        assert_eq!(stepped(Some(0.0), None, 0.5, false, true), Some(-0.5));
        assert_eq!(stepped(Some(0.0), None, 0.5, false, false), Some(0.0));
        let zero = stepped(Some(-0.5), None, 0.5, true, true).expect("a step");
        assert!(zero == 0.0 && zero.is_sign_positive());
    }

    #[test]
    fn it_rises_to_one_on_the_mark_and_is_below_it_everywhere_else() {
        let heard: Vec<f32> = (0..40).map(|marks| nearness(f64::from(marks) * TAPE, 1.0, TAPE)).collect();
        assert!(heard[..33].windows(2).all(|pair| pair[0] < pair[1]), "{heard:?}");
        assert!((heard[32] - 1.0).abs() < f32::EPSILON && heard[31] < 1.0 && heard[0].abs() < f32::EPSILON);
        assert!(nearness(f64::NAN, 1.0, TAPE).abs() < f32::EPSILON && nearness(0.0, 1.0, 0.0).abs() < f32::EPSILON);
    }

    #[test]
    fn without_a_step_there_is_none() {
        for step in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(stepped(Some(1.0), None, step, true, true), None);
        }
    }

    #[test]
    fn the_pad_shows_what_was_stepped_to() {
        let mut pad = Pad::new(Unit::Inch, TAPE);
        pad.press(Key::Digit(3));
        pad.put(227.71875, TAPE);
        assert_eq!(pad.text(), "227 23/32");
        let mut pad = Pad::new(Unit::Degree, 0.1);
        pad.put(-2.7, 0.1);
        assert_eq!(pad.text(), "2.7");
        pad.put(0.0, 0.1);
        assert_eq!(pad.text(), "0.0");
    }
}
