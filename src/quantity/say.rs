//! A number for the ear.

use super::round::{Magnitude, Rounded, round};
use super::{Unit, print, words};
use crate::language::{self, Language};

/// `value` rounded to `step` (both in `unit`), in words of the language that is spoken: "two twenty-seven and eleven sixteenths
/// inches", "minus two point six degrees", "three sixteenths of an inch". Rounds as [`print()`] does, and says every digit that it
/// shows.
pub fn say(value: f64, unit: Unit, step: f64) -> String {
    say_in(language::current(), value, unit, step)
}

/// The same in the words of `language`: "zweihundertsiebenundzwanzig elf Sechzehntel Zoll", "deux virgule six degrés".
pub fn say_in(language: Language, value: f64, unit: Unit, step: f64) -> String {
    let Rounded { negative, magnitude } = round(value, unit, step);
    let (minus, words) = match language {
        Language::English => ("minus", magnitude_words(&magnitude, unit)),
        Language::German => ("minus", words::german::amount(&magnitude, unit)),
        Language::French => ("moins", words::french::amount(&magnitude, unit)),
        Language::Spanish => ("menos", words::spanish::amount(&magnitude, unit)),
    };
    let Some(words) = words else { return print(value, unit, step) };
    let words = words.trim_end();
    if negative { format!("{minus} {words}") } else { words.to_owned() }
}

/// In English; none when the number is too large to have a name here.
fn magnitude_words(magnitude: &Magnitude, unit: Unit) -> Option<String> {
    Some(match magnitude {
        Magnitude::Fraction { whole, top: 0, .. } => counted(*whole, unit)?,
        Magnitude::Fraction { whole: 0, top: 1, bottom: 2 } => "half an inch".into(),
        Magnitude::Fraction { whole: 0, top, bottom } => format!("{} of an inch", words::fraction(*top, *bottom)),
        Magnitude::Fraction { whole, top, bottom } => {
            format!("{} and {} {}", words::whole(*whole)?, words::fraction(*top, *bottom), unit.plural())
        }
        Magnitude::Decimal { before, after } if after.is_empty() => counted(before.parse().ok()?, unit)?,
        Magnitude::Decimal { before, after } => {
            format!("{} point {} {}", words::whole(before.parse().ok()?)?, words::digits(after), unit.plural())
        }
    })
}

fn counted(number: u64, unit: Unit) -> Option<String> {
    let name = if number == 1 { unit.singular() } else { unit.plural() };
    Some(format!("{} {name}", words::whole(number)?))
}
