//! Files that leave, read by programs that know nothing of ours.

use chrono::{DateTime, NaiveDate, NaiveDateTime};
use csv::{ReaderBuilder, Terminator};
use rawzip::{ZipArchive, ZipVerification};
use trammel::procedure::procedures;
use trammel::quantity::{Quantity, Unit};
use trammel::record::{
    About, AirframeDetails, AirframeId, Body, Entry, EntryId, HoleMark, Instrument, InstrumentKind, Ledger, MarkedHole,
    Reading, RunId, TimeSpent, Units,
};
use trammel::report::{COLUMNS, Sum, WORK_COLUMNS, Zip, readings_csv, work_log_csv};
use uuid::Uuid;

use super::{Room, Told, text};

const AIRFRAME: AirframeId = AirframeId(Uuid::from_u128(1));
const RUN: RunId = RunId(Uuid::from_u128(2));

/// Parts of the bytes: 0xff, which no text holds, parts them.
fn part(bytes: &[u8], which: usize) -> String {
    bytes.split(|byte| *byte == 0xff).nth(which).map(|part| text(part).into_owned()).unwrap_or_default()
}

fn entry(id: u128, by: &str, body: Body) -> Entry {
    let (id, at) = (EntryId(Uuid::from_u128(id)), DateTime::UNIX_EPOCH.fixed_offset());
    Entry { id, airframe: AIRFRAME, at, by: by.to_owned(), device: Uuid::nil(), body, seal: None }
}

/// A record in which every text that a CSV file shows comes from the bytes.
fn of_texts(texts: &[String; 8]) -> Ledger {
    let [model, serial, manual, by, step, said, name, reason] = texts.clone();
    let details = AirframeDetails { model, serial, builder: by.clone(), manual, units: Units::Inches, invented: true };
    let instrument = Instrument::new(InstrumentKind::Tape, name, Unit::Inch, 1.0 / 32.0, 1.0 / 16.0);
    let value = Quantity { text: said.clone(), ..Quantity::new(-2.5, Unit::Inch, 1.0 / 32.0) };
    let about = About { run: Some(RUN), step: Some(step.clone()), entry: None };
    let hole = MarkedHole { run: RUN, step: step.clone(), row: 1, hole: 2, mark: HoleMark::Bad, note: reason.clone() };
    let reading =
        Reading { run: RUN, step: step.clone(), slot: step.clone(), value, instrument, asked: Some(said.clone()) };
    let day = NaiveDate::default();
    let mut ledger = Ledger::default();
    ledger.merge([
        entry(10, &by, Body::AirframeMade { details }),
        entry(11, &by, Body::RunStarted { run: RUN, procedure: step, version: 1, file: None }),
        entry(12, &by, Body::ReadingTaken(reading)),
        entry(13, &by, Body::HoleMarked(hole)),
        entry(14, &by, Body::Struck { entry: EntryId(Uuid::from_u128(12)), reason }),
        entry(15, &by, Body::TimeSpent(TimeSpent { about, day, minutes: 30, what: said })),
    ]);
    ledger
}

/// By another program, told that rows end in CR LF: rows of one length, or it refuses.
fn cells(file: &str) -> Vec<Vec<String>> {
    let rows = ReaderBuilder::new().has_headers(false).terminator(Terminator::CRLF).from_reader(file.as_bytes());
    rows.into_records().map(|row| row.expect("a row").iter().map(str::to_owned).collect()).collect()
}

/// What a spreadsheet may run (OWASP ASVS 5.0, 1.2.10; the wide forms from memory).
const LEADS: [char; 11] = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

fn legible(text: &str) -> String {
    let as_it_is = |letter: char| {
        matches!(letter, '\t' | '\r' | '\n') || !(letter.is_control() || matches!(letter, '\u{fffe}' | '\u{ffff}'))
    };
    text.chars().map(|letter| if as_it_is(letter) { letter } else { '\u{fffd}' }).collect()
}

/// Another program finds every text in its cell as it was put, behind an apostrophe where a spreadsheet would run it.
pub(super) fn csv(bytes: &[u8], room: Room, told: &mut Told) {
    let texts: [String; 8] = std::array::from_fn(|which| part(bytes, which));
    let ledger = of_texts(&texts);
    let airframe = ledger.airframe(AIRFRAME).expect("it was just made");
    // Made once, and not of these texts.
    procedures().for_each(drop);
    let readings = room.within(bytes.len(), || readings_csv(&airframe, &ledger));
    let work = room.within(bytes.len(), || work_log_csv(&airframe, &ledger));
    told.put(&(&readings, &work));
    for (file, columns, rows) in [(readings, &COLUMNS[..], 3), (work, &WORK_COLUMNS[..], 0)] {
        let found = cells(&file);
        assert_eq!(found[0], columns);
        assert!(rows == 0 || found.len() == rows, "{file}");
        for cell in found.iter().flatten() {
            assert!(!cell.starts_with(LEADS) || cell.parse::<f64>().is_ok_and(f64::is_finite), "{cell:?} may be run");
        }
        if rows > 0 {
            let [model, serial, manual, by, step, said, name, reason] = &texts;
            for (column, put) in [
                ("model", model),
                ("serial", serial),
                ("manual", manual),
                ("reader", by),
                ("step", step),
                ("reading", step),
                ("text", said),
                ("asked", said),
                ("instrument", name),
            ] {
                let place = COLUMNS.iter().position(|known| *known == column).expect("a column");
                let cell = &found[1][place];
                let legible = legible(put);
                let kept = if legible.starts_with(LEADS) { cell.strip_prefix('\'') } else { Some(cell.as_str()) };
                assert_eq!(kept, Some(legible.as_str()), "{column}");
            }
            let struck = found[1].last().expect("a cell");
            assert!(!struck.is_empty() && struck.ends_with(&legible(reason)), "a strike is seen");
        }
    }
}

/// Another program finds every file in the zip, its name, its bytes and its checksum.
pub(super) fn zip(bytes: &[u8], room: Room, told: &mut Told) {
    let mut files: Vec<(String, &[u8])> = Vec::new();
    let mut rest = bytes;
    while let [name, content, after @ ..] = rest {
        let (name, after) = after.split_at(usize::from(*name).min(after.len()));
        let (content, after) = after.split_at(usize::from(*content).min(after.len()));
        files.push((text(name).into_owned(), content));
        rest = after;
    }
    let file = room.within(bytes.len(), || {
        let mut zip = Zip::begin(NaiveDateTime::default());
        let mut file = Vec::new();
        for (name, content) in &files {
            // In two pieces, as a large one comes.
            let mut sum = Sum::default();
            let (head, tail) = content.split_at(content.len() / 2);
            sum.take(head);
            sum.take(tail);
            file.extend(zip.file(name, &sum));
            file.extend(*content);
        }
        file.extend(zip.end());
        file
    });
    told.put(&file);
    let read = ZipArchive::from_slice(&file).expect("a zip file");
    assert_eq!(read.entries_hint(), files.len() as u64);
    let mut found = read.entries();
    for (name, content) in &files {
        let header = found.next_entry().expect("a header").expect("a file more");
        assert_eq!(header.file_path().as_ref(), name.as_bytes());
        let entry = read.get_entry(header.wayfinder()).expect("a file");
        assert_eq!(entry.data(), *content);
        let found = ZipVerification { crc: rawzip::crc32(content), uncompressed_size: content.len() as u64 };
        entry.claim_verifier().valid(found).expect("its checksum and size");
    }
    assert!(found.next_entry().expect("the end").is_none());
}
