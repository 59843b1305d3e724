//! "Fifteen" heard for "fifty", and the other way round.

use super::token::{Decimal, Token};

/// The tokens with one number of thirteen to nineteen taken for thirty to ninety, or the reverse; one variant for each.
///
/// The end of a spoken number is what is lost in noise, so that "fifty five" is safe. A fraction that a recogniser wrote
/// with its line is believed.
pub(super) fn variants(tokens: &[Token]) -> impl Iterator<Item = Vec<Token>> {
    (0..tokens.len()).filter_map(|at| {
        let around = [at.checked_sub(1).map(|before| tokens[before]), tokens.get(at + 1).copied()];
        let safe = around.contains(&Some(Token::Slash)) || around[1] == Some(Token::Hundred);
        let other = if safe { None } else { confused(tokens[at], around[1]) }?;
        let mut swapped = tokens.to_vec();
        swapped[at] = other;
        Some(swapped)
    })
}

fn confused(token: Token, next: Option<Token>) -> Option<Token> {
    let followed = next.is_some_and(|next| next.one_to_nine().is_some());
    match token {
        Token::Number { value, digits } => {
            let ty = value % 100 >= 20;
            let value = if followed && ty { None } else { other(value.into()) }?;
            Some(Token::Number { value: value as u32, digits })
        }
        Token::Decimal(Decimal { digits, places, bare: false }) => {
            let scale = 10_u64.pow(places);
            let digits = other(digits / scale)? * scale + digits % scale;
            Some(Token::Decimal(Decimal { digits, places, bare: false }))
        }
        _ => None,
    }
}

/// 13 for 30, 250 for 215; none when the last two digits are no such number.
const fn other(value: u64) -> Option<u64> {
    let (hundreds, rest) = (value / 100 * 100, value % 100);
    match rest {
        13..=19 => Some(hundreds + (rest - 10) * 10),
        30 | 40 | 50 | 60 | 70 | 80 | 90 => Some(hundreds + rest / 10 + 10),
        _ => None,
    }
}
