//! French number words, as a workshop in France says them: soixante-dix, quatre-vingts, quatre-vingt-dix.
//!
//! The unit stands between the whole number and its fraction ("deux pouces onze seizièmes"), which keeps the two apart.

use super::super::Unit;
use super::super::round::Magnitude;
use super::Name;

const ONES: [&str; 20] = [
    "zéro", "un", "deux", "trois", "quatre", "cinq", "six", "sept", "huit", "neuf", "dix", "onze", "douze", "treize",
    "quatorze", "quinze", "seize", "dix-sept", "dix-huit", "dix-neuf",
];
const TENS: [&str; 7] = ["", "", "vingt", "trente", "quarante", "cinquante", "soixante"];

/// The number with its unit: "deux cent vingt-sept pouces onze seizièmes", "quatre-vingt-onze virgule trois degrés".
pub(in super::super) fn amount(magnitude: &Magnitude, unit: Unit) -> Option<String> {
    let name = name(unit);
    // What is less than two is one.
    let single = |whole: u64| whole < 2;
    let counted = |whole: u64| Some(format!("{} {}", number(whole, name.feminine)?, name.of(single(whole))));
    Some(match magnitude {
        Magnitude::Fraction { whole, top: 0, .. } => counted(*whole)?,
        Magnitude::Fraction { whole: 0, top: 1, bottom: 2 } => format!("un demi-{}", name.one),
        Magnitude::Fraction { whole: 0, top, bottom } => format!("{} de {}", fraction(*top, *bottom)?, name.one),
        Magnitude::Fraction { whole, top: 1, bottom: 2 } => format!("{} et demi", counted(*whole)?),
        Magnitude::Fraction { whole, top, bottom } => format!("{} {}", counted(*whole)?, fraction(*top, *bottom)?),
        Magnitude::Decimal { before, after } if after.is_empty() => counted(before.parse().ok()?)?,
        Magnitude::Decimal { before, after } => {
            let whole = before.parse().ok()?;
            let decimals = match after.as_bytes() {
                [b'1'..=b'9', _] => number(after.parse().ok()?, false)?,
                _ => super::one_by_one(after, &ONES),
            };
            format!("{} virgule {decimals} {}", number(whole, false)?, name.of(single(whole)))
        }
    })
}

/// A whole number: "deux cent vingt-sept", "mille deux cent quarante".
pub(in super::super) fn number(number: u64, feminine: bool) -> Option<String> {
    match number {
        0..1000 => Some(below_thousand(number, feminine, true)),
        1000..1_000_000 => {
            let (thousands, rest) = (number / 1000, number % 1000);
            let mut words = String::new();
            if thousands > 1 {
                words = below_thousand(thousands, false, false) + " ";
            }
            words.push_str("mille");
            if rest > 0 {
                words = format!("{words} {}", below_thousand(rest, feminine, true));
            }
            Some(words)
        }
        _ => None,
    }
}

/// `last` when no other number follows: then round hundreds and quatre-vingts have their s.
fn below_thousand(number: u64, feminine: bool, last: bool) -> String {
    let (hundreds, rest) = (number / 100, number % 100);
    let hundred = match (hundreds, rest) {
        (0, _) => return below_hundred(number, feminine, last),
        (1, _) => "cent".to_owned(),
        (_, 0) if last => format!("{} cents", ONES[hundreds as usize % 10]),
        _ => format!("{} cent", ONES[hundreds as usize % 10]),
    };
    if rest == 0 { hundred } else { format!("{hundred} {}", below_hundred(rest, feminine, last)) }
}

fn below_hundred(number: u64, feminine: bool, last: bool) -> String {
    let (tens, ones) = ((number / 10) as usize, (number % 10) as usize);
    let one = if feminine { "une" } else { "un" };
    match (tens, ones) {
        (0, 1) => one.into(),
        (0 | 1, _) => ONES[number as usize % 20].into(),
        (2..=6, 0) => TENS[tens].into(),
        (2..=6, 1) => format!("{} et {one}", TENS[tens]),
        (2..=6, _) => format!("{}-{}", TENS[tens], ONES[ones]),
        (7, 1) => "soixante et onze".into(),
        (7, _) => format!("soixante-{}", ONES[10 + ones]),
        (8, 0) => if last { "quatre-vingts" } else { "quatre-vingt" }.into(),
        (8, 1) => format!("quatre-vingt-{one}"),
        (8, _) => format!("quatre-vingt-{}", ONES[ones]),
        _ => format!("quatre-vingt-{}", ONES[10 + ones]),
    }
}

/// A proper fraction: "onze seizièmes", "un huitième", "trois quarts".
fn fraction(top: u64, bottom: u64) -> Option<String> {
    let part = match bottom {
        2 => "demi",
        4 => "quart",
        8 => "huitième",
        16 => "seizième",
        32 => "trente-deuxième",
        _ => "soixante-quatrième",
    };
    Some(format!("{} {part}{}", number(top, false)?, if top == 1 { "" } else { "s" }))
}

const fn name(unit: Unit) -> Name {
    match unit {
        Unit::Inch => Name::masculine("pouce", "pouces"),
        Unit::Millimetre => Name::masculine("millimètre", "millimètres"),
        Unit::Metre => Name::masculine("mètre", "mètres"),
        Unit::Degree => Name::masculine("degré", "degrés"),
        Unit::Pound => Name::feminine("livre", "livres"),
        Unit::Kilogram => Name::masculine("kilogramme", "kilogrammes"),
        Unit::PoundForce => Name::feminine("livre-force", "livres-force"),
        Unit::Newton => Name::masculine("newton", "newtons"),
        Unit::Decanewton => Name::masculine("décanewton", "décanewtons"),
        Unit::Celsius => Name::masculine("degré Celsius", "degrés Celsius"),
        Unit::Fahrenheit => Name::masculine("degré Fahrenheit", "degrés Fahrenheit"),
        Unit::NewtonMetre => Name::masculine("newton-mètre", "newtons-mètres"),
        Unit::FootPoundForce => Name::feminine("livre-pied", "livres-pieds"),
        Unit::InchPoundForce => Name::feminine("livre-pouce", "livres-pouces"),
        Unit::Litre => Name::masculine("litre", "litres"),
        Unit::Gallon => Name::masculine("gallon", "gallons"),
        Unit::One => Name::same(""),
    }
}
