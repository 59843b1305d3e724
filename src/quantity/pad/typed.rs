//! What a keyboard types that the pad's own keys do not: a fraction, digit by digit ("227 11/16", "227-11/16", "11/16").

use super::{LONGEST, Pad};

impl Pad {
    /// Begins a fraction after the whole inches; nothing where there is one already, or nothing to follow.
    pub(super) fn begin_fraction(&mut self) {
        if self.fractions() && self.fraction.is_none() && self.typed.is_none() && !self.whole.is_empty() {
            self.typed = Some(String::new());
        }
    }

    /// The stroke of a fraction. Without a whole number before it, what was typed so far is its top.
    pub(super) fn over(&mut self) {
        match self.typed.take() {
            None if self.fractions() && self.fraction.is_none() && !self.whole.is_empty() => {
                let top = format!("{}/", self.whole);
                if looks_like_a_fraction(&top) {
                    self.typed = Some(top);
                    self.whole.clear();
                }
            }
            typed => {
                self.typed = typed;
                self.type_on('/');
            }
        }
    }

    /// One more sign of a fraction that is being typed; true when it is, whether the sign was taken or not.
    pub(super) fn type_on(&mut self, sign: char) -> bool {
        let Some(typed) = &self.typed else { return false };
        let longer = format!("{typed}{sign}");
        if looks_like_a_fraction(&longer) {
            self.fraction = sixty_fourths(&longer);
            self.typed = Some(longer);
        }
        true
    }

    /// Takes back the last sign of a fraction that is being typed; false when none is.
    pub(super) fn type_back(&mut self) -> bool {
        let Some(mut typed) = self.typed.take() else { return false };
        if typed.pop().is_some() {
            self.fraction = sixty_fourths(&typed);
            self.typed = Some(typed);
        }
        true
    }

    /// The whole number and the begun fraction of a text that [`Pad::text`] gave while it was being typed.
    pub(super) fn restore_typed(&mut self, whole: &str, typed: &str) {
        let digits = whole.len() <= LONGEST && whole.bytes().all(|digit| digit.is_ascii_digit());
        if digits && if typed.is_empty() { !whole.is_empty() } else { looks_like_a_fraction(typed) } {
            whole.clone_into(&mut self.whole);
            self.typed = Some(typed.to_owned());
        }
    }
}

/// In sixty-fourths, when `text` is a whole fraction of an inch below 1.
pub(super) fn sixty_fourths(text: &str) -> Option<u8> {
    let (top, bottom) = text.split_once('/')?;
    let (top, bottom) = (top.parse::<u8>().ok()?, bottom.parse::<u8>().ok()?);
    (bottom > 0 && top < bottom && 64 % bottom == 0).then(|| top * (64 / bottom))
}

/// Whether a fraction may look so while it is typed. What is no fraction of a tape (a third) is
/// shown as it was typed and refused when it is kept: a sign that were left out would make it another number.
fn looks_like_a_fraction(text: &str) -> bool {
    let (top, bottom) = text.split_once('/').unwrap_or((text, "0"));
    let few = |digits: &str| digits.len() <= LONGEST && digits.bytes().all(|digit| digit.is_ascii_digit());
    few(top) && few(bottom) && !text.starts_with('/')
}

#[cfg(test)]
mod tests {
    use crate::quantity::{Key, Pad, Unit};

    const TAPE: f64 = 1.0 / 32.0;

    fn typed(signs: &str) -> Pad {
        let mut pad = Pad::new(Unit::Inch, TAPE);
        for sign in signs.chars() {
            pad.press(match sign {
                '/' => Key::Over,
                ' ' | '-' => Key::Gap,
                '<' => Key::Back,
                digit => Key::Digit(u8::try_from(digit.to_digit(10).expect("a digit")).expect("below 10")),
            });
        }
        pad
    }

    #[test]
    fn a_fraction_typed_digit_by_digit_is_the_fraction() {
        for (signs, value) in [
            ("227 11/16", 227.6875),
            ("227-11/16", 227.6875),
            ("11/16", 0.6875),
            ("9/8", 1.125),
            ("1 1/2", 1.5),
            ("0 8/32", 0.25),
            ("227 11/1<<<<1/4", 227.25),
        ] {
            let pad = typed(signs);
            assert_eq!(pad.quantity(TAPE).map(|read| read.value), Some(value), "{signs}: {}", pad.text());
        }
    }

    /// Half a fraction is no number yet, and comes back as it was.
    #[test]
    fn half_a_fraction_is_kept_and_is_no_number() {
        for (signs, text) in [("227 11", "227 11"), ("227 11/", "227 11/"), ("227 11/1", "227 11/1"), ("3/", "3/")] {
            let pad = typed(signs);
            assert_eq!(pad.text(), text);
            assert_eq!(pad.quantity(TAPE), None, "{text}");
            let again = Pad::restored(&pad.text(), Unit::Inch, TAPE);
            assert_eq!(again.text(), text);
        }
        assert_eq!(Pad::restored(&typed("227 ").text(), Unit::Inch, TAPE).text(), "227 ");
    }

    /// A third, a hundred-and-twenty-eighth: shown as typed, and no number. Nothing is left out of what is typed that would make it another one.
    #[test]
    fn what_no_tape_has_is_shown_and_is_no_number() {
        for (signs, text) in [("1 1/3", "1 1/3"), ("1 2/3/", "1 2/3"), ("1 1/128", "1 1/128"), ("1 1/164", "1 1/164")] {
            let pad = typed(signs);
            assert_eq!((pad.text().as_str(), pad.quantity(TAPE)), (text, None), "{signs}");
        }
        assert_eq!(typed("22711/16").text(), "22711/16", "the space was left out");
        assert_eq!(typed("22711/16").quantity(TAPE), None);
        assert_eq!(typed("/").text(), "");
        assert_eq!(typed("1 1/64").text(), "1 1/64", "finer than the tape, as it was typed");
    }

    #[test]
    fn a_pad_of_decimals_has_no_fractions() {
        let mut decimals = Pad::new(Unit::Degree, 0.1);
        for key in [Key::Digit(2), Key::Gap, Key::Over, Key::Digit(6)] {
            decimals.press(key);
        }
        assert_eq!(decimals.text(), "26");
    }

    #[test]
    fn the_pads_own_keys_take_over_from_a_fraction_that_was_begun() {
        let mut pad = typed("227 11/");
        pad.press(Key::Eighths(5));
        assert_eq!(pad.text(), "227 5/8");
        let mut pad = typed("227 11/");
        pad.press(Key::Clear);
        assert!(pad.is_empty());
    }
}
