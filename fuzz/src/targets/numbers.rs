//! Numbers, spoken and typed.

use trammel::language::Language;
use trammel::procedure::{SpecDraft, rows_of, sheet_items, specify};
use trammel::quantity::{Heard, Key, Pad, Quantity, Unit, aloud, hear_in, parse_in, print_in, say_in};
use trammel::record::Units;

use super::{Room, Told, text};

/// Every unit with a tool of it.
const TOOLS: [(Unit, f64); 20] = [
    (Unit::Inch, 1.0 / 32.0),
    (Unit::Inch, 1.0 / 64.0),
    (Unit::Inch, 0.001),
    (Unit::Inch, 0.0),
    (Unit::Millimetre, 0.5),
    (Unit::Metre, 0.001),
    (Unit::Degree, 0.1),
    (Unit::Degree, 1.0 / 60.0),
    (Unit::Pound, 1.0),
    (Unit::Kilogram, 0.1),
    (Unit::PoundForce, 1.0),
    (Unit::Newton, 1.0),
    (Unit::Decanewton, 1.0),
    (Unit::Celsius, 1.0),
    (Unit::Fahrenheit, 1.0),
    (Unit::NewtonMetre, 0.1),
    (Unit::InchPoundForce, 1.0),
    (Unit::Litre, 0.1),
    (Unit::Gallon, 0.1),
    (Unit::One, 1.0),
];

/// The first byte says in which language a number off which tool is asked for.
fn asked(bytes: &[u8]) -> Option<(Language, (Unit, f64), &[u8])> {
    let (first, rest) = bytes.split_first()?;
    let (language, tool) = (usize::from(first & 3), usize::from(first >> 2) % TOOLS.len());
    Some((Language::ALL[language], TOOLS[tool], rest))
}

/// A number is what can be measured, keeps what was put, and can be shown and said.
fn sound(number: &Quantity, put: &str, language: Language) {
    assert!(number.value.is_finite() && number.step.is_finite());
    assert_eq!(number.text, put);
    let shown = print_in(language, number.value, number.unit, number.step);
    let said = say_in(language, number.value, number.unit, number.step);
    assert!(!shown.is_empty() && !said.is_empty() && !aloud(&shown).is_empty());
}

pub(super) fn spoken(bytes: &[u8], room: Room, told: &mut Told) {
    let Some((language, (unit, step), rest)) = asked(bytes) else { return };
    let said = text(rest);
    let expected = (bytes[0] >= 128).then_some(227.0);
    let heard = room.within(said.len(), || hear_in(language, &said, unit, step, expected));
    told.put(&heard);
    if let Heard::Reading(readings) = heard {
        assert!(!readings.is_empty());
        for number in &readings {
            assert_eq!(number.unit, unit);
            sound(number, &said, language);
        }
    }
}

pub(super) fn typed(bytes: &[u8], room: Room, told: &mut Told) {
    let Some((language, (unit, step), rest)) = asked(bytes) else { return };
    let put = text(rest);
    let read = room.within(put.len(), || parse_in(language, &put, unit, step));
    told.put(&read);
    if let Ok(number) = read {
        sound(&number, &put, language);
    }
    let restored = Pad::restored(&put, unit, step).text();
    assert!(restored.is_empty() || restored == *put || unit == Unit::Inch, "{restored:?}");
    pad(rest, unit, step, told);
    told.put(&rows_of(&put));
    if let Some((number, tolerance)) = put.split_once('~') {
        let draft = SpecDraft { number: number.to_owned(), tolerance: tolerance.to_owned(), words: put.to_string() };
        for item in sheet_items().step_by(7) {
            told.put(&specify(item, &draft, Units::Inches));
        }
    }
}

/// The pad never holds more than a reading has, and what it holds it shows again.
fn pad(keys: &[u8], unit: Unit, step: f64, told: &mut Told) {
    let mut pad = Pad::new(unit, step);
    for key in keys {
        pad.press(match key {
            b'.' | b',' => Key::Point,
            b' ' | b'-' => Key::Gap,
            b'/' => Key::Over,
            b'<' => Key::Back,
            b'!' => Key::Clear,
            b'a'..=b'h' => Key::Eighths(key - b'a'),
            b'p' => Key::Plus(16),
            b'q' => Key::Plus(32),
            b'r' => Key::Plus(64),
            other => Key::Digit(other.wrapping_sub(b'0')),
        });
        let text = pad.text();
        assert!(text.len() <= 32, "{text:?}");
        assert_eq!(Pad::restored(&text, unit, step).text(), text);
    }
    told.put(&pad.text());
    told.put(&pad.quantity(step));
}
