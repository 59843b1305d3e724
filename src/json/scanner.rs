//! The parts of a JSON text, one after the other (RFC 8259). Knows no types.

use std::borrow::Cow;

use super::ReadError;

/// Deepest nesting that is passed over.
const DEEPEST: u32 = 64;

/// Where in the text the reading stands.
pub(super) struct Scanner<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Scanner<'t> {
    pub(super) const fn new(text: &'t str) -> Self {
        Self { text, at: 0 }
    }

    /// The line that it stands on, from 1.
    pub(super) fn line(&self) -> usize {
        self.text.as_bytes()[..self.at].iter().filter(|&&byte| byte == b'\n').count() + 1
    }

    /// Nothing but space is left.
    pub(super) fn end(&mut self) -> Result<(), ReadError> {
        if self.peek().is_none() { Ok(()) } else { Err(ReadError::wrong("something follows the value")) }
    }

    /// The next byte that is no space, left where it is.
    pub(super) fn peek(&mut self) -> Option<u8> {
        while let Some(b' ' | b'\n' | b'\r' | b'\t') = self.byte() {
            self.at += 1;
        }
        self.byte()
    }

    /// Takes `byte`, if it comes next.
    pub(super) fn take(&mut self, byte: u8) -> bool {
        let next = self.peek() == Some(byte);
        self.at += usize::from(next);
        next
    }

    /// Takes `byte`, which must come next.
    pub(super) fn expect(&mut self, byte: u8) -> Result<(), ReadError> {
        if self.take(byte) { Ok(()) } else { Err(self.wrong(&format!("expected `{}`", char::from(byte)))) }
    }

    /// Takes a word, if it comes next: `true`, `false`, `null`. Of a word that is cut off all is taken.
    pub(super) fn word(&mut self, word: &str) -> bool {
        self.peek();
        let rest = &self.text[self.at..];
        let next = rest.starts_with(word);
        if next || word.starts_with(rest) {
            self.at += word.len().min(rest.len());
        }
        next
    }

    /// Whether another part comes before the `close` of a list or an object; takes the comma or the `close`.
    pub(super) fn another(&mut self, first: &mut bool, close: u8) -> Result<bool, ReadError> {
        if self.take(close) {
            return Ok(false);
        }
        if !std::mem::take(first) {
            self.expect(b',')?;
        }
        Ok(true)
    }

    /// What is wrong here; a text that ends here was cut short, whatever was wanted.
    pub(super) fn wrong(&self, words: &str) -> ReadError {
        if self.at >= self.text.len() { ReadError::cut_short() } else { ReadError::wrong(words) }
    }

    /// A number as it is written.
    pub(super) fn number(&mut self) -> Result<&'t str, ReadError> {
        self.peek();
        let start = self.at;
        self.at += usize::from(self.byte() == Some(b'-'));
        let zero_first = self.byte() == Some(b'0');
        if self.digits()? > 1 && zero_first {
            return Err(ReadError::wrong("a number begins with a zero"));
        }
        if self.byte() == Some(b'.') {
            self.at += 1;
            self.digits()?;
        }
        if let Some(b'e' | b'E') = self.byte() {
            self.at += 1;
            self.at += usize::from(matches!(self.byte(), Some(b'+' | b'-')));
            self.digits()?;
        }
        Ok(&self.text[start..self.at])
    }

    /// A text, its escapes undone.
    pub(super) fn string(&mut self) -> Result<Cow<'t, str>, ReadError> {
        if !self.take(b'"') {
            return Err(self.wrong("expected a text"));
        }
        let mut undone = String::new();
        loop {
            let start = self.at;
            while self.byte().is_some_and(|byte| !matches!(byte, b'"' | b'\\' | 0..b' ')) {
                self.at += 1;
            }
            let plain = &self.text[start..self.at];
            match self.byte() {
                Some(b'"') => {
                    self.at += 1;
                    return Ok(if undone.is_empty() { plain.into() } else { (undone + plain).into() });
                }
                Some(b'\\') => {
                    self.at += 1;
                    undone.push_str(plain);
                    undone.push(self.escape()?);
                }
                _ => return Err(self.wrong("a control character in a text")),
            }
        }
    }

    /// Passes over one value of any kind.
    pub(super) fn skip(&mut self, depth: u32) -> Result<(), ReadError> {
        if depth > DEEPEST {
            return Err(ReadError::wrong("nested too deeply"));
        }
        match self.peek() {
            Some(b'"') => drop(self.string()?),
            Some(open @ (b'[' | b'{')) => {
                self.at += 1;
                let close = if open == b'{' { b'}' } else { b']' };
                let mut first = true;
                while self.another(&mut first, close)? {
                    if open == b'{' {
                        self.string()?;
                        self.expect(b':')?;
                    }
                    self.skip(depth + 1)?;
                }
            }
            _ if self.word("true") || self.word("false") || self.word("null") => {}
            _ => drop(self.number()?),
        }
        Ok(())
    }

    fn byte(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    /// Takes digits, at least one; says how many.
    fn digits(&mut self) -> Result<usize, ReadError> {
        let start = self.at;
        while self.byte().is_some_and(|byte| byte.is_ascii_digit()) {
            self.at += 1;
        }
        if self.at == start { Err(self.wrong("expected a number")) } else { Ok(self.at - start) }
    }

    /// What follows a backslash.
    fn escape(&mut self) -> Result<char, ReadError> {
        let Some(byte) = self.byte() else { return Err(ReadError::cut_short()) };
        self.at += 1;
        Ok(match byte {
            b'"' | b'\\' | b'/' => char::from(byte),
            b'b' => '\u{8}',
            b'f' => '\u{c}',
            b'n' => '\n',
            b'r' => '\r',
            b't' => '\t',
            b'u' => {
                let unit = self.hexadecimal()?;
                // A character beyond the first 65 536 is written as two units.
                let second = if matches!(unit, 0xd800..0xdc00) && self.text[self.at..].starts_with("\\u") {
                    self.at += 2;
                    Some(self.hexadecimal()?)
                } else {
                    None
                };
                let character = char::decode_utf16(std::iter::once(unit).chain(second)).next();
                character.and_then(Result::ok).ok_or_else(|| ReadError::wrong("half a character in a text"))?
            }
            _ => return Err(ReadError::wrong("an unknown escape in a text")),
        })
    }

    fn hexadecimal(&mut self) -> Result<u16, ReadError> {
        if self.at + 4 > self.text.len() {
            return Err(ReadError::cut_short());
        }
        let digits = self.text.get(self.at..self.at + 4).filter(|digits| !digits.starts_with('+'));
        let unit = digits.and_then(|digits| u16::from_str_radix(digits, 16).ok());
        self.at += 4;
        unit.ok_or_else(|| ReadError::wrong("an unknown escape in a text"))
    }
}
