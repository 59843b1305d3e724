//! "Fifteen" heard for "fifty", and the other way round; in each language what is mistaken there.

use super::token::{Decimal, Token};
use crate::language::Language;

/// The tokens with one number taken for the one that it is mistaken for; one variant for each.
///
/// English and German: thirteen to nineteen, thirty to ninety. French: treize and seize. Spanish: sesenta and setenta, alone and with
/// ones behind. From memory.
///
/// The end of a spoken number is what is lost in noise, so that "fifty five" is safe. A fraction that a recogniser wrote
/// with its line is believed.
pub(super) fn variants(language: Language, tokens: &[Token]) -> impl Iterator<Item = Vec<Token>> {
    (0..tokens.len()).filter_map(move |at| {
        let around = [at.checked_sub(1).map(|before| tokens[before]), tokens.get(at + 1).copied()];
        let safe = around.contains(&Some(Token::Slash)) || around[1] == Some(Token::Hundred);
        let other = if safe { None } else { confused(language, tokens[at], around[1]) }?;
        let mut swapped = tokens.to_vec();
        swapped[at] = other;
        Some(swapped)
    })
}

fn confused(language: Language, token: Token, next: Option<Token>) -> Option<Token> {
    let other = match language {
        Language::English | Language::German => teens_and_tens,
        Language::French => thirteen_and_sixteen,
        Language::Spanish => sixty_and_seventy,
    };
    let ends = matches!(language, Language::English | Language::German);
    let followed = ends && next.is_some_and(|next| next.one_to_nine().is_some());
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
const fn teens_and_tens(value: u64) -> Option<u64> {
    let (hundreds, rest) = (value / 100 * 100, value % 100);
    match rest {
        13..=19 => Some(hundreds + (rest - 10) * 10),
        30 | 40 | 50 | 60 | 70 | 80 | 90 => Some(hundreds + rest / 10 + 10),
        _ => None,
    }
}

/// 13 for 16, 276 for 273.
const fn thirteen_and_sixteen(value: u64) -> Option<u64> {
    let (hundreds, rest) = (value / 100 * 100, value % 100);
    match rest {
        13 | 73 | 93 => Some(hundreds + rest + 3),
        16 | 76 | 96 => Some(hundreds + rest - 3),
        _ => None,
    }
}

/// 60 for 70, 275 for 265.
const fn sixty_and_seventy(value: u64) -> Option<u64> {
    match value % 100 {
        60..70 => Some(value + 10),
        70..80 => Some(value - 10),
        _ => None,
    }
}
