//! Files out and in.

mod support;

use support::Logbook;
use trammel::record::{Body, HoleMark, Ledger};
use trammel::report::{COLUMNS, ImportError, MAX_BYTES, VERSION, read_json, readings_csv, write_json};

fn some_record() -> Logbook {
    let mut book = Logbook::example(0);
    book.by = "=HYPERLINK(\"x\"), \"A\"\nB".to_owned();
    for value in [-2.65, -2.6, 0.1] {
        book.read("set/pitch", "direct", value);
    }
    for n in 0..64 {
        book.read("set/square", "left", 227.0 + f64::from(n) / 64.0);
    }
    let wrong = book.read("set/offset", "string", -0.0625);
    book.put(Body::Struck { entry: wrong, reason: "@wrong side of the string".to_owned() });
    book.moved("set/pitch", "saddle", 0.625);
    book.sign("hold-a", "B. Helper");
    book.lay_out("drill", &[12, 12, 8]);
    book.mark("drill", (2, 7), HoleMark::Bad, "-elongated, \"a little\"");
    book.mark("drill", (2, 7), HoleMark::Answered, "next size");
    book
}

#[test]
fn export_import_export_gives_the_same_bytes() {
    let book = some_record();
    let text = write_json(book.ledger.entries());
    let mut other = Ledger::default();
    let merged = other.merge(read_json(&text).expect("reads"));
    assert_eq!(merged.added.len(), book.ledger.len());
    assert_eq!(other, book.ledger, "the same record");
    assert_eq!(write_json(other.entries()), text, "the same bytes");
    let again = other.merge(read_json(&text).expect("reads"));
    assert_eq!((again.added.len(), again.known), (0, book.ledger.len()), "importing twice is harmless");
}

#[test]
fn a_record_of_an_older_version_reads_and_goes_on_as_the_newest() {
    let text = write_json(some_record().ledger.entries());
    for version in 1..VERSION {
        let old = text.replacen(&format!("\"version\":{VERSION}"), &format!("\"version\":{version}"), 1);
        assert_ne!(old, text);
        assert_eq!(write_json(&read_json(&old).expect("reads")), text);
    }
}

#[test]
fn every_truncation_is_refused() {
    let text = write_json(some_record().ledger.entries());
    for end in (0..text.trim_end().len()).filter(|end| text.is_char_boundary(*end)).step_by(7) {
        assert!(read_json(&text[..end]).is_err(), "cut at {end}");
    }
    assert_eq!(read_json(&text[..text.len() / 2]), Err(ImportError::CutShort));
}

#[test]
fn newer_huge_and_hostile_files_are_refused_with_the_reason() {
    let newer = r#"{"format":"trammel-record","version":5,"something-new":{},"entries":[{"unheard":"of"}]}"#;
    assert_eq!(read_json(newer), Err(ImportError::Newer(5)));
    assert_eq!(read_json(&" ".repeat(MAX_BYTES + 1)), Err(ImportError::TooLarge));
    assert!(matches!(read_json("[]"), Err(ImportError::NotARecord(_))));
    assert!(matches!(read_json("<script>alert(1)</script>"), Err(ImportError::NotARecord(_))));
    assert!(
        matches!(read_json(&"[".repeat(100_000)), Err(ImportError::NotARecord(_) | ImportError::CutShort)),
        "deep nesting"
    );
    let foreign = r#"{"format":"another-record","version":1,"entries":[]}"#;
    assert!(matches!(read_json(foreign), Err(ImportError::NotARecord(_))));

    let text = write_json(some_record().ledger.entries());
    for (from, to) in [
        ("\"value\":-2.65", "\"value\":1e300"),
        ("\"hold-signed\":", "\"hold-forged\":"),
        ("\"unit\":\"deg\"", "\"unit\":\"furlong\""),
        ("\"step\":0.1", "\"step\":-1"),
        ("\"text\":\"227", "\"script\":\"x\",\"text\":\"227"),
    ] {
        let at = text.find(from).unwrap_or_else(|| panic!("{from} is not in the file"));
        let hostile = format!("{}{to}{}", &text[..at], &text[at + from.len()..]);
        assert!(matches!(read_json(&hostile), Err(ImportError::BadEntry(..))), "{to}: {:?}", read_json(&hostile).err());
    }
    let long = text.replacen("B. Helper", &"x".repeat(5_000), 1);
    assert!(matches!(read_json(&long), Err(ImportError::BadEntry(..))), "a text that is too long");
    // What an entry may hold, 4,000 bytes, may stand in a file, whatever stands between its quotes.
    for held in ["x".repeat(4_000), "\\\"".repeat(4_000), "\\n".repeat(4_000)] {
        let whole = text.replacen("B. Helper", &held, 1);
        assert!(read_json(&whole).is_ok(), "{:?} of {}", read_json(&whole).err(), &held[..4]);
    }
}

#[test]
fn an_altered_copy_of_an_entry_is_reported_and_every_device_keeps_the_same_one() {
    let book = some_record();
    let mut altered: Vec<_> = book.ledger.entries().cloned().collect();
    altered[3].by = "somebody else".to_owned();
    let (mut one, mut two) = (book.ledger.clone(), Ledger::default());
    let merged = one.merge(altered.clone());
    assert_eq!(merged.conflicts, vec![altered[3].id]);
    two.merge(altered);
    two.merge(book.ledger.entries().cloned());
    assert_eq!(one, two, "in either order");
}

/// RFC 4180, section 2, with a reader that is not the writer's crate: rows end in CRLF, every row has as many fields as the
/// header, quotes are doubled, a quoted field may hold a line break.
#[test]
fn csv_is_rfc_4180_and_no_cell_is_a_formula() {
    let book = some_record();
    let text = readings_csv(&book.airframe(), &book.ledger);
    let rows = strict_rows(&text);
    assert_eq!(rows[0], COLUMNS);
    let wanted = |body: &Body| matches!(body, Body::ReadingTaken(_) | Body::HoleMarked(_));
    let wanted = book.ledger.entries().filter(|entry| wanted(&entry.body)).count();
    assert_eq!(rows.len(), wanted + 1);
    for row in &rows {
        assert_eq!(row.len(), COLUMNS.len());
        for cell in row {
            let number = cell.parse::<f64>().is_ok();
            assert!(number || !cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "a formula: {cell}");
        }
    }
    assert!(rows[1].contains(&"'=HYPERLINK(\"x\"), \"A\"\nB".to_owned()), "kept legible: {:?}", rows[1]);
    let [.., wrong, bad, right] = rows.as_slice() else { panic!("{rows:?}") };
    assert!(wrong.last().expect("cells").contains("wrong side"), "the strike's reason");
    assert_eq!(bad[7..11], ["row 2, hole 7", "bad, -elongated, \"a little\"", "", ""]);
    assert_eq!(right[6..9], ["drill", "row 2, hole 7", "put right, next size"]);
}

fn strict_rows(text: &str) -> Vec<Vec<String>> {
    let mut rows = vec![vec![String::new()]];
    let mut quoted = false;
    let mut characters = text.chars().peekable();
    while let Some(character) = characters.next() {
        let row = rows.last_mut().expect("a row");
        match character {
            '"' if quoted && characters.peek() == Some(&'"') => {
                characters.next();
                row.last_mut().expect("a cell").push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => row.push(String::new()),
            '\r' if !quoted => {
                assert_eq!(characters.next(), Some('\n'), "CRLF");
                rows.push(vec![String::new()]);
            }
            '\n' if !quoted => panic!("a bare line feed"),
            other => row.last_mut().expect("a cell").push(other),
        }
    }
    assert!(!quoted, "an open quote");
    assert_eq!(rows.pop(), Some(vec![String::new()]), "the last row ends in CRLF");
    rows
}
