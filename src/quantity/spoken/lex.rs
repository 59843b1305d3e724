//! An utterance cut into tokens.

use super::super::Unit;
use super::super::lex::{Name, single_character_fraction};
use super::token::{Decimal, MOST_DIGITS, Token};
use super::{tongue, vocabulary};
use crate::language::Language;

/// The first word that belongs to no number.
pub(super) struct Unlexed(pub(super) String);

/// Longest word that is repeated to the builder, in characters.
const LONGEST_WORD: usize = 24;

/// Cuts `said` up. Capitals, apostrophes within words, hyphens between words and stops at the end mean nothing.
pub(super) fn lex(language: Language, said: &str, unit: Unit) -> Result<Vec<Token>, Unlexed> {
    let (prime, double_prime) =
        if unit == Unit::Degree { (Name::Minute, Name::Second) } else { (Name::Foot, Name::Unit(Unit::Inch)) };
    let mut tokens = Vec::new();
    let mut rest = said;
    let mut spaced = true;
    while let Some(first) = rest.chars().next() {
        let mut length = first.len_utf8();
        let next = rest[length..].chars().next();
        let was_spaced = std::mem::replace(&mut spaced, false);
        match first {
            _ if first.is_whitespace() => spaced = true,
            '0'..='9' => {
                let (written, end) = numeral_at(language, rest);
                length = end;
                tokens.push(numeral(&written).ok_or_else(|| unlexed(rest))?);
            }
            '.' | ',' if was_spaced && next.is_some_and(|next| next.is_ascii_digit()) => {
                let (written, end) = numeral_at(language, rest);
                length = end;
                tokens.push(numeral(&written).ok_or_else(|| unlexed(rest))?);
            }
            _ if is_letter(language, first) => {
                length = rest.find(|c: char| !is_letter(language, c) && !is_apostrophe(c)).unwrap_or(rest.len());
                for (place, word) in rest[..length].split(is_apostrophe).filter(|word| !word.is_empty()).enumerate() {
                    let touches = !was_spaced && place == 0;
                    let word = tongue::folded(word);
                    tongue::push(language, &word, touches, unit, &mut tokens).ok_or_else(|| unlexed(rest))?;
                }
            }
            _ if first.is_ascii_alphabetic() => {
                length = rest.find(|c: char| !c.is_ascii_alphabetic() && !is_apostrophe(c)).unwrap_or(rest.len());
                let written = rest[..length].chars().filter(|&c| !is_apostrophe(c));
                let word = written.collect::<String>().to_ascii_lowercase();
                word_token(&word, was_spaced, unit, &mut tokens).ok_or_else(|| unlexed(rest))?;
            }
            '-' | '‐' | '‑' | '‒' | '–' | '−' => {
                // A hyphen parts words and says nothing.
                let hyphen = !was_spaced && next.is_some_and(|next| !next.is_whitespace());
                if tokens.is_empty() || !hyphen {
                    tokens.push(Token::Minus);
                }
            }
            '+' => tokens.push(Token::Plus),
            '/' | '⁄' | '∕' => tokens.push(Token::Slash),
            '&' => tokens.push(Token::And),
            '°' | 'º' => push(&mut tokens, Token::Name(Name::Unit(Unit::Degree)), false, unit),
            '"' | '”' | '″' => push(&mut tokens, Token::Name(double_prime), false, unit),
            _ if is_apostrophe(first) || first == '′' => {
                let twice = next == Some(first);
                length += if twice { first.len_utf8() } else { 0 };
                push(&mut tokens, Token::Name(if twice { double_prime } else { prime }), false, unit);
            }
            '·' | '⋅' if matches!(tokens.last(), Some(Token::Name(_))) => {}
            '.' | ',' | ';' | ':' | '!' | '?' => {
                let last = !rest.contains(|c: char| c.is_ascii_alphanumeric());
                if !last && !matches!(tokens.last(), Some(Token::Name(_))) {
                    tokens.push(Token::Pause);
                }
            }
            _ => {
                let (top, bottom) = single_character_fraction(first).ok_or_else(|| unlexed(rest))?;
                let digit = |written| numeral(written).ok_or_else(|| unlexed(rest));
                tokens.extend([digit(top)?, Token::Slash, digit(bottom)?]);
            }
        }
        rest = &rest[length..];
    }
    while tokens.last() == Some(&Token::Filler) {
        tokens.pop();
    }
    let fillers = tokens.iter().take_while(|&&token| token == Token::Filler).count();
    tokens.drain(..fillers);
    Ok(tokens)
}

/// Whether a word of a language other than English goes on.
fn is_letter(language: Language, character: char) -> bool {
    let letter = character.is_alphabetic() && !matches!(character, 'º' | 'ª') || tongue::is_accent(character);
    language != Language::English && letter
}

const fn is_apostrophe(character: char) -> bool {
    matches!(character, '\'' | '’')
}

/// The word at the front of `rest`.
fn unlexed(rest: &str) -> Unlexed {
    let word = rest.split(char::is_whitespace).next().unwrap_or(rest);
    let word = word.trim_end_matches(|c: char| c.is_ascii_punctuation());
    Unlexed(if word.is_empty() { rest.chars().take(1).collect() } else { word.chars().take(LONGEST_WORD).collect() })
}

/// Adds a word; `spaced` when it does not touch what stands before it.
fn word_token(word: &str, spaced: bool, unit: Unit, tokens: &mut Vec<Token>) -> Option<()> {
    if let (false, Some(&Token::Number { value, .. })) = (spaced, tokens.last())
        && let Some(part) = vocabulary::part_of_digits(value, word)
    {
        tokens.pop();
        push(tokens, part, false, unit);
        return Some(());
    }
    push(tokens, vocabulary::token(word, unit)?, word.ends_with('s'), unit);
    Some(())
}

/// Adds a token, joined with what stands before it where the two are one: "sixty" "fourths", "foot" "pounds". `plural` when
/// it is a word with an s.
pub(super) fn push(tokens: &mut Vec<Token>, token: Token, plural: bool, unit: Unit) {
    use Token::{Deca, Force, Fourth, Name as Named, Of, Part};
    let last = tokens.last().copied();
    let ends_in = |number| unit == Unit::Inch && last.is_some_and(|last| last.value() == Some(number));
    let pound = Named(Name::Unit(Unit::Pound));
    let joined = match (last, token) {
        (_, Named(Name::Second)) if ends_in(30) => Part { bottom: 32, plural },
        (_, Fourth { plural }) if ends_in(60) => Part { bottom: 64, plural },
        (_, Fourth { plural }) => return tokens.push(Part { bottom: 4, plural }),
        (Some(Deca), Named(Name::Unit(Unit::Newton))) => Named(Name::Unit(Unit::Decanewton)),
        (Some(last), Force) if last == pound => Named(Name::Unit(Unit::PoundForce)),
        (Some(Of), Force) if tokens.len() > 1 && tokens[tokens.len() - 2] == pound => {
            tokens.pop();
            Named(Name::Unit(Unit::PoundForce))
        }
        (Some(last @ Named(Name::Unit(Unit::FootPoundForce | Unit::InchPoundForce))), Force) => last,
        (Some(Named(first)), Named(second)) => match first.joined(second).or_else(|| turned(first, second, unit)) {
            Some(unit) => Named(Name::Unit(unit)),
            None => return tokens.push(token),
        },
        _ => return tokens.push(token),
    };
    tokens.pop();
    tokens.push(joined);
}

/// The torque of "pound feet", where a torque is asked for.
fn turned(first: Name, second: Name, unit: Unit) -> Option<Unit> {
    let asked = unit.dimension() == super::super::Dimension::Torque;
    if asked && first == Name::Unit(Unit::Pound) { second.joined(first) } else { None }
}

/// How long the digits at the front of `rest` are, with the points and commas among them.
fn numeral_length(rest: &str) -> usize {
    let run = rest.find(|c: char| !matches!(c, '0'..='9' | '.' | ',')).unwrap_or(rest.len());
    rest[..run].trim_end_matches(['.', ',']).len()
}

/// The digits at the front of `rest` as English writes them, and how long they are there: the other languages have comma and point
/// the other way round, and blanks between thousands.
fn numeral_at(language: Language, rest: &str) -> (String, usize) {
    let mut length = numeral_length(rest);
    let mut written = rest[..length].to_owned();
    if language == Language::English {
        return (written, length);
    }
    let is_blank = |c: char| matches!(c, ' ' | '\u{a0}' | '\u{202f}');
    let begins = length <= 3 && !written.starts_with('0') && written.bytes().all(|digit| digit.is_ascii_digit());
    if let Some(group) = rest[length..].strip_prefix(is_blank).filter(|_| begins) {
        let digits = numeral_length(group);
        let whole = group[..digits].split(['.', ',']).next().unwrap_or_default();
        if whole.len() == 3 && !group[digits..].starts_with(['/', '⁄', '∕']) {
            written.push_str(&group[..digits]);
            length = rest.len() - group.len() + digits;
        }
    }
    let swapped = |c: char| match c {
        '.' => ',',
        ',' => '.',
        other => other,
    };
    (written.chars().map(swapped).collect(), length)
}

/// Digits, with a decimal mark or with commas between thousands.
fn numeral(written: &str) -> Option<Token> {
    let groups: Vec<&str> = written.split(',').collect();
    let (first, others) = groups.split_first()?;
    let plain = |digits: &str| digits.bytes().all(|digit| digit.is_ascii_digit());
    if others.is_empty() {
        return match written.split_once('.') {
            Some((before, after)) => Some(Token::Decimal(decimal(before, after)?)),
            None if written.len() <= 6 => {
                Some(Token::Number { value: written.parse().ok()?, digits: written.len() as u32 })
            }
            None => None,
        };
    }
    let (last, after) =
        others.last()?.split_once('.').map_or((*others.last()?, None), |(last, after)| (last, Some(after)));
    let middle = &others[..others.len() - 1];
    let grouped = (1..=3).contains(&first.len())
        && plain(first)
        && !first.starts_with('0')
        && middle.iter().chain([&last]).all(|group| group.len() == 3 && plain(group));
    let joined = || format!("{first}{}{last}", middle.concat());
    match (grouped, after) {
        (true, Some(after)) => Some(Token::Decimal(decimal(&joined(), after)?)),
        (true, None) if middle.is_empty() => {
            Some(Token::Grouped { whole: joined().parse().ok()?, decimal: decimal(first, last)? })
        }
        // A comma as the decimal mark.
        (false, None) if middle.is_empty() => Some(Token::Decimal(decimal(first, last)?)),
        _ => None,
    }
}

fn decimal(before: &str, after: &str) -> Option<Decimal> {
    let digits = format!("{before}{after}");
    let sound = !after.is_empty() && digits.len() <= MOST_DIGITS as usize && digits.bytes().all(|d| d.is_ascii_digit());
    let places = after.len() as u32;
    sound.then(|| Some(Decimal { digits: digits.parse().ok()?, places, bare: before.is_empty() }))?
}
