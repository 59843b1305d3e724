//! `docs/inspectors.md` says where in the record things stand: every place that it names is there, and every kind of entry has its row.

use std::collections::BTreeSet;

use serde_json::Value;
use trammel::report::{COLUMNS, WORK_COLUMNS};

/// The rows of the table, each as its cells.
fn rows() -> Vec<Vec<&'static str>> {
    let text = include_str!("../docs/inspectors.md");
    let rows = text.lines().filter_map(|line| line.strip_prefix("| ")?.strip_suffix(" |"));
    rows.skip(1).map(|row| row.split(" | ").collect()).collect()
}

/// What stands between backticks.
fn places(cell: &str) -> impl Iterator<Item = &str> {
    cell.split('`').skip(1).step_by(2)
}

fn schema() -> Value {
    serde_json::from_str(include_str!("../docs/schemas/record.schema.json")).expect("JSON")
}

/// What a part of the schema refers to.
fn followed<'s>(schema: &'s Value, part: &'s Value) -> &'s Value {
    match part["$ref"].as_str() {
        Some(reference) => schema.pointer(reference.trim_start_matches('#')).expect("a definition"),
        None => part,
    }
}

/// Every kind of entry with what it holds.
fn kinds(schema: &Value) -> Vec<(&str, &Value)> {
    let kinds = schema["$defs"]["body"]["oneOf"].as_array().expect("kinds");
    kinds.iter().flat_map(|kind| kind["properties"].as_object().expect("one")).map(|(k, v)| (k.as_str(), v)).collect()
}

/// Whether `first/field/field` is there.
fn is_there(schema: &Value, place: &str) -> bool {
    let (first, fields) = place.split_once('/').expect("a field");
    if let Some(column) = place.strip_prefix("readings.csv/") {
        return COLUMNS.contains(&column);
    }
    if let Some(column) = place.strip_prefix("work-log.csv/") {
        return WORK_COLUMNS.contains(&column);
    }
    let kind = kinds(schema).into_iter().find(|(kind, _)| *kind == first).map(|(_, holds)| holds);
    let begin = if first == "entry" { Some(&schema["$defs"]["entry"]) } else { kind };
    let step =
        |part: &'_ Value, field: &str| -> Option<Value> { followed(schema, part)["properties"].get(field).cloned() };
    fields.split('/').try_fold(begin.cloned(), |part, field| Some(Some(step(&part?, field)?))).is_some()
}

#[test]
fn every_place_that_is_named_is_there() {
    let schema = schema();
    let rows = rows();
    assert!(rows.len() > 20, "the table is read: {}", rows.len());
    for row in &rows {
        let [asked, _, known, place] = row.as_slice() else { panic!("four cells: {row:?}") };
        assert!(["read", "memory", "practice"].contains(known), "{asked}: {known}");
        for place in places(place) {
            assert!(is_there(&schema, place), "{asked}: {place}");
        }
        let absent = place.contains("**not") || place.contains("**deliberately not");
        assert!(absent || place.contains("the printed page") || places(place).next().is_some(), "{asked}: nowhere");
    }
    for wrong in ["entry/nothing", "reading-taken/values", "no-kind/text", "readings.csv/colour", "entry/at/hour"] {
        assert!(!is_there(&schema, wrong), "the test tells what is not there: {wrong}");
    }
}

/// Bookkeeping of the app that no inspector asks for.
const OF_THE_APP: [&str; 2] = ["key-made", "holes-laid-out"];

#[test]
fn every_kind_of_entry_has_a_row() {
    let schema = schema();
    let named: BTreeSet<&str> = rows()
        .iter()
        .filter_map(|row| row.last())
        .flat_map(|cell| places(cell))
        .filter_map(|p| p.split('/').next())
        .collect();
    for (kind, _) in kinds(&schema) {
        assert_ne!(named.contains(kind), OF_THE_APP.contains(&kind), "{kind}");
    }
}
