//! What makes a record checkable: each entry carries the digest of the one before it on its device.

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::{AirframeId, Body, Digest, Entry, EntryId};

/// An entry's place in the chain of what one device wrote of one airframe.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seal {
    /// Its number in the chain, from 1.
    pub number: u64,
    /// The digest of the entry before it in the chain; `None` for the first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after: Option<Digest>,
    /// The digest of this entry: SHA-256 of its JSON without `seal`, with `number` and `after` as its last fields.
    pub digest: Digest,
    /// The device's Ed25519 signature (RFC 8032) over the 43 characters of `digest`, base64url, where the device signs and the engine
    /// can. See [`Body::KeyMade`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub signature: Option<String>,
}

/// Where a chain ends: the number and the digest of its last entry.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Head {
    /// The number of the last entry; 0 before the first.
    pub number: u64,
    /// Its digest.
    pub digest: Option<Digest>,
}

/// What the digest is taken of.
#[derive(Serialize)]
struct Content<'e> {
    id: EntryId,
    airframe: AirframeId,
    #[serde(serialize_with = "super::time::serialize")]
    at: &'e DateTime<FixedOffset>,
    by: &'e str,
    device: Uuid,
    body: &'e Body,
    number: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    after: Option<Digest>,
}

fn digest(entry: &Entry, number: u64, after: Option<Digest>) -> Digest {
    let Entry { id, airframe, at, by, device, body, seal: _ } = entry;
    let content = Content { id: *id, airframe: *airframe, at, by, device: *device, body, number, after };
    Digest::of(serde_json::to_string(&content).unwrap_or_default().as_bytes())
}

impl Entry {
    /// The entry as the next of its chain. `head` is where the chain stood, and stands at this entry afterwards.
    #[must_use]
    pub fn sealed(mut self, head: &mut Head) -> Self {
        let (number, after) = (head.number + 1, head.digest);
        let digest = digest(&self, number, after);
        *head = Head { number, digest: Some(digest) };
        self.seal = Some(Seal { number, after, digest, signature: None });
        self
    }

    /// Whether the entry is what it was when it was sealed. An entry from before entries were sealed says nothing about itself.
    #[must_use]
    pub fn sound(&self) -> bool {
        self.seal.as_ref().is_none_or(|seal| digest(self, seal.number, seal.after) == seal.digest)
    }
}
