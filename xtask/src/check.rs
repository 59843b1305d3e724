//! `cargo xtask test`: everything there is to check.

use std::panic::resume_unwind;
use std::process::{Command, ExitCode, ExitStatus};
use std::thread;
use std::time::Instant;

use anyhow::{Result, bail};

use crate::bundle::Care;
use crate::counts::Counts;
use crate::setup::{self, WASM};
use crate::{browsers, dist, library, process, project, python, voices};

/// The package of the browser tests.
pub(crate) const BROWSER_TESTS: &str = "trammel-browser-tests";

/// What the library must not depend on when it is built for this machine.
const BROWSER_CRATES: [&str; 7] = ["gloo", "idb", "indexed_db_futures", "js-sys", "leptos", "wasm-bindgen", "web-sys"];

/// The engines whose tests run beside Chromium's.
const OTHERS: [&str; 2] = ["firefox::", "webkit::"];

type Step = (&'static str, fn() -> Result<Counts>);

/// What does without a browser.
const FIRST: [Step; 6] = [
    ("format", format),
    ("lint, this machine", lint_native),
    ("the library knows no browser", no_browser_crate),
    ("native tests", native),
    ("documentation tests", documentation),
    ("xtask and the tidy tests", own_tests),
];

/// What brings the browsers and the app into them: goes on beside [`FIRST`], as most of it keeps one core or the network busy.
const BESIDE: [Step; 3] = [("lint, browser", lint_wasm), ("dist", build), ("the browsers", engines)];

const LAST: [Step; 1] = [("browser tests in three engines", in_browsers)];

/// What became of some steps.
#[derive(Default)]
struct Outcome {
    total: Counts,
    failed: Vec<&'static str>,
}

/// Runs every step, whatever became of the one before, and gives the exit status.
///
/// # Errors
/// When the tools that all steps need cannot be had.
pub(crate) fn run() -> Result<ExitCode> {
    project::own_program();
    setup::components()?;
    let beside = thread::spawn(|| all_of(&BESIDE));
    let mut outcome = all_of(&FIRST);
    outcome.add(beside.join().unwrap_or_else(|panic| resume_unwind(panic)));
    outcome.add(all_of(&LAST));
    let Outcome { total, failed } = outcome;
    if !failed.is_empty() {
        println!("\nfailed: {}", failed.join(", "));
    }
    println!("\n{} passed, {} failed", total.passed, total.failed);
    Ok(if total.failed == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn all_of(steps: &[Step]) -> Outcome {
    let mut outcome = Outcome::default();
    for &(name, step) in steps {
        println!("\n=== {name}");
        let start = Instant::now();
        let counts = step().unwrap_or_else(|e| {
            println!("{e:#}");
            Counts { passed: 0, failed: 1 }
        });
        let verdict = if counts.failed == 0 { "passed" } else { "FAILED" };
        println!("--- {name}: {verdict} in {:.1} s", start.elapsed().as_secs_f64());
        if counts.failed > 0 {
            outcome.failed.push(name);
        }
        outcome.total.add(counts);
    }
    outcome
}

impl Outcome {
    fn add(&mut self, other: Self) {
        self.total.add(other.total);
        self.failed.extend(other.failed);
    }
}

/// Runs a step that either succeeds or does not, and counts no tests.
fn plain(command: &mut Command) -> Result<Counts> {
    process::run(command).map(|()| Counts::default())
}

/// Runs a test runner; one that fails without having counted a failure counts as one.
fn runner(command: &mut Command) -> Result<Counts> {
    process::tee(command).map(|(lines, status)| counted(&lines, status))
}

fn counted(lines: &[String], status: ExitStatus) -> Counts {
    let mut counts = Counts::of(lines);
    if !status.success() && counts.failed == 0 {
        counts.failed = 1;
    }
    counts
}

fn format() -> Result<Counts> {
    plain(&mut process::cargo("fmt --all --check"))
}

fn lint_native() -> Result<Counts> {
    plain(&mut process::cargo("clippy --workspace --all-targets -- -D warnings"))
}

fn lint_wasm() -> Result<Counts> {
    let toolchain = setup::wasm_target()?;
    if toolchain.substitute.is_some() {
        println!("left out: clippy belongs to another compiler than the one that has the browser's library");
        return Ok(Counts::default());
    }
    plain(process::cargo("clippy --package trammel --lib --bins --target").args([WASM, "--", "-D", "warnings"]))
}

fn no_browser_crate() -> Result<Counts> {
    let host = process::output(process::command("rustc").args(["--print", "host-tuple"]))?;
    let tree = process::output(
        process::cargo("tree --package trammel --edges normal --prefix none --target").arg(host.trim()),
    )?;
    let found = browser_crates(&tree);
    if !found.is_empty() {
        bail!("the library depends on {}", found.join(", "));
    }
    println!("none of {} among {} crates", BROWSER_CRATES.join(", "), tree.lines().count());
    Ok(Counts::default())
}

fn browser_crates(tree: &str) -> Vec<&str> {
    let names = tree.lines().filter_map(|line| line.split_whitespace().next());
    let is_of = |name: &str, family: &str| {
        name.strip_prefix(family).is_some_and(|rest| rest.is_empty() || rest.starts_with(['-', '_']))
    };
    names.filter(|name| BROWSER_CRATES.iter().any(|family| is_of(name, family))).collect()
}

/// The library's own tests on this machine; nextest when it is there, which runs them side by side.
pub(crate) fn native_tests(args: &str) -> Command {
    if process::find("cargo-nextest").is_some() {
        let mut cargo = process::cargo("nextest run --no-fail-fast --no-tests pass --color never");
        cargo.args(args.split_whitespace());
        python::equip(&mut cargo);
        return cargo;
    }
    let mut cargo = process::cargo("test --no-fail-fast --lib --bins --tests");
    cargo.args(args.split_whitespace());
    python::equip(&mut cargo);
    cargo
}

fn native() -> Result<Counts> {
    // A test that finds no voices says so, and fails.
    if let Err(error) = voices::prepare() {
        eprintln!("{error:#}");
    }
    library::count_instructions();
    runner(&mut native_tests(&format!("--workspace --exclude {BROWSER_TESTS} --exclude xtask")))
}

fn documentation() -> Result<Counts> {
    runner(&mut process::cargo("test --doc --package trammel"))
}

fn own_tests() -> Result<Counts> {
    runner(&mut process::cargo("test --no-fail-fast --package xtask --profile xtask"))
}

fn build() -> Result<Counts> {
    let built = dist::build(dist::ROOT_BASE, Care::Small)?;
    print!("{}", built.table());
    built.within_budget().map(|()| Counts::default())
}

fn engines() -> Result<Counts> {
    browsers::prepare().map(|()| Counts::default())
}

/// Chromium and all that needs no engine beside the other two, which wait more than they work. What the others say comes when they are done.
/// What failed is tried once more with nothing beside it, and is named: a browser that got no turn for half a minute says nothing of
/// the app, and what is wrong with the app fails again (docs/decisions/0029-a-second-try.md).
fn in_browsers() -> Result<Counts> {
    let tests = format!("test --no-fail-fast --profile xtask --package {BROWSER_TESTS}");
    process::run(browsers::equip(process::cargo(&tests).arg("--no-run"))?)?;
    let alone = ["--", "--test-threads=1"];
    let mut others = process::cargo(&tests);
    browsers::equip(others.args(alone).args(OTHERS))?;
    let others = thread::spawn(move || process::each_line(&mut others, |_| ()));
    let skipped = OTHERS.iter().flat_map(|engine| ["--skip", engine]);
    let (mut lines, first) = process::tee(browsers::equip(process::cargo(&tests).args(alone).args(skipped))?)?;
    let (theirs, second) = others.join().unwrap_or_else(|panic| resume_unwind(panic))?;
    println!("{}", theirs.join("\n"));
    let mut counts = counted(&lines, first);
    counts.add(counted(&theirs, second));
    lines.extend(theirs);
    let failed = named(&lines, "FAILED");
    if !failed.is_empty() {
        println!("\nonce more, each by itself: {}", failed.join(", "));
        let mut again = process::cargo(&tests);
        again.args(alone).arg("--exact").args(&failed);
        let (again, _) = process::tee(browsers::equip(&mut again)?)?;
        let mended = mended(&failed, &again);
        println!("\npassed at the second try: {}", if mended.is_empty() { "none".into() } else { mended.join(", ") });
        let mended = mended.len() as u64;
        counts = Counts { passed: counts.passed + mended, failed: counts.failed.saturating_sub(mended) };
    }
    Ok(counts)
}

/// The names of the tests that a runner gave this verdict, one for each test program that has one of that name.
fn named<'a>(lines: &'a [String], verdict: &str) -> Vec<&'a str> {
    let of = |line: &'a String| line.strip_prefix("test ")?.strip_suffix(verdict)?.strip_suffix(" ... ");
    lines.iter().filter_map(of).collect()
}

/// Those of `failed` that were run again and did not fail again.
fn mended<'a>(failed: &[&'a str], again: &[String]) -> Vec<&'a str> {
    let (passed, failed_again) = (named(again, "ok"), named(again, "FAILED"));
    failed.iter().copied().filter(|name| passed.contains(name) && !failed_again.contains(name)).collect()
}

#[cfg(test)]
mod tests {
    use super::{browser_crates, mended, named};

    // The form of `cargo tree --prefix none`.
    #[test]
    fn finds_a_browser_crate_by_its_family_and_no_namesake() {
        let tree = "trammel v0.1.0 (/somewhere)\nserde v1.0.0\ngloo-storage v0.4.0\nleptos_router v0.8.17\n\
                    web-sys v0.3.0 (*)\nglooming v1.0.0\n";
        assert_eq!(browser_crates(tree), ["gloo-storage", "leptos_router", "web-sys"]);
    }

    // Lines as cargo 1.95 prints them.
    #[test]
    fn what_passes_at_the_second_try_is_mended_and_nothing_else() {
        let lines = |all: &[&str]| all.iter().map(|&line| line.to_owned()).collect::<Vec<_>>();
        let first = lines(&[
            "test webkit::there_and_back ... FAILED",
            "test chromium::a_photo ... ok",
            "test some_cycles ... FAILED",
            "test chromium::in_step ... FAILED",
            "test result: FAILED. 1 passed; 3 failed; 0 ignored; 0 measured; 0 filtered out; finished in 8.55s",
        ]);
        let failed = named(&first, "FAILED");
        assert_eq!(failed, ["webkit::there_and_back", "some_cycles", "chromium::in_step"]);
        let again = lines(&["test webkit::there_and_back ... ok", "test some_cycles ... FAILED", "running 0 tests"]);
        assert_eq!(mended(&failed, &again), ["webkit::there_and_back"], "and what was not run again is not mended");
    }
}
