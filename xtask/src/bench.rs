//! `cargo xtask bench`: measurements by group, kept in `target/figures.json`.

use std::process::Command;
use std::time::Instant;

use anyhow::{Result, bail};

use crate::bundle::Care;
use crate::check::BROWSER_TESTS;
use crate::figures::{self, Figure};
use crate::{browsers, check, dist, library, npm, process, project, proof, python, voices};

/// The npm package of a recogniser with a model, which ours is held against, and its version.
const SOUNDSWALLOWER: (&str, &str) = ("soundswallower", "0.6.3");

/// A measurement by its name. What stands before a slash in it chooses it too, with all others of that beginning.
pub(crate) type Group = (&'static str, fn(&mut Vec<Figure>) -> Result<()>);

const GROUPS: [Group; 6] = [
    ("main", main),
    ("readings", readings),
    ("alignment", alignment),
    ("rigging", rigging),
    ("record", record),
    ("voice", voice),
];

/// Measures the groups of those names, all of them without a name, and prints a table of each.
///
/// # Errors
/// When a group is unknown or a measurement fails; the others are measured all the same, and what one found before it failed is kept.
pub(crate) fn run(names: &[String]) -> Result<()> {
    let all: Vec<Group> = GROUPS.into_iter().chain(library::PARTS).chain(proof::PARTS).collect();
    let chosen_by = |group: &str, name: &str| group == name || group.split('/').next() == Some(name);
    for name in names {
        if !all.iter().any(|(group, _)| chosen_by(group, name)) {
            let known: Vec<&str> = all.iter().map(|(group, _)| *group).collect();
            bail!("there is no group `{name}`; there is {}", known.join(", "));
        }
    }
    let mut failed = Vec::new();
    for (group, measure) in all {
        if names.is_empty() || names.iter().any(|name| chosen_by(group, name)) {
            let mut found = Vec::new();
            let outcome = measure(&mut found);
            let file = project::target().join("figures.json");
            figures::merge(&file, &found)?;
            println!("\ngroup {group}, merged into {}\n{}", file.display(), figures::table(&found));
            if let Err(error) = outcome {
                println!("group {group} failed: {error:#}");
                failed.push(group);
            }
        }
    }
    if !failed.is_empty() {
        bail!("failed: {}", failed.join(", "));
    }
    Ok(())
}

/// The mating: what a first visit costs, how fast the app starts, how many moves a simulated mating takes.
fn main(found: &mut Vec<Figure>) -> Result<()> {
    let built = dist::build(dist::ROOT_BASE, Care::Small)?;
    #[allow(clippy::cast_precision_loss, reason = "a few hundred thousand bytes")]
    found.push(("precache_brotli_bytes".to_owned(), built.precache_brotli() as f64));
    found.push(("lib_test_seconds".to_owned(), library_test_seconds()?));
    let twin = "test --profile bench --package trammel --test mating_twin -- --ignored --nocapture campaign";
    found.extend(measured(&mut process::cargo(twin))?);
    found.extend(in_browser("warm_start", &["--ignored"])?);
    Ok(())
}

/// The readings: what is checked against published values and another library, what is understood of spoken numbers, what the
/// guards catch and how often they ask for nothing.
fn readings(found: &mut Vec<Figure>) -> Result<()> {
    let tests = "test --profile bench --package trammel";
    for test in [
        "--test published -- --nocapture",
        "--test uncertainty_cross_check -- --nocapture",
        "--test spoken -- --ignored --nocapture figures",
        "--test guards -- --ignored --nocapture figures",
    ] {
        let mut cargo = process::cargo(&format!("{tests} {test}"));
        python::equip(&mut cargo);
        found.extend(measured(&mut cargo)?);
    }
    Ok(())
}

/// The alignment engine: certified regressions, a general-purpose solver, planted slips, matings with coupled adjusters, and one
/// adjustment in the browser.
fn alignment(found: &mut Vec<Figure>) -> Result<()> {
    dist::build(dist::ROOT_BASE, Care::Small)?;
    let tests = "test --profile bench --package trammel";
    for test in [
        "--test strd -- --nocapture",
        "--test network_cross_check -- --nocapture",
        "--test blunders -- --ignored --nocapture",
        "--test coupled_twin -- --ignored --nocapture",
    ] {
        let mut cargo = process::cargo(&format!("{tests} {test}"));
        python::equip(&mut cargo);
        found.extend(measured(&mut cargo)?);
    }
    found.extend(in_browser("solve_speed", &["--ignored"])?);
    Ok(())
}

/// Rigging: what is checked against published values, the procedures that a machine walks to their end, and how long the state of a
/// run of many entries takes in the browser.
fn rigging(found: &mut Vec<Figure>) -> Result<()> {
    dist::build(dist::ROOT_BASE, Care::Small)?;
    let tests = "test --profile bench --package trammel";
    for test in ["--test published -- --nocapture", "--test walk -- --nocapture"] {
        found.extend(measured(&mut process::cargo(&format!("{tests} {test}")))?);
    }
    found.extend(in_browser("run_state", &["--ignored"])?);
    Ok(())
}

/// The record: what a thousand runs of phones and a folder in bad weather lose; one of 100,000 entries and 500 photos, natively and in
/// the browser.
fn record(found: &mut Vec<Figure>) -> Result<()> {
    let mut folder =
        process::cargo("test --profile bench --package trammel --test folder -- --ignored --nocapture campaign");
    python::equip(&mut folder);
    found.extend(measured(&mut folder)?);
    dist::build(dist::ROOT_BASE, Care::Small)?;
    let file = project::target().join("record-scale.json");
    let mut make =
        process::cargo("test --profile bench --package trammel --test record_scale -- --ignored --nocapture");
    process::run(make.env("TRAMMEL_SCALE", &file))?;
    let mut scale = browser_test("record_scale", &["--ignored"])?;
    found.extend(measured(scale.env("TRAMMEL_SCALE", &file))?);
    Ok(())
}

/// Hearing: what the recogniser weighs, and what of readings that are taught, read out in noise and heard in the browser is kept wrongly.
fn voice(found: &mut Vec<Figure>) -> Result<()> {
    let built = dist::build(dist::ROOT_BASE, Care::Small)?;
    #[allow(clippy::cast_precision_loss, reason = "a few hundred thousand bytes")]
    found.push(("recogniser_brotli_bytes".to_owned(), built.recogniser_brotli() as f64));
    voices::prepare()?;
    let mut table =
        process::cargo("test --profile bench --package trammel --test voice -- --ignored --nocapture figures");
    let (name, version) = SOUNDSWALLOWER;
    if let Some(folder) = npm::package(name, version)? {
        table.env("TRAMMEL_SOUNDSWALLOWER", folder);
    }
    found.extend(measured(&mut table)?);
    found.extend(in_browser("heard", &["--ignored"])?);
    // Each tour of the pages prints how many it found.
    let violations = in_browser("pages", &["chromium::"])?.into_iter().filter(|(name, _)| name == "axe_violations");
    found.push(("axe_violations".to_owned(), violations.map(|(_, count)| count).sum()));
    Ok(())
}

/// Wall time of the library's native tests; a first run compiles them.
fn library_test_seconds() -> Result<f64> {
    process::run(&mut check::native_tests("--package trammel"))?;
    let start = Instant::now();
    process::run(&mut check::native_tests("--package trammel"))?;
    Ok((start.elapsed().as_secs_f64() * 100.0).round() / 100.0)
}

/// A test file of the browser tests, with what its harness is to be told.
///
/// # Errors
/// When the browsers cannot be had.
pub(crate) fn browser_test(test: &str, told: &[&str]) -> Result<Command> {
    browsers::prepare()?;
    let mut cargo = process::cargo("test --profile xtask --package");
    cargo.args([BROWSER_TESTS, "--test", test, "--", "--nocapture", "--test-threads=1"]).args(told);
    browsers::equip(&mut cargo)?;
    Ok(cargo)
}

/// Runs a test file of the browser tests and gives its figures.
///
/// # Errors
/// When it fails or prints none.
pub(crate) fn in_browser(test: &str, told: &[&str]) -> Result<Vec<Figure>> {
    measured(&mut browser_test(test, told)?)
}

/// Runs a measuring program and gives its figures.
///
/// # Errors
/// When it fails or prints none.
pub(crate) fn measured(command: &mut Command) -> Result<Vec<Figure>> {
    let (lines, status) = process::tee(command)?;
    if !status.success() {
        bail!("the measurement failed ({status})");
    }
    let found = figures::printed(&lines)?;
    if found.is_empty() {
        bail!("the measurement printed no figure");
    }
    Ok(found)
}
