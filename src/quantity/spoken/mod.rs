//! Numbers and commands as they are spoken: from what a recogniser or a dictation keyboard delivers to a typed quantity.
//!
//! It is a grammar over words. What the grammar gives in more than one way is ambiguous, and every way is handed out, likeliest
//! first; the screen reads back and asks. What it does not give is refused in a sentence, and nothing changes.
//!
//! ```text
//! reading  = [minus | plus] body
//! body     = amount [unit [[and] fraction]]          the second fraction after a whole amount: "two inches and a half"
//!          | amount foot [and] amount [inch …]        whole feet, less than 12 inches
//!          | [amount degree [and]] amount minute [[and] amount second]
//! amount   = whole | whole [and] fraction | fraction | [whole] point digits | digits with a point in them
//! whole    = "two hundred [and] twenty seven", "two twenty seven", "two oh five", "twelve hundred forty", "twelve forty",
//!            "five thousand seven hundred eighty", digit by digit "two two seven", digits, and mixtures of them
//! fraction = "a half", "eleven sixteenths", "11/16", "11 16ths", "eleven over sixteen", "two tenths", "five thou", "11 16"
//! ```
//!
//! What was decided, since people do not speak by grammar:
//!
//! - "Two twenty seven" is 227 and nothing else. One number is asked for, so that 2 and 27 are no second reading of it.
//! - "And" joins only what it joins in speech: hundreds to tens, a whole number to a fraction, a unit to a smaller one. "Two and
//!   five" is refused.
//! - A fraction may come without "and": "forty five sixteenths" is 40 5/16, or 45/16, in that order. When both are proper
//!   fractions the fraction alone comes first: "thirty one thirty seconds" is 31/32 before 30 1/32, "twenty five thousandths"
//!   0.025 before 20.005.
//! - A recogniser loses the line of a fraction. After "and", "11 16" is 11/16; elsewhere, on a tool with fractions, "11 16" is 1116
//!   or 11/16, and "two five eight" 258 or 2 5/8. The lost line is believed only of a reduced fraction, and of a half only after
//!   "and".
//! - "Thirty seconds" after a number is thirty-seconds where inches are asked for, and seconds of arc where an angle is.
//! - Fractions from sixteenths on are spoken of inches only; other units have halves, quarters, eighths and decimal parts. A
//!   millimetre or metre takes a binary fraction only with its unit said, as when typed: alone it is inches.
//! - "A foot and a half" is 18 in or 12 1/2 in, in that order. "Four foot two" is 50 in; "one degree thirty five" is refused, because
//!   it may be 1.35°.
//! - "Thirteen" and "thirty", to "nineteen" and "ninety", are mistaken for each other by people and machines. Where either makes
//!   a number, both are readings, what was heard first. One such mistake in a reading is thought of, not two, and none where what
//!   was heard makes no number.
//! - "1,240" is what a recogniser writes for twelve forty: 1240, or 1.24 in that order.
//! - A whole number has no leading zero: "oh six two" may be 0.062. "Oh" alone is no zero.
//! - A pause that was written as a comma or a stop between two words is the end of a number, except after a unit.
//! - "Um" and "er" before and after are skipped; within a number they are not, and words such as "about", "heavy" or "it's" are
//!   refused: a reading is one number, without a hedge.
//! - Another unit than the one asked for is refused and never converted. Pounds and degrees mean the tool in hand.
//! - A command is a whole utterance.
//!
//! German, French and Spanish have the same grammar; only their words (`tongue/`) and how tens are made (`tens.rs`) are their own:
//!
//! - Comma and point of digits are the other way round than in English: "227,6", and "1.240" is 1240 or 1.24 in that order. A blank may
//!   stand between thousands.
//! - "Hundert", "cent" and "cien" alone are one hundred. After metres, "zwei Meter siebenundzwanzig" is 2.27 m; "deux mètres cinq" is
//!   2.05 m or 2.5 m in that order.
//! - German: what is written in one word is taken apart, what was torn apart is put together ("207 und 20" is 227). "Sieben zwanzig" is
//!   720, or 27 whose "und" was swallowed. The order of digits as in 27 and 72 is mistaken in writing and not in hearing; entries that
//!   slipped so are asked about where all entries are.
//! - French: "quatre vingt" is 80 and never 420, "soixante douze" 72 and never 60 and 12. Septante, huitante, octante and nonante are
//!   understood. Treize and seize are mistaken for each other.
//! - Spanish: sesenta and setenta are mistaken for each other, alone and with ones behind. "Con" is a decimal mark, too.
//! - The "and" that joins tens and ones joins a fraction only after that: "treinta y un treintaidosavos" is 31/32 before 30 1/32.
//!
//! The expected value ranks and does nothing else: readings that lie further from it than the nearest one by more than ten steps
//! and a twentieth of it come last.

mod amount;
mod command;
mod decimals;
mod grammar;
mod heard;
mod labels;
mod lex;
mod rank;
mod swap;
pub mod taught;
mod tens;
mod token;
mod tongue;
mod vocabulary;
mod whole;

pub use command::Command;
pub use heard::{Heard, Unheard};
pub use labels::{Place, label, vocabulary};

use super::{ParseError, Quantity, Unit};
use crate::language::{self, Language};
use grammar::Outcome;
use lex::Unlexed;
use token::Token;

/// Longest utterance, in bytes: several times what the longest number takes, and not more than a file keeps of a text.
const LONGEST: usize = 200;
/// Most words of one number.
const MOST_TOKENS: usize = 32;

/// What was said in the language that is spoken, where a number in `unit` off a tool of resolution `step` (in `unit`) is asked for,
/// or a command.
///
/// `expected`, in `unit`, only ranks. Each reading keeps `said` verbatim, so that the digits stated can be told from it.
pub fn hear(said: &str, unit: Unit, step: f64, expected: Option<f64>) -> Heard {
    hear_in(language::current(), said, unit, step, expected)
}

/// The same of what was said in `language`.
pub fn hear_in(language: Language, said: &str, unit: Unit, step: f64, expected: Option<f64>) -> Heard {
    match readings(language, said, (unit, step), expected) {
        Ok(readings) => Heard::Reading(readings),
        // Every command is shorter than the longest number.
        Err(Unheard::TooLong) => Heard::Unheard(Unheard::TooLong),
        Err(unheard) => command::command(language, said).map_or(Heard::Unheard(unheard), Heard::Command),
    }
}

/// The readings, likeliest first; not empty.
fn readings(
    language: Language,
    said: &str,
    (unit, step): (Unit, f64),
    expected: Option<f64>,
) -> Result<Vec<Quantity>, Unheard> {
    if said.len() > LONGEST {
        return Err(Unheard::TooLong);
    }
    let tokens = lex::lex(language, said, unit).map_err(|Unlexed(word)| Unheard::Word(word))?;
    if tokens.is_empty() {
        return Err(Unheard::Nothing);
    }
    if tokens.len() > MOST_TOKENS {
        return Err(Unheard::TooLong);
    }
    if let Some(given) = foreign(&tokens, unit) {
        return Err(ParseError::WrongUnit { asked: unit, given }.into());
    }
    let mut outcome = Outcome::default();
    grammar::read(language, &tokens, (unit, step), 0, &mut outcome);
    // Beside what was heard, never instead of it.
    if !outcome.found.is_empty() {
        for swapped in swap::variants(language, &tokens) {
            grammar::read(language, &swapped, (unit, step), grammar::SWAPPED, &mut outcome);
        }
    }
    let readings = rank::ranked(&outcome.found, said, unit, step, expected);
    if readings.is_empty() { Err(outcome.why(unit)) } else { Ok(readings) }
}

/// A unit that was named and cannot stand in a reading in `unit`.
fn foreign(tokens: &[Token], unit: Unit) -> Option<Unit> {
    let named = tokens.iter().filter_map(|token| if let Token::Name(name) = token { Some(name.unit()) } else { None });
    named.into_iter().find(|&named| !unit.is_meant_by(named))
}
