//! Spanish number words, as a workshop says them.
//!
//! They agree with their unit: "doscientas veintiuna pulgadas", "veintiún grados". Before a decimal mark, and without a unit, the
//! number is a number: "veintiuno".

use super::super::Unit;
use super::super::round::Magnitude;
use super::Name;

const ONES: [&str; 30] = [
    "cero",
    "uno",
    "dos",
    "tres",
    "cuatro",
    "cinco",
    "seis",
    "siete",
    "ocho",
    "nueve",
    "diez",
    "once",
    "doce",
    "trece",
    "catorce",
    "quince",
    "dieciséis",
    "diecisiete",
    "dieciocho",
    "diecinueve",
    "veinte",
    "veintiuno",
    "veintidós",
    "veintitrés",
    "veinticuatro",
    "veinticinco",
    "veintiséis",
    "veintisiete",
    "veintiocho",
    "veintinueve",
];
const TENS: [&str; 10] = ["", "", "", "treinta", "cuarenta", "cincuenta", "sesenta", "setenta", "ochenta", "noventa"];
/// Without their gender's ending.
const HUNDREDS: [&str; 10] =
    ["", "", "doscient", "trescient", "cuatrocient", "quinient", "seiscient", "setecient", "ochocient", "novecient"];

/// What a number stands before.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(in super::super) enum Before {
    /// No noun: "veintiuno".
    Nothing,
    /// A masculine noun: "veintiún".
    Masculine,
    /// A feminine noun: "veintiuna", "doscientas".
    Feminine,
}

/// The number with its unit: "doscientas veintisiete pulgadas y once dieciseisavos", "noventa y uno coma tres grados".
pub(in super::super) fn amount(magnitude: &Magnitude, unit: Unit) -> Option<String> {
    let name = name(unit);
    let noun = match name {
        Name { one: "", .. } => Before::Nothing,
        Name { feminine: true, .. } => Before::Feminine,
        _ => Before::Masculine,
    };
    let half = if name.feminine { "media" } else { "medio" };
    let counted = |whole: u64| Some(format!("{} {}", number(whole, noun)?, name.of(whole == 1)));
    Some(match magnitude {
        Magnitude::Fraction { whole, top: 0, .. } => counted(*whole)?,
        Magnitude::Fraction { whole: 0, top: 1, bottom: 2 } => format!("{half} {}", name.one),
        Magnitude::Fraction { whole: 0, top, bottom } => format!("{} de {}", fraction(*top, *bottom)?, name.one),
        Magnitude::Fraction { whole, top: 1, bottom: 2 } => format!("{} y {half}", counted(*whole)?),
        Magnitude::Fraction { whole, top, bottom } => format!("{} y {}", counted(*whole)?, fraction(*top, *bottom)?),
        Magnitude::Decimal { before, after } if after.is_empty() => counted(before.parse().ok()?)?,
        Magnitude::Decimal { before, after } => {
            let decimals = match after.as_bytes() {
                [b'1'..=b'9', _] => number(after.parse().ok()?, noun)?,
                _ => super::one_by_one(after, &ONES),
            };
            format!("{} coma {decimals} {}", number(before.parse().ok()?, Before::Nothing)?, name.many)
        }
    })
}

/// A whole number: "doscientos veintisiete", "mil doscientos cuarenta".
pub(in super::super) fn number(number: u64, before: Before) -> Option<String> {
    match number {
        0..1000 => Some(below_thousand(number, before)),
        1000..1_000_000 => {
            let (thousands, rest) = (number / 1000, number % 1000);
            let mut words = String::new();
            if thousands > 1 {
                let one = if before == Before::Feminine { before } else { Before::Masculine };
                words = below_thousand(thousands, one) + " ";
            }
            words.push_str("mil");
            if rest > 0 {
                words = format!("{words} {}", below_thousand(rest, before));
            }
            Some(words)
        }
        _ => None,
    }
}

fn below_thousand(number: u64, before: Before) -> String {
    let (hundreds, rest) = ((number / 100 % 10) as usize, number % 100);
    let ending = if before == Before::Feminine { "as" } else { "os" };
    let hundred = match (hundreds, rest) {
        (0, _) => return below_hundred(rest, before),
        (1, 0) => "cien".to_owned(),
        (1, _) => "ciento".to_owned(),
        _ => format!("{}{ending}", HUNDREDS[hundreds]),
    };
    if rest == 0 { hundred } else { format!("{hundred} {}", below_hundred(rest, before)) }
}

fn below_hundred(number: u64, before: Before) -> String {
    let (tens, ones) = ((number / 10) as usize, (number % 10) as usize);
    match (number, before) {
        (21, Before::Masculine) => "veintiún".into(),
        (21, Before::Feminine) => "veintiuna".into(),
        (1, _) => one(before).into(),
        (0..30, _) => ONES[number as usize].into(),
        _ if ones == 0 => TENS[tens].into(),
        _ => format!("{} y {}", TENS[tens], if ones == 1 { one(before) } else { ONES[ones] }),
    }
}

const fn one(before: Before) -> &'static str {
    match before {
        Before::Nothing => "uno",
        Before::Masculine => "un",
        Before::Feminine => "una",
    }
}

/// A proper fraction: "once dieciseisavos", "un octavo", "tres cuartos".
fn fraction(top: u64, bottom: u64) -> Option<String> {
    let part = match bottom {
        2 => "medio",
        4 => "cuarto",
        8 => "octavo",
        16 => "dieciseisavo",
        32 => "treintaidosavo",
        _ => "sesentaicuatroavo",
    };
    Some(format!("{} {part}{}", number(top, Before::Masculine)?, if top == 1 { "" } else { "s" }))
}

const fn name(unit: Unit) -> Name {
    match unit {
        Unit::Inch => Name::feminine("pulgada", "pulgadas"),
        Unit::Millimetre => Name::masculine("milímetro", "milímetros"),
        Unit::Metre => Name::masculine("metro", "metros"),
        Unit::Degree => Name::masculine("grado", "grados"),
        Unit::Pound => Name::feminine("libra", "libras"),
        Unit::Kilogram => Name::masculine("kilogramo", "kilogramos"),
        Unit::PoundForce => Name::feminine("libra fuerza", "libras fuerza"),
        Unit::Newton => Name::masculine("newton", "newtons"),
        Unit::Decanewton => Name::masculine("decanewton", "decanewtons"),
        Unit::Celsius => Name::masculine("grado Celsius", "grados Celsius"),
        Unit::Fahrenheit => Name::masculine("grado Fahrenheit", "grados Fahrenheit"),
        Unit::NewtonMetre => Name::masculine("newton metro", "newtons metro"),
        Unit::FootPoundForce => Name::feminine("libra pie", "libras pie"),
        Unit::InchPoundForce => Name::feminine("libra pulgada", "libras pulgada"),
        Unit::Litre => Name::masculine("litro", "litros"),
        Unit::Gallon => Name::masculine("galón", "galones"),
        Unit::One => Name::same(""),
    }
}
