//! A number whose sign was asked for as a physical question.

use super::Quantity;

impl Quantity {
    /// The number with the sign that the answer to the question beside the pad means; a minus shows in the text too. Zero has
    /// none.
    #[must_use]
    pub fn answered(mut self, negative: bool) -> Self {
        if negative && self.value != 0.0 {
            self.value = -self.value;
            self.text = format!("\u{2212}{}", self.text);
        }
        self
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
    }
}
