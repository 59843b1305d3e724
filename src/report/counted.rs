//! A list in a file whose members are counted as they are read, so that a damaged one can be named; and why a file was not read.

use std::fmt;
use std::marker::PhantomData;

use serde::Deserialize;

use crate::record::{MAX_PHOTO, MAX_PROCEDURE, MAX_TEXT};

/// What can be wrong with a member beyond what its type says.
pub(super) trait Sound {
    /// What is wrong, in words.
    fn sound(&self) -> Result<(), &'static str>;
}

/// The members, each sound.
pub(super) struct Counted<T>(pub(super) Vec<T>);

impl<'de, T: Deserialize<'de> + Sound> Deserialize<'de> for Counted<T> {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Counting<T>(PhantomData<T>);
        impl<'de, T: Deserialize<'de> + Sound> serde::de::Visitor<'de> for Counting<T> {
            type Value = Counted<T>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a list")
            }
            fn visit_seq<A: serde::de::SeqAccess<'de>>(self, mut seq: A) -> Result<Counted<T>, A::Error> {
                let mut members = Vec::new();
                loop {
                    let next = seq.next_element::<T>();
                    let next = next.map_err(|error| damaged(members.len() + 1, &error.to_string()))?;
                    let Some(member) = next else { return Ok(Counted(members)) };
                    member.sound().map_err(|why| damaged(members.len() + 1, why))?;
                    members.push(member);
                }
            }
        }
        deserializer.deserialize_seq(Counting(PhantomData))
    }
}

/// The mark between the place of a damaged member and what is wrong with it, inside the parser's error text.
const DAMAGED: char = '\u{1f}';

fn damaged<E: serde::de::Error>(place: usize, why: &str) -> E {
    E::custom(format_args!("{place}{DAMAGED}{why}"))
}

/// Why a file was not read.
pub(super) enum Cause {
    /// It ends in the middle.
    CutShort,
    /// A member, counted from 1, and what is wrong with it.
    Damaged(usize, String),
    /// Anything else, in the parser's words.
    Other(String),
}

impl Cause {
    pub(super) fn of(error: &serde_json::Error) -> Self {
        if error.is_eof() {
            return Self::CutShort;
        }
        let words = error.to_string();
        match words.split_once(DAMAGED).and_then(|(place, why)| Some((place.parse().ok()?, why.to_owned()))) {
            Some((place, why)) => Self::Damaged(place, why),
            None => Self::Other(words),
        }
    }
}

/// The head of a file alone, so that a newer one is told from a damaged one.
#[derive(Deserialize)]
pub(super) struct Claim {
    pub(super) format: String,
    pub(super) version: u32,
}

/// Where a JSON string begins that is longer than its kind may be, if there is one: [`MAX_TEXT`] bytes, for a procedure file as
/// many as its text takes when every byte is escaped, and for a photo as many as base64 takes.
pub(super) fn long_text(text: &str) -> Option<usize> {
    let (mut begin, mut escaped, mut length) = (None, false, 0);
    let longest = |start: usize| match text[..start].trim_end() {
        before if before.ends_with("\"file\":") => 2 * MAX_PROCEDURE,
        before if before.ends_with("\"jpeg\":") => MAX_PHOTO.div_ceil(3) * 4 + 1,
        _ => MAX_TEXT,
    };
    for (place, byte) in text.bytes().enumerate() {
        match (begin, byte) {
            (Some(_), _) if escaped => escaped = false,
            (Some(_), b'\\') => {
                escaped = true;
                length += 1;
            }
            (Some(start), b'"') if length > longest(start) => return Some(start),
            (Some(_), b'"') => begin = None,
            (None, b'"') => (begin, length) = (Some(place), 0),
            (Some(_), _) => length += 1,
            (None, _) => {}
        }
    }
    None
}
