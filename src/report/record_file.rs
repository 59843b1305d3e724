//! Everything that a record file can hold: entries, the photos that they name, and which of them is a question that the file asks.
//!
//! `"question":"ID"` and `"photos":[{"digest":"…","jpeg":"…"}]` stand before `"entries"`, and only where there is something to say; a
//! file without them is byte for byte what [`super::write_json`] writes. A photo's bytes are base64url without padding (RFC 4648,
//! section 5), like every digest of the format.

use std::collections::BTreeMap;

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use serde::Deserialize;

use super::counted::Counted;
use super::json::{ImportError, head, looked_over, put_entries, refused};
use super::page::Piece;
use crate::record::{Body, Digest, Entry, EntryId, Photo, PhotoError, from_json};

/// A record file, read or to be written.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RecordFile {
    /// The entries, sorted by id where the app wrote it.
    pub entries: Vec<Entry>,
    /// Files of photos that the entries name, each under its digest. A file need not hold every photo that its entries name.
    pub photos: Vec<(Digest, Vec<u8>)>,
    /// The question that the file asks or answers. Such a file is an extract: it holds what the question needs and no more.
    pub question: Option<EntryId>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File<'t> {
    #[serde(rename = "format")]
    _format: String,
    #[serde(rename = "version")]
    _version: u32,
    #[serde(default)]
    question: Option<EntryId>,
    #[serde(default, borrow)]
    photos: Vec<PhotoFile<'t>>,
    entries: Counted<Entry>,
}

/// A photo as it stands in the file. Borrowed, so that no other spelling with escapes is read.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PhotoFile<'t> {
    digest: Digest,
    jpeg: &'t str,
}

/// Writes a record file, entries and photos in the order given.
#[must_use]
pub fn write_record(file: &RecordFile) -> String {
    let digests: Vec<Digest> = file.photos.iter().map(|(digest, _)| *digest).collect();
    let mut files = file.photos.iter();
    let mut text = String::new();
    for piece in record_pieces(file.question, &digests, &mut file.entries.iter()) {
        match piece {
            Piece::Text(part) => text.push_str(&part),
            Piece::Photo(_) => {
                let jpeg = files.next().map(|(_, jpeg)| jpeg.as_slice()).unwrap_or_default();
                URL_SAFE_NO_PAD.encode_string(jpeg, &mut text);
            }
        }
    }
    text
}

/// A record file in pieces: text, and places where the file of a photo goes as base64url without padding.
pub(super) fn record_pieces(
    question: Option<EntryId>,
    photos: &[Digest],
    entries: &mut dyn Iterator<Item = &Entry>,
) -> Vec<Piece> {
    let (mut pieces, mut text) = (Vec::new(), head());
    if let Some(question) = question {
        text.push_str(",\"question\":\"");
        text.push_str(&question.to_string());
        text.push('"');
    }
    if !photos.is_empty() {
        text.push_str(",\"photos\":[");
        let mut between = "\n";
        for digest in photos {
            text.push_str(between);
            text.push_str("{\"digest\":\"");
            text.push_str(&digest.to_string());
            text.push_str("\",\"jpeg\":\"");
            pieces.push(Piece::Text(std::mem::take(&mut text)));
            pieces.push(Piece::Photo(*digest));
            text.push_str("\"}");
            between = ",\n";
        }
        text.push_str("\n]");
    }
    put_entries(&mut text, entries);
    pieces.push(Piece::Text(text));
    pieces
}

/// Reads a record file whole, or says why not.
///
/// # Errors
/// [`ImportError`]: a damaged entry, a photo that is not what the record says of it or that no entry names, a question that is not
/// there. Nothing of such a file is handed out.
pub fn read_record(text: &str) -> Result<RecordFile, ImportError> {
    looked_over(text)?;
    let File { question, photos, entries: Counted(entries), .. } = from_json(text).map_err(|error| refused(&error))?;
    if question.is_some_and(|question| !asks(&entries, question)) {
        return Err(ImportError::NoQuestion);
    }
    let mut files: Vec<(Digest, Vec<u8>)> = Vec::new();
    // Each is taken out once its file was read: a second file of the same is a stray.
    let mut named = photos_named(&entries);
    for (PhotoFile { digest, jpeg }, place) in photos.into_iter().zip(1..) {
        let photo = named.remove(&digest).ok_or(ImportError::StrayPhoto(place))?;
        files.push((digest, checked(photo, jpeg).map_err(|why| ImportError::BadPhoto(place, why))?));
    }
    Ok(RecordFile { entries, photos: files, question })
}

/// The photos that entries name, each as the first entry has it.
fn photos_named(entries: &[Entry]) -> BTreeMap<Digest, &Photo> {
    let mut named = BTreeMap::new();
    for entry in entries {
        if let Body::PhotoAttached { photo, .. } = &entry.body {
            named.entry(photo.digest).or_insert(photo);
        }
    }
    named
}

/// The bytes of a photo.
fn checked(photo: &Photo, jpeg: &str) -> Result<Vec<u8>, PhotoError> {
    let bytes = URL_SAFE_NO_PAD.decode(jpeg).map_err(|_| PhotoError::Damaged)?;
    photo.check(&bytes)?;
    Ok(bytes)
}

fn asks(entries: &[Entry], question: EntryId) -> bool {
    entries.iter().any(|entry| entry.id == question && matches!(entry.body, Body::QuestionAsked(_)))
}
