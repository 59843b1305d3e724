//! JSON, read strictly into the types that it stands for, and written so that every number reads back to the last bit.
//!
//! Writing is `serde_json`'s, but for numbers. Reading is our own, because the app is carried over a phone's network: the
//! reader of that crate is compiled once more for every type and brings tables of powers of ten, and this one made the
//! whole program a tenth smaller. The tests hold it against that crate.
//!
//! What is read is RFC 8259, narrowed: a structure is an object (never a list), its fields come once each, an enumeration is
//! the variant's name or an object with that one name, a number must fit the type that it is for. Deliberately absent: reading
//! what no type describes.

mod read_error;
mod reader;
mod scanner;

#[cfg(test)]
mod tests;

use std::fmt::Write as _;
use std::io;

use serde::Serialize;
use serde::de::DeserializeOwned;

pub use read_error::ReadError;
use scanner::Scanner;

/// Reads the one value that a text holds.
///
/// # Errors
/// [`ReadError`] says what is wrong and on which line. Nothing is guessed.
pub fn read<T: DeserializeOwned>(text: &str) -> Result<T, ReadError> {
    let mut scanner = Scanner::new(text);
    let read = T::deserialize(&mut scanner).and_then(|value| scanner.end().map(|()| value));
    read.map_err(|error| error.on_line(scanner.line()))
}

/// Writes a value on one line, without a space. Numbers have the fewest digits that read back to the same double; empty for
/// a value that JSON cannot hold, which none of this program's is.
#[must_use]
pub fn write<T: Serialize>(value: &T) -> String {
    let mut bytes = Vec::new();
    let written = value.serialize(&mut serde_json::Serializer::with_formatter(&mut bytes, Shortest));
    written.ok().and_then(|()| String::from_utf8(bytes).ok()).unwrap_or_default()
}

/// Numbers by the core library's shortest text that reads back: the same digits as the crate's own, and code that is there
/// already.
struct Shortest;

impl serde_json::ser::Formatter for Shortest {
    fn write_f64<W: ?Sized + io::Write>(&mut self, writer: &mut W, value: f64) -> io::Result<()> {
        let mut digits = String::new();
        // Writing into a text cannot fail.
        let _ = write!(digits, "{value}");
        writer.write_all(digits.as_bytes())
    }
}
