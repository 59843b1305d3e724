//! A number whose sign was asked for as a physical question.

use super::Quantity;

impl Quantity {
    /// The number without its sign; the text stays as it was entered.
    #[must_use]
    pub fn unsigned(self) -> Self {
        Self { value: self.value.abs(), ..self }
    }

    /// The number with the sign that the answer to the question beside the pad means; the text stays as it was entered. Zero has
    /// no sign.
    #[must_use]
    pub fn signed(self, negative: bool) -> Self {
        if negative && self.value != 0.0 { Self { value: -self.value, ..self } } else { self }
    }

    /// The same for digits that were typed without a sign: a minus shows in the text too.
    #[must_use]
    pub fn answered(self, negative: bool) -> Self {
        let minus = if negative && self.value != 0.0 { "\u{2212}" } else { "" };
        let text = format!("{minus}{}", self.text);
        Self { text, ..self.signed(negative) }
    }
}

#[cfg(test)]
mod tests {
    use crate::quantity::{Unit, parse};

    #[test]
    fn the_answer_gives_the_sign_and_zero_has_none() {
        let read = |text, negative| parse(text, Unit::Degree, 0.1).expect("a number").answered(negative);
        assert_eq!((read("2.6", true).value, read("2.6", true).text.as_str()), (-2.6, "−2.6"));
        assert_eq!((read("2.6", false).value, read("0", true).text.as_str()), (2.6, "0"));
        let said = parse("-0.2", Unit::Degree, 0.1).expect("a number").unsigned().signed(true);
        assert_eq!((said.value, said.text.as_str()), (-0.2, "-0.2"), "what was said stays as it was said");
    }
}
