//! The entry pad's digits: what each key does to what has been typed so far.
//!
//! A pad holds text that [`super::parse`] reads. Signs are not typed: they are the answer to a physical question, asked beside
//! the pad.

mod stepped;
mod typed;

use super::{Quantity, Unit, decimal_mark, parse};
use crate::language;

pub use stepped::{nearness, stepped};

/// A key of the pad.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// 0 to 9.
    Digit(u8),
    /// The decimal mark, which is kept as a point in every language; nothing on a pad of fractions.
    Point,
    /// This many eighths of an inch, 0 to 7: replaces the eighths chosen before.
    Eighths(u8),
    /// One more sixteenth, thirty-second or sixty-fourth (16, 32, 64): a second press takes it away again.
    Plus(u8),
    /// The space or the hyphen between whole inches and a fraction that is typed digit by digit.
    Gap,
    /// The stroke of such a fraction.
    Over,
    /// Takes the last thing typed away.
    Back,
    /// Empties the pad.
    Clear,
}

/// What has been typed, for one instrument.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pad {
    unit: Unit,
    /// 8, 16, 32 or 64 for a rule of fractions; 0 for decimals.
    denominator: u8,
    whole: String,
    /// In sixty-fourths.
    fraction: Option<u8>,
    /// A fraction that is being typed digit by digit, as far as it is typed.
    typed: Option<String>,
}

/// More signs than any reading has.
const LONGEST: usize = 8;

impl Pad {
    /// An empty pad for an instrument with this unit and step.
    #[must_use]
    pub fn new(unit: Unit, step: f64) -> Self {
        let denominator = match unit {
            Unit::Inch => [8_u8, 16, 32, 64].into_iter().find(|&part| step * f64::from(part) == 1.0).unwrap_or(0),
            _ => 0,
        };
        Self { unit, denominator, whole: String::new(), fraction: None, typed: None }
    }

    /// The pad that shows `text` again, as [`Self::text`] gave it; empty when the text is not the pad's own.
    #[must_use]
    pub fn restored(text: &str, unit: Unit, step: f64) -> Self {
        let mut pad = Self::new(unit, step);
        if pad.denominator > 0 {
            let (whole, part) = match text.split_once(' ') {
                Some((whole, part)) => (whole, Some(part)),
                None if text.contains('/') => ("", Some(text)),
                None => (text, None),
            };
            let sixty_fourths = part.and_then(typed::sixty_fourths);
            match (part, sixty_fourths) {
                (Some(part), None) => pad.restore_typed(whole, part),
                _ if whole.chars().all(|digit| digit.is_ascii_digit()) && whole.len() <= LONGEST => {
                    whole.clone_into(&mut pad.whole);
                    pad.fraction = sixty_fourths;
                }
                _ => {}
            }
        } else if text.len() <= LONGEST
            && text.chars().all(|digit| digit.is_ascii_digit() || digit == '.')
            && text.matches('.').count() <= 1
        {
            text.clone_into(&mut pad.whole);
        }
        pad
    }

    /// The denominators of the small keys that this resolution has: 16, 32, 64.
    #[must_use]
    pub fn small_keys(&self) -> Vec<u8> {
        [16, 32, 64].into_iter().filter(|&part| part <= self.denominator).collect()
    }

    /// Whether the pad has keys for fractions (and none for a decimal point).
    #[must_use]
    pub const fn fractions(&self) -> bool {
        self.denominator > 0
    }

    /// The eighths that are chosen, when any are.
    #[must_use]
    pub fn eighths(&self) -> Option<u8> {
        self.fraction.map(|parts| parts / 8)
    }

    /// Whether a small key is down.
    #[must_use]
    pub fn is_down(&self, part: u8) -> bool {
        part > 0 && self.fraction.is_some_and(|parts| parts & (64 / part) != 0)
    }

    /// Nothing is typed.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.whole.is_empty() && self.fraction.is_none() && self.typed.is_none()
    }

    /// Presses a key. A key that the pad does not have, or a digit too many, changes nothing.
    pub fn press(&mut self, key: Key) {
        match key {
            Key::Digit(digit) if digit <= 9 && self.type_on(char::from(b'0' + digit)) => {}
            Key::Digit(digit) if digit <= 9 && self.whole.len() < LONGEST => {
                if self.whole == "0" {
                    self.whole.clear();
                }
                self.whole.push(char::from(b'0' + digit));
            }
            Key::Point if !self.fractions() && self.unit != Unit::One && self.has_room_for_point() => {
                if self.whole.is_empty() {
                    self.whole.push('0');
                }
                self.whole.push('.');
            }
            Key::Eighths(eighths) if self.fractions() && eighths < 8 => {
                self.typed = None;
                let small = self.fraction.unwrap_or(0) % 8;
                self.fraction = Some(eighths * 8 + small);
            }
            Key::Plus(part) if self.small_keys().contains(&part) => {
                self.typed = None;
                self.fraction = Some(self.fraction.unwrap_or(0) ^ (64 / part));
            }
            Key::Gap => self.begin_fraction(),
            Key::Over => self.over(),
            Key::Back if self.type_back() => {}
            Key::Back if self.fraction.is_some() => self.fraction = None,
            Key::Back => {
                self.whole.pop();
            }
            Key::Clear => {
                self.fraction = None;
                self.typed = None;
                self.whole.clear();
            }
            _ => {}
        }
    }

    /// A point is one of the signs that a reading has room for: a text longer than that would not come back ([`Self::restored`]).
    fn has_room_for_point(&self) -> bool {
        self.whole.len() < LONGEST && !self.whole.contains('.')
    }

    /// What has been typed, as [`parse`] reads it: "227 11/16", "3/16", "2.6"; empty when nothing is.
    #[must_use]
    pub fn text(&self) -> String {
        match self.fraction {
            None if self.typed.is_some() => {
                let typed = self.typed.as_deref().unwrap_or_default();
                if self.whole.is_empty() { typed.to_owned() } else { format!("{} {typed}", self.whole) }
            }
            None => self.whole.clone(),
            Some(0) if self.whole.is_empty() => "0".to_owned(),
            Some(0) => self.whole.clone(),
            Some(parts) => {
                let common = 1_u8 << parts.trailing_zeros().min(6);
                let fraction = format!("{}/{}", parts / common, 64 / common);
                if self.whole.is_empty() { fraction } else { format!("{} {fraction}", self.whole) }
            }
        }
    }

    /// What the screen shows of it: [`Self::text`] with the decimal mark of the language that is spoken.
    #[must_use]
    pub fn shown(&self) -> String {
        self.text().replace('.', decimal_mark(language::current()).encode_utf8(&mut [0; 4]))
    }

    /// The number so far, when it is one.
    #[must_use]
    pub fn quantity(&self, step: f64) -> Option<Quantity> {
        parse(&self.text(), self.unit, step).ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(unit: Unit, step: f64, keys: &[Key]) -> Pad {
        let mut pad = Pad::new(unit, step);
        for key in keys {
            pad.press(*key);
        }
        pad
    }

    #[test]
    fn eleven_sixteenths_is_five_eighths_and_a_sixteenth() {
        let keys = [Key::Digit(2), Key::Digit(2), Key::Digit(7), Key::Eighths(5), Key::Plus(16)];
        assert_eq!(typed(Unit::Inch, 1.0 / 32.0, &keys).text(), "227 11/16");
    }

    #[test]
    fn the_small_keys_follow_the_tape() {
        assert_eq!(Pad::new(Unit::Inch, 1.0 / 16.0).small_keys(), [16]);
        assert_eq!(Pad::new(Unit::Inch, 1.0 / 64.0).small_keys(), [16, 32, 64]);
        assert_eq!(Pad::new(Unit::Millimetre, 1.0).small_keys(), [0_u8; 0]);
        let keys = [Key::Digit(1), Key::Plus(64)];
        assert_eq!(typed(Unit::Inch, 1.0 / 16.0, &keys).text(), "1", "a key that the tape does not have");
    }

    /// Every n/64 can be typed, read, and shown again from its text.
    #[test]
    fn every_sixty_fourth_can_be_typed_and_restored() {
        for parts in 0..64_u8 {
            let mut pad = typed(Unit::Inch, 1.0 / 64.0, &[Key::Digit(9), Key::Eighths(parts / 8)]);
            for (bit, part) in [(4, 16), (2, 32), (1, 64)] {
                if parts & bit != 0 {
                    pad.press(Key::Plus(part));
                }
            }
            let value = pad.quantity(1.0 / 64.0).expect("a number").value;
            assert_eq!(value, 9.0 + f64::from(parts) / 64.0, "{}", pad.text());
            assert_eq!(Pad::restored(&pad.text(), Unit::Inch, 1.0 / 64.0).text(), pad.text());
        }
    }

    #[test]
    fn decimals_backspace_and_nonsense() {
        let keys = [Key::Point, Key::Digit(6), Key::Point, Key::Digit(5), Key::Eighths(3), Key::Back];
        assert_eq!(typed(Unit::Degree, 0.1, &keys).text(), "0.6");
        assert_eq!(Pad::restored("2.6", Unit::Degree, 0.1).text(), "2.6");
        for foreign in ["1e9", "-2", "٣", "1.2.3", "99999999999", "1/x", "9/8/7", "<b>"] {
            let pad = Pad::restored(foreign, Unit::Inch, 1.0 / 32.0);
            assert!(pad.text().is_empty(), "{foreign}: {}", pad.text());
        }
        // Found by the fuzzer: eight digits and a point were on the screen, and gone after a restart.
        let mut keys = vec![Key::Digit(7); 8];
        keys.push(Key::Point);
        let full = typed(Unit::Millimetre, 0.5, &keys).text();
        assert_eq!((full.as_str(), &Pad::restored(&full, Unit::Millimetre, 0.5).text()), ("77777777", &full));
        let keys = [Key::Digit(5), Key::Eighths(5), Key::Back, Key::Back, Key::Back];
        assert!(typed(Unit::Inch, 1.0 / 8.0, &keys).is_empty());
    }
}
