//! The page to print, read by Python's own XML parser (expat) and by an HTML parser that follows the HTML standard (html5lib), and the
//! bundle, read by Python's zipfile: programs that know nothing of ours.

#[path = "support/kinds.rs"]
mod kinds;
#[path = "support/libraries.rs"]
mod libraries;
mod support;

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use kinds::every_kind;
use serde_json::{Value, json};
use support::Logbook;
use trammel::record::{
    About, AirframeDetails, Body, Deviation, DeviationAnswer, Digest, HoleMark, Ledger, Photo, Role, Units,
};
use trammel::report::{Printed, Sum, Zip, bundle_texts, bundled_photo, lines, printed, write_json};

fn page_of(book: &Logbook, photos: &[(Digest, Vec<u8>)]) -> String {
    let photos: BTreeMap<Digest, Vec<u8>> = photos.iter().cloned().collect();
    printed(&book.ledger, book.airframe, &photos).expect("an airframe")
}

/// What the outside parsers find: tags, attributes, texts, by both ways of reading.
fn parsed(page: &str) -> Value {
    let python = libraries::python("page", &[("html5lib", "1.1")]);
    let script = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/support/read_page.py");
    libraries::evaluate(&python, script.to_str().expect("a path"), &json!({ "page": page }))
}

fn strings(value: &Value) -> BTreeSet<String> {
    value.as_array().expect("a list").iter().map(|text| text.as_str().expect("a text").to_owned()).collect()
}

#[test]
fn the_page_is_well_formed_and_holds_everything() {
    let (book, photos) = every_kind();
    let page = page_of(&book, &photos);
    let found = parsed(&page);
    assert_eq!(found["xml_tags"], found["html_tags"], "both parsers see the same elements");
    assert_eq!(found["html_errors"], json!([]), "an HTML parser has nothing to mend");
    let tags = strings(&found["tags"]);
    for never in ["script", "link", "iframe", "object", "embed", "form", "input", "a", "base"] {
        assert!(!tags.contains(never), "{never}");
    }
    let text = found["text"].as_str().expect("a text");
    // Every entry stands there in its words, struck ones with the reason.
    for line in lines(&book.ledger, book.airframe) {
        let words = line.what.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(&words), "{words}");
    }
    for words in [
        "Unbroken",
        "Key of the phone that A. Builder held since ",
        "were not held against the keys here.",
        "the point was forgotten",
        "It may stand; read it again once it is clamped.",
        "Open items: 1",
        "Fetch the second trestle",
        "Raise the saddle, or shim the block?",
        "give or take",
        "C. Mentor",
    ] {
        assert!(text.contains(words), "{words}");
    }
    // The photo that was handed over is inside, as it is.
    let images = strings(&found["images"]);
    assert_eq!(images, photos.iter().map(|(digest, _)| digest.to_string()).collect(), "SHA-256 by hashlib");
    assert_eq!(found["outside"], json!([]), "nothing from elsewhere");
    assert_eq!(found["colours"], json!([]), "black, white and greys");
    assert!(
        found["drawn"]
            .as_array()
            .expect("a list")
            .contains(&json!("M20 70L35 30L50 72L66 28L80 70M100 50L150 45L210 55"))
    );
    assert!(
        page_of(&book, &[]).contains("The picture is not on this phone"),
        "a photo without a file is said to be missing"
    );
}

#[test]
fn pieces_make_the_same_page_and_are_counted() {
    let (book, _) = every_kind();
    let pieces = Printed::begin(&book.ledger, book.airframe, &[]).expect("an airframe");
    let count = pieces.in_all();
    assert_eq!(count, pieces.collect::<Vec<_>>().len());
    assert!(count >= 4, "a title, a run, what was said, the entries: {count}");
    assert!(printed(&Ledger::default(), book.airframe, &BTreeMap::new()).is_none());
}

/// A record that was altered says so on its first page.
#[test]
fn an_altered_record_is_not_called_unbroken() {
    let (book, _) = every_kind();
    let mut entries: Vec<_> = book.ledger.entries().cloned().collect();
    let signed = entries.iter().position(|entry| matches!(entry.body, Body::HoldSigned { .. })).expect("signed");
    "E. Else".clone_into(&mut entries[signed].by);
    let mut altered = Ledger::default();
    altered.merge(entries);
    let page = printed(&altered, book.airframe, &BTreeMap::new()).expect("an airframe");
    assert!(page.contains("Not unbroken") && !page.contains("<p class=\"lead\">Unbroken"));
    assert!(page.contains("It is not what it was when it was sealed."));
}

/// Text that would be markup, break out of an attribute, or be no XML at all.
const HOSTILE: [&str; 12] = [
    "<script>alert(1)</script>",
    "\"><img src=x onerror=alert(1)>",
    "' onload='alert(1)",
    "</td></tr></table></body></html>",
    "<!-- ",
    "--> <svg onload=alert(1)>",
    "]]><![CDATA[ <b>",
    "&amp;&#60;script&#62;&lt;",
    "<?xml version=\"1.0\"?><!DOCTYPE x [<!ENTITY y SYSTEM \"file:///etc/passwd\">]>&y;",
    "javascript:alert(1)",
    "\u{0}\u{1}\u{8}\u{b}\u{1b}\u{7f}\u{85}\u{fffe}\u{ffff} control",
    "{braces} {{more}} \u{202e}turned\u{2066} \u{1f600}",
];

#[test]
fn nothing_that_was_typed_becomes_markup() {
    let plain = parsed(&page_of(&hostile(&["harmless"; 12]), &[]));
    let page = page_of(&hostile(&HOSTILE), &[]);
    let found = parsed(&page);
    assert_eq!(found["html_errors"], json!([]));
    assert_eq!(found["xml_tags"], found["html_tags"]);
    assert_eq!(found["tags"], plain["tags"], "no element that harmless words do not have");
    assert_eq!(found["attributes"], plain["attributes"], "no attribute either");
    assert_eq!(found["outside"], json!([]));
    let text = found["text"].as_str().expect("a text");
    for words in HOSTILE.iter().filter(|words| !words.contains('\u{0}')) {
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(&words), "it stands there as it was typed: {words}");
    }
}

/// A record in which every text that can be typed is one of these.
fn hostile(texts: &[&str]) -> Logbook {
    let mut book = Logbook::empty();
    for text in texts {
        let text = (*text).to_owned();
        book.by = text.clone();
        let details = AirframeDetails {
            model: text.clone(),
            serial: text.clone(),
            builder: text.clone(),
            manual: text.clone(),
            units: Units::Inches,
            invented: false,
        };
        book.put(Body::AirframeMade { details });
        book.begin("mate-aft-fuselage", 0xB);
        let about = About { run: Some(book.run), step: Some(text.clone()), entry: None };
        book.put(Body::PersonNamed { name: text.clone(), role: Role::Mentor });
        book.put(Body::NoteMade { about: about.clone(), text: text.clone(), spoken: false });
        let photo = Photo { digest: Digest::of(text.as_bytes()), bytes: 1, width: 1, height: 1 };
        book.put(Body::PhotoAttached { about: about.clone(), photo, caption: text.clone() });
        let deviation =
            Deviation { about, found: text.clone(), limit: text.clone(), reason: text.clone(), asked: text.clone() };
        let deviation = book.put(Body::DeviationRaised(deviation));
        let (name, answer) = (text.clone(), text.clone());
        book.put(Body::DeviationAnswered(DeviationAnswer { deviation, accepted: false, name, answer }));
        let drawn = Some(format!("1,2 3,4;{text}").into());
        book.put(Body::HoldSigned { run: book.run, step: "hold-a".to_owned(), name: text.clone(), drawn });
        book.mark("drill", (1, 1), HoleMark::Bad, &text);
        let entry = book.confirm("level-frame");
        book.put(Body::Struck { entry, reason: text });
    }
    book
}

/// CRC-32 of "123456789" is CBF43926 (the check value that catalogues of such codes give; from memory); `zipfile` recomputes it for
/// every member. The bundle's parts are what the app sends by themselves.
#[test]
fn the_bundle_opens_in_a_zip_library() {
    let (book, photos) = every_kind();
    let now = chrono::NaiveDate::from_ymd_opt(2026, 3, 4).and_then(|day| day.and_hms_opt(19, 31, 8)).expect("a time");
    let mut zip = Zip::begin(now);
    let mut bytes = Vec::new();
    let mut parts: Vec<(String, Vec<u8>)> = bundle_texts(&book.ledger, &book.airframe())
        .into_iter()
        .map(|(name, text)| (name.to_owned(), text.into_bytes()))
        .collect();
    parts.push(("page.html".to_owned(), page_of(&book, &photos).into_bytes()));
    parts.extend(photos.iter().map(|(digest, file)| (bundled_photo(*digest), file.clone())));
    for (name, file) in &parts {
        let mut sum = Sum::default();
        // In pieces, as the app does.
        file.chunks(1_000).for_each(|piece| sum.take(piece));
        bytes.extend(zip.file(name, &sum));
        bytes.extend(file);
    }
    bytes.extend(zip.end());
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("bundle.zip");
    std::fs::write(&path, &bytes).expect("written");
    let script = "import zipfile,sys,json,hashlib; z=zipfile.ZipFile(sys.argv[1]); \
                  print(json.dumps([z.testzip(), [[i.filename, list(i.date_time), hashlib.sha256(z.read(i)).hexdigest()] for i in z.infolist()]]))";
    let output = std::process::Command::new("python3").args(["-c", script]).arg(&path).output().expect("python3");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let found: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(found[0], Value::Null, "no member is damaged");
    let hex = |file: &[u8]| Digest::of(file).bytes().iter().map(|byte| format!("{byte:02x}")).collect::<String>();
    let expected: Vec<Value> =
        parts.iter().map(|(name, file)| json!([name, [2026, 3, 4, 19, 31, 8], hex(file)])).collect();
    assert_eq!(found[1], json!(expected));
    let record = parts.iter().find(|(name, _)| name == "record.json").expect("there");
    assert_eq!(record.1, write_json(book.ledger.entries()).into_bytes());
    let check = Zip::begin(now).file("x", &Sum::of(b"123456789"));
    assert_eq!(check[14..18], 0xcbf4_3926_u32.to_le_bytes());
}

/// For a look at it: `cargo test --test page -- --ignored write_a_page` and print `target/tmp/page.html`.
#[test]
#[ignore = "writes a page to look at"]
fn write_a_page() {
    let (book, photos) = every_kind();
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("page.html");
    std::fs::write(path, page_of(&book, &photos)).expect("written");
}
