//! A number whose sign was asked for as a physical question.

use super::{ParseError, Quantity, Unit, parse};

/// Reads one number as [`parse`] does, and gives it the sign that the answer to the question beside the pad means. Zero has none.
///
/// # Errors
/// See [`ParseError`].
pub fn parse_answered(text: &str, negative: bool, unit: Unit, step: f64) -> Result<Quantity, ParseError> {
    let mut quantity = parse(text, unit, step)?;
    if negative && quantity.value != 0.0 {
        quantity.value = -quantity.value;
        quantity.text = format!("\u{2212}{}", quantity.text);
    }
    Ok(quantity)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_answer_gives_the_sign_and_zero_has_none() {
        let read = |text, negative| parse_answered(text, negative, Unit::Degree, 0.1).expect("a number");
        assert_eq!((read("2.6", true).value, read("2.6", true).text.as_str()), (-2.6, "−2.6"));
        assert_eq!((read("2.6", false).value, read("0", true).text.as_str()), (2.6, "0"));
        assert_eq!(parse_answered("", true, Unit::Degree, 0.1), Err(ParseError::Empty));
    }
}
