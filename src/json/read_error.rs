//! Why a text was not read.

use std::fmt;

/// Why a text was not read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadError(Box<Problem>);

#[derive(Clone, Debug, PartialEq, Eq)]
struct Problem {
    words: String,
    /// From 1; 0 while it is not known.
    line: usize,
    cut_short: bool,
}

impl ReadError {
    pub(super) fn wrong(words: &str) -> Self {
        Self(Box::new(Problem { words: words.to_owned(), line: 0, cut_short: false }))
    }

    pub(super) fn cut_short() -> Self {
        Self(Box::new(Problem { words: "the text ends in the middle".to_owned(), line: 0, cut_short: true }))
    }

    pub(super) fn on_line(mut self, line: usize) -> Self {
        self.0.line = line;
        self
    }

    /// The text ends before the value does: a file that was cut short on the way.
    #[must_use]
    pub const fn is_cut_short(&self) -> bool {
        self.0.cut_short
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0.words)?;
        if self.0.line > 0 { write!(f, " (line {})", self.0.line) } else { Ok(()) }
    }
}

impl std::error::Error for ReadError {}

impl serde::de::Error for ReadError {
    fn custom<T: fmt::Display>(words: T) -> Self {
        Self::wrong(&words.to_string())
    }
}
