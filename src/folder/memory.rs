//! What a phone remembers of one folder, so that nothing is sent or read twice. When it is lost everything is read again; no more.
//!
//! As text: a line `file NAME TAG DIGEST` for each file as it was last read or written, a line `photo DIGEST` for each photo that is here
//! and there. A line that is anything else is passed over.

use std::fmt;

use crate::record::Digest;

/// What is remembered.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Memory {
    /// Name, tag (empty when the server gave none), and the digest of what stood in it.
    files: Vec<(String, String, Digest)>,
    /// Photos that are here and in the folder.
    pub(super) photos: Vec<Digest>,
}

impl Memory {
    /// Reads what was written, as far as it is understood.
    #[must_use]
    pub fn read(text: &str) -> Self {
        let mut memory = Self::default();
        for line in text.lines() {
            let words: Vec<&str> = line.split(' ').collect();
            match words[..] {
                ["file", name, tag, digest] => {
                    if let Ok(digest) = digest.parse() {
                        memory.know(name, tag, digest);
                    }
                }
                ["photo", digest] => memory.photos.extend(digest.parse::<Digest>().ok()),
                _ => {}
            }
        }
        memory
    }

    /// The tag and the digest under which a file was last seen.
    pub(super) fn file(&self, name: &str) -> Option<(&str, Digest)> {
        self.files.iter().find(|(known, ..)| known == name).map(|(_, tag, digest)| (tag.as_str(), *digest))
    }

    /// Remembers a file as it was just seen.
    pub(super) fn know(&mut self, name: &str, tag: &str, digest: Digest) {
        self.forget(name);
        self.files.push((name.to_owned(), tag.to_owned(), digest));
    }

    pub(super) fn forget(&mut self, name: &str) {
        self.files.retain(|(known, ..)| known != name);
    }
}

impl fmt::Display for Memory {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (name, tag, digest) in &self.files {
            writeln!(f, "file {name} {tag} {digest}")?;
        }
        for digest in &self.photos {
            writeln!(f, "photo {digest}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::Memory;
    use crate::record::Digest;

    #[test]
    fn it_reads_what_it_wrote_and_passes_over_the_rest() {
        let mut memory = Memory::default();
        memory.know("a.json", "\"1\"", Digest::of(b"a"));
        memory.know("b.json", "", Digest::of(b"b"));
        memory.know("a.json", "W/\"2\"", Digest::of(b"c"));
        memory.photos.push(Digest::of(b"d"));
        let text = memory.to_string();
        assert_eq!(text.lines().count(), 3, "{text}");
        assert_eq!(Memory::read(&text), memory);
        assert_eq!(Memory::read(&format!("what\nfile x\n{text}photo x\n")), memory);
        assert_eq!(memory.file("a.json"), Some(("W/\"2\"", Digest::of(b"c"))));
    }
}
