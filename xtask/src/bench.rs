//! `cargo xtask bench`: measurements by group, kept in `target/figures.json`.

use std::process::Command;
use std::time::Instant;

use anyhow::{Result, bail};

use crate::bundle::Care;
use crate::check::BROWSER_TESTS;
use crate::figures::{self, Figure};
use crate::{browsers, check, dist, library, npm, process, project, python, voices};

/// The npm package of a recogniser with a model, which ours is held against, and its version.
const SOUNDSWALLOWER: (&str, &str) = ("soundswallower", "0.6.3");

type Group = (&'static str, fn(&mut Vec<Figure>) -> Result<()>);

const GROUPS: [Group; 7] = [
    ("main", main),
    ("readings", readings),
    ("alignment", alignment),
    ("rigging", rigging),
    ("record", record),
    ("voice", voice),
    ("library", library::measure),
];

/// Measures the groups of those names, all of them without a name, and prints a table.
///
/// # Errors
/// When a group is unknown or a measurement fails; what was measured until then is kept.
pub(crate) fn run(names: &[String]) -> Result<()> {
    for name in names {
        if !GROUPS.iter().any(|(known, _)| known == name) {
            let known: Vec<&str> = GROUPS.iter().map(|(name, _)| *name).collect();
            bail!("there is no group `{name}`; there is {}", known.join(", "));
        }
    }
    for (name, measure) in GROUPS {
        if names.is_empty() || names.iter().any(|wanted| wanted == name) {
            let mut found = Vec::new();
            let outcome = measure(&mut found);
            let file = project::target().join("figures.json");
            figures::merge(&file, &found)?;
            println!("\ngroup {name}, merged into {}\n{}", file.display(), figures::table(&found));
            outcome?;
        }
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
    browsers::prepare()?;
    let mut warm = process::cargo("test --profile xtask --test warm_start --package");
    let warm = warm.args([BROWSER_TESTS, "--", "--ignored", "--nocapture", "--test-threads=1"]);
    found.extend(measured(browsers::equip(warm)?)?);
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
    browsers::prepare()?;
    let mut solve = process::cargo("test --profile xtask --test solve_speed --package");
    let solve = solve.args([BROWSER_TESTS, "--", "--ignored", "--nocapture", "--test-threads=1"]);
    found.extend(measured(browsers::equip(solve)?)?);
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
    browsers::prepare()?;
    let mut state = process::cargo("test --profile xtask --test run_state --package");
    let state = state.args([BROWSER_TESTS, "--", "--ignored", "--nocapture", "--test-threads=1"]);
    found.extend(measured(browsers::equip(state)?)?);
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
    browsers::prepare()?;
    let mut scale = process::cargo("test --profile xtask --test record_scale --package");
    let scale = scale.args([BROWSER_TESTS, "--", "--ignored", "--nocapture", "--test-threads=1"]);
    found.extend(measured(browsers::equip(scale.env("TRAMMEL_SCALE", &file))?)?);
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
    browsers::prepare()?;
    let mut heard = process::cargo("test --profile xtask --test heard --package");
    let heard = heard.args([BROWSER_TESTS, "--", "--ignored", "--nocapture", "--test-threads=1"]);
    found.extend(measured(browsers::equip(heard)?)?);
    let mut pages = process::cargo("test --profile xtask --test pages --package");
    let pages = pages.args([BROWSER_TESTS, "--", "--nocapture", "--test-threads=1", "chromium::"]);
    found.extend(measured(browsers::equip(pages)?)?);
    Ok(())
}

/// Wall time of the library's native tests; a first run compiles them.
fn library_test_seconds() -> Result<f64> {
    process::run(&mut check::native_tests("--package trammel"))?;
    let start = Instant::now();
    process::run(&mut check::native_tests("--package trammel"))?;
    Ok((start.elapsed().as_secs_f64() * 100.0).round() / 100.0)
}

/// Runs a measuring program and gives its figures.
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
