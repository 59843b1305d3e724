//! What a question takes along to somebody who was not there, and what the answer brings back.
//!
//! A question's file is an extract: of the record it holds what the step's page follows from, so that the verdicts that are worked out
//! on the other phone are those of the phone that asked (docs/decisions/0015).

use uuid::Uuid;

use super::name::file_name;
use super::record_file::{RecordFile, write_record};
use crate::language::tr;
use crate::procedure::{Procedure, of_run, stirs};
use crate::record::{
    About, Airframe, AirframeId, Body, Digest, Entry, EntryId, Integrity, Ledger, MovedAdjuster, Photo, Question, RunId,
};

/// The largest file, in bytes, that a question or an answer is sent as: mail takes that much everywhere, and a weak signal carries it.
pub const MAX_QUESTION: usize = 5_000_000;

/// What a photo takes in a file beside its bytes.
const PHOTO_FRAME: usize = 80;

/// The entries that a question needs, photos left aside. `None` when the entry asks nothing.
///
/// Taken: the airframe, its people and keys, its specification in force and who read it again, its instruments, all of the run that is
/// asked about, of other runs what was moved and disturbs it, the question and what answers it; and the strike of whatever was struck
/// out among these. Not taken: other runs, other procedures, older numbers, what is said of the airframe at large.
#[must_use]
pub fn extract(ledger: &Ledger, question: EntryId) -> Option<RecordFile> {
    let (asked, about) = asked(ledger, question)?;
    let airframe = ledger.airframe(asked)?;
    let mut taken = founded(ledger, &airframe, about.run, question);
    for entry in ledger.of(airframe.id) {
        if entry.replies_to().is_some_and(|named| taken.contains(&named)) {
            taken.push(entry.id);
        }
    }
    let struck = ledger.struck(airframe.id);
    let strikes: Vec<EntryId> = taken.iter().filter_map(|entry| struck.get(*entry)).collect();
    taken.extend(strikes);
    Some(file_of(ledger, &taken, question))
}

/// What was written here in answer: everything that this device wrote of the airframe, so that its chain is whole, and the question.
/// `None` when the entry asks nothing.
#[must_use]
pub fn answer(ledger: &Ledger, question: EntryId, device: Uuid) -> Option<RecordFile> {
    let (airframe, _) = asked(ledger, question)?;
    let own = ledger.of(airframe).filter(|entry| entry.device == device || entry.id == question);
    Some(file_of(ledger, &own.map(|entry| entry.id).collect::<Vec<_>>(), question))
}

fn asked(ledger: &Ledger, question: EntryId) -> Option<(AirframeId, &About)> {
    let entry = ledger.get(question)?;
    match &entry.body {
        Body::QuestionAsked(Question { about, .. }) => Some((entry.airframe, about)),
        _ => None,
    }
}

/// The entries in their order, each once: a ledger's own.
fn file_of(ledger: &Ledger, entries: &[EntryId], question: EntryId) -> RecordFile {
    let mut taken = Ledger::default();
    taken.merge(entries.iter().filter_map(|entry| ledger.get(*entry).cloned()));
    RecordFile { entries: taken.entries().cloned().collect(), photos: Vec::new(), question: Some(question) }
}

/// What the airframe and the run are founded on, and what was said of the run.
fn founded(ledger: &Ledger, airframe: &Airframe, run: Option<RunId>, question: EntryId) -> Vec<EntryId> {
    let struck = ledger.struck(airframe.id);
    let procedure = airframe.runs.iter().find(|started| Some(started.run) == run).and_then(of_run);
    let of_run = run.map(|run| ledger.of_run(airframe.id, run)).unwrap_or_default();
    let moved: Vec<(EntryId, RunId)> = of_run
        .into_iter()
        .filter_map(|entry| match &entry.body {
            Body::AdjusterMoved(moved) if Some(moved.run) != run && disturbs(procedure, airframe, moved) => {
                Some((entry.id, moved.run))
            }
            _ => None,
        })
        .collect();
    let in_force = |key: &str, set: EntryId| airframe.specification.item(key).is_some_and(|item| item.entry == set);
    let of_what = |entry: &Entry| ledger.get(entry.replies_to()?)?.run();
    let wanted = |entry: &&Entry| match &entry.body {
        Body::AirframeMade { .. }
        | Body::InstrumentAccepted { .. }
        | Body::InstrumentReversed { .. }
        | Body::PersonNamed { .. }
        | Body::KeyMade { .. } => true,
        Body::SpecificationSet { key, .. } => in_force(key, entry.id) || struck.get(entry.id).is_some(),
        Body::SpecificationReread { key, entry: read } => in_force(key, *read),
        Body::RunStarted { run: other, .. } => Some(*other) == run || moved.iter().any(|(_, of)| of == other),
        Body::RemarkMade(remark) if remark.answers == Some(question) => true,
        _ => entry.id == question || (run.is_some() && (entry.run() == run || of_what(entry) == run)),
    };
    let wanted = ledger.of(airframe.id).filter(wanted).map(|entry| entry.id);
    wanted.chain(moved.iter().map(|(entry, _)| *entry)).collect()
}

fn disturbs(procedure: Option<&Procedure>, airframe: &Airframe, moved: &MovedAdjuster) -> bool {
    procedure.is_some_and(|procedure| stirs(procedure, airframe, moved))
}

/// Photos of a step of a run, the newest first, each with its caption and the entry that attached it.
#[must_use]
pub fn photos_about(ledger: &Ledger, airframe: AirframeId, about: &About) -> Vec<(EntryId, Photo, String)> {
    let entries = about.run.map_or_else(|| ledger.in_force(airframe), |run| ledger.of_run(airframe, run));
    let mut found: Vec<(EntryId, Photo, String)> = Vec::new();
    for entry in entries.into_iter().rev() {
        if let Body::PhotoAttached { about: of, photo, caption } = &entry.body
            && (of.run, &of.step) == (about.run, &about.step)
            && found.iter().all(|(_, known, _)| known.digest != photo.digest)
        {
            found.push((entry.id, photo.clone(), caption.clone()));
        }
    }
    found
}

/// The file as text with as many of the photos, in the order given, as [`MAX_QUESTION`] has room for; and how many were left out.
#[must_use]
pub fn with_photos(mut file: RecordFile, photos: Vec<(Digest, Vec<u8>)>) -> (String, usize) {
    let mut size = write_record(&file).len() + PHOTO_FRAME;
    let mut left = 0;
    for (digest, jpeg) in photos {
        let more = jpeg.len().div_ceil(3) * 4 + PHOTO_FRAME;
        if size + more < MAX_QUESTION {
            size += more;
            file.photos.push((digest, jpeg));
        } else {
            left += 1;
        }
    }
    (write_record(&file), left)
}

/// How large a file is, how many photos go with it, and how many were left out.
#[must_use]
pub fn size_words(bytes: usize, with: usize, left: usize) -> String {
    let size = if bytes < 1_000_000 {
        format!("{} kB", bytes.div_ceil(1000))
    } else {
        format!("{}.{} MB", bytes / 1_000_000, bytes / 100_000 % 10)
    };
    let mut words = if with > 0 {
        tr!("The file has {size}, with 1 photo." | "The file has {size}, with {n} photos." % with, size)
    } else {
        tr!("The file has {size}.", size)
    };
    if left > 0 {
        words.push(' ');
        words.push_str(&tr!(
            "1 photo left out: no room under 5 MB, or not on this phone. What is said of them is in the file."
                | "{n} photos left out: no room under 5 MB, or not on this phone. What is said of them is in the file."
                    % left
        ));
    }
    words
}

/// What the file of a question or an answer is called: the day first, so that files sort by it.
/// "2026-03-04-veldrin-h2-1-question.json".
#[must_use]
pub fn question_name(airframe: &Airframe, asked: &Entry, what: &str) -> String {
    file_name(asked.at.date_naive(), airframe, &format!("{what}.json"))
}

/// What is said where a record is an extract: how many entries were not sent, and that what is here is as it was written. Empty where
/// nothing is missing; what was altered is said on the record's page.
#[must_use]
pub fn not_sent(found: &Integrity) -> String {
    match (found.missing(), found.as_written()) {
        (0, _) => String::new(),
        (missing, true) => tr!("An extract: 1 entry of the record was not sent. What is here is as it was written."
            | "An extract: {n} entries of the record were not sent. What is here is as it was written." % missing),
        (missing, false) => tr!(
            "{number} entries of the record are not here, and some of what is here is not as it was written: see the record.",
            number = missing
        ),
    }
}
