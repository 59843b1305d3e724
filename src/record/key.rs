//! What devices sign with: the keys that they announced, said in words, and which entry is held against which key.

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use uuid::Uuid;

use super::{AirframeId, Body, Digest, Entry, EntryId, Ledger};
use crate::language::words;

const WORDS: &str = include_str!("key_words.txt");

/// How many words a key is said in.
const SAID: usize = 4;

/// An Ed25519 public key (RFC 8032).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Key([u8; 32]);

impl Key {
    /// The key of these bytes.
    #[must_use]
    pub const fn new(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }

    /// Reads the 43 characters of base64url that an entry holds; `None` for anything else.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        // The same spelling as a digest's: 32 bytes without padding.
        text.parse().ok().map(|bytes: Digest| Self(*bytes.bytes()))
    }

    /// Its 32 bytes.
    #[must_use]
    pub const fn bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// As an entry holds it.
    #[must_use]
    pub fn text(&self) -> String {
        URL_SAFE_NO_PAD.encode(self.0)
    }

    /// Four words to read to somebody: "bench rivet lamp zinc". They stand for the first 32 bits of the key's SHA-256, enough to hear
    /// that a phone is another one; somebody with a day of computing can make another key of the same words. The whole key is in the
    /// record.
    #[must_use]
    pub fn words(&self) -> String {
        let of = |byte: &u8| WORDS.split_ascii_whitespace().nth(usize::from(*byte));
        Digest::of(&self.0).bytes().iter().take(SAID).filter_map(of).collect::<Vec<_>>().join(" ")
    }
}

/// A key that a device announced in an airframe's record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyOf {
    /// The device.
    pub device: Uuid,
    /// The entry that announces it.
    pub entry: EntryId,
    /// Its number in the device's chain: it signs what comes after, until the next key.
    pub from: u64,
    /// The key; `None` where what stands there is none.
    pub key: Option<Key>,
    /// Why there is a new one, where there was one before.
    pub lost: Option<String>,
}

/// A signature, and what it has to be held against.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signature {
    /// The key that was the device's when it signed.
    pub key: Key,
    /// What was signed: the 43 characters of the digest.
    pub text: String,
    /// The signature's 64 bytes.
    pub bytes: [u8; 64],
}

/// How an entry that somebody answers for stands before it is held against its key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Signed {
    /// It has a signature, to be held against its device's key.
    With(Signature),
    /// It has a signature that is none: not 64 bytes of base64url.
    Garbled,
    /// It has a signature, and its device announced no key before it.
    NoKey,
    /// It has no signature although its device has a key.
    Missing,
    /// It has no signature and its device has no key.
    Keyless,
}

/// Every key that was announced in an airframe's record, in the order of the entries. A strike does not take a key
/// back: what it signed stays signed.
#[must_use]
pub fn keys(ledger: &Ledger, airframe: AirframeId) -> Vec<KeyOf> {
    ledger.of(airframe).filter_map(key_of).collect()
}

fn key_of(entry: &Entry) -> Option<KeyOf> {
    let (Body::KeyMade { key, lost }, Some(seal)) = (&entry.body, &entry.seal) else { return None };
    let (device, from) = (entry.device, seal.number);
    Some(KeyOf { device, entry: entry.id, from, key: Key::parse(key), lost: lost.clone() })
}

/// Every sealed entry that somebody answers for ([`Entry::is_signed`]), struck or not, in the order of the entries. It is held against
/// the last key that its *own* device announced before it: another device's key signs nothing for it.
#[must_use]
pub fn signatures(ledger: &Ledger, airframe: AirframeId) -> Vec<(EntryId, Signed)> {
    let keys = keys(ledger, airframe);
    let of = |entry: &Entry| {
        let seal = entry.seal.as_ref().filter(|_| entry.is_signed())?;
        let before = keys.iter().filter(|key| key.device == entry.device && key.from <= seal.number);
        let key = before.max_by_key(|key| key.from).and_then(|key| key.key);
        let signed = match (&seal.signature, key) {
            (None, None) => Signed::Keyless,
            (None, Some(_)) => Signed::Missing,
            (Some(_), None) => Signed::NoKey,
            (Some(text), Some(key)) => {
                let mut bytes = [0; 64];
                match URL_SAFE_NO_PAD.decode_slice(text, &mut bytes) {
                    Ok(64) => Signed::With(Signature { key, text: seal.digest.to_string(), bytes }),
                    _ => Signed::Garbled,
                }
            }
        };
        Some((entry.id, signed))
    };
    ledger.of(airframe).filter_map(of).collect()
}

/// What a device has to announce before it signs with `key` in an airframe's record: nothing where that is the key that it announced
/// last, else an entry, with the reason where it had another.
#[must_use]
pub fn announce(ledger: &Ledger, airframe: AirframeId, device: Uuid, key: &Key) -> Option<Body> {
    let keys = keys(ledger, airframe);
    let last = keys.iter().filter(|known| known.device == device).max_by_key(|known| known.from);
    if last.is_some_and(|last| last.key == Some(*key)) {
        return None;
    }
    let lost = last.map(|_| words!("The key of this device was lost: its storage was cleared.").to_owned());
    Some(Body::KeyMade { key: key.text(), lost })
}

impl Entry {
    /// The entry with its device's signature over its digest.
    #[must_use]
    pub fn signed(mut self, signature: &[u8; 64]) -> Self {
        if let Some(seal) = &mut self.seal {
            seal.signature = Some(URL_SAFE_NO_PAD.encode(signature));
        }
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_is_a_plain_word_for_every_byte_and_no_word_twice() {
        let words: std::collections::BTreeSet<&str> = WORDS.split_ascii_whitespace().collect();
        assert_eq!((words.len(), WORDS.split_ascii_whitespace().count()), (256, 256));
        for word in words {
            let plain = word.len() >= 3 && word.len() <= 8 && word.bytes().all(|letter| letter.is_ascii_lowercase());
            assert!(plain, "{word}");
        }
    }

    /// SHA-256 of 32 zeros begins 66 68 7a ad (FIPS 180-4; computed with Python's `hashlib`): the words of these places of the list.
    #[test]
    fn a_key_is_said_in_the_words_of_its_digest() {
        let list: Vec<&str> = WORDS.split_ascii_whitespace().collect();
        let expected = [list[0x66], list[0x68], list[0x7a], list[0xad]].join(" ");
        assert_eq!(Key::new([0; 32]).words(), expected);
    }

    #[test]
    fn a_key_is_read_as_it_is_written() {
        let key = Key::new(std::array::from_fn(|place| u8::try_from(place * 7).expect("small")));
        assert_eq!(Key::parse(&key.text()), Some(key));
        for wrong in ["", "A", &key.text()[1..], &format!("{}A", key.text())] {
            assert_eq!(Key::parse(wrong), None, "{wrong}");
        }
    }
}
