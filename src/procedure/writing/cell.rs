//! Fields, and the cells of a procedure that they read and write.

use crate::language::{ours, words};
use crate::procedure::{Ask, Condition};
use crate::record::MAX_TEXT;

/// One thing to type or choose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    /// Its name within its part.
    pub key: String,
    /// What is asked.
    pub label: String,
    /// A word more; empty where the label says all.
    pub hint: &'static str,
    /// How it is typed or chosen.
    pub form: FieldForm,
    /// What it says now: words, the key of what is chosen, or one key or sentence a line.
    pub value: String,
}

/// How a field is typed or chosen. Options are their key and what they are called.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FieldForm {
    /// One line.
    Line,
    /// A number.
    Number,
    /// Sentences, one a line.
    Lines,
    /// One of these.
    One(Vec<(String, String)>),
    /// Any of these.
    Any(Vec<(String, String)>),
    /// Yes (`"yes"`) or no (empty).
    Yes,
}

/// What a field reads and writes.
pub(super) trait Cell {
    fn read(&self) -> String;
    /// The reason in plain words when it cannot be.
    fn write(&mut self, words: &str) -> Result<(), String>;
}

type Look<'v> = dyn FnMut(Field, &mut dyn Cell) + 'v;

/// Sees every field of a part, one after the other.
pub(super) struct Visitor<'v> {
    look: &'v mut Look<'v>,
}

impl<'v> Visitor<'v> {
    pub(super) fn new(look: &'v mut Look<'v>) -> Self {
        Self { look }
    }

    pub(super) fn field(
        &mut self,
        key: impl Into<String>,
        label: impl Into<String>,
        hint: &'static str,
        form: FieldForm,
        cell: &mut dyn Cell,
    ) {
        let value = cell.read();
        (self.look)(Field { key: key.into(), label: label.into(), hint, form, value }, cell);
    }

    pub(super) fn line(&mut self, key: &'static str, label: &'static str, hint: &'static str, text: &mut String) {
        self.field(key, label, hint, FieldForm::Line, &mut Text(text));
    }
}

/// Words, on one line.
pub(super) struct Text<'c>(pub(super) &'c mut String);

impl Cell for Text<'_> {
    fn read(&self) -> String {
        self.0.clone()
    }

    fn write(&mut self, words: &str) -> Result<(), String> {
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        if words.len() > MAX_TEXT / 4 {
            return Err(words!("This is too long for a phone's screen.").to_owned());
        }
        *self.0 = words;
        Ok(())
    }
}

/// Sentences or keys, one a line.
pub(super) struct Lines<'c>(pub(super) &'c mut Vec<String>);

impl Cell for Lines<'_> {
    fn read(&self) -> String {
        self.0.join("\n")
    }

    fn write(&mut self, words: &str) -> Result<(), String> {
        if words.len() > MAX_TEXT {
            return Err(words!("This is too long for a phone's screen.").to_owned());
        }
        *self.0 = words.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect();
        Ok(())
    }
}

/// A key, or none.
pub(super) struct Key<'c>(pub(super) &'c mut Option<String>);

impl Cell for Key<'_> {
    fn read(&self) -> String {
        self.0.clone().unwrap_or_default()
    }

    fn write(&mut self, words: &str) -> Result<(), String> {
        *self.0 = (!words.is_empty()).then(|| words.to_owned());
        Ok(())
    }
}

/// Yes or no.
pub(super) struct Flag<'c>(pub(super) &'c mut bool);

impl Cell for Flag<'_> {
    fn read(&self) -> String {
        if *self.0 { "yes".to_owned() } else { String::new() }
    }

    fn write(&mut self, words: &str) -> Result<(), String> {
        *self.0 = words == "yes";
        Ok(())
    }
}

/// An amount that is not negative; empty means none.
pub(super) struct Amount<'c>(pub(super) &'c mut f64);

impl Cell for Amount<'_> {
    fn read(&self) -> String {
        if *self.0 == 0.0 { String::new() } else { self.0.to_string() }
    }

    fn write(&mut self, words: &str) -> Result<(), String> {
        let words = words.trim().replace(',', ".");
        let amount = if words.is_empty() { Some(0.0) } else { words.parse::<f64>().ok() };
        let good = amount.filter(|amount| amount.is_finite() && (0.0..=1e6).contains(amount));
        *self.0 = good.ok_or_else(|| words!("Type a number, such as 0.5.").to_owned())?;
        Ok(())
    }
}

/// How many times, 1 to 9.
pub(super) struct Times<'c>(pub(super) &'c mut u8);

impl Cell for Times<'_> {
    fn read(&self) -> String {
        self.0.to_string()
    }

    fn write(&mut self, words: &str) -> Result<(), String> {
        let times = words.trim().parse::<u8>().ok().filter(|times| (1..=9).contains(times));
        *self.0 = times.ok_or_else(|| words!("Once to nine times: type 1 to 9.").to_owned())?;
        Ok(())
    }
}

/// One value of a list: what files call it, and what people call it.
pub(super) type Named<T> = (T, &'static str, &'static str);

/// The options of a list.
pub(super) fn options<T>(list: &[Named<T>]) -> FieldForm {
    FieldForm::One(list.iter().map(|(_, key, words)| ((*key).to_owned(), ours(words).to_owned())).collect())
}

/// One value of a list.
pub(super) struct OneOf<'c, T: 'static>(pub(super) &'c mut T, pub(super) &'static [Named<T>]);

impl<T: Copy + PartialEq> Cell for OneOf<'_, T> {
    fn read(&self) -> String {
        self.1.iter().find(|(value, ..)| value == self.0).map(|(_, key, _)| (*key).to_owned()).unwrap_or_default()
    }

    fn write(&mut self, words: &str) -> Result<(), String> {
        let found = self.1.iter().find(|(_, key, _)| *key == words);
        *self.0 = found.ok_or_else(|| words!("Choose one of the list.").to_owned())?.0;
        Ok(())
    }
}

/// A condition: the key of a choice and the words that it must have, with an equals sign between.
pub(super) struct OnlyIf<'c>(pub(super) &'c mut Option<Condition>);

impl Cell for OnlyIf<'_> {
    fn read(&self) -> String {
        self.0.as_ref().map(|condition| format!("{}={}", condition.key, condition.is)).unwrap_or_default()
    }

    fn write(&mut self, words: &str) -> Result<(), String> {
        *self.0 = words.split_once('=').map(|(key, is)| Condition { key: key.to_owned(), is: is.to_owned() });
        Ok(())
    }
}

/// One of the words of a physical question; the question is gone when all three are empty.
pub(super) struct AskWords<'c>(pub(super) &'c mut Option<Ask>, pub(super) fn(&mut Ask) -> &mut String);

impl Cell for AskWords<'_> {
    fn read(&self) -> String {
        self.0.clone().map(|mut ask| (self.1)(&mut ask).clone()).unwrap_or_default()
    }

    fn write(&mut self, words: &str) -> Result<(), String> {
        let none = || Ask { question: String::new(), plus: String::new(), minus: String::new() };
        let mut ask = self.0.take().unwrap_or_else(none);
        let written = Text((self.1)(&mut ask)).write(words);
        *self.0 = (ask != none()).then_some(ask);
        written
    }
}

/// A cell made of two functions of what it belongs to.
pub(super) struct Made<'c, T: ?Sized> {
    pub(super) of: &'c mut T,
    pub(super) read: &'c dyn Fn(&T) -> String,
    pub(super) write: &'c dyn Fn(&mut T, &str),
}

impl<T: ?Sized> Cell for Made<'_, T> {
    fn read(&self) -> String {
        (self.read)(self.of)
    }

    fn write(&mut self, words: &str) -> Result<(), String> {
        (self.write)(self.of, words);
        Ok(())
    }
}
