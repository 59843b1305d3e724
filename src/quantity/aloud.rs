//! A sentence for the ear: the numbers that it shows, put into the words that people say for them.

use super::{Unit, say};
use crate::language::words;

/// Words before which "in" is no inch but a place: "9 in the manual", "1 in front".
const NO_INCH: [&str; 18] = [
    "a", "all", "an", "any", "between", "both", "dem", "den", "der", "each", "every", "front", "its", "line", "one",
    "place", "that", "the",
];

/// Finest fraction of an inch on any tape.
const FINEST: u64 = 64;

/// The sentence with every number that has a unit said in words: "Slide the block aft 3/4 in" becomes "Slide the block aft three quarters of
/// an inch". Zeros at the end of a decimal, which tell the eye how fine it is, are not said. A number without a unit stays as it is: a voice
/// reads those well. A word in large letters, which some voices spell, is written small.
#[must_use]
pub fn aloud(text: &str) -> String {
    let mut said = String::with_capacity(text.len() * 2);
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let starts = said.chars().next_back().is_none_or(|before| !before.is_alphanumeric() && !".,/".contains(before));
        match Shown::at(rest).filter(|_| starts) {
            Some(shown) => {
                said.push_str(&say(shown.value, shown.unit, shown.step));
                rest = &rest[shown.length..];
            }
            None => {
                let shout = if starts { shouted(rest) } else { None };
                if let Some(word) = shout {
                    said.push_str(&word.to_lowercase());
                    rest = &rest[word.len()..];
                    continue;
                }
                match first {
                    '±' => said.push_str(words!("plus or minus")),
                    '\u{a0}' => said.push(' '),
                    _ => said.push(first),
                }
                rest = &rest[first.len_utf8()..];
            }
        }
    }
    said
}

/// A word of four large letters or more at the front of a text.
fn shouted(text: &str) -> Option<&str> {
    let word = text.split(|letter: char| !letter.is_alphanumeric()).next()?;
    (word.chars().count() > 3 && word.chars().all(char::is_uppercase)).then_some(word)
}

/// A number with a unit at the front of a text.
struct Shown {
    value: f64,
    unit: Unit,
    /// To what it is shown, in the unit.
    step: f64,
    /// Its bytes, the unit's among them.
    length: usize,
}

impl Shown {
    fn at(text: &str) -> Option<Self> {
        let minus = ['−', '-'].into_iter().find(|&minus| text.starts_with(minus)).map_or(0, char::len_utf8);
        let (amount, step, digits) = number(&text[minus..])?;
        let after = &text[minus + digits..];
        let gap = after.chars().next().filter(|&space| space == ' ' || space == '\u{a0}').map_or(0, char::len_utf8);
        let (unit, symbol) = unit_at(&after[gap..], gap > 0)?;
        let value = if minus > 0 { -amount } else { amount };
        Some(Self { value, unit, step, length: minus + digits + gap + symbol })
    }
}

/// A number without its sign and unit: its value, its step, its bytes.
fn number(text: &str) -> Option<(f64, f64, usize)> {
    let (whole, length) = digits(text)?;
    let rest = &text[length..];
    if let Some((bottom, more)) = under_the_line(rest) {
        return fraction(0, (whole, bottom), length + more);
    }
    if let Some(spaced) = rest.strip_prefix([' ', '\u{a0}'])
        && let Some((top, first)) = digits(spaced)
        && let Some((bottom, more)) = under_the_line(&spaced[first..])
    {
        let space = rest.len() - spaced.len();
        return fraction(whole, (top, bottom), length + space + first + more);
    }
    let mark = rest.chars().next().filter(|mark| matches!(mark, '.' | ','));
    match mark.and_then(|mark| Some((mark, digits(&rest[mark.len_utf8()..])?))) {
        Some((mark, (_, places))) => {
            let end = length + mark.len_utf8() + places;
            let value = text[..end].replace(',', ".").parse().ok()?;
            let said = text[..end].trim_end_matches('0').len() - (end - places);
            Some((value, 10_f64.powi(-i32::try_from(said).ok()?), end))
        }
        None => Some((whole as f64, 1.0, length)),
    }
}

/// "/16": the number, and the bytes of line and number.
fn under_the_line(text: &str) -> Option<(u64, usize)> {
    let (bottom, length) = digits(text.strip_prefix('/')?)?;
    Some((bottom, 1 + length))
}

fn fraction(whole: u64, (top, bottom): (u64, u64), length: usize) -> Option<(f64, f64, usize)> {
    let sound = bottom.is_power_of_two() && bottom <= FINEST && top < bottom;
    let value = || whole as f64 + top as f64 / bottom as f64;
    sound.then(|| (value(), 1.0 / bottom as f64, length))
}

/// Plain digits at the front: their number and how many they are. No number of an airframe has more than nine.
fn digits(text: &str) -> Option<(u64, usize)> {
    let length = text.bytes().take_while(u8::is_ascii_digit).count();
    if (1..=9).contains(&length) { Some((text[..length].parse().ok()?, length)) } else { None }
}

/// The unit whose symbol stands at the front, and its bytes: the longest that fits and ends there.
fn unit_at(text: &str, spaced: bool) -> Option<(Unit, usize)> {
    let ends = |symbol: &str| !text[symbol.len()..].starts_with(|next: char| next.is_alphanumeric() || next == '·');
    let fits = |unit: &Unit| {
        let symbol = unit.symbol();
        !symbol.is_empty() && (spaced || *unit == Unit::Degree) && text.starts_with(symbol) && ends(symbol)
    };
    let unit = Unit::ALL.into_iter().filter(fits).max_by_key(|unit| unit.symbol().len())?;
    let length = unit.symbol().len();
    let next = text[length..].strip_prefix(' ').and_then(|after| after.split(|c: char| !c.is_alphabetic()).next());
    let place = unit == Unit::Inch && next.is_some_and(|next| NO_INCH.contains(&next));
    (!place).then_some((unit, length))
}

#[cfg(test)]
mod tests {
    use super::super::print;
    use super::*;

    #[test]
    fn numbers_with_a_unit_are_said_and_all_else_stays() {
        let cases = [
            ("227 11/16 in", "two twenty-seven and eleven sixteenths inches"),
            (
                "−2.60° ± 0.20° (page 4-2)",
                "minus two point six degrees plus or minus zero point two degrees (page 4-2)",
            ),
            ("Slide the block aft 3/4 in.", "Slide the block aft three quarters of an inch."),
            ("Slide it aft 1\u{a0}3/4 in.", "Slide it aft one and three quarters inches."),
            ("0 in to 1/8 in", "zero inches to an eighth of an inch"),
            ("at least 5/16 in", "at least five sixteenths of an inch"),
            ("Step 9 of 22", "Step 9 of 22"),
            ("shown as 9 in the manual", "shown as 9 in the manual"),
            ("Stand 1 in front.", "Stand 1 in front."),
            ("a 10 ft bar, 3.5 m long", "a 10 ft bar, three point five metres long"),
            ("25 in·lbf, 12 N·m, 40 lbf", "twenty-five inch pounds, twelve newton metres, forty pounds of force"),
            ("read A5 mm and 1.2.3 mm", "read A5 mm and 1.2.3 mm"),
            ("17/16 in and 3/5 in", "17/16 in and 3/5 in"),
            ("Turn it by 1.5 turns", "Turn it by 1.5 turns"),
            ("read 0.00°, then 3.50 mm", "read zero degrees, then three point five millimetres"),
            ("the LEFT distance, FS 120", "the left distance, FS 120"),
            ("2,6° more", "two point six degrees more"),
            ("", ""),
        ];
        for (shown, said) in cases {
            assert_eq!(aloud(shown), said, "{shown}");
        }
    }

    #[test]
    fn what_is_printed_is_said_as_the_same_number_would_be() {
        for unit in Unit::ALL.into_iter().filter(|unit| *unit != Unit::One) {
            for (value, step) in [(227.6875, 1.0 / 16.0), (12.5, 0.1), (-3.25, 0.01), (1.0, 1.0)] {
                let printed = print(value, unit, step);
                // Said to the digits that are shown, which is the step where no fraction was reduced.
                assert_eq!(aloud(&printed), say(value, unit, step), "{printed}");
            }
        }
    }
}
