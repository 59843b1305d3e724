//! People: whether two names are one person's, who was named, who is at hand.

use std::fmt;

use super::{Airframe, Body, Person, Role};
use crate::language::{tr, words};

/// Names are compared as people write them: spaces and case aside. A second person at a hold point, and one who reads a number of the
/// specification again, rest on it.
#[must_use]
pub fn same_person(one: &str, two: &str) -> bool {
    let plain =
        |name: &str| name.split_whitespace().collect::<Vec<_>>().join(" ").chars().map(small).collect::<String>();
    plain(one) == plain(two)
}

/// The small letter, in the Latin, Greek and Cyrillic alphabets. The core library's tables for every script would be 7 kB of the
/// download; the test holds this against them.
fn small(letter: char) -> char {
    let code = u32::from(letter);
    let moved = match code {
        0x41..=0x5A | 0xC0..=0xD6 | 0xD8..=0xDE | 0x391..=0x3A1 | 0x3A3..=0x3AB | 0x410..=0x42F => code + 0x20,
        0x100..=0x12F | 0x132..=0x137 | 0x14A..=0x177 => code | 1,
        0x139..=0x148 | 0x179..=0x17E => code + code % 2,
        0x178 => 0xFF,
        0x386 => 0x3AC,
        0x388..=0x38A => code + 0x25,
        0x38C => 0x3CC,
        0x38E | 0x38F => code + 0x3F,
        0x400..=0x40F => code + 0x50,
        _ => code,
    };
    char::from_u32(moved).unwrap_or(letter)
}

/// Why somebody cannot be named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NameError {
    /// There is no name.
    Empty,
    /// They are named already, in this role.
    Known(String),
}

impl fmt::Display for NameError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str(words!("Type a name first.")),
            Self::Known(name) => f.write_str(&tr!("{name} is named already, in this role.", name)),
        }
    }
}

impl Airframe {
    /// Everybody who has a part in it: its builder, unless named, then who was named, in that order.
    #[must_use]
    pub fn everybody(&self) -> Vec<Person> {
        let builder = self.details.builder.trim();
        let named = builder.is_empty() || self.people.iter().any(|known| same_person(&known.name, builder));
        let first = (!named).then(|| Person { name: builder.to_owned(), role: Role::Builder });
        first.into_iter().chain(self.people.iter().cloned()).collect()
    }

    /// The entry that names somebody who signs and is not named yet, as a helper; none where they are.
    #[must_use]
    pub fn naming_once(&self, name: &str) -> Option<Body> {
        let known = self.everybody().iter().any(|known| same_person(&known.name, name));
        if known { None } else { self.naming(name, Role::Helper).ok() }
    }

    /// The entry that names somebody.
    ///
    /// # Errors
    /// Without a name, and when the record says the same already.
    pub fn naming(&self, name: &str, role: Role) -> Result<Body, NameError> {
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        if name.is_empty() {
            return Err(NameError::Empty);
        }
        match self.people.iter().find(|known| same_person(&known.name, &name)) {
            Some(known) if known.role == role => Err(NameError::Known(known.name.clone())),
            // The first spelling stays.
            Some(known) => Ok(Body::PersonNamed { name: known.name.clone(), role }),
            None => Ok(Body::PersonNamed { name, role }),
        }
    }
}

/// Somebody who may be at the phone next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AtHand {
    /// The name.
    pub name: String,
    /// It in two letters: "AB", or "AB2" where another has the same.
    pub short: String,
    /// They are at the phone now.
    pub now: bool,
}

/// The few people between whom the phone changes hands, at most so many: who is at it now, then who works with their hands before
/// who looks on, in the order in which they were named.
#[must_use]
pub fn at_hand(people: &[Person], now: &str, most: usize) -> Vec<AtHand> {
    let rank = |place: usize| (!same_person(&people[place].name, now), people[place].role, place);
    let near = |place: &usize| (0..people.len()).filter(|other| rank(*other) < rank(*place)).count() < most;
    let mut shown: Vec<AtHand> = Vec::new();
    for person in (0..people.len()).filter(near).map(|place| &people[place]) {
        let letters = letters(&person.name);
        let alike = shown.iter().filter(|other| other.short.trim_end_matches(|c: char| c.is_ascii_digit()) == letters);
        let short = match alike.count() {
            0 => letters,
            others => format!("{letters}{}", others + 1),
        };
        shown.push(AtHand { name: person.name.clone(), short, now: same_person(&person.name, now) });
    }
    shown
}

/// The first letters of the first and the last word, or the first two of the only one.
fn letters(name: &str) -> String {
    let mut words = name.split_whitespace();
    let (first, last) = (words.next().unwrap_or_default(), words.next_back());
    match last {
        Some(last) => first.chars().take(1).chain(last.chars().take(1)).collect(),
        None => first.chars().take(2).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the core library (Unicode's own tables), for every letter of the blocks that are covered.
    #[test]
    fn small_letters_are_unicodes() {
        let blocks = (0..0x180).chain(0x386..0x3CF).chain(0x400..0x450);
        for letter in blocks.filter_map(char::from_u32) {
            let mut by_table = letter.to_lowercase();
            // One letter becomes two marks in the tables (dotted capital I): no name is told apart by that.
            if let (Some(one), None) = (by_table.next(), by_table.next()) {
                assert_eq!(small(letter), one, "U+{:04X}", u32::from(letter));
            }
        }
    }

    fn person(name: &str, role: Role) -> Person {
        Person { name: name.to_owned(), role }
    }

    #[test]
    fn who_is_at_the_phone_is_always_among_those_at_hand() {
        let people = [
            person("A. Builder", Role::Builder),
            person("M. Mentor", Role::Mentor),
            person("B. Helper", Role::Helper),
            person("Ada Builder", Role::Helper),
            person("Cleo", Role::Helper),
        ];
        let shown = |now: &str| -> Vec<String> {
            let all = at_hand(&people, now, 3);
            all.into_iter().map(|one| format!("{}{}", one.short, if one.now { "!" } else { "" })).collect()
        };
        assert_eq!(shown("a.  builder"), ["AB!", "BH", "AB2"]);
        assert_eq!(shown("M. Mentor"), ["AB", "MM!", "BH"]);
        assert_eq!(shown("Cleo"), ["AB", "BH", "Cl!"]);
        assert_eq!(shown(""), ["AB", "BH", "AB2"]);
    }
}
