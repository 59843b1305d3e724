//! Record files against their published JSON Schema (draft 2020-12) by a general-purpose validator, and the chain followed by the few
//! lines of Python that the format's page prints.

mod support;

use std::process::Command;

use jsonschema::Validator;
use serde_json::{Value, json};
use support::every_kind;
use trammel::report::{read_json, write_json};

fn schema() -> Validator {
    let text = include_str!("../docs/schemas/record.schema.json");
    jsonschema::validator_for(&serde_json::from_str(text).expect("JSON")).expect("a schema")
}

fn written() -> String {
    write_json(every_kind().ledger.entries())
}

#[test]
fn a_record_of_every_kind_is_valid() {
    let file: Value = serde_json::from_str(&written()).expect("JSON");
    let errors: Vec<String> =
        schema().iter_errors(&file).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    let kinds: Value = serde_json::from_str(include_str!("../docs/schemas/record.schema.json")).expect("JSON");
    let kinds = kinds["$defs"]["body"]["oneOf"].as_array().expect("kinds");
    let there = |kind: &Value| {
        let name = kind["required"][0].as_str().expect("a name");
        file["entries"].as_array().expect("entries").iter().any(|entry| entry["body"].get(name).is_some())
    };
    let missing: Vec<&Value> = kinds.iter().filter(|kind| !there(kind)).map(|kind| &kind["required"]).collect();
    assert!(missing.is_empty(), "no entry of the test is of these kinds: {missing:?}");
}

/// Every way to take one thing away, to add one, or to put something of another type: the reader and the schema agree on each.
#[test]
fn the_reader_and_the_schema_refuse_the_same() {
    let schema = schema();
    let whole: Value = serde_json::from_str(&written()).expect("JSON");
    let mut tried = 0;
    for entry in whole["entries"].as_array().expect("entries") {
        // One entry alone: what is said of other entries is not looked at here.
        let file = json!({ "format": whole["format"], "version": whole["version"], "entries": [entry] });
        for pointer in pointers(&file) {
            for changed in changes(&file, &pointer) {
                tried += 1;
                let text = changed.to_string();
                let (valid, read) = (schema.is_valid(&changed), read_json(&text));
                // Of a file that says it is something else nothing more is looked at.
                assert_eq!(valid, read.is_ok(), "{pointer}: {:?}\n{text}", read.err());
            }
        }
    }
    assert!(tried > 2_000, "{tried} files were tried");
}

/// Every place in a value, by RFC 6901.
fn pointers(value: &Value) -> Vec<String> {
    let mut found = vec![String::new()];
    let members: Vec<(String, &Value)> = match value {
        Value::Object(members) => members.iter().map(|(key, member)| (key.clone(), member)).collect(),
        Value::Array(members) => {
            members.iter().enumerate().map(|(place, member)| (place.to_string(), member)).collect()
        }
        _ => Vec::new(),
    };
    for (key, member) in members {
        found.extend(pointers(member).into_iter().map(|below| format!("/{}{below}", key.replace('/', "~1"))));
    }
    found
}

fn changes(file: &Value, pointer: &str) -> Vec<Value> {
    let with = |change: &dyn Fn(&mut Value)| {
        let mut changed = file.clone();
        change(changed.pointer_mut(pointer).expect("there"));
        changed
    };
    let mut made = vec![match file.pointer(pointer).expect("there") {
        Value::String(_) => with(&|it| *it = json!(7)),
        _ => with(&|it| *it = json!("x")),
    }];
    if let Some(members) = file.pointer(pointer).and_then(Value::as_object) {
        made.push(with(&|it| drop(it.as_object_mut().expect("an object").insert("surprise".to_owned(), json!(1)))));
        for key in members.keys() {
            made.push(with(&|it| drop(it.as_object_mut().expect("an object").remove(key))));
        }
    }
    made
}

/// The program of the format's page, run by Python on a file, and on the same file altered.
#[test]
fn the_chain_is_followed_without_the_app() {
    let page = include_str!("../docs/record-format.md");
    let (_, rest) = page.split_once("```python\n").expect("a program");
    let (program, _) = rest.split_once("```").expect("its end");
    let folder = tempfile::tempdir().expect("a folder");
    let run = |text: &str| {
        let file = folder.path().join("record.json");
        std::fs::write(&file, text).expect("written");
        let output = Command::new("python3").args(["-c", program]).arg(&file).output().expect("python3 starts");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).expect("text")
    };
    let text = written();
    let book = every_kind();
    assert_eq!(run(&text), format!("{} sealed entries, 0 places to look at\n", book.ledger.len()));
    let altered = text.replacen("Look at the clamp", "Look at the clamps", 1);
    assert_ne!(altered, text);
    assert!(run(&altered).contains("is not what was sealed"), "{}", run(&altered));
    let lines: Vec<&str> = text.lines().collect();
    let left_out = [&lines[..5], &lines[6..]].concat().join("\n");
    assert!(run(&left_out).contains("does not follow the one before it"), "{}", run(&left_out));
}
