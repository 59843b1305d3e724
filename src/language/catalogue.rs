//! A language's words, by the English ones.

use std::borrow::Cow;
use std::collections::HashMap;
use std::fmt;

use serde::Deserialize;
use tr::Translator;

use super::Language;

/// What a catalogue holds of one English sentence.
#[derive(Deserialize)]
#[serde(untagged)]
enum Words {
    /// The same for every number.
    Plain(String),
    /// For one, and for any other number.
    Counted([String; 2]),
}

/// The words of one language.
pub struct Catalogue {
    language: Language,
    words: HashMap<String, Words>,
}

/// Why a catalogue cannot be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CatalogueError;

impl fmt::Display for CatalogueError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("this is no catalogue of words")
    }
}

impl std::error::Error for CatalogueError {}

impl Catalogue {
    /// Reads a catalogue: a JSON object of English sentences, each with its words, or with two where a number decides (one, and
    /// any other). `cargo xtask dist` makes it of the `.po` files.
    ///
    /// # Errors
    /// When the text is anything else.
    pub fn read(language: Language, json: &str) -> Result<Self, CatalogueError> {
        let words = serde_json::from_str(json).map_err(|_| CatalogueError)?;
        Ok(Self { language, words })
    }

    /// Its language.
    #[must_use]
    pub const fn language(&self) -> Language {
        self.language
    }
}

impl Translator for Catalogue {
    fn translate<'a>(&'a self, string: &'a str, _: Option<&'a str>) -> Cow<'a, str> {
        match self.words.get(string) {
            Some(Words::Plain(words)) => Cow::Borrowed(words),
            Some(Words::Counted([_, many])) => Cow::Borrowed(many),
            None => Cow::Borrowed(string),
        }
    }

    fn ntranslate<'a>(&'a self, n: u64, singular: &'a str, plural: &'a str, _: Option<&'a str>) -> Cow<'a, str> {
        match self.words.get(singular) {
            Some(Words::Counted([one, many])) => Cow::Borrowed(if self.language.is_one(n) { one } else { many }),
            Some(Words::Plain(words)) => Cow::Borrowed(words),
            None => Cow::Borrowed(if n == 1 { singular } else { plural }),
        }
    }
}

impl fmt::Debug for Catalogue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Catalogue({}, {} entries)", self.language.code(), self.words.len())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GERMAN: &str = r#"{ "in": "im Maß", "one reading": ["eine Ablesung", "{n} Ablesungen"] }"#;

    #[test]
    fn words_and_counted_words() {
        let german = Catalogue::read(Language::German, GERMAN).unwrap();
        assert_eq!(german.translate("in", None), "im Maß");
        assert_eq!(german.translate("unknown", None), "unknown");
        assert_eq!(german.ntranslate(1, "one reading", "{n} readings", None), "eine Ablesung");
        assert_eq!(german.ntranslate(0, "one reading", "{n} readings", None), "{n} Ablesungen");
        assert_eq!(german.ntranslate(2, "one foot", "{n} feet", None), "{n} feet");
        let french = Catalogue::read(Language::French, r#"{ "one": ["un", "plusieurs"] }"#).unwrap();
        assert_eq!(french.ntranslate(0, "one", "many", None), "un");
    }

    #[test]
    fn anything_else_is_refused() {
        for bad in ["", "[]", "{", r#"{ "in": 1 }"#, r#"{ "one": ["a"] }"#] {
            assert_eq!(Catalogue::read(Language::German, bad).err(), Some(CatalogueError), "{bad}");
        }
    }
}
