//! German. What is written in one word is taken apart: "zweihundertsiebenundzwanzig", "zweieinhalb", "dreiviertel", "elfsechzehntel".

use super::super::super::Unit;
use super::super::super::lex::Name;
use super::super::command::Command;
use super::super::token::Token;
use super::{common, named, part};

/// Folded, as everything here.
const ONES: [(&str, u32); 28] = [
    ("null", 0),
    ("ein", 1),
    ("eine", 1),
    ("einem", 1),
    ("einen", 1),
    ("einer", 1),
    ("eines", 1),
    ("eins", 1),
    ("zwei", 2),
    ("zwo", 2),
    ("drei", 3),
    ("vier", 4),
    ("funf", 5),
    ("sechs", 6),
    ("sieben", 7),
    ("acht", 8),
    ("neun", 9),
    ("zehn", 10),
    ("elf", 11),
    ("zwolf", 12),
    ("dreizehn", 13),
    ("vierzehn", 14),
    ("funfzehn", 15),
    ("fuffzehn", 15),
    ("sechzehn", 16),
    ("siebzehn", 17),
    ("achtzehn", 18),
    ("neunzehn", 19),
];
const TENS: [(&str, u32); 9] = [
    ("zwanzig", 20),
    ("dreissig", 30),
    ("vierzig", 40),
    ("funfzig", 50),
    ("fuffzig", 50),
    ("sechzig", 60),
    ("siebzig", 70),
    ("achtzig", 80),
    ("neunzig", 90),
];
/// Ends of a fraction, the longer ones first; 1 for a part that no tape has.
const PARTS: [(&str, u32); 26] = [
    ("zweiunddreissigstel", 32),
    ("vierundsechzigstel", 64),
    ("dreissigstel", 30),
    ("sechzigstel", 60),
    ("hundertstel", 100),
    ("tausendstel", 1000),
    ("sechzehntel", 16),
    ("zwanzigstel", 1),
    ("siebentel", 1),
    ("zwolftel", 1),
    ("funftel", 1),
    ("sechstel", 1),
    ("siebtel", 1),
    ("neuntel", 1),
    ("zehntel", 10),
    ("drittel", 1),
    ("viertel", 4),
    ("achtel", 8),
    ("halfte", 2),
    ("halber", 2),
    ("halbes", 2),
    ("halben", 2),
    ("halbem", 2),
    ("halbe", 2),
    ("halb", 2),
    ("elftel", 1),
];

/// Units that end a word: "Zehntelgrad".
const UNITS: [(&str, Name); 15] = [
    ("zoll", Name::Unit(Unit::Inch)),
    ("zolle", Name::Unit(Unit::Inch)),
    ("zolls", Name::Unit(Unit::Inch)),
    ("newtonmeter", Name::Unit(Unit::NewtonMetre)),
    ("millimeter", Name::Unit(Unit::Millimetre)),
    ("millimetern", Name::Unit(Unit::Millimetre)),
    ("meter", Name::Unit(Unit::Metre)),
    ("metern", Name::Unit(Unit::Metre)),
    ("grad", Name::Unit(Unit::Degree)),
    ("fuss", Name::Foot),
    ("pfund", Name::Unit(Unit::Pound)),
    ("kilo", Name::Unit(Unit::Kilogram)),
    ("kilogramm", Name::Unit(Unit::Kilogram)),
    ("dekanewton", Name::Unit(Unit::Decanewton)),
    ("newton", Name::Unit(Unit::Newton)),
];

pub(super) const COMMANDS: [(&str, Command); 48] = [
    ("weiter", Command::Next),
    ("nachster schritt", Command::Next),
    ("nachster", Command::Next),
    ("nachste", Command::Next),
    ("vorwarts", Command::Next),
    ("zuruck", Command::Back),
    ("schritt zuruck", Command::Back),
    ("einen schritt zuruck", Command::Back),
    ("voriger schritt", Command::Back),
    ("geh zuruck", Command::Back),
    ("noch mal", Command::Again),
    ("nochmal", Command::Again),
    ("noch einmal", Command::Again),
    ("nocheinmal", Command::Again),
    ("wiederholen", Command::Again),
    ("wiederhole", Command::Again),
    ("sag das noch mal", Command::Again),
    ("sag das nochmal", Command::Again),
    ("sag das noch einmal", Command::Again),
    ("behalten", Command::Keep),
    ("behalte", Command::Keep),
    ("behalt es", Command::Keep),
    ("behalte es", Command::Keep),
    ("behalte das", Command::Keep),
    ("ja behalten", Command::Keep),
    ("ubernehmen", Command::Keep),
    ("ja ubernehmen", Command::Keep),
    ("streichen", Command::Strike),
    ("streich das", Command::Strike),
    ("streiche das", Command::Strike),
    ("das streichen", Command::Strike),
    ("hor zu", Command::Listen),
    ("zuhoren", Command::Listen),
    ("pause", Command::Rest),
    ("hor auf", Command::Rest),
    ("nicht mehr zuhoren", Command::Rest),
    ("ja", Command::Yes),
    ("ja richtig", Command::Yes),
    ("stimmt", Command::Yes),
    ("das stimmt", Command::Yes),
    ("richtig", Command::Yes),
    ("nein", Command::No),
    ("falsch", Command::No),
    ("das ist falsch", Command::No),
    ("stimmt nicht", Command::No),
    ("das stimmt nicht", Command::No),
    ("fertig", Command::Done),
    ("erledigt", Command::Done),
];

/// Whether these letters behind digits make a part of them ("16tel"), and of many.
pub(super) fn part_ending(word: &str) -> Option<bool> {
    matches!(word, "tel" | "stel" | "el").then_some(true)
}

pub(super) fn push(word: &str, unit: Unit, tokens: &mut Vec<Token>) -> Option<()> {
    let word = &word.replace("fuenf", "funf").replace("zwoelf", "zwolf").replace("ueber", "uber");
    let one = match word.as_str() {
        "und" => Token::And,
        "komma" | "punkt" | "beistrich" => Token::Point,
        "minus" | "negativ" => Token::Minus,
        "plus" | "positiv" => Token::Plus,
        "hundert" => Token::Hundred,
        "tausend" => Token::Thousand,
        "durch" | "uber" => Token::Over,
        "eines" | "vom" | "von" => Token::Of,
        "kraft" => {
            super::lex::push(tokens, Token::Force, false, unit);
            return Some(());
        }
        "deka" => Token::Deca,
        "tel" | "stel" => return super::part_of_last(true, tokens),
        _ => {
            return unit_of(word, unit, tokens)
                .or_else(|| compound(word, unit, tokens))
                .or_else(|| common(word, unit, tokens));
        }
    };
    tokens.push(one);
    Some(())
}

fn unit_of(word: &str, unit: Unit, tokens: &mut Vec<Token>) -> Option<()> {
    let name = match word {
        "bogenminute" | "bogenminuten" | "minute" | "minuten" => Name::Minute,
        "bogensekunde" | "bogensekunden" | "sekunde" | "sekunden" => Name::Second,
        "fusse" => Name::Foot,
        "fusspfund" => Name::Unit(Unit::FootPoundForce),
        "zollpfund" => Name::Unit(Unit::InchPoundForce),
        "gallone" | "gallonen" => Name::Unit(Unit::Gallon),
        _ => UNITS.iter().find(|(name, _)| *name == word)?.1,
    };
    named(name, unit, tokens);
    Some(())
}

/// A number, a fraction, or a beginning or an end of one that a recogniser cut off; a unit may be its end.
fn compound(word: &str, unit: Unit, tokens: &mut Vec<Token>) -> Option<()> {
    if let Some(value) = number(word) {
        // So that "zwei hundertzwanzig" is 220.
        if let Some(rest) = word.strip_prefix("hundert") {
            tokens.extend([Token::Hundred, Token::number(number(rest.strip_prefix("und").unwrap_or(rest))?)]);
        } else {
            tokens.push(Token::number(value));
        }
        return Some(());
    }
    if fraction(word, tokens).is_some() {
        return Some(());
    }
    if let Some(before) = word.strip_suffix("und").filter(|before| !before.is_empty()) {
        tokens.extend([Token::number(number(before)?), Token::And]);
        return Some(());
    }
    if let Some(after) = word.strip_prefix("und").filter(|after| !after.is_empty()) {
        tokens.push(Token::And);
        return compound(after, unit, tokens);
    }
    let (before, name) = UNITS.iter().find_map(|&(name, unit)| Some((word.strip_suffix(name)?, unit)))?;
    fraction(before, tokens)?;
    named(name, unit, tokens);
    Some(())
}

/// "dreiviertel", "zweieinhalb", "anderthalb", "Sechzehntel".
fn fraction(word: &str, tokens: &mut Vec<Token>) -> Option<()> {
    let (before, bottom) = PARTS.iter().find_map(|&(end, bottom)| Some((word.strip_suffix(end)?, bottom)))?;
    // "elf zwei und dreißigstel"
    let bottom = match (bottom, &tokens[..]) {
        (30, [.., ones, Token::And]) if before.is_empty() && ones.value() == Some(2) => {
            tokens.truncate(tokens.len() - 2);
            32
        }
        (60, [.., ones, Token::And]) if before.is_empty() && ones.value() == Some(4) => {
            tokens.truncate(tokens.len() - 2);
            64
        }
        _ => bottom,
    };
    let part = part(bottom, false);
    if before.is_empty() {
        tokens.push(part);
        return Some(());
    }
    if before == "andert" {
        tokens.extend([1, 1].map(Token::number));
        tokens.insert(tokens.len() - 1, Token::And);
        tokens.push(part);
        return Some(());
    }
    if let Some(top) = number(before).filter(|&top| top < bottom || bottom == 1) {
        tokens.extend([Token::number(top), part]);
        return Some(());
    }
    let (whole, top) = (1..before.len()).filter(|&at| before.is_char_boundary(at)).find_map(|at| {
        let (whole, top) = before.split_at(at);
        Some((number(whole)?, number(top.strip_prefix("und").unwrap_or(top))?))
    })?;
    tokens.extend([Token::number(whole), Token::And, Token::number(top), part]);
    Some(())
}

/// A number in one word.
fn number(word: &str) -> Option<u32> {
    let rest = |after: &str, numbers: fn(&str) -> Option<u32>| {
        if after.is_empty() { Some(0) } else { numbers(after.strip_prefix("und").unwrap_or(after)) }
    };
    match word.split_once("tausend") {
        Some((before, after)) => {
            let thousands = if before.is_empty() { 1 } else { below_thousand(before)? };
            Some(thousands * 1000 + rest(after, below_thousand)?)
        }
        None => below_thousand(word),
    }
    .filter(|&value| value < 1_000_000 && !word.is_empty())
}

fn below_thousand(word: &str) -> Option<u32> {
    let Some((before, after)) = word.split_once("hundert") else { return below_hundred(word) };
    let hundreds = if before.is_empty() { 1 } else { below_hundred(before)? };
    let rest = if after.is_empty() { 0 } else { below_hundred(after.strip_prefix("und").unwrap_or(after))? };
    Some(hundreds * 100 + rest)
}

fn below_hundred(word: &str) -> Option<u32> {
    let find =
        |table: &[(&str, u32)], word: &str| table.iter().find(|(name, _)| *name == word).map(|&(_, value)| value);
    if let Some(value) = find(&ONES, word).or_else(|| find(&TENS, word)) {
        return Some(value);
    }
    let (ones, tens) = word.split_once("und")?;
    let ones = find(&ONES, ones).filter(|ones| (1..10).contains(ones))?;
    Some(find(&TENS, tens)? + ones)
}
