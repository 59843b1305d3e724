//! Languages: which one is spoken, and the one catalogue that every sentence goes through.
//!
//! English stands in the code; it is the key under which another language's catalogue holds its own words (GNU gettext's way, by the
//! `tr` crate). A catalogue is read once, before the first sentence is made; without one, everything is English.
//!
//! - `tr!("… {name} …", name)` is a sentence with something in it.
//! - `words!("…")` is a sentence or a word without.
//! - In the app, a literal that is put on a page is looked up there (`app::pen`), and nothing else has to be written.

mod catalogue;

use std::borrow::Cow;
use std::collections::HashSet;
use std::fmt;
use std::sync::{Mutex, OnceLock};

pub use catalogue::{Catalogue, CatalogueError};

/// A sentence with something in it, in the language that is spoken: `tr!("… {name} …", name)`, `tr!("… {what}", what = value)`, and where a
/// number decides, `tr!("one thing" | "{n} things" % n)`. It reads as the macro of the `tr` crate does; that one makes a copy of its
/// machinery at each of a thousand sentences, this one calls it in one place.
macro_rules! tr {
    ($one:literal | $many:literal % $n:expr $(, $($with:tt)*)?) => {{
        let n = $n;
        $crate::language::counted($one, $many, n as u64, tr::runtime_format!(@parse_args [] $($($with)*,)? n = n))
    }};
    ($english:literal) => {
        $crate::language::sentence($english, &[])
    };
    ($english:literal, $($with:tt)*) => {
        $crate::language::sentence($english, tr::runtime_format!(@parse_args [] $($with)*))
    };
}

pub(crate) use tr;

/// Words of ours, without anything in them, in the language that is spoken: a `&'static str` like the literal itself.
macro_rules! words {
    ($english:literal) => {
        $crate::language::ours($english)
    };
}

pub(crate) use words;

/// For tables that a compiler makes: `words!` of this module marks the words as the catalogue's and leaves them English; who hands
/// them out looks them up with [`ours`].
pub(crate) mod later {
    macro_rules! words {
        ($english:literal) => {
            $english
        };
    }
    pub(crate) use words;
}

/// A language that the app speaks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Language {
    /// As it stands in the code.
    #[default]
    English,
    /// German.
    German,
    /// French.
    French,
    /// Spanish.
    Spanish,
}

impl Language {
    /// Every language, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::English, Self::German, Self::French, Self::Spanish];

    /// Its subtag of RFC 5646.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
            Self::French => "fr",
            Self::Spanish => "es",
        }
    }

    /// What it calls itself.
    #[must_use]
    pub const fn own_name(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::German => "Deutsch",
            Self::French => "Français",
            Self::Spanish => "Español",
        }
    }

    /// The language of a tag such as "de-AT"; none when the app does not speak it.
    #[must_use]
    pub fn of_tag(tag: &str) -> Option<Self> {
        let first = tag.split(['-', '_']).next()?;
        Self::ALL.into_iter().find(|language| language.code().eq_ignore_ascii_case(first))
    }

    /// Whether `n` things take the word of one thing (Unicode CLDR plural rules, whole numbers: one for 1, in French for 0 too).
    const fn is_one(self, n: u64) -> bool {
        match self {
            Self::French => n < 2,
            Self::English | Self::German | Self::Spanish => n == 1,
        }
    }
}

static SPOKEN: OnceLock<Language> = OnceLock::new();

/// The language that is spoken; English until [`speak`] was called.
#[must_use]
pub fn current() -> Language {
    SPOKEN.get().copied().unwrap_or_default()
}

/// Speaks the catalogue's language from now on. Once, before the first sentence: what is made of words once (the procedures) stays.
/// Says whether it was the first call.
pub fn speak(catalogue: Catalogue) -> bool {
    let first = SPOKEN.set(catalogue.language()).is_ok();
    if first {
        tr::set_translator!(catalogue);
    }
    first
}

/// English words in the language that is spoken.
#[must_use]
pub fn ours(english: &'static str) -> &'static str {
    if current() == Language::English {
        return english;
    }
    match looked_up(english) {
        Cow::Borrowed(words) => words,
        Cow::Owned(words) => kept(words),
    }
}

/// Words that came from a file of ours (a procedure) in the language that is spoken.
#[must_use]
pub fn of_file(english: &str) -> String {
    looked_up(english).into_owned()
}

/// A gate's name out of a file of ours, which stands in addresses too: with spaces between its words.
#[must_use]
pub fn of_gate(gate: &str) -> String {
    match looked_up(gate) {
        Cow::Borrowed(same) if same == gate => gate.replace('-', " "),
        words => words.into_owned(),
    }
}

/// What stands in a sentence, by the names that the sentence has for it.
type With<'a> = &'a [(&'a str, &'a dyn fmt::Display)];

/// A sentence with something in it; [`tr!`] calls it.
#[inline(never)]
pub(crate) fn sentence(english: &str, with: With) -> String {
    tr::runtime_format::display_string(&looked_up(english), with)
}

/// A sentence of `n` things; [`tr!`] calls it.
#[inline(never)]
pub(crate) fn counted(one: &str, many: &str, n: u64, with: With) -> String {
    let found = tr::internal::with_translator(module_path!(), |catalogue| {
        catalogue.ntranslate(n, one, many, None).into_owned()
    });
    tr::runtime_format::display_string(&found, with)
}

fn looked_up(english: &str) -> Cow<'_, str> {
    if current() == Language::English {
        return Cow::Borrowed(english);
    }
    Cow::Owned(tr::tr!(english))
}

/// Words that stay as long as the program runs, each kept once: there are as many as a catalogue has.
fn kept(words: String) -> &'static str {
    static KEPT: OnceLock<Mutex<HashSet<&'static str>>> = OnceLock::new();
    let mut kept = KEPT.get_or_init(Mutex::default).lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    match kept.get(words.as_str()) {
        Some(known) => known,
        None => {
            let words: &'static str = words.leak();
            kept.insert(words);
            words
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // RFC 5646, section 2.1: the primary subtag comes first; section 2.1.1: capitals mean nothing.
    #[test]
    fn a_tag_names_its_language() {
        assert_eq!(Language::of_tag("de-AT"), Some(Language::German));
        assert_eq!(Language::of_tag("FR"), Some(Language::French));
        assert_eq!(Language::of_tag("es_MX"), Some(Language::Spanish));
        assert_eq!(Language::of_tag("en-US"), Some(Language::English));
        assert_eq!(Language::of_tag("eo"), None);
        assert_eq!(Language::of_tag(""), None);
    }

    #[test]
    fn without_a_catalogue_it_is_english() {
        assert_eq!(current(), Language::English);
        assert_eq!(ours("can't tell"), "can't tell");
        let amount = "3/4 in";
        assert_eq!(tr!("Move the block by {amount}.", amount), "Move the block by 3/4 in.");
        assert_eq!(tr!("one reading" | "{n} readings" % 3_u64), "3 readings");
    }

    // Unicode CLDR 46, plural rules for cardinals: de, en, es "one" is 1; fr "one" is 0 and 1.
    #[test]
    fn one_and_many() {
        for language in [Language::English, Language::German, Language::Spanish] {
            assert_eq!([0, 1, 2].map(|n| language.is_one(n)), [false, true, false]);
        }
        assert_eq!([0, 1, 2].map(|n| Language::French.is_one(n)), [true, true, false]);
    }
}
