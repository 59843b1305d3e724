//! A record every text of which is hostile: one entry of each kind at least, on an airframe of its own.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use anyhow::{Context, Result, ensure};
use serde_json::{Value, json};

/// The procedure whose every text is hostile.
pub(crate) const PROCEDURE: &str = "hostile-words";

/// What begins every text: a formula for whoever opens a table in a spreadsheet, which looks at the first character alone.
const FIRST: &str = "=HYPERLINK(\"javascript:1\")";

/// The rest: what would be markup, a script or an address that runs, each in a way of its own; what leads a template or a log astray; what
/// turns the direction of writing and does not turn it back; what no printer shows; a word that fits no line.
const WORDS: [&str; 14] = [
    "<img src=x data-hostile onerror=\"document.documentElement.dataset.hacked='image'\">",
    "<script data-hostile>document.documentElement.dataset.hacked='script'</script>",
    "\"'><b data-hostile>",
    "</textarea></title></style></script></svg><p data-hostile>",
    "<svg data-hostile onload=\"document.documentElement.dataset.hacked='svg'\"><use href=\"data:image/svg+xml,x\"/></svg>",
    "<svg><style data-hostile>*{display:none}</style><a xlink:href=\"javascript:1\" data-hostile>x</a></svg>",
    "<a href=\"javascript:document.documentElement.dataset.hacked='address'\" data-hostile>x</a> javascript:1",
    "&lt;i data-hostile&gt; &#60;i data-hostile&#62; <!-- ]]> <![CDATA[",
    "{name} {{base}} {0} ${1} %s %n",
    "\u{202e}sdrawkcab\u{2067} \u{200f}",
    "\u{0}\u{1}\u{7}\u{8}\u{1b}[31m\u{7f}\u{85}\u{200b}\u{feff}",
    "line\r\nline\u{2028}line\u{2029}\ttab",
    "e\u{301}\u{300}\u{302}\u{303}\u{308}\u{30a} \u{1f6e9}\u{fe0f}",
    "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
];

/// Fields of a record that hold what somebody wrote.
const TEXTS: [&str; 22] = [
    "answer", "asked", "builder", "by", "caption", "found", "how", "limit", "lost", "manual", "model", "name", "note",
    "question", "reason", "serial", "source", "text", "to", "what", "words", "drawn",
];
/// Fields that name a part of a procedure, or hold a key: with another text in them an entry says nothing of what is there.
const NAMES: [&str; 6] = ["adjuster", "key", "procedure", "role", "signature", "slot"];
/// Texts and lists of texts of a procedure.
const PROCEDURE_TEXTS: [&str; 13] = [
    "title",
    "purpose",
    "help",
    "place",
    "question",
    "statement",
    "what",
    "plus",
    "minus",
    "tools",
    "cautions",
    "text",
    "reasons",
];

/// The hostile text of a field, which it names at its end.
pub(crate) fn hostile(field: &str) -> String {
    format!("{FIRST} {} \u{a4}{field}\u{a4}", WORDS.join(" "))
}

fn source(path: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..").join(path)
}

/// The fields named above are all that the published schema has.
pub(crate) fn every_text_is_known() -> Result<()> {
    let schema: Value = serde_json::from_str(&fs::read_to_string(source("docs/schemas/record.schema.json"))?)?;
    let mut found = BTreeSet::new();
    texts_of(&schema["$defs"], &mut found);
    ensure!(found.len() > 20, "{found:?}");
    let known: BTreeSet<String> = TEXTS.iter().chain(&NAMES).map(|&name| name.to_owned()).collect();
    let unknown: Vec<&String> = found.difference(&known).collect();
    ensure!(unknown.is_empty(), "new texts in a record: {unknown:?}");
    Ok(())
}

/// Names of the properties that are texts.
fn texts_of(schema: &Value, found: &mut BTreeSet<String>) {
    const TEXT: &str = "#/$defs/text";
    let is_text = |value: &Value| {
        let of = value["anyOf"].as_array().into_iter().flatten();
        value["$ref"] == TEXT || of.clone().any(|one| one["$ref"] == TEXT)
    };
    match schema {
        Value::Object(fields) => {
            for (name, value) in fields.get("properties").and_then(Value::as_object).into_iter().flatten() {
                if is_text(value) {
                    found.insert(name.clone());
                }
            }
            fields.values().for_each(|value| texts_of(value, found));
        }
        Value::Array(all) => all.iter().for_each(|value| texts_of(value, found)),
        _ => {}
    }
}

/// The kinds of entries that the published schema has.
fn kinds() -> Result<BTreeSet<String>> {
    let schema: Value = serde_json::from_str(&fs::read_to_string(source("docs/schemas/record.schema.json"))?)?;
    let all = schema["$defs"]["body"]["oneOf"].as_array().context("kinds of entries")?;
    Ok(all.iter().filter_map(|one| one["required"][0].as_str().map(str::to_owned)).collect())
}

/// A procedure of ours with hostile texts; what names its parts stays.
pub(crate) fn procedure() -> Result<Value> {
    let file = fs::read_to_string(source("src/procedure/library/mate-aft-fuselage.json"))?;
    let mut file: Value = serde_json::from_str(&file)?;
    spoil_procedure(&mut file, &mut 0);
    file["id"] = PROCEDURE.into();
    Ok(file)
}

/// A hostile text with one of the words, the next of them.
fn short(field: &str, place: &mut usize) -> Value {
    *place += 1;
    format!("{FIRST} {} \u{a4}procedure {field}\u{a4}", WORDS[*place % WORDS.len()]).into()
}

/// Puts a hostile word into each text, one after the other: all of them in every text would be longer than a procedure may be.
fn spoil_procedure(value: &mut Value, place: &mut usize) {
    match value {
        Value::Object(fields) => {
            for (name, value) in fields.iter_mut() {
                let words = PROCEDURE_TEXTS.contains(&name.as_str());
                match value {
                    Value::String(_) if words => *value = short(name, place),
                    // What is added up in a formula goes by keys.
                    Value::Array(all) if words && !["plus", "minus"].contains(&name.as_str()) => {
                        all.iter_mut().filter(|one| one.is_string()).for_each(|one| *one = short(name, place));
                    }
                    value => spoil_procedure(value, place),
                }
            }
        }
        Value::Array(all) => all.iter_mut().for_each(|value| spoil_procedure(value, place)),
        _ => {}
    }
}

/// Steps of a procedure by their paths, those of its passes at their first gate.
pub(crate) fn steps(file: &Value) -> Vec<String> {
    let id = |step: &Value| step["id"].as_str().unwrap_or_default().to_owned();
    let own = file["steps"].as_array().into_iter().flatten().map(id).filter(|id| !id.starts_with("pass-"));
    let passes = file["passes"].as_array().into_iter().flatten();
    let repeated = passes.flat_map(|pass| pass["steps"].as_array().into_iter().flatten());
    own.chain(repeated.map(|step| format!("set/{}", id(step)))).collect()
}

/// The record of `good`, a whole record of one airframe with a run that has a photo and a reading, on another airframe, with an entry of
/// every kind and hostile texts.
pub(crate) fn record(good: &Value) -> Result<Value> {
    let mut record = good.clone();
    let entries = record["entries"].as_array_mut().context("entries")?;
    entries.iter_mut().for_each(rename);
    let first = entries.first().context("an entry")?.clone();
    let of =
        |kind: &str| entries.iter().find(|entry| entry["body"].get(kind).is_some()).with_context(|| kind.to_owned());
    let run = of("run-started")?["body"]["run-started"]["run"].clone();
    let set = of("specification-set")?;
    let reread = json!({ "key": set["body"]["specification-set"]["key"], "entry": set["id"] });
    let (reading, photographed) = (of("reading-taken")?["id"].clone(), of("photo-attached")?["id"].clone());
    let more = further(&run, reread, &reading, &photographed)?;
    for (number, (kind, body)) in more.into_iter().enumerate() {
        let mut entry = first.clone();
        entry["id"] = id(number);
        entry["body"] = json!({ kind: body });
        entries.push(entry);
    }
    for entry in entries.iter_mut() {
        // A seal would only say that the entry was altered.
        entry.as_object_mut().context("an entry")?.remove("seal");
        let kind = entry["body"].as_object().and_then(|body| body.keys().next().cloned()).context("a kind")?;
        spoil(entry, &kind);
    }
    let there: BTreeSet<String> =
        entries.iter().filter_map(|entry| entry["body"].as_object()?.keys().next().cloned()).collect();
    let missing: Vec<String> = kinds()?.difference(&there).cloned().collect();
    ensure!(missing.is_empty(), "no entry of the kinds {missing:?}");
    Ok(record)
}

/// The id of the nth further entry, after all others.
fn id(number: usize) -> Value {
    format!("7fffffff-0000-7000-8000-{number:012x}").into()
}

/// Gives everything but the device another id.
fn rename(value: &mut Value) {
    match value {
        Value::Object(fields) => {
            fields.iter_mut().filter(|(name, _)| *name != "device").for_each(|(_, value)| rename(value));
        }
        Value::Array(all) => all.iter_mut().for_each(rename),
        Value::String(text) if text.len() == 36 && text.bytes().filter(|byte| *byte == b'-').count() == 4 => {
            let end = if text.ends_with('0') { '1' } else { '0' };
            text.pop();
            text.push(end);
        }
        _ => {}
    }
}

/// Puts a hostile text into every field for one; texts of numbers stay, for those are read.
fn spoil(value: &mut Value, kind: &str) {
    match value {
        Value::Object(fields) if !fields.contains_key("unit") || fields.contains_key("kind") => {
            for (name, value) in fields.iter_mut() {
                if TEXTS.contains(&name.as_str()) && value.is_string() {
                    *value = hostile(&format!("{kind} {name}")).into();
                } else {
                    spoil(value, kind);
                }
            }
        }
        Value::Array(all) => all.iter_mut().for_each(|value| spoil(value, kind)),
        _ => {}
    }
}

/// One entry at least of every kind that a run by hand does not have.
fn further(run: &Value, reread: Value, reading: &Value, photographed: &Value) -> Result<Vec<(&'static str, Value)>> {
    const OWN: &str = "7fffffff-0000-7000-8000-00000000a001";
    const RIVETS: &str = "7fffffff-0000-7000-8000-00000000a002";
    let file = procedure()?.to_string();
    let degrees = |text: &str, value: f64| json!({ "text": text, "unit": "deg", "value": value, "step": 0.1 });
    let inches = json!({ "text": "1/8", "unit": "[in_i]", "value": 0.125, "step": 0.0 });
    let (step, pitch) = (json!({ "run": run, "step": "twins" }), json!({ "run": run, "step": "set/pitch" }));
    let moved = json!({ "run": run, "step": "set/pitch", "adjuster": "saddle", "amount": inches });
    Ok(vec![
        ("specification-reread", reread),
        (
            "instrument-reversed",
            json!({ "role": "tape", "reversal": { "first": degrees("0.3", 0.3), "turned": degrees("0.1", 0.1) } }),
        ),
        ("procedure-kept", json!({ "procedure": PROCEDURE, "version": 1, "file": file })),
        ("run-started", json!({ "run": OWN, "procedure": PROCEDURE, "version": 1, "file": file })),
        ("step-confirmed", json!({ "run": run, "step": "cautions" })),
        ("adjuster-moved", moved.clone()),
        ("counted", json!({ "run": run, "step": "pilot", "good": 3, "bad": 1 })),
        ("run-started", json!({ "run": RIVETS, "procedure": "riveting", "version": 1 })),
        ("holes-laid-out", json!({ "run": RIVETS, "step": "set-pulled", "rows": [3] })),
        ("hole-marked", json!({ "run": RIVETS, "step": "set-pulled", "row": 1, "hole": 2, "mark": "bad", "note": "" })),
        ("hold-signed", json!({ "run": RIVETS, "step": "hold-a", "name": "", "drawn": "" })),
        ("person-named", json!({ "name": "", "role": "mentor" })),
        ("key-made", json!({ "key": "A".repeat(43), "lost": "" })),
        ("note-made", json!({ "about": step, "text": "", "spoken": true })),
        ("note-made", json!({ "about": {}, "text": "", "spoken": false })),
        ("deviation-raised", json!({ "about": pitch, "found": "", "limit": "", "reason": "", "asked": "" })),
        ("deviation-answered", json!({ "deviation": id(15), "accepted": true, "name": "", "answer": "" })),
        ("deviation-raised", json!({ "about": step, "found": "", "limit": "", "reason": "", "asked": "" })),
        ("item-opened", json!({ "about": step, "what": "", "blocks": "tape" })),
        ("item-opened", json!({ "about": {}, "what": "" })),
        ("item-closed", json!({ "item": id(19), "how": "" })),
        ("time-spent", json!({ "about": step, "day": "2026-11-01", "minutes": 20, "what": "" })),
        ("question-asked", json!({ "about": pitch, "question": "", "to": "" })),
        ("remark-made", json!({ "about": pitch, "answers": id(22), "text": "", "proposes": moved })),
        ("note-made", json!({ "about": { "entry": photographed }, "text": "", "spoken": false })),
        ("struck", json!({ "entry": reading, "reason": "" })),
    ])
}

/// The place of the question among the further entries.
pub(crate) fn question() -> String {
    id(22).as_str().unwrap_or_default().to_owned()
}
