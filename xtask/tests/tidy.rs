//! House rules that a compiler does not know.

use std::fs;
use std::path::{Path, PathBuf};

const LONGEST: usize = 400;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Every text file below `folder` with one of the endings.
fn texts(folder: &str, endings: &[&str]) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(dir) = folders.pop() {
        let Ok(entries) = fs::read_dir(&dir) else { continue };
        for path in entries.flatten().map(|entry| entry.path()) {
            let end = path.extension().unwrap_or_default().to_string_lossy().into_owned();
            if path.is_dir() && !path.ends_with("target") {
                folders.push(path);
            } else if endings.contains(&end.as_str()) {
                let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
                found.push((path, text));
            }
        }
    }
    found
}

fn project_texts() -> Vec<(PathBuf, String)> {
    let endings = ["css", "html", "js", "json", "md", "rs", "sh", "toml", "webmanifest"];
    let folders = ["src", "xtask", "tests", "fuzz", "public", "style", "docs", ".cargo"];
    let mut all: Vec<_> = folders.iter().flat_map(|folder| texts(folder, &endings)).collect();
    for file in ["Cargo.toml", "README.md", "DEVELOPERS.md", "CHANGELOG.md", ".ci/run"] {
        if let Ok(text) = fs::read_to_string(root().join(file)) {
            all.push((root().join(file), text));
        }
    }
    assert!(all.len() > 30, "only {} files were found", all.len());
    all
}

#[test]
fn no_source_file_is_long() {
    let long: Vec<String> = ["src", "xtask/src", "fuzz/src"]
        .iter()
        .flat_map(|folder| texts(folder, &["rs"]))
        .filter(|(_, text)| text.lines().count() > LONGEST)
        .map(|(path, text)| format!("{} has {} lines", path.display(), text.lines().count()))
        .collect();
    assert!(long.is_empty(), "over {LONGEST} lines: {long:#?}");
}

#[test]
fn nothing_is_left_for_later() {
    // Spelt in halves, or this file would find itself.
    let marks = [["TO", "DO"], ["FIX", "ME"], ["todo", "!("], ["unimplemented", "!("]].map(|halves| halves.concat());
    assert_none(&marks, |text, mark| text.contains(mark));
}

#[test]
fn no_path_of_one_machine() {
    let folders = [["/wo", "rk/"], ["/ro", "ot/"], ["/ho", "me/"], ["/tm", "p/"]].map(|halves| halves.concat());
    assert_none(&folders, |text, folder| {
        text.match_indices(folder).any(|(at, _)| {
            let before = text[..at].chars().next_back();
            before.is_none_or(|c| !(c.is_alphanumeric() || ".-_/}".contains(c)))
        })
    });
}

fn assert_none(needles: &[String], holds: impl Fn(&str, &str) -> bool) {
    let mut found = Vec::new();
    for (path, text) in project_texts() {
        for needle in needles.iter().filter(|needle| holds(&text, needle)) {
            found.push(format!("{} holds {needle}", path.display()));
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

/// `docs/threats.md` names a test for what it says holds: the file and the function.
#[test]
fn every_test_that_the_threats_name_exists() {
    let page = fs::read_to_string(root().join("docs/threats.md")).unwrap();
    let named: Vec<(&str, &str)> = page.split('`').filter_map(|part| part.split_once(".rs: ")).collect();
    assert!(named.len() > 20, "only {} tests are named", named.len());
    for (file, test) in named {
        let source = fs::read_to_string(root().join(format!("{file}.rs"))).unwrap_or_else(|e| panic!("{file}.rs: {e}"));
        let there = [format!("fn {test}("), format!("{test}: ")].iter().any(|declared| source.contains(declared));
        assert!(there, "{file}.rs has no {test}");
    }
}
