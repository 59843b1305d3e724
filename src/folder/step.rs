//! Bringing a phone and the folder into step.

use std::future::Future;

use uuid::Uuid;

use super::listing::{entity_tag, file_name, file_of};
use super::memory::Memory;
use super::patient::ask;
use super::photos;
use super::trouble::Trouble;
use super::wire::{Answer, Method, Request, Wire};
use super::{Listed, listing};
use crate::language::{tr, words};
use crate::record::{AirframeId, Digest, Entry, Photo};
use crate::report::{ImportError, MAX_BYTES, read_json, write_json};

/// How often everything is looked at anew because this phone's file changed while it was being written.
const ROUNDS: u32 = 6;
/// The longest listing that is read, in bytes.
const MAX_LISTING: usize = 16 * 1024 * 1024;
/// Most record files that are read from one folder.
const MOST_FILES: usize = 2_000;

/// The phone. Its errors are words for a person.
pub trait Local {
    /// Which device this is.
    fn device(&self) -> Uuid;

    /// The airframes whose records are kept in step.
    fn airframes(&self) -> Vec<AirframeId>;

    /// The entries of one, sorted by id.
    fn entries(&self, airframe: AirframeId) -> Vec<Entry>;

    /// Takes entries in by set union, all or none. When it returns they are on the disk. Gives how many were new.
    fn merge(&self, entries: Vec<Entry>) -> impl Future<Output = Result<usize, String>>;

    /// The photos that those airframes' entries name, and whether each is here.
    fn photos(&self) -> impl Future<Output = Result<Vec<(Photo, bool)>, String>>;

    /// A photo's file.
    fn photo(&self, digest: Digest) -> impl Future<Output = Result<Option<Vec<u8>>, String>>;

    /// Keeps a photo's file.
    fn keep_photo(&self, digest: Digest, jpeg: Vec<u8>) -> impl Future<Output = Result<(), String>>;
}

/// What was done.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Outcome {
    /// Entries that were new on this phone.
    pub entries_in: usize,
    /// Files of other devices that were read.
    pub files_in: usize,
    /// Files of this phone that were written.
    pub files_out: usize,
    /// Photos that came.
    pub photos_in: usize,
    /// Photos that were sent.
    pub photos_out: usize,
    /// What in the folder was refused, a sentence each. It is tried again the next time.
    pub refused: Vec<String>,
}

impl Outcome {
    /// What was done, a sentence each.
    #[must_use]
    pub fn words(&self) -> Vec<String> {
        let photos = |count: usize| tr!("1 photo" | "{n} photos" % count);
        let mut words = Vec::new();
        if self.entries_in + self.photos_in > 0 {
            let entries = tr!("1 entry" | "{n} entries" % self.entries_in);
            words.push(tr!("Taken in: {entries}, {photos}.", entries, photos = photos(self.photos_in)));
        }
        if self.files_out + self.photos_out > 0 {
            let records = tr!("1 record" | "{n} records" % self.files_out);
            words.push(tr!("Sent: {records}, {photos}.", records, photos = photos(self.photos_out)));
        }
        if words.is_empty() {
            words.push(words!("Nothing was new, here or there.").to_owned());
        }
        words.extend(self.refused.iter().cloned());
        words
    }
}

/// Reads what others wrote, takes it in, writes what this phone holds. Doing it again, at any time and after any failure, does no harm.
///
/// # Errors
/// [`Trouble`]; what was taken in and sent until then stays, and `memory` knows of it.
pub async fn bring_into_step(wire: &impl Wire, local: &impl Local, memory: &mut Memory) -> Result<Outcome, Trouble> {
    let mut outcome = Outcome::default();
    for _ in 0..ROUNDS {
        outcome.refused.clear();
        if round(wire, local, memory, &mut outcome).await? {
            photos::bring_into_step(wire, local, memory, &mut outcome).await?;
            return Ok(outcome);
        }
    }
    Err(Trouble::Contested)
}

/// One look at everything; `false` when a file of this phone was not as it had been read.
async fn round(
    wire: &impl Wire,
    local: &impl Local,
    memory: &mut Memory,
    outcome: &mut Outcome,
) -> Result<bool, Trouble> {
    let listed = match list(wire, "").await? {
        Some(listed) => listed,
        None => {
            make_folder(wire, "").await?;
            Vec::new()
        }
    };
    let device = local.device();
    let files = listed.iter().filter_map(|file| Some((file, file_of(&file.name)?)));
    for (Listed { name, tag, .. }, (airframe, by)) in files.take(MOST_FILES) {
        if tag.is_some() && memory.file(name).map(|(known, _)| known) == tag.as_deref() {
            continue;
        }
        let Some(body) = get(wire, name, MAX_BYTES).await? else {
            memory.forget(name);
            continue;
        };
        let digest = Digest::of(&body);
        match understood(body, airframe) {
            Ok(entries) => outcome.entries_in += local.merge(entries).await.map_err(Trouble::Phone)?,
            Err(Unread::Newer) if by == device => return Err(Trouble::Newer),
            // What this phone once wrote is still on it: the file is written anew below.
            Err(_) if by == device => {}
            Err(why) => {
                outcome.refused.push(why.words(by));
                memory.forget(name);
                continue;
            }
        }
        outcome.files_in += usize::from(by != device);
        memory.know(name, tag.as_deref().unwrap_or_default(), digest);
    }
    let mut in_step = true;
    for airframe in local.airframes() {
        let name = file_name(airframe, device);
        let text = write_json(&local.entries(airframe));
        let there = listed.iter().find(|file| file.name == name);
        if there.is_none() {
            // The folder was emptied, or is another one behind the same address: what is known of it is worth nothing.
            memory.photos.clear();
        } else if memory.file(&name).is_some_and(|(_, digest)| digest == Digest::of(text.as_bytes())) {
            continue;
        }
        let put = put_record(wire, memory, &name, text.as_bytes(), there).await?;
        in_step &= put;
        outcome.files_out += usize::from(put);
    }
    Ok(in_step)
}

/// Writes this phone's file over the version that was read; `false` when that is no longer the one that is there.
async fn put_record(
    wire: &impl Wire,
    memory: &mut Memory,
    name: &str,
    body: &[u8],
    there: Option<&Listed>,
) -> Result<bool, Trouble> {
    memory.forget(name);
    let condition = match there.map(|there| &there.tag) {
        None => Some(("If-None-Match", "*".to_owned())),
        // A weak tag is no match for If-Match (RFC 9110, section 13.1.1).
        Some(Some(tag)) if !tag.starts_with("W/") => Some(("If-Match", tag.clone())),
        Some(_) => None,
    };
    let answer = put(wire, name, "application/json", condition, body).await?;
    match answer.status {
        200 | 201 | 204 => {}
        412 => return Ok(false),
        status => return Err(Trouble::of(status)),
    }
    match answer.etag.as_deref().and_then(entity_tag) {
        Some(tag) => memory.know(name, &tag, Digest::of(body)),
        // Without a tag nothing says what was kept: it is read back.
        None => return Ok(get(wire, name, MAX_BYTES).await?.as_deref() == Some(body)),
    }
    Ok(true)
}

/// Why another device's file was not taken in.
enum Unread {
    Newer,
    Stranger,
    Damaged(String),
}

impl Unread {
    fn words(&self, by: Uuid) -> String {
        let device = &by.to_string()[..8];
        match self {
            Self::Newer => tr!(
                "The file of device {device} was written by a newer version of the app. Update the app to read it.",
                device
            ),
            Self::Stranger => tr!(
                "The file of device {device} holds entries of another airframe than it says. It was not taken in.",
                device
            ),
            Self::Damaged(reason) => tr!("The file of device {device} was not taken in: {reason}", device, reason),
        }
    }
}

fn understood(body: Vec<u8>, airframe: AirframeId) -> Result<Vec<Entry>, Unread> {
    let text = String::from_utf8(body).map_err(|_| Unread::Damaged(words!("it is no text.").to_owned()))?;
    let entries = read_json(&text).map_err(|error| match error {
        ImportError::Newer(_) => Unread::Newer,
        error => Unread::Damaged(error.to_string()),
    })?;
    let one = entries.iter().all(|entry| entry.airframe == airframe);
    if one { Ok(entries) } else { Err(Unread::Stranger) }
}

/// What a folder lists; none when it is not there.
pub(super) async fn list(wire: &impl Wire, path: &str) -> Result<Option<Vec<Listed>>, Trouble> {
    const BODY: &[u8] = b"<?xml version=\"1.0\" encoding=\"utf-8\"?>\n<propfind xmlns=\"DAV:\"><prop><getetag/><getcontentlength/></prop></propfind>";
    let headers = vec![("Depth", "1".to_owned()), ("Content-Type", "application/xml; charset=utf-8".to_owned())];
    let answer = ask(wire, &Request { method: Method::List, path, headers, body: BODY, at_most: MAX_LISTING }).await?;
    match answer.status {
        207 => {
            let text = String::from_utf8(answer.body).map_err(|_| Trouble::NotAFolder)?;
            listing(&text).map(Some).ok_or(Trouble::NotAFolder)
        }
        404 => Ok(None),
        200..=299 | 405 | 501 => Err(Trouble::NotAFolder),
        status => Err(Trouble::of(status)),
    }
}

pub(super) async fn make_folder(wire: &impl Wire, path: &str) -> Result<(), Trouble> {
    let answer =
        ask(wire, &Request { method: Method::MakeFolder, path, headers: Vec::new(), body: b"", at_most: 100_000 })
            .await?;
    match answer.status {
        // 405: it is there already, made by another phone or by the attempt before.
        200..=299 | 405 => Ok(()),
        status => Err(Trouble::of(status)),
    }
}

/// A file; none when it is not there.
pub(super) async fn get(wire: &impl Wire, path: &str, at_most: usize) -> Result<Option<Vec<u8>>, Trouble> {
    let answer = ask(wire, &Request { method: Method::Get, path, headers: Vec::new(), body: b"", at_most }).await?;
    match answer.status {
        200 => Ok(Some(answer.body)),
        404 | 410 => Ok(None),
        status => Err(Trouble::of(status)),
    }
}

pub(super) async fn put(
    wire: &impl Wire,
    path: &str,
    kind: &str,
    condition: Option<(&'static str, String)>,
    body: &[u8],
) -> Result<Answer, Trouble> {
    let mut headers = vec![("Content-Type", kind.to_owned())];
    headers.extend(condition);
    ask(wire, &Request { method: Method::Put, path, headers, body, at_most: 100_000 }).await
}
