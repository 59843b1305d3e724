//! The words of spoken numbers and the commands in German, French and Spanish.
//!
//! Accents, capitals and the ß mean nothing: recognisers and keyboards leave them out. Every module pushes the tokens of one word,
//! joined with what stands before it where the two are one.

mod french;
mod german;
mod spanish;

use super::super::Unit;
use super::super::lex::{Name, unit_named};
use super::command::Command;
use super::token::Token;
use super::{lex, vocabulary};
use crate::language::Language;

/// The word without accents and in small letters.
pub(super) fn folded(word: &str) -> String {
    let mut folded = String::with_capacity(word.len());
    for letter in word.chars().flat_map(char::to_lowercase) {
        let plain = match letter {
            'à' | 'á' | 'â' | 'ä' => 'a',
            'ç' => 'c',
            'è' | 'é' | 'ê' | 'ë' => 'e',
            'ì' | 'í' | 'î' | 'ï' => 'i',
            'ñ' => 'n',
            'ò' | 'ó' | 'ô' | 'ö' => 'o',
            'ù' | 'ú' | 'û' | 'ü' => 'u',
            'ß' => {
                folded.push_str("ss");
                continue;
            }
            mark if is_accent(mark) => continue,
            letter => letter,
        };
        folded.push(plain);
    }
    folded
}

/// An accent that stands apart from its letter.
pub(super) const fn is_accent(character: char) -> bool {
    matches!(character, '\u{300}'..='\u{36f}')
}

/// Adds the tokens of a folded word; none when it belongs to no number. `touches` when nothing stands between it and the digits before.
pub(super) fn push(language: Language, word: &str, touches: bool, unit: Unit, tokens: &mut Vec<Token>) -> Option<()> {
    if touches && matches!(tokens.last(), Some(Token::Number { .. })) {
        let ending = match language {
            Language::German => german::part_ending(word),
            Language::French => french::part_ending(word),
            _ => spanish::part_ending(word),
        };
        if let Some(plural) = ending {
            return part_of_last(plural, tokens);
        }
    }
    match language {
        Language::German => german::push(word, unit, tokens),
        Language::French => french::push(word, unit, tokens),
        _ => spanish::push(word, unit, tokens),
    }
}

/// The command that folded words are.
pub(super) fn command(language: Language, phrase: &str) -> Option<Command> {
    let commands: &[(&str, Command)] = match language {
        Language::English => return None,
        Language::German => &german::COMMANDS,
        Language::French => &french::COMMANDS,
        Language::Spanish => &spanish::COMMANDS,
    };
    commands.iter().find(|(spoken, _)| *spoken == phrase).map(|&(_, command)| command)
}

/// Whether a folded word is none.
pub(super) fn is_filler(word: &str) -> bool {
    matches!(word, "ah" | "ahm" | "eh" | "em" | "euh" | "heu" | "hm" | "hum" | "mm" | "mmm" | "oh" | "um")
}

/// Words that every language here has, and what it takes over: symbols.
fn common(word: &str, unit: Unit, tokens: &mut Vec<Token>) -> Option<()> {
    if is_filler(word) {
        tokens.push(Token::Filler);
        return Some(());
    }
    let name = match word {
        "ft" => Name::Foot,
        "min" => Name::Minute,
        "sec" => Name::Second,
        _ => Name::Unit(unit_named(word)?),
    };
    named(name, unit, tokens);
    Some(())
}

/// Adds a unit, joined with the one before it ("newton mètre").
fn named(name: Name, unit: Unit, tokens: &mut Vec<Token>) {
    if name == Name::Second {
        // No thirty-seconds of an inch.
        return tokens.push(Token::Name(name));
    }
    lex::push(tokens, Token::Name(name), false, unit);
}

/// What stands at the end of a row of tokens as one number, taken away from them: "treinta y dos".
fn taken(tokens: &mut Vec<Token>) -> Option<u32> {
    let (value, length) = match tokens[..] {
        [.., tens, Token::And, ones] if matches!((tens.value(), ones.one_to_nine()), (Some(30 | 60), Some(_))) => {
            (tens.value()? + ones.value()?, 3)
        }
        [.., tens, ones] if matches!((tens.value(), ones.one_to_nine()), (Some(30 | 60), Some(_))) => {
            (tens.value()? + ones.value()?, 2)
        }
        [.., number] => (number.value()?, 1),
        [] => return None,
    };
    tokens.truncate(tokens.len() - length);
    Some(value)
}

/// Makes a part of the number that stands last: "16" and "tel".
fn part_of_last(plural: bool, tokens: &mut Vec<Token>) -> Option<()> {
    let bottom = taken(tokens)?;
    tokens.push(part(bottom, plural));
    Some(())
}

/// The part of which `bottom` make one.
fn part(bottom: u32, plural: bool) -> Token {
    let ending = if plural { "ths" } else { "th" };
    match vocabulary::part_of_digits(bottom, ending) {
        Some(Token::Fourth { plural }) => Token::Part { bottom: 4, plural },
        Some(part) => part,
        None => Token::OddPart,
    }
}
