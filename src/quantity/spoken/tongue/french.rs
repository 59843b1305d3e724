//! French of France, Belgium and Switzerland.

use super::super::super::Unit;
use super::super::super::lex::Name;
use super::super::command::Command;
use super::super::token::Token;
use super::{common, named, part};

/// Folded, as everything here. Some are what recognisers write for the same sound.
const NUMBERS: [(&str, u32); 41] = [
    ("zero", 0),
    ("un", 1),
    ("une", 1),
    ("deux", 2),
    ("trois", 3),
    ("quatre", 4),
    ("cinq", 5),
    ("six", 6),
    ("si", 6),
    ("sept", 7),
    ("cet", 7),
    ("cette", 7),
    ("set", 7),
    ("huit", 8),
    ("neuf", 9),
    ("dix", 10),
    ("dis", 10),
    ("onze", 11),
    ("douze", 12),
    ("treize", 13),
    ("quatorze", 14),
    ("quinze", 15),
    ("seize", 16),
    ("dixsept", 17),
    ("dixhuit", 18),
    ("dixneuf", 19),
    ("vingt", 20),
    ("vingts", 20),
    ("vin", 20),
    ("vain", 20),
    ("trente", 30),
    ("quarante", 40),
    ("cinquante", 50),
    ("soixante", 60),
    ("septante", 70),
    ("huitante", 80),
    ("octante", 80),
    ("quatrevingt", 80),
    ("quatrevingts", 80),
    ("nonante", 90),
    ("neufs", 9),
];

/// Without an s; 1 for a part that no tape has.
const PARTS: [(&str, u32); 25] = [
    ("demi", 2),
    ("demie", 2),
    ("moitie", 2),
    ("tier", 1),
    ("quart", 4),
    ("deuxieme", 2),
    ("troisieme", 1),
    ("quatrieme", 4),
    ("cinquieme", 1),
    ("sixieme", 1),
    ("septieme", 1),
    ("huitieme", 8),
    ("neuvieme", 1),
    ("dixieme", 10),
    ("onzieme", 1),
    ("douzieme", 1),
    ("seizieme", 16),
    ("vingtieme", 1),
    ("trentieme", 1),
    ("trentedeuxieme", 32),
    ("cinquantieme", 1),
    ("soixantequatrieme", 64),
    ("centieme", 100),
    ("millieme", 1000),
    ("quatreieme", 4),
];

pub(super) const COMMANDS: [(&str, Command); 45] = [
    ("suivant", Command::Next),
    ("suivante", Command::Next),
    ("etape suivante", Command::Next),
    ("continuer", Command::Next),
    ("continue", Command::Next),
    ("avancer", Command::Next),
    ("retour", Command::Back),
    ("precedent", Command::Back),
    ("precedente", Command::Back),
    ("etape precedente", Command::Back),
    ("revenir", Command::Back),
    ("encore", Command::Again),
    ("encore une fois", Command::Again),
    ("repeter", Command::Again),
    ("repete", Command::Again),
    ("repetez", Command::Again),
    ("redis", Command::Again),
    ("redire", Command::Again),
    ("garder", Command::Keep),
    ("garde", Command::Keep),
    ("gardez", Command::Keep),
    ("garde le", Command::Keep),
    ("garde la", Command::Keep),
    ("garder ca", Command::Keep),
    ("oui garder", Command::Keep),
    ("rayer", Command::Strike),
    ("raye", Command::Strike),
    ("rayer ca", Command::Strike),
    ("raye ca", Command::Strike),
    ("ecouter", Command::Listen),
    ("ecoute", Command::Listen),
    ("pause", Command::Rest),
    ("ne plus ecouter", Command::Rest),
    ("arrete d ecouter", Command::Rest),
    ("oui", Command::Yes),
    ("c est ca", Command::Yes),
    ("c est juste", Command::Yes),
    ("juste", Command::Yes),
    ("exact", Command::Yes),
    ("non", Command::No),
    ("faux", Command::No),
    ("c est faux", Command::No),
    ("fait", Command::Done),
    ("c est fait", Command::Done),
    ("termine", Command::Done),
];

/// Whether these letters behind digits make a part of them ("16e", "16èmes"), and of many.
pub(super) fn part_ending(word: &str) -> Option<bool> {
    match word {
        "e" | "eme" | "ieme" => Some(false),
        "es" | "emes" | "iemes" => Some(true),
        _ => None,
    }
}

pub(super) fn push(word: &str, unit: Unit, tokens: &mut Vec<Token>) -> Option<()> {
    let one = match word {
        "et" => Token::And,
        "virgule" | "point" => Token::Point,
        "moins" | "negatif" => Token::Minus,
        "plus" | "positif" => Token::Plus,
        "cent" | "cents" | "sans" => Token::Hundred,
        "mille" | "milles" | "mil" => Token::Thousand,
        "sur" => Token::Over,
        "d" | "de" => Token::Of,
        "deca" => Token::Deca,
        "force" => {
            super::lex::push(tokens, Token::Force, false, unit);
            return Some(());
        }
        _ => match NUMBERS.iter().find(|(name, _)| *name == word) {
            Some(&(_, value)) => Token::number(value),
            None => return part_of(word, tokens).or_else(|| unit_of(word, unit, tokens)),
        },
    };
    tokens.push(one);
    Some(())
}

fn part_of(word: &str, tokens: &mut Vec<Token>) -> Option<()> {
    let (stem, plural) = word.strip_suffix('s').map_or((word, false), |stem| (stem, true));
    let &(name, bottom) = PARTS.iter().find(|(name, _)| *name == stem)?;
    let before = tokens.last().and_then(|last| last.value());
    let bottom = match (name, before) {
        ("deuxieme", Some(30)) => {
            tokens.pop();
            32
        }
        ("quatrieme", Some(60)) => {
            tokens.pop();
            64
        }
        _ => bottom,
    };
    tokens.push(part(bottom, plural));
    Some(())
}

fn unit_of(word: &str, unit: Unit, tokens: &mut Vec<Token>) -> Option<()> {
    let name = match word.strip_suffix('s').unwrap_or(word) {
        "pouce" => Name::Unit(Unit::Inch),
        "pied" => Name::Foot,
        "millimetre" => Name::Unit(Unit::Millimetre),
        "metre" => Name::Unit(Unit::Metre),
        "degre" => Name::Unit(Unit::Degree),
        "minute" => Name::Minute,
        "seconde" => Name::Second,
        "livre" => Name::Unit(Unit::Pound),
        "kilo" | "kilogramme" => Name::Unit(Unit::Kilogram),
        "decanewton" => Name::Unit(Unit::Decanewton),
        "newtonmetre" => Name::Unit(Unit::NewtonMetre),
        "centigrade" => Name::Unit(Unit::Celsius),
        _ => return common(word, unit, tokens),
    };
    named(name, unit, tokens);
    Some(())
}
