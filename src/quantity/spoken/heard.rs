//! What an utterance was.

use std::fmt;

use super::super::{ParseError, Quantity};
use super::Command;
use crate::language::{tr, words};

/// What an utterance was.
#[derive(Clone, Debug, PartialEq)]
pub enum Heard {
    /// A command.
    Command(Command),
    /// A number: its readings, likeliest first, never none. More than one is a question to ask.
    Reading(Vec<Quantity>),
    /// Neither; nothing changes.
    Unheard(Unheard),
}

/// Why an utterance is no reading and no command. `Display` is the sentence that the builder reads or hears.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unheard {
    /// Nothing was said.
    Nothing,
    /// More words than one number has.
    TooLong,
    /// A word that belongs to no number and no command.
    Word(String),
    /// Words of numbers that make no number.
    NoNumber,
    /// A fraction of 1 or more after a whole number, 12 inches or more after feet, 60 minutes or more after degrees.
    PartTooLarge,
    /// Refused as the same number is when it is typed: another unit, a fraction on no tape, outside any range.
    Refused(ParseError),
}

impl From<ParseError> for Unheard {
    fn from(why: ParseError) -> Self {
        Self::Refused(why)
    }
}

impl fmt::Display for Unheard {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nothing => f.write_str(words!("Nothing was heard.")),
            Self::TooLong => f.write_str(words!("That was too long for one number. Say the number alone.")),
            Self::Word(word) => {
                f.write_str(&tr!("“{word}” belongs to no number and no command. Say the number alone.", word))
            }
            Self::NoNumber => f.write_str(words!("Those words make no single number. Say it again in one breath.")),
            Self::PartTooLarge => f.write_str(words!(
                "One part is too large: less than a whole after a whole number, less than 12 inches after feet, less than 60 minutes after degrees."
            )),
            Self::Refused(why) => write!(f, "{why}"),
        }
    }
}

impl std::error::Error for Unheard {}
