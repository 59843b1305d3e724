//! The words of spoken numbers.

use super::super::lex::{Name, unit_named};
use super::super::{Unit, words};
use super::token::Token;

/// Written otherwise, heard alike, or said on the radio to be told apart.
const HOMOPHONES: [(&str, u32); 11] = [
    ("won", 1),
    ("to", 2),
    ("too", 2),
    ("tree", 3),
    ("for", 4),
    ("fore", 4),
    ("ate", 8),
    ("niner", 9),
    ("nought", 0),
    ("naught", 0),
    ("fourty", 40),
];

const PARTS: [(&str, u32); 8] = [
    ("half", 2),
    ("halve", 2),
    ("quarter", 4),
    ("eighth", 8),
    ("sixteenth", 16),
    ("tenth", 10),
    ("hundredth", 100),
    ("thousandth", 1000),
];

const ODD_PARTS: [&str; 9] =
    ["third", "fifth", "sixth", "seventh", "ninth", "twelfth", "twentieth", "thirtieth", "fiftieth"];

/// The word in small letters, where a number in `unit` is asked for; none when it belongs to no number.
pub(super) fn token(word: &str, unit: Unit) -> Option<Token> {
    Some(match word {
        "a" | "an" => Token::A,
        "and" => Token::And,
        "of" => Token::Of,
        "over" => Token::Over,
        "point" | "decimal" | "dot" => Token::Point,
        "minus" | "negative" => Token::Minus,
        "plus" | "positive" => Token::Plus,
        "oh" | "o" => Token::Oh,
        "hundred" => Token::Hundred,
        "thousand" => Token::Thousand,
        "force" => Token::Force,
        "deca" => Token::Deca,
        "um" | "uh" | "er" | "erm" => Token::Filler,
        "foot" | "feet" | "ft" => Token::Name(Name::Foot),
        "minute" | "minutes" | "min" => Token::Name(Name::Minute),
        "second" | "seconds" | "sec" => Token::Name(Name::Second),
        "thou" if unit == Unit::Inch => Token::Part { bottom: 1000, plural: true },
        // Heard for the parts.
        "eights" => Token::Part { bottom: 8, plural: true },
        "sixteens" => Token::Part { bottom: 16, plural: true },
        _ => return number(word).or_else(|| part(word)).or_else(|| Some(Token::Name(Name::Unit(unit_named(word)?)))),
    })
}

fn number(word: &str) -> Option<Token> {
    let homophone = || HOMOPHONES.iter().find(|(written, _)| *written == word).map(|&(_, value)| value);
    words::number(word).or_else(homophone).map(Token::number)
}

fn part(word: &str) -> Option<Token> {
    let (stem, plural) = word.strip_suffix('s').map_or((word, false), |stem| (stem, true));
    if matches!(stem, "fourth" | "forth") {
        return Some(Token::Fourth { plural });
    }
    if ODD_PARTS.contains(&stem) {
        return Some(Token::OddPart);
    }
    PARTS.iter().find(|(name, _)| *name == stem).map(|&(_, bottom)| Token::Part { bottom, plural })
}

/// The part that digits with this ending are: "16ths", "32nd"; none when the letters are no ending.
pub(super) fn part_of_digits(bottom: u32, ending: &str) -> Option<Token> {
    let plural = match ending {
        "th" | "nd" | "rd" | "st" => false,
        "ths" | "nds" | "rds" => true,
        _ => return None,
    };
    Some(match bottom {
        4 => Token::Fourth { plural },
        2 | 8 | 16 | 32 | 64 | 10 | 100 | 1000 => Token::Part { bottom, plural },
        _ => Token::OddPart,
    })
}
