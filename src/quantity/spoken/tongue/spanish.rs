//! Spanish.

use super::super::super::Unit;
use super::super::super::lex::Name;
use super::super::command::Command;
use super::super::token::Token;
use super::{common, named, part};

/// Folded, as everything here.
const NUMBERS: [(&str, u32); 37] = [
    ("cero", 0),
    ("un", 1),
    ("uno", 1),
    ("una", 1),
    ("dos", 2),
    ("tres", 3),
    ("cuatro", 4),
    ("cinco", 5),
    ("seis", 6),
    ("siete", 7),
    ("ocho", 8),
    ("nueve", 9),
    ("diez", 10),
    ("once", 11),
    ("doce", 12),
    ("trece", 13),
    ("catorce", 14),
    ("quince", 15),
    ("dieciseis", 16),
    ("diecisiete", 17),
    ("dieciocho", 18),
    ("diecinueve", 19),
    ("veinte", 20),
    ("veintiun", 21),
    ("veintiuno", 21),
    ("veintiuna", 21),
    ("veintidos", 22),
    ("veintitres", 23),
    ("veinticuatro", 24),
    ("veinticinco", 25),
    ("veintiseis", 26),
    ("veintisiete", 27),
    ("veintiocho", 28),
    ("veintinueve", 29),
    ("quinient", 500),
    ("setecient", 700),
    ("novecient", 900),
];
const TENS: [(&str, u32); 7] = [
    ("treinta", 30),
    ("cuarenta", 40),
    ("cincuenta", 50),
    ("sesenta", 60),
    ("setenta", 70),
    ("ochenta", 80),
    ("noventa", 90),
];
/// Without the ending of number and gender; 1 for a part that no tape has.
const PARTS: [(&str, u32); 11] = [
    ("medi", 2),
    ("mitad", 2),
    ("terci", 1),
    ("cuart", 4),
    ("quint", 1),
    ("sext", 1),
    ("octav", 8),
    ("noven", 1),
    ("decim", 10),
    ("centesim", 100),
    ("milesim", 1000),
];

pub(super) const COMMANDS: [(&str, Command); 46] = [
    ("siguiente", Command::Next),
    ("paso siguiente", Command::Next),
    ("siguiente paso", Command::Next),
    ("continuar", Command::Next),
    ("continua", Command::Next),
    ("adelante", Command::Next),
    ("atras", Command::Back),
    ("volver", Command::Back),
    ("vuelve", Command::Back),
    ("paso atras", Command::Back),
    ("anterior", Command::Back),
    ("paso anterior", Command::Back),
    ("otra vez", Command::Again),
    ("de nuevo", Command::Again),
    ("repetir", Command::Again),
    ("repite", Command::Again),
    ("repite eso", Command::Again),
    ("dilo otra vez", Command::Again),
    ("guardar", Command::Keep),
    ("guarda", Command::Keep),
    ("guardalo", Command::Keep),
    ("guarda eso", Command::Keep),
    ("si guardar", Command::Keep),
    ("si guardalo", Command::Keep),
    ("tachar", Command::Strike),
    ("tacha", Command::Strike),
    ("tachalo", Command::Strike),
    ("tacha eso", Command::Strike),
    ("escuchar", Command::Listen),
    ("escucha", Command::Listen),
    ("pausa", Command::Rest),
    ("descansa", Command::Rest),
    ("dejar de escuchar", Command::Rest),
    ("deja de escuchar", Command::Rest),
    ("no escuches", Command::Rest),
    ("si", Command::Yes),
    ("si es", Command::Yes),
    ("correcto", Command::Yes),
    ("eso es", Command::Yes),
    ("no", Command::No),
    ("mal", Command::No),
    ("no es", Command::No),
    ("eso no es", Command::No),
    ("hecho", Command::Done),
    ("listo", Command::Done),
    ("terminado", Command::Done),
];

/// Whether these letters behind digits make a part of them ("16avos"), and of many.
pub(super) fn part_ending(word: &str) -> Option<bool> {
    match word {
        "avo" | "vo" | "to" | "mo" => Some(false),
        "avos" | "vos" | "tos" | "mos" => Some(true),
        _ => None,
    }
}

pub(super) fn push(word: &str, unit: Unit, tokens: &mut Vec<Token>) -> Option<()> {
    let one = match word {
        "y" | "e" | "i" => Token::And,
        "coma" | "punto" | "con" => Token::Point,
        "menos" | "negativo" | "negativa" => Token::Minus,
        "mas" | "positivo" | "positiva" => Token::Plus,
        "cien" | "ciento" | "cientos" | "cientas" => Token::Hundred,
        "mil" => Token::Thousand,
        // "Once partido por dieciséis" has one line.
        "por" if tokens.last() == Some(&Token::Over) => return Some(()),
        "sobre" | "partido" | "dividido" | "entre" => Token::Over,
        "de" => Token::Of,
        "deca" => Token::Deca,
        "fuerza" => {
            super::lex::push(tokens, Token::Force, false, unit);
            return Some(());
        }
        "avo" | "avos" => return super::part_of_last(word.ends_with('s'), tokens),
        _ => match number(word) {
            Some(value) => Token::number(value),
            None => return part_of(word, tokens).or_else(|| unit_of(word, unit, tokens)),
        },
    };
    tokens.push(one);
    Some(())
}

/// A number in one word: "veintisiete", "doscientas", "treintaisiete".
fn number(word: &str) -> Option<u32> {
    let find =
        |table: &[(&str, u32)], word: &str| table.iter().find(|(name, _)| *name == word).map(|&(_, value)| value);
    if let Some(value) = find(&TENS, word).or_else(|| find(&NUMBERS, word).filter(|&value| value < 100)) {
        return Some(value);
    }
    if let Some(stem) = word.strip_suffix("os").or_else(|| word.strip_suffix("as")) {
        if let Some(hundreds) = find(&NUMBERS, stem).filter(|&value| value >= 100) {
            return Some(hundreds);
        }
        if let Some(hundreds) = stem.strip_suffix("cient") {
            return Some(find(&NUMBERS, hundreds).filter(|value| (2..10).contains(value))? * 100);
        }
    }
    let (tens, ones) = TENS.iter().find_map(|&(name, tens)| Some((tens, word.strip_prefix(name)?)))?;
    let ones = find(&NUMBERS, ones.strip_prefix(['i', 'y'])?).filter(|ones| (1..10).contains(ones))?;
    Some(tens + ones)
}

/// "dieciseisavos", "dosavos" after "treinta y", "octavos", "media".
fn part_of(word: &str, tokens: &mut Vec<Token>) -> Option<()> {
    let (stem, plural) = word.strip_suffix('s').map_or((word, false), |stem| (stem, true));
    if let Some(bottom) = stem.strip_suffix("avo").or_else(|| stem.strip_suffix("ava")).and_then(number) {
        tokens.push(Token::number(bottom));
        return super::part_of_last(plural, tokens);
    }
    let stem = stem.strip_suffix(['o', 'a']).unwrap_or(stem);
    let bottom = PARTS.iter().find(|(name, _)| *name == stem)?.1;
    tokens.push(part(bottom, plural));
    Some(())
}

fn unit_of(word: &str, unit: Unit, tokens: &mut Vec<Token>) -> Option<()> {
    let name = match word.strip_suffix('s').unwrap_or(word) {
        "pulgada" => Name::Unit(Unit::Inch),
        "pie" => Name::Foot,
        "milimetro" => Name::Unit(Unit::Millimetre),
        "metro" => Name::Unit(Unit::Metre),
        "grado" => Name::Unit(Unit::Degree),
        "minuto" => Name::Minute,
        "segundo" => Name::Second,
        "libra" => Name::Unit(Unit::Pound),
        "kilo" | "kilogramo" => Name::Unit(Unit::Kilogram),
        "newtone" | "newtonio" => Name::Unit(Unit::Newton),
        "decanewtone" | "decanewton" => Name::Unit(Unit::Decanewton),
        "litro" => Name::Unit(Unit::Litre),
        "galon" | "galone" => Name::Unit(Unit::Gallon),
        "centigrado" => Name::Unit(Unit::Celsius),
        _ => return common(word, unit, tokens),
    };
    named(name, unit, tokens);
    Some(())
}
