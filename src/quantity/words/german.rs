//! German number words, as a workshop says them.
//!
//! A whole number is one word, the ones before the tens. "Ein" stands before hundred and thousand, which people leave out in a
//! quiet room and say where it is loud.

use super::super::Unit;
use super::super::round::Magnitude;
use super::Name;

const ONES: [&str; 20] = [
    "null",
    "eins",
    "zwei",
    "drei",
    "vier",
    "fünf",
    "sechs",
    "sieben",
    "acht",
    "neun",
    "zehn",
    "elf",
    "zwölf",
    "dreizehn",
    "vierzehn",
    "fünfzehn",
    "sechzehn",
    "siebzehn",
    "achtzehn",
    "neunzehn",
];
const TENS: [&str; 10] =
    ["", "", "zwanzig", "dreißig", "vierzig", "fünfzig", "sechzig", "siebzig", "achtzig", "neunzig"];

/// Up to this whole number a half is said in one word with it: "zweieinhalb".
const MOST_BEFORE_HALF: u64 = 12;

/// The number with its unit: "zweihundertsiebenundzwanzig elf Sechzehntel Zoll", "einundneunzig Komma drei Grad".
pub(in super::super) fn amount(magnitude: &Magnitude, unit: Unit) -> Option<String> {
    let name = name(unit);
    Some(match magnitude {
        Magnitude::Fraction { whole, top: 0, .. } => counted(*whole, &name)?,
        Magnitude::Fraction { whole: 0, top: 1, bottom: 2 } => format!("ein halber {}", name.one),
        Magnitude::Fraction { whole, top: 1, bottom: 2 } => {
            let gap = if *whole > MOST_BEFORE_HALF { " " } else { "" };
            format!("{}{gap}einhalb {}", number(*whole, "ein")?, name.many)
        }
        Magnitude::Fraction { whole: 0, top, bottom } => format!("{} {}", fraction(*top, *bottom)?, name.many),
        Magnitude::Fraction { whole, top, bottom } => {
            format!("{} {} {}", number(*whole, "eins")?, fraction(*top, *bottom)?, name.many)
        }
        Magnitude::Decimal { before, after } if after.is_empty() => counted(before.parse().ok()?, &name)?,
        Magnitude::Decimal { before, after } => {
            let whole = number(before.parse().ok()?, "eins")?;
            format!("{whole} Komma {} {}", super::one_by_one(after, &ONES), name.many)
        }
    })
}

fn counted(count: u64, name: &Name) -> Option<String> {
    let one = match name {
        Name { one: "", .. } => "eins",
        Name { feminine: true, .. } => "eine",
        _ => "ein",
    };
    Some(format!("{} {}", number(count, one)?, name.of(count == 1)))
}

/// A whole number in one word; `one` is its last part when that is a one.
pub(in super::super) fn number(number: u64, one: &str) -> Option<String> {
    match number {
        0..1000 => Some(below_thousand(number, one)),
        1000..1_000_000 => {
            let (thousands, rest) = (below_thousand(number / 1000, "ein"), number % 1000);
            let rest = if rest == 0 { String::new() } else { below_thousand(rest, one) };
            Some(format!("{thousands}tausend{rest}"))
        }
        _ => None,
    }
}

fn below_thousand(number: u64, one: &str) -> String {
    let (hundreds, rest) = (number / 100, number % 100);
    let rest_words = if rest == 0 && hundreds > 0 { String::new() } else { below_hundred(rest, one) };
    if hundreds == 0 { rest_words } else { format!("{}hundert{rest_words}", below_hundred(hundreds, "ein")) }
}

fn below_hundred(number: u64, one: &str) -> String {
    let (tens, ones) = ((number / 10 % 10) as usize, (number % 10) as usize);
    match (tens, ones) {
        (0, 1) => one.into(),
        (0 | 1, _) => ONES[tens * 10 + ones].into(),
        (_, 0) => TENS[tens].into(),
        (_, 1) => format!("einund{}", TENS[tens]),
        _ => format!("{}und{}", ONES[ones], TENS[tens]),
    }
}

/// A proper fraction: "elf Sechzehntel", "ein Achtel".
fn fraction(top: u64, bottom: u64) -> Option<String> {
    let part = match bottom {
        2 => "Halbe",
        4 => "Viertel",
        8 => "Achtel",
        16 => "Sechzehntel",
        32 => "Zweiunddreißigstel",
        _ => "Vierundsechzigstel",
    };
    Some(format!("{} {part}", number(top, "ein")?))
}

const fn name(unit: Unit) -> Name {
    match unit {
        Unit::Inch => Name::same("Zoll"),
        Unit::Millimetre => Name::same("Millimeter"),
        Unit::Metre => Name::same("Meter"),
        Unit::Degree => Name::same("Grad"),
        Unit::Pound => Name::same("Pfund"),
        Unit::Kilogram => Name::same("Kilogramm"),
        Unit::PoundForce => Name::same("Pfund Kraft"),
        Unit::Newton => Name::same("Newton"),
        Unit::Decanewton => Name::same("Dekanewton"),
        Unit::Celsius => Name::same("Grad Celsius"),
        Unit::Fahrenheit => Name::same("Grad Fahrenheit"),
        Unit::NewtonMetre => Name::same("Newtonmeter"),
        Unit::FootPoundForce => Name::same("Fuß-Pfund"),
        Unit::InchPoundForce => Name::same("Zoll-Pfund"),
        Unit::Litre => Name::same("Liter"),
        Unit::Gallon => Name { one: "Gallone", many: "Gallonen", feminine: true },
        Unit::One => Name::same(""),
    }
}
