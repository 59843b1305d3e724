//! `cargo xtask mutants`: a sample of small wrong changes of the arithmetic, and how many of them the tests notice (docs/mutants.md).

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use serde_json::Value;

use crate::figures::Figure;
use crate::{figures, process, project};

/// The program that makes the changes, and its version.
const MUTANTS: (&str, &str) = ("cargo-mutants", "27.1.0");

/// The floors that are changed.
const CHANGED: [&str; 4] = ["quantity", "metrology", "alignment", "rigging"];

/// What they stand on.
const BELOW: [&str; 2] = ["language", "record"];

/// The tests from outside that are quick and know no floor above, beside the floors' own.
const TESTS: [&str; 4] = ["published", "spoken", "alignment_engine", "blunders"];

/// What these tests need.
const TOOLS: [&str; 2] = ["fastrand", "proptest"];

/// Which part of all changes is tried when nobody says: every so-many-th, from that one on.
const PART: &str = "0/66";

/// Tries a part of all changes ("K/N": every N-th from the K-th on), prints what the tests did not notice, and gives the share that
/// they did, in percent. What was changed so that it does not compile is not counted; what never ends was noticed.
///
/// # Errors
/// When the tests fail without any change, or nothing was tried.
pub(crate) fn run(part: Option<&str>) -> Result<Vec<Figure>> {
    let program = program()?;
    let copy = copy()?;
    let mut mutants = process::command(&program);
    mutants.args(["mutants", "--in-place", "--timeout", "120", "--sharding", "round-robin", "--shard"]);
    mutants.arg(part.unwrap_or(PART)).arg("--dir").arg(&copy).arg("--output").arg(&copy);
    mutants.args(["--cargo-test-arg=--lib", "--cargo-test-arg=--tests"]);
    for floor in CHANGED {
        mutants.arg("--file").arg(format!("src/{floor}/**/*.rs"));
    }
    // Its status says that something was not noticed; the outcomes say what.
    process::tee(mutants.current_dir(&copy))?;
    let file = copy.join("mutants.out/outcomes.json");
    let told = fs::read_to_string(&file).with_context(|| format!("no {}", file.display()))?;
    let told: Value = serde_json::from_str(&told)?;
    let of = |summary: &str| named(&told, summary);
    let (caught, ended, missed) = (of("CaughtMutant").len(), of("Timeout").len(), of("MissedMutant"));
    let tried = caught + ended + missed.len();
    if tried == 0 {
        bail!("nothing was tried: see {}", copy.join("mutants.out").display());
    }
    println!("\nnot noticed:\n{}", missed.join("\n"));
    println!(
        "{tried} changes tried, {caught} noticed, {ended} without an end, {} do not compile",
        of("Unviable").len()
    );
    #[allow(clippy::cast_precision_loss, reason = "counts of some hundreds")]
    let share = (1000.0 * (caught + ended) as f64 / tried as f64).round() / 10.0;
    println!("figure: mutants_caught_rate = {share}");
    let mut found = figures::said(&[("mutants_tried", tried as u64)]);
    found.push(("mutants_caught_rate".to_owned(), share));
    Ok(found)
}

/// The changes that came out so.
fn named(told: &Value, summary: &str) -> Vec<String> {
    let outcomes = told["outcomes"].as_array().into_iter().flatten();
    let so = outcomes.filter(|outcome| outcome["summary"] == summary);
    so.filter_map(|outcome| outcome["scenario"]["Mutant"]["name"].as_str().map(str::to_owned)).collect()
}

/// The program, installed for this project where it is not there.
fn program() -> Result<PathBuf> {
    let (name, version) = MUTANTS;
    if let Some(program) = process::find(name) {
        return Ok(program);
    }
    let mut install = process::cargo("install --locked --root");
    process::run(install.arg(project::tools()).arg(format!("{name}@{version}")))?;
    process::find(name).with_context(|| format!("{name} was installed and is not there"))
}

/// A copy of the library that ends above these floors: it compiles in seconds, and every change compiles it anew.
fn copy() -> Result<PathBuf> {
    let (root, copy) = (project::root(), project::target().join("mutants"));
    for old in ["src", "tests", "mutants.out"] {
        if copy.join(old).exists() {
            fs::remove_dir_all(copy.join(old))?;
        }
    }
    fs::create_dir_all(copy.join("tests"))?;
    for floor in CHANGED.iter().chain(&BELOW) {
        copy_folder(&root.join("src").join(floor), &copy.join("src").join(floor))?;
    }
    for test in TESTS {
        fs::copy(root.join(format!("tests/{test}.rs")), copy.join(format!("tests/{test}.rs")))?;
    }
    for folder in TESTS.iter().chain(&["mating_network"]) {
        if root.join("tests").join(folder).is_dir() {
            copy_folder(&root.join("tests").join(folder), &copy.join("tests").join(folder))?;
        }
    }
    fs::copy(root.join("Cargo.lock"), copy.join("Cargo.lock"))?;
    fs::write(copy.join("Cargo.toml"), manifest(&fs::read_to_string(root.join("Cargo.toml"))?))?;
    fs::write(copy.join("src/lib.rs"), crate_of_these(&fs::read_to_string(root.join("src/lib.rs"))?))?;
    Ok(copy)
}

fn copy_folder(from: &Path, to: &Path) -> Result<()> {
    fs::create_dir_all(to)?;
    process::run(process::command("cp").arg("-rT").arg(from).arg(to))
}

/// A workspace of this package alone, compiled as soon as can be.
fn manifest(of_all: &str) -> String {
    let (mut text, mut section) = (String::new(), "");
    for line in of_all.lines() {
        if line.starts_with('[') {
            section = line;
        }
        let (key, _) = line.split_once(" = ").unwrap_or_default();
        let kept = match section {
            "[workspace]" => !matches!(key, "members" | "exclude"),
            "[dev-dependencies]" => key.is_empty() || TOOLS.contains(&key),
            section if section.starts_with("[profile.") => false,
            _ => true,
        };
        if kept {
            text.push_str(line);
            text.push('\n');
        }
    }
    // Without any optimising the tests take longer than a change is given.
    text + "[profile.dev]\ndebug = false\n\n[profile.test]\nopt-level = 1\n"
}

/// The root of the crate with these floors only.
fn crate_of_these(of_all: &str) -> String {
    let kept = |line: &&str| {
        let name = line.strip_prefix("pub mod ").and_then(|rest| rest.strip_suffix(';'));
        let app = line.starts_with("#[cfg(all(target_arch");
        !app && name.is_none_or(|name| CHANGED.contains(&name) || BELOW.contains(&name))
    };
    of_all.lines().filter(kept).map(|line| format!("{line}\n")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_copy_ends_above_the_arithmetic() {
        let all = "//! Floors.\n\npub mod alignment;\npub mod report;\n\n#[cfg(all(target_arch = \"wasm32\", feature = \"app\", not(fuzzing)))]\npub mod app;\n";
        assert_eq!(crate_of_these(all), "//! Floors.\n\npub mod alignment;\n\n");
        let all = "[workspace]\nmembers = [\"a\"]\n[dev-dependencies]\ncsv = \"1\"\nfastrand = \"2\"\n\n[profile.dev]\ndebug = true\n";
        let copy = "[workspace]\n[dev-dependencies]\nfastrand = \"2\"\n\n[profile.dev]\ndebug = false\n\n[profile.test]\nopt-level = 1\n";
        assert_eq!(manifest(all), copy);
    }

    // The form of cargo-mutants' outcomes.json.
    #[test]
    fn outcomes_are_counted_by_what_they_say() {
        let told = serde_json::json!({ "outcomes": [
            { "scenario": "Baseline", "summary": "Success" },
            { "scenario": { "Mutant": { "name": "replace f with 0" } }, "summary": "MissedMutant" },
            { "scenario": { "Mutant": { "name": "replace g with 1" } }, "summary": "CaughtMutant" },
        ] });
        assert_eq!(named(&told, "MissedMutant"), ["replace f with 0"]);
        assert_eq!(named(&told, "CaughtMutant").len(), 1);
    }
}
