//! Procedure files against their published JSON Schema (draft 2020-12), by a general-purpose validator, and what a file that is wrong
//! is told.

use jsonschema::Validator;
use serde_json::{Value, json};
use trammel::procedure::{procedures, read_procedure};

fn schema() -> Validator {
    let text = include_str!("../docs/schemas/procedure.schema.json");
    jsonschema::validator_for(&serde_json::from_str(text).expect("JSON")).expect("a schema")
}

fn library() -> Vec<(String, Value)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/procedure/library");
    let mut files: Vec<(String, Value)> = std::fs::read_dir(folder)
        .expect("the library")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|end| end == "json") && !path.ends_with("examples.json"))
        .map(|path| {
            let text = std::fs::read_to_string(&path).expect("readable");
            (
                path.display().to_string(),
                serde_json::from_str(&text).unwrap_or_else(|error| panic!("{path:?}: {error}")),
            )
        })
        .collect();
    files.sort_by(|one, two| one.0.cmp(&two.0));
    files
}

#[test]
fn every_built_in_file_is_valid_and_is_built_in() {
    let schema = schema();
    let files = library();
    assert_eq!(files.len(), procedures().count(), "a file of the folder is not built in");
    for (path, file) in &files {
        let errors: Vec<String> =
            schema.iter_errors(file).map(|error| format!("{}: {error}", error.instance_path())).collect();
        assert!(errors.is_empty(), "{path}: {errors:#?}");
    }
}

/// What the library writes is valid too.
#[test]
fn what_is_written_is_valid() {
    let schema = schema();
    for procedure in procedures() {
        let written = trammel::procedure::write_procedure(procedure);
        let value: Value = serde_json::from_str(&written).expect("JSON");
        let errors: Vec<String> =
            schema.iter_errors(&value).map(|error| format!("{}: {error}", error.instance_path())).collect();
        assert!(errors.is_empty(), "{}: {errors:#?}", procedure.id);
        assert_eq!(read_procedure(&written).expect("reads again"), *procedure);
    }
}

fn good() -> Value {
    json!({
        "id": "level-a-bench", "version": 1, "title": "Level a bench", "purpose": "So that it is level.",
        "tools": ["a level"], "cautions": ["It must not tip."],
        "specification": [
            { "key": "bench-level", "title": "Level of the bench", "help": "By the drawing.", "form": "toleranced-angle" },
            { "key": "feet-apart", "title": "Between the feet", "help": "Measured.", "form": "length" }
        ],
        "roles": [{ "role": "protractor", "title": "Digital protractor", "kind": "protractor" }],
        "checks": [{ "id": "level", "title": "Level", "dimension": "angle", "judged-by": "bench-level", "adjusters": ["foot"],
            "formula": { "balance": { "plus": ["one", "two"], "error-cancels": true } } }],
        "adjusters": [{ "id": "foot", "title": "Foot", "plus": "Raise the foot", "minus": "Lower the foot", "disturbs": ["level"],
            "settable": { "inches": 0.01, "millimetres": 0.2 },
            "lever": { "effects": { "on": [{ "check": "level", "by": { "over-base": { "base": "feet-apart" } } }] } } }],
        "passes": [],
        "steps": [
            { "id": "protractor", "title": "Accept the protractor", "kind": { "instrument": "protractor" } },
            { "id": "read", "title": "Read it", "kind": { "measure": { "check": "level", "slots": [
                { "id": "one", "title": "One way", "place": "On the bench.", "role": "protractor" },
                { "id": "two", "title": "The other", "place": "On the bench.", "role": "protractor" }
            ] } } }
        ]
    })
}

/// Each change to a good file, whether the schema already refuses it, and what the app says.
#[test]
fn each_fault_has_its_own_message() {
    type Change = fn(&mut Value);
    let cases: &[(Change, bool, &str)] = &[
        (|file| file["version"] = json!("one"), true, "This is no procedure file"),
        (|file| file["surprise"] = json!(1), true, "This is no procedure file"),
        (|file| drop(file.as_object_mut().expect("an object").remove("steps")), true, "This is no procedure file"),
        (
            |file| file["checks"][0]["formula"]["balance"]["plus"] = json!([]),
            true,
            "level: it does not say from which readings it is worked out",
        ),
        (|file| file["title"] = json!(" "), false, "level-a-bench: it has no title"),
        (
            |file| file["adjusters"][0]["minus"] = json!(""),
            true,
            "foot: it does not say how it is moved one way and the other",
        ),
        (|file| file["steps"] = json!([]), true, "level-a-bench: it has no steps"),
        (|file| file["steps"][1]["id"] = json!("protractor"), false, "protractor: two steps have this key"),
        (
            |file| file["steps"][1]["kind"]["measure"]["check"] = json!("flat"),
            false,
            "read: there is no check \u{201c}flat\u{201d}",
        ),
        (
            |file| file["steps"][1]["kind"]["measure"]["slots"][1]["id"] = json!("one"),
            false,
            "read: two readings have the key \u{201c}one\u{201d}",
        ),
        (
            |file| file["steps"][1]["kind"]["measure"]["slots"][1]["role"] = json!("tape"),
            false,
            "read: there is no instrument \u{201c}tape\u{201d}",
        ),
        (
            |file| file["steps"][1]["kind"]["measure"]["slots"][1]["repeats"] = json!(0),
            true,
            "read: \u{201c}The other\u{201d} is never read",
        ),
        (
            |file| file["steps"][1]["kind"]["measure"]["slots"][0]["partner"] = json!("two"),
            false,
            "read: \u{201c}one\u{201d} and \u{201c}two\u{201d} have to name each other as partners",
        ),
        (|file| file["steps"][1]["kind"]["measure"]["slots"] = json!([]), false, "read: nothing is read at it"),
        (
            |file| file["steps"][1]["kind"] = json!({ "pass": { "gate": "set", "of": "all" } }),
            false,
            "read: there is no pass \u{201c}all\u{201d}",
        ),
        (
            |file| file["steps"][0]["only-if"] = json!({ "key": "kind", "is": "steel" }),
            false,
            "protractor: it asks for \u{201c}kind\u{201d}, which is not among the numbers from the manual",
        ),
        (
            |file| file["checks"][0]["formula"]["balance"]["plus"] = json!(["three"]),
            false,
            "read: its check needs a reading \u{201c}three\u{201d}",
        ),
        (
            |file| file["checks"][0]["judged-by"] = json!("levelness"),
            false,
            "level: it asks for \u{201c}levelness\u{201d}, which is not among the numbers from the manual",
        ),
        (
            |file| file["checks"][0]["adjusters"] = json!(["jack"]),
            false,
            "level: there is no adjuster \u{201c}jack\u{201d}",
        ),
        (
            |file| file["checks"][0]["formula"] = json!({ "reckoned": { "by": "magic", "from": {} } }),
            false,
            "level: \u{201c}magic\u{201d} is not a known way to work it out",
        ),
        (
            |file| {
                file["checks"][0]["formula"] =
                    json!({ "reckoned": { "by": "washout", "from": { "root": { "slot": "one" } } } });
            },
            false,
            "level: \u{201c}tip\u{201d} is missing",
        ),
        (
            |file| {
                file["checks"][0]["formula"] = json!({ "reckoned": { "by": "washout",
                    "from": { "root": { "mean": { "of": ["one"] } }, "tip": { "slot": "two" } } } });
            },
            true,
            "level: \u{201c}root\u{201d} is a mean of fewer than two",
        ),
        (
            |file| file["adjusters"][0]["disturbs"] = json!([]),
            false,
            "level: \u{201c}foot\u{201d} has to make it stale",
        ),
        (
            |file| file["adjusters"][0]["settable"] = json!({ "inches": 0.01 }),
            true,
            "foot: it has no smallest amount that hands can set",
        ),
        (
            |file| file["adjusters"][0]["lever"]["effects"]["with"] = json!(["jack"]),
            false,
            "foot: there is no adjuster \u{201c}jack\u{201d}",
        ),
        (
            |file| file["adjusters"][0]["lever"]["effects"]["on"] = json!([]),
            false,
            "level: \u{201c}foot\u{201d} does not say what it does to it",
        ),
        (
            |file| file["adjusters"][0]["lever"]["effects"]["on"][0]["by"] = json!("along"),
            false,
            "foot: what it does to \u{201c}level\u{201d} is of another kind than that check",
        ),
        (
            |file| file["steps"][0]["kind"] = json!({ "holes": { "expected": "rivets", "what": "rivets" } }),
            false,
            "protractor: it asks for \u{201c}rivets\u{201d}, which is not among the numbers from the manual",
        ),
        (
            |file| file["steps"][0]["kind"] = json!({ "holes": { "expected": "feet-apart", "what": "holes" } }),
            false,
            "protractor: \u{201c}feet-apart\u{201d} is no number of things",
        ),
        (
            |file| {
                file["specification"][1]["form"] = json!("count");
                file["steps"][0]["kind"] =
                    json!({ "holes": { "expected": "feet-apart", "what": "holes", "reasons": ["torn", "torn"] } });
            },
            true,
            "protractor: the reason \u{201c}torn\u{201d} is there twice",
        ),
        (|file| file["specification"][1]["key"] = json!("bench-level"), false, "bench-level: it is asked for twice"),
        (
            |file| file["specification"][1]["form"] = json!("choice"),
            false,
            "feet-apart: a choice needs at least two options",
        ),
    ];
    let schema = schema();
    assert!(schema.is_valid(&good()), "{:?}", schema.iter_errors(&good()).map(|it| it.to_string()).collect::<Vec<_>>());
    read_procedure(&good().to_string()).expect("a good file");
    for (change, by_schema, message) in cases {
        let mut file = good();
        change(&mut file);
        assert_eq!(!schema.is_valid(&file), *by_schema, "the schema on: {message}");
        let said = read_procedure(&file.to_string()).expect_err(message).to_string();
        assert!(said.contains(message), "{said}\nis not\n{message}");
    }
    assert!(read_procedure("{").expect_err("cut short").to_string().contains("This is no procedure file"));
    assert!(read_procedure(&" ".repeat(300_000)).expect_err("too long").to_string().contains("too long"));
}
