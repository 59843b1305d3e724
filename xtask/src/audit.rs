//! `cargo xtask audit`: what the project depends on, held against what was reviewed (docs/dependencies.md).

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};
use serde_json::Value;
use spdx::{Expression, LicenseReq, ParseMode};

use crate::setup::WASM;
use crate::{process, project};

/// Licences under which whatever is linked into the app, or only used while it is made, may be passed on with it.
const LICENCES: [&str; 11] = [
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Licences of single crates beside these: tools of the tests and of the fuzzer, never part of the app.
const TOOLS: [(&str, &str); 3] = [("webdriver", "MPL-2.0"), ("jpeg-encoder", "IJG"), ("libfuzzer-sys", "NCSA")];

/// The workspaces, by the folder of their manifest.
const WORKSPACES: [&str; 2] = [".", "fuzz"];

/// What was reviewed, a line each: `build NAME VERSION`, `macro NAME VERSION`, `twice NAME VERSION VERSION…`.
const REVIEWED: &str = "xtask/reviewed.txt";

/// Everything that is locked, by workspace.
#[derive(Default)]
struct Dependencies {
    /// How many crates from the registry.
    count: usize,
    /// What is wrong with a licence or a source.
    wrong: Vec<String>,
    /// What runs while the project is built, and what is there more than once.
    notable: BTreeSet<String>,
}

/// Prints what there is and asks a checker of advisories, where one is installed and its database can be had.
///
/// # Errors
/// When a licence or a source is not allowed, when what was reviewed is not what is there, or when an advisory names a crate.
pub(crate) fn run() -> Result<()> {
    let found = dependencies()?;
    println!(
        "{} crates; {} of them run while the project is built or are there twice",
        found.count,
        found.notable.len()
    );
    hold(&found, &fs::read_to_string(project::root().join(REVIEWED))?)?;
    println!("every licence and source is allowed, and {REVIEWED} names what is there");
    advisories()
}

/// By `cargo audit` or `cargo deny`, the first that is there.
fn advisories() -> Result<()> {
    for (program, args) in [("cargo-audit", "audit"), ("cargo-deny", "deny check advisories")] {
        if process::find(program).is_some() {
            for workspace in WORKSPACES {
                process::run(process::cargo(args).current_dir(project::root().join(workspace)))?;
            }
            return Ok(());
        }
    }
    println!("advisories were not asked for: neither cargo-audit nor cargo-deny is installed");
    Ok(())
}

/// Holds what there is against what was reviewed.
fn hold(found: &Dependencies, reviewed: &str) -> Result<()> {
    let reviewed: BTreeSet<String> =
        reviewed.lines().filter(|line| !line.starts_with('#')).map(str::to_owned).collect();
    let lines = |sign: char, one: &BTreeSet<String>, other: &BTreeSet<String>| -> Vec<String> {
        one.difference(other).map(|line| format!("{sign} {line}")).collect()
    };
    let mut wrong = found.wrong.clone();
    wrong.extend(lines('+', &found.notable, &reviewed));
    wrong.extend(lines('-', &reviewed, &found.notable));
    if !wrong.is_empty() {
        bail!("read what is new, then put it into {REVIEWED}:\n{}", wrong.join("\n"));
    }
    Ok(())
}

fn dependencies() -> Result<Dependencies> {
    let host = process::output(process::command("rustc").args(["--print", "host-tuple"]))?;
    let mut found = Dependencies::default();
    let mut packages: BTreeMap<(String, String), Value> = BTreeMap::new();
    for workspace in WORKSPACES {
        let folder = project::root().join(workspace);
        locked(&folder, &mut found)?;
        for target in [host.trim(), WASM] {
            let mut cargo = process::cargo("metadata --format-version 1 --locked --filter-platform");
            let told: Value = serde_json::from_str(&process::output(cargo.arg(target).current_dir(&folder))?)?;
            let used = nodes(&told);
            for package in told["packages"].as_array().context("no packages")? {
                if package["source"].is_string() && used.contains(&text(package, "id")) {
                    packages.insert((text(package, "name"), text(package, "version")), package.clone());
                }
            }
        }
    }
    found.count = packages.len();
    for ((name, version), package) in &packages {
        if let Some(why) = licence(name, &text(package, "license")) {
            found.wrong.push(format!("{name} {version}: {why}"));
        }
        let kinds = package["targets"].as_array().into_iter().flatten().flat_map(|target| target["kind"].as_array());
        for kind in kinds.flatten() {
            let word = match kind.as_str() {
                Some("custom-build") => "build",
                Some("proc-macro") => "macro",
                _ => continue,
            };
            found.notable.insert(format!("{word} {name} {version}"));
        }
    }
    Ok(found)
}

/// The packages that are used on the platform that was asked about.
fn nodes(told: &Value) -> BTreeSet<String> {
    told["resolve"]["nodes"].as_array().into_iter().flatten().map(|node| text(node, "id")).collect()
}

fn text(value: &Value, key: &str) -> String {
    value[key].as_str().unwrap_or_default().to_owned()
}

/// What a workspace's lock file says: every crate comes from the one registry, with its checksum; which are there more than once.
fn locked(folder: &Path, found: &mut Dependencies) -> Result<()> {
    let lock = fs::read_to_string(folder.join("Cargo.lock"))?;
    let mut sources: BTreeSet<&str> = BTreeSet::new();
    let mut versions: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for package in lock.split("[[package]]").skip(1) {
        let field = |key: &str| package.lines().find_map(|line| line.strip_prefix(key)?.strip_prefix(" = "));
        let (Some(name), Some(version)) = (field("name"), field("version")) else { bail!("a crate without a name") };
        versions.entry(name.trim_matches('"')).or_default().push(version.trim_matches('"'));
        if let Some(source) = field("source") {
            sources.insert(source);
            if !source.starts_with("\"registry+") || field("checksum").is_none() {
                found.wrong.push(format!("{name} {version}: {source} is no registry, or its checksum is not locked"));
            }
        }
    }
    if sources.len() > 1 {
        found.wrong.push(format!("more than one registry: {sources:?}"));
    }
    let twice = versions.into_iter().filter(|(_, versions)| versions.len() > 1);
    found.notable.extend(twice.map(|(name, versions)| format!("twice {name} {}", versions.join(" "))));
    Ok(())
}

/// Why a licence is not allowed, if it is not. Cargo's old stroke means "or".
fn licence(name: &str, expression: &str) -> Option<String> {
    let mode = ParseMode { allow_slash_as_or_operator: true, ..ParseMode::STRICT };
    let Ok(read) = Expression::parse_mode(expression, mode) else {
        return Some(format!("`{expression}` is no licence expression"));
    };
    let allowed = |asked: &LicenseReq| {
        let id = asked.license.id().map(|id| id.name);
        id.is_some_and(|id| LICENCES.contains(&id) || TOOLS.contains(&(name, id)))
    };
    (!read.evaluate(allowed)).then(|| format!("`{expression}` is not allowed"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_dependency_was_reviewed() {
        let reviewed = fs::read_to_string(project::root().join(REVIEWED)).unwrap();
        let found = dependencies().unwrap();
        assert!(found.count > 100, "only {} crates were found", found.count);
        hold(&found, &reviewed).unwrap();
    }

    #[test]
    fn a_licence_is_read_as_an_expression() {
        for good in
            ["MIT", "MIT/Apache-2.0", "GPL-3.0-only OR MIT", "Apache-2.0 WITH LLVM-exception", "MIT AND BSD-3-Clause"]
        {
            assert_eq!(licence("a", good), None, "{good}");
        }
        for wrong in ["GPL-3.0-only", "MIT AND GPL-3.0-only", "", "MPL-2.0", "as you like", "LicenseRef-mine"] {
            assert!(licence("a", wrong).is_some(), "{wrong}");
        }
        assert_eq!(licence("webdriver", "MPL-2.0"), None);
    }

    #[test]
    fn what_is_new_and_what_is_gone_is_named() {
        let notable = ["build a 1.0.0", "macro b 2.0.0"].map(str::to_owned).into();
        let found = Dependencies { count: 2, wrong: Vec::new(), notable };
        assert!(hold(&found, "# read\nbuild a 1.0.0\nmacro b 2.0.0\n").is_ok());
        let why = hold(&found, "build a 1.0.0\ntwice c 1 2\n").unwrap_err().to_string();
        assert!(why.contains("\n+ macro b 2.0.0\n- twice c 1 2"), "{why}");
    }
}
