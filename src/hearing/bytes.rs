//! What was taught, as bytes that are kept among the settings and may come back from a backup of any origin.
//!
//! ```text
//! file  = "TRWD" version(1) words(1) word*          version 1
//! word  = length(1) label(UTF-8) takes(1) take*
//! take  = frames(1) noise(24) bands(24)*            half decibels above −100 dB
//! ```

use super::front::{BANDS, Bands};
use super::taught::{LONGEST_LABEL, MOST_TAKES, MOST_WORDS, TAKE_FRAMES, Take, Taught, squeeze, unsqueeze};

const MARK: &[u8; 4] = b"TRWD";
const VERSION: u8 = 1;

/// Why bytes are not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// They are no taught words, or damaged.
    Unreadable,
    /// They are of a later form than this one knows.
    Version,
    /// No microphone has that rate.
    Rate,
}

impl Refusal {
    /// A word for the shell.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Unreadable => "unreadable",
            Self::Version => "version",
            Self::Rate => "rate",
        }
    }
}

impl Taught {
    /// The bytes: 24 per frame, 1 kB to 2 kB per take.
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut out = MARK.to_vec();
        out.extend([VERSION, self.words.len() as u8]);
        for word in &self.words {
            out.push(word.label.len() as u8);
            out.extend(word.label.as_bytes());
            out.push(word.takes.len() as u8);
            for take in &word.takes {
                out.push(take.frames.len() as u8);
                for bands in std::iter::once(&take.noise).chain(&take.frames) {
                    out.extend(bands.iter().map(|&band| squeeze(band)));
                }
            }
        }
        out
    }

    /// Reads them back; no bytes at all are nothing taught.
    ///
    /// # Errors
    /// When they are anything else than what [`to_bytes`](Self::to_bytes) writes, to the byte.
    pub fn from_bytes(bytes: &[u8]) -> Result<Self, Refusal> {
        if bytes.is_empty() {
            return Ok(Self::default());
        }
        let mut rest = Rest(bytes);
        if rest.take(MARK.len())? != MARK {
            return Err(Refusal::Unreadable);
        }
        if rest.byte()? != VERSION {
            return Err(Refusal::Version);
        }
        let count = rest.within(0, MOST_WORDS)?;
        let mut taught = Self::default();
        for _ in 0..count {
            let length = rest.within(1, LONGEST_LABEL)?;
            let label = std::str::from_utf8(rest.take(length)?).map_err(|_| Refusal::Unreadable)?;
            if !taught.takes(label).is_empty() {
                return Err(Refusal::Unreadable);
            }
            for _ in 0..rest.within(1, MOST_TAKES)? {
                let frames = rest.within(TAKE_FRAMES.0, TAKE_FRAMES.1)?;
                let noise = rest.bands()?;
                let frames = (0..frames).map(|_| rest.bands()).collect::<Result<_, _>>()?;
                taught.add(label, Take { frames, noise });
            }
        }
        if rest.0.is_empty() { Ok(taught) } else { Err(Refusal::Unreadable) }
    }
}

struct Rest<'a>(&'a [u8]);

impl<'a> Rest<'a> {
    fn take(&mut self, count: usize) -> Result<&'a [u8], Refusal> {
        let (taken, rest) = self.0.split_at_checked(count).ok_or(Refusal::Unreadable)?;
        self.0 = rest;
        Ok(taken)
    }

    fn byte(&mut self) -> Result<u8, Refusal> {
        Ok(self.take(1)?[0])
    }

    fn within(&mut self, least: usize, most: usize) -> Result<usize, Refusal> {
        let count = usize::from(self.byte()?);
        if (least..=most).contains(&count) { Ok(count) } else { Err(Refusal::Unreadable) }
    }

    fn bands(&mut self) -> Result<Bands, Refusal> {
        let bytes = self.take(BANDS)?;
        Ok(std::array::from_fn(|band| unsqueeze(bytes[band])))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn some() -> Taught {
        let mut taught = Taught::default();
        for (label, count) in [("seven", 40), ("keep it", 60), ("größer", 12)] {
            for level in [-60.0, -20.5] {
                let frames = (0..count).map(|at| [level + at as f32 * 0.5; BANDS]).collect();
                assert!(taught.add(label, Take { frames, noise: [level; BANDS] }));
            }
        }
        taught
    }

    #[test]
    fn what_is_written_is_read() {
        let bytes = some().to_bytes();
        assert_eq!(Taught::from_bytes(&bytes), Ok(some()));
        let word = |label: &str, frames: usize| 2 + label.len() + 2 * (1 + BANDS * (1 + frames));
        assert_eq!(bytes.len(), 6 + word("seven", 40) + word("keep it", 60) + word("größer", 12));
    }

    #[test]
    fn every_cut_and_every_excess_is_refused() {
        let bytes = some().to_bytes();
        for end in 1..bytes.len() {
            assert!(Taught::from_bytes(&bytes[..end]).is_err(), "cut at {end}");
        }
        let longer = [bytes.clone(), vec![0]].concat();
        assert_eq!(Taught::from_bytes(&longer), Err(Refusal::Unreadable));
        let mut later = bytes;
        later[4] = 2;
        assert_eq!(Taught::from_bytes(&later), Err(Refusal::Version));
    }

    proptest! {
        #[test]
        fn hostile_bytes_are_refused_or_read_within_bounds(mut bytes in proptest::collection::vec(any::<u8>(), 0..400), ours: bool) {
            if ours && bytes.len() > 5 {
                bytes[..5].copy_from_slice(b"TRWD\x01");
            }
            if let Ok(taught) = Taught::from_bytes(&bytes) {
                prop_assert!(taught.words.len() <= MOST_WORDS);
                prop_assert_eq!(Taught::from_bytes(&taught.to_bytes()), Ok(taught));
            }
        }
    }
}
