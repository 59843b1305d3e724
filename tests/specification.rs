//! The specification of an airframe: blank stays not judged, a change makes what it judged stale, a second person reads again, and
//! numbers travel as a file that is held against its published JSON Schema (draft 2020-12) by a general-purpose validator.

mod support;

use jsonschema::Validator;
use serde_json::{Value, json};
use support::Logbook;
use trammel::metrology::Verdict;
use trammel::procedure::{Progress, SheetCount, SpecDraft, State, aircraft, procedure, sheet_items, specify, unread};
use trammel::record::{AirframeDetails, Body, SpecValue, Units};
use trammel::report::{
    MAX_SPECIFICATION_BYTES, Refused, SpecificationFile, bodies, lines, offer, read_specification, write_specification,
};

const TWIST: [(&str, f64); 4] = [("frame", 0.1), ("frame-reversed", 0.1), ("aft", 0.1), ("aft-reversed", 0.1)];

fn value(key: &str, number: &str, tolerance: &str, units: Units) -> SpecValue {
    let item = sheet_items().find(|item| item.key == key).expect("on the sheet");
    let draft = SpecDraft { number: number.to_owned(), tolerance: tolerance.to_owned(), words: String::new() };
    specify(item, &draft, units).expect(key)
}

/// A real airframe with nothing entered.
fn real(model: &str, units: Units) -> Logbook {
    let mut book = Logbook::empty();
    let text = |text: &str| text.to_owned();
    let details = AirframeDetails {
        model: text(model),
        serial: text("7"),
        builder: text("A. Builder"),
        manual: text("manual, revision C"),
        units,
        invented: false,
    };
    book.put(Body::AirframeMade { details });
    book
}

/// A real one with three numbers.
fn mentor() -> Logbook {
    let mut book = real("Kestle 4", Units::Inches);
    for (key, number, tolerance) in
        [("twins", "", "1/16"), ("pitch", "-2.6", "+0.2 -0.1"), ("half-width", "17 1/4", "")]
    {
        book.specify(key, value(key, number, tolerance, Units::Inches), "page 4-2");
    }
    book
}

fn verdict(book: &Logbook, step: &str) -> Option<Verdict> {
    Some(book.fold().step(step)?.result()?.verdict)
}

#[test]
fn what_is_blank_or_blanked_is_recorded_and_not_judged() {
    let mut book = Logbook::example(0);
    for (slot, reading) in TWIST {
        book.read("set/twist", slot, reading);
    }
    assert_eq!(verdict(&book, "set/twist"), Some(Verdict::In));
    let blank = book.specify("twist", SpecValue::default(), "");
    assert_eq!(verdict(&book, "set/twist"), Some(Verdict::NotJudged));
    book.put(Body::Struck { entry: blank, reason: "the manual has one".to_owned() });
    assert_eq!(verdict(&book, "set/twist"), Some(Verdict::In));
}

#[test]
fn a_change_judges_anew() {
    let mut book = Logbook::example(0);
    for (slot, reading) in TWIST {
        book.read("set/twist", slot, reading);
    }
    // Half a degree of twist by the sheet: what was in is out, without a reading taken anew.
    let changed = book.specify("twist", value("twist", "0.5", "0.15", Units::Inches), "page 4-2, revision B");
    assert!(matches!(verdict(&book, "set/twist"), Some(Verdict::Out(_))));
    assert_eq!(book.fold().step("set/twist").expect("a step").state, State::Open);
    book.put(Body::Struck { entry: changed, reason: "read the wrong line".to_owned() });
    assert_eq!(verdict(&book, "set/twist"), Some(Verdict::In));
}

#[test]
fn striking_a_number_out_overtakes_a_signature_as_a_new_one_does() {
    let mut book = mentor();
    let second = book.specify("twins", value("twins", "", "1/8", Units::Inches), "page 4-3");
    let sign = book.sign("hold-a", "B. Helper");
    let asked = |key: &str| key == "twins";
    assert!(!book.airframe().specification.changed_since(sign, asked), "signed after the change");
    book.put(Body::Struck { entry: second, reason: "another type's page".to_owned() });
    assert!(book.airframe().specification.changed_since(sign, asked), "set back after the signature");
    assert!(!book.airframe().specification.changed_since(sign, |key| key == "pitch"), "another item");
}

#[test]
fn only_another_person_reads_again_and_only_what_is_in_force() {
    let mut book = mentor();
    let mating = procedure(book.works_on).expect("built in");
    let count = |book: &Logbook| SheetCount::of(mating, &book.airframe());
    assert_eq!((count(&book).entered, count(&book).unread), (3, 3));
    assert_eq!(count(&book).unread_words(), "3 numbers nobody has read again.");
    let reread = |book: &mut Logbook, by: &str, key: &str, entry| {
        book.by = by.to_owned();
        let id = book.put(Body::SpecificationReread { key: key.to_owned(), entry });
        book.by = "A. Builder".to_owned();
        id
    };
    let entry = book.airframe().specification.item("twins").expect("entered").entry;
    reread(&mut book, "a. builder", "twins", entry);
    reread(&mut book, "B. Helper", "pitch", entry);
    assert_eq!(count(&book).unread, 3, "by the same person, or of another item");
    let second = reread(&mut book, "B. Helper", "twins", entry);
    assert_eq!(count(&book).unread, 2);
    assert_eq!(book.airframe().specification.item("twins").expect("entered").reread.as_deref(), Some("B. Helper"));
    let said = lines(&book.ledger, book.airframe).pop().expect("a line");
    assert_eq!(said.what, "Read again in the manual, the same: Forward points match within 0 ± 1/16 in");
    assert!(said.can_strike);
    book.specify("twins", value("twins", "", "1/8", Units::Inches), "page 4-2");
    assert_eq!(count(&book).unread, 3, "changed since");
    let now = book.airframe().specification.item("twins").expect("entered").entry;
    reread(&mut book, "B. Helper", "twins", entry);
    assert_eq!(count(&book).unread, 3, "of the older number");
    let third = reread(&mut book, "B. Helper", "twins", now);
    assert_eq!(count(&book).unread, 2);
    book.put(Body::Struck { entry: third, reason: "not read".to_owned() });
    assert_eq!(count(&book).unread, 3);
    assert_ne!(second, third);
    assert_eq!(unread(&book.airframe(), Some(mating)).len(), 3);
    assert_eq!(unread(&book.airframe(), None).len(), 3, "each once");
}

#[test]
fn a_shape_leaves_procedures_and_numbers_out() {
    let mut book = real("Kestle 4", Units::Inches);
    let titles = |book: &Logbook| {
        let airframe = book.airframe();
        let works = aircraft(&airframe, &book.ledger);
        assert!(works.iter().all(|work| work.progress != Progress::Done));
        works.into_iter().map(|work| work.procedure.id.clone()).collect::<Vec<_>>()
    };
    let (struts, hole) = ("lift-struts".to_owned(), "cantilever-wing".to_owned());
    assert!(titles(&book).contains(&struts) && titles(&book).contains(&hole), "nobody has said");
    let choice = |words: &str| SpecValue { words: Some(words.to_owned()), ..SpecValue::default() };
    book.specify("wing-bracing", choice("cantilever"), "");
    assert!(!titles(&book).contains(&struts) && titles(&book).contains(&hole));
    let asked = |book: &Logbook| SheetCount::of(procedure("wing-dihedral").expect("built in"), &book.airframe()).asked;
    let without = asked(&book);
    book.specify("wing-bracing", choice("lift struts"), "");
    assert!(titles(&book).contains(&struts) && !titles(&book).contains(&hole));
    assert_eq!(asked(&book), without + 1, "the wing stand's place");
}

fn schema() -> Validator {
    let text = include_str!("../docs/schemas/specification.schema.json");
    jsonschema::validator_for(&serde_json::from_str(text).expect("JSON")).expect("a schema")
}

fn valid(text: &str) -> Vec<String> {
    let value: Value = serde_json::from_str(text).expect("JSON");
    schema().iter_errors(&value).map(|error| format!("{}: {error}", error.instance_path())).collect()
}

#[test]
fn export_import_export_gives_the_same_bytes_and_is_valid() {
    for book in [Logbook::sheet_only(0), Logbook::sheet_only(1), mentor()] {
        let text = write_specification(&book.airframe());
        assert_eq!(valid(&text), Vec::<String>::new());
        let file = read_specification(&text).expect("reads");
        assert_eq!(file.write(), text, "the same bytes");
        assert_eq!(file.invented, book.airframe().details.invented);
        // Taken in by an empty airframe of the type: the same numbers from the same pages, and who handed them over.
        let mut other = Logbook::empty();
        other.put(Body::AirframeMade { details: book.airframe().details });
        let found = offer(&other.airframe(), &file).expect("may be offered");
        assert_eq!((found.changes.len(), found.same), (file.items.len(), 0), "{:?} {:?}", found.unknown, found.misfits);
        assert!(found.differs.is_empty());
        for body in bodies(&found.changes, "C. Mentor") {
            other.put(body);
        }
        let again = write_specification(&other.airframe());
        assert_eq!(again.replace("; handed over by C. Mentor", ""), text);
        let known = offer(&other.airframe(), &file).expect("may be offered");
        assert_eq!((known.changes.len(), known.same), (0, file.items.len()), "twice changes nothing");
    }
}

#[test]
fn invented_numbers_are_never_offered_to_a_real_airframe() {
    let file = read_specification(&write_specification(&Logbook::sheet_only(0).airframe())).expect("reads");
    let real = real("Kestle 4", Units::Inches).airframe();
    assert!(file.invented);
    assert_eq!(offer(&real, &file), Err(Refused::Invented));
    assert!(Refused::Invented.to_string().contains("not taken in"));
    assert!(offer(&Logbook::sheet_only(1).airframe(), &file).is_ok(), "another invented one may");
    // Altered by hand so that it does not say so: the type or any page still tells.
    let said = SpecificationFile { invented: false, ..file };
    assert_eq!(offer(&real, &said), Err(Refused::Invented));
    let named = SpecificationFile { model: "Kestle 4".to_owned(), ..said };
    assert_eq!(offer(&real, &named), Err(Refused::Invented));
    // A real file goes to either.
    let file = read_specification(&write_specification(&mentor().airframe())).expect("reads");
    assert!(offer(&real, &file).is_ok() && offer(&Logbook::sheet_only(0).airframe(), &file).is_ok());
}

#[test]
fn what_differs_is_said_and_what_does_not_fit_is_left_aside() {
    let mut file = read_specification(&write_specification(&mentor().airframe())).expect("reads");
    let mut line = file.items[0].clone();
    line.key = "not-yet-thought-of".to_owned();
    file.items.push(line);
    // An angle for a length.
    let place = file.items.iter().position(|line| line.key == "half-width").expect("there");
    let angle = file.items.iter().find(|line| line.key == "pitch").expect("there").value.clone();
    let width = std::mem::replace(&mut file.items[place].value, angle);
    let mut metric = real("Kestle 5", Units::Millimetres);
    metric.specify("twins", value("twins", "", "2", Units::Millimetres), "page 9");
    let found = offer(&metric.airframe(), &file).expect("may be offered");
    assert_eq!(found.differs.len(), 2, "{:?}", found.differs);
    assert!(
        found.differs[0].contains("another type") && found.differs[1].contains("in inches, this airframe's in mill")
    );
    assert_eq!((found.unknown.as_slice(), found.misfits.len()), ([String::from("not-yet-thought-of")].as_slice(), 1));
    let twins = found.changes.iter().find(|change| change.key == "twins").expect("changes");
    assert_eq!((twins.now.as_str(), twins.then.as_str()), ("0 ± 2 mm (page 9)", "0 ± 1.5875 mm"), "1/16 of 25.4");
    // Text and number that do not agree: the number is what judges, so it is what is shown and typed.
    file.items[place].value = width;
    file.items[place].value.nominal.as_mut().expect("a number").text = "9".to_owned();
    let inches = real("Kestle 4", Units::Inches);
    let found = offer(&inches.airframe(), &file).expect("may be offered");
    let [body] = &bodies(found.changes.iter().filter(|change| change.key == "half-width"), "C")[..] else { panic!() };
    let Body::SpecificationSet { value, source, .. } = body else { panic!("{body:?}") };
    assert_eq!(value.nominal.as_ref().map(|number| number.text.as_str()), Some("17 1/4 in"));
    assert_eq!(source, "page 4-2; handed over by C");
}

fn good() -> Value {
    serde_json::from_str(&write_specification(&mentor().airframe())).expect("JSON")
}

/// Each change to a good file, whether the schema already refuses it, and what the app says.
#[test]
fn each_fault_has_its_own_message() {
    type Alter = fn(&mut Value);
    let cases: &[(Alter, bool, &str)] = &[
        (|file| file["version"] = json!(2), true, "written by a newer version (specification version 2"),
        (
            |file| file["format"] = json!("trammel-record"),
            true,
            "not a specification file: it says that it is something else",
        ),
        (|file| file["surprise"] = json!(1), true, "not a specification file: unknown field `surprise`"),
        (|file| drop(file.as_object_mut().expect("an object").remove("units")), true, "missing field `units`"),
        (|file| file["units"] = json!("cubits"), true, "unknown variant `cubits`"),
        (|file| file["invented"] = json!("no"), true, "not a specification file"),
        (|file| file["model"] = json!("x".repeat(4_001)), true, "a text at its head is too long"),
        (
            |file| file["items"][1]["source"] = json!("x".repeat(4_001)),
            true,
            "Item 2 of the file is damaged: a text that is too",
        ),
        (|file| file["items"][0]["note"] = json!(1), true, "Item 1 of the file is damaged: unknown field `note`"),
        (
            |file| file["items"][0]["key"] = json!("Pitch!"),
            true,
            "Item 1 of the file is damaged: its key is not a name",
        ),
        (
            |file| file["items"][1]["key"] = file["items"][0]["key"].clone(),
            false,
            "Item 2 of the file is damaged: \u{201c}",
        ),
        (
            |file| file["items"][0]["value"]["tolerance"] = json!({ "limits": { "lower": null, "upper": null } }),
            true,
            "Item 1 of the file is damaged: its limits limit nothing",
        ),
        (
            |file| {
                file["items"][0]["value"]["tolerance"] =
                    json!({ "plus-minus": { "by": { "text": "0", "unit": "deg", "value": 0.0, "step": 0.01 } } });
            },
            true,
            "Item 1 of the file is damaged: its tolerance is not a positive amount",
        ),
        (
            |file| file["items"][0]["value"]["nominal"]["unit"] = json!("furlong"),
            true,
            "Item 1 of the file is damaged: unknown variant `furlong`",
        ),
        (
            |file| file["items"][0]["value"]["nominal"]["value"] = json!(1e300),
            false,
            "Item 1 of the file is damaged: 1000",
        ),
    ];
    let schema = schema();
    assert!(schema.is_valid(&good()));
    for (change, by_schema, message) in cases {
        let mut file = good();
        change(&mut file);
        assert_eq!(!schema.is_valid(&file), *by_schema, "the schema on: {message}");
        let said = read_specification(&file.to_string()).expect_err(message).to_string();
        assert!(said.contains(message), "{said}\nis not\n{message}");
        assert!(said.ends_with("Nothing was taken in."), "{said}");
    }
    let text = good().to_string();
    for end in (0..text.len()).filter(|end| text.is_char_boundary(*end)).step_by(11) {
        assert!(read_specification(&text[..end]).is_err(), "cut at {end}");
    }
    let said = |text: &str| read_specification(text).expect_err("refused").to_string();
    assert!(said(&text[..text.len() / 2]).contains("cut short"));
    assert!(said("Dear builder, here are the numbers.").contains("not a specification file"));
    assert!(said(&" ".repeat(MAX_SPECIFICATION_BYTES + 1)).contains("larger than 1 MB"));
}
