//! A typed number cut into its parts.

use super::Unit;
use crate::language::Language;

/// One part of a typed number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Token {
    /// Digits with at most one decimal point: "227", "5.5", ".5", "5.".
    Number(String),
    /// A plus sign.
    Plus,
    /// A minus sign or a hyphen.
    Minus {
        /// No space before or after it, so that it can be a hyphen.
        tight: bool,
    },
    /// The line of a fraction.
    Slash,
    /// A unit, as a word or a mark.
    Name(Name),
}

/// A unit, a part of one, or several of one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Name {
    /// Twelve inches.
    Foot,
    /// A minute of arc.
    Minute,
    /// A second of arc.
    Second,
    /// A unit with a name of its own.
    Unit(Unit),
}

impl Name {
    /// The unit that it belongs to.
    pub(super) const fn unit(self) -> Unit {
        match self {
            Self::Foot => Unit::Inch,
            Self::Minute | Self::Second => Unit::Degree,
            Self::Unit(unit) => unit,
        }
    }

    /// The unit that two names make when one follows the other ("ft lb", "°C"); none when they make none.
    pub(super) const fn joined(self, next: Self) -> Option<Unit> {
        Some(match (self, next) {
            (Self::Foot, Self::Unit(Unit::Pound | Unit::PoundForce)) => Unit::FootPoundForce,
            (Self::Unit(Unit::Inch), Self::Unit(Unit::Pound | Unit::PoundForce)) => Unit::InchPoundForce,
            (Self::Unit(Unit::Newton), Self::Unit(Unit::Metre)) => Unit::NewtonMetre,
            (Self::Unit(Unit::Degree), Self::Unit(scale @ (Unit::Celsius | Unit::Fahrenheit))) => scale,
            _ => return None,
        })
    }
}

/// Cuts `text` up; none when something in it belongs to no number. The marks ' and " are feet and inches, or minutes
/// and seconds when `unit` is an angle. A fraction in one character (½), which phones substitute, is cut in three.
pub(super) fn lex(language: Language, text: &str, unit: Unit) -> Option<Vec<Token>> {
    let (prime, double_prime) =
        if unit == Unit::Degree { (Name::Minute, Name::Second) } else { (Name::Foot, Name::Unit(Unit::Inch)) };
    let mut tokens = Vec::new();
    let mut rest = text;
    let mut spaced = false;
    while let Some(first) = rest.chars().next() {
        let mut length = first.len_utf8();
        let token = match first {
            _ if first.is_whitespace() => {
                spaced = true;
                rest = &rest[length..];
                continue;
            }
            '0'..='9' | '.' | ',' => {
                length = rest.find(|c: char| !matches!(c, '0'..='9' | '.' | ',')).unwrap_or(rest.len());
                Token::Number(number(language, &rest[..length])?)
            }
            '+' => Token::Plus,
            '-' | '‐' | '‑' | '‒' | '–' | '−' => {
                Token::Minus { tight: !spaced && !rest[length..].starts_with(char::is_whitespace) }
            }
            // The dot of a product of units.
            '·' | '⋅' if matches!(tokens.last(), Some(Token::Name(_))) => {
                rest = &rest[length..];
                continue;
            }
            '/' | '⁄' | '∕' => Token::Slash,
            '\'' | '’' | '′' => {
                let second = rest[length..].chars().next().filter(|&c| c == first);
                length += second.map_or(0, char::len_utf8);
                Token::Name(if second.is_some() { double_prime } else { prime })
            }
            '"' | '”' | '″' => Token::Name(double_prime),
            '°' | 'º' => Token::Name(Name::Unit(Unit::Degree)),
            _ if first.is_ascii_alphabetic() => {
                length = rest.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(rest.len());
                let name = name(&rest[..length])?;
                length += usize::from(rest[length..].starts_with('.'));
                Token::Name(name)
            }
            _ => {
                let (top, bottom) = single_character_fraction(first)?;
                tokens.extend([Token::Number(top.into()), Token::Slash]);
                Token::Number(bottom.into())
            }
        };
        push(&mut tokens, token);
        spaced = false;
        rest = &rest[length..];
    }
    Some(tokens)
}

/// Adds a token. A unit that follows another, with a hyphen between or not, may make one with it.
fn push(tokens: &mut Vec<Token>, token: Token) {
    if let Token::Name(next) = token {
        let joined = match tokens[..] {
            [.., Token::Name(name), Token::Minus { tight: true }] => name.joined(next).map(|unit| (2, unit)),
            [.., Token::Name(name)] => name.joined(next).map(|unit| (1, unit)),
            _ => None,
        };
        if let Some((parts, unit)) = joined {
            tokens.truncate(tokens.len() - parts);
            tokens.push(Token::Name(Name::Unit(unit)));
            return;
        }
    }
    tokens.push(token);
}

/// Digits with the decimal mark made a point; none for anything with two marks, or in English a comma that may part thousands
/// ("1,235"). Where the comma is the decimal mark, a point is one too: the pad and the record write it, and nobody parts thousands in
/// a reading.
fn number(language: Language, written: &str) -> Option<String> {
    let mark = written.find(['.', ',']);
    let Some(at) = mark else { return Some(written.into()) };
    let (before, after) = (&written[..at], &written[at + 1..]);
    let comma = language == Language::English && written[at..].starts_with(',');
    let may_part_thousands = comma && after.len() == 3 && before.bytes().any(|digit| digit != b'0');
    let plain = !after.contains(['.', ',']);
    (plain && !may_part_thousands).then(|| format!("{before}.{after}"))
}

fn name(word: &str) -> Option<Name> {
    Some(match word.to_ascii_lowercase().as_str() {
        "ft" | "foot" | "feet" => Name::Foot,
        "min" | "minute" | "minutes" => Name::Minute,
        "sec" | "second" | "seconds" => Name::Second,
        word => Name::Unit(unit_named(word)?),
    })
}

/// The unit with this name or symbol, in small letters.
pub(super) fn unit_named(word: &str) -> Option<Unit> {
    Some(match word {
        "in" | "inch" | "inches" => Unit::Inch,
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Unit::Millimetre,
        "m" | "metre" | "metres" | "meter" | "meters" => Unit::Metre,
        "deg" | "degree" | "degrees" => Unit::Degree,
        "lb" | "lbs" | "pound" | "pounds" => Unit::Pound,
        "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" => Unit::Kilogram,
        "lbf" => Unit::PoundForce,
        "n" | "newton" | "newtons" => Unit::Newton,
        "dan" | "decanewton" | "decanewtons" => Unit::Decanewton,
        "c" | "celsius" | "centigrade" => Unit::Celsius,
        "f" | "fahrenheit" => Unit::Fahrenheit,
        "nm" => Unit::NewtonMetre,
        "l" | "litre" | "litres" | "liter" | "liters" => Unit::Litre,
        "gal" | "gallon" | "gallons" => Unit::Gallon,
        _ => return None,
    })
}

pub(super) fn single_character_fraction(character: char) -> Option<(&'static str, &'static str)> {
    Some(match character {
        '½' => ("1", "2"),
        '¼' => ("1", "4"),
        '¾' => ("3", "4"),
        '⅛' => ("1", "8"),
        '⅜' => ("3", "8"),
        '⅝' => ("5", "8"),
        '⅞' => ("7", "8"),
        _ => return None,
    })
}
