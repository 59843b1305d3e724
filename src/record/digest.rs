//! SHA-256 (FIPS 180-4), written as base64url without padding (RFC 4648, section 5).

use std::fmt;

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use sha2::{Digest as _, Sha256};

/// The SHA-256 of some bytes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Digest([u8; 32]);

impl Digest {
    /// The digest of `bytes`.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// Its 32 bytes.
    #[must_use]
    pub const fn bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&URL_SAFE_NO_PAD.encode(self.0))
    }
}

impl fmt::Debug for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl std::str::FromStr for Digest {
    type Err = ();

    /// Reads the 43 characters that [`fmt::Display`] writes, and no other spelling of the same bytes.
    fn from_str(text: &str) -> Result<Self, ()> {
        let mut bytes = [0; 32];
        match URL_SAFE_NO_PAD.decode_slice(text, &mut bytes) {
            Ok(32) => Ok(Self(bytes)),
            _ => Err(()),
        }
    }
}

impl Serialize for Digest {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Digest {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map_err(|()| D::Error::custom("a digest is not 43 characters of base64url"))
    }
}

#[cfg(test)]
mod tests {
    use super::Digest;

    /// FIPS 180-4's examples as NIST publishes them ("abc", the empty text), written as base64url by another program.
    #[test]
    fn digests_are_sha_256() {
        let digest = |text: &str| Digest::of(text.as_bytes()).to_string();
        assert_eq!(digest("abc"), "ungWv48Bz-pBQUDeXa4iI7ADYaOWF3qctBD_YfIAFa0");
        assert_eq!(digest(""), "47DEQpj8HBSa-_TImW-5JCeuQeRkm5NMpJWZG3hSuFU");
    }

    #[test]
    fn one_spelling_is_read() {
        let text = Digest::of(b"abc").to_string();
        assert_eq!(text.parse(), Ok(Digest::of(b"abc")));
        // The last character carries two bits of nothing: only zeros are read.
        assert_eq!(text.replace("a0", "a1").parse::<Digest>(), Err(()));
        for wrong in ["", "abc", &text[1..], &format!("{text}="), &format!("{text}A"), &text.replace('-', "+")] {
            assert_eq!(wrong.parse::<Digest>(), Err(()), "{wrong}");
        }
    }
}
