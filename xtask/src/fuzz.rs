//! `cargo xtask fuzz`: the fuzzer against everything that takes bytes from outside (docs/fuzzing.md).

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Mutex;
use std::time::Instant;

use anyhow::{Context, Result, bail};

use crate::figures::Figure;
use crate::setup::{self, WASM};
use crate::{figures, process, project};

/// The targets and the most bytes that are tried on each, those that take longest first.
const TARGETS: [(&str, u32); 11] = [
    ("record", 2048),
    ("procedure", 2560),
    ("csv", 512),
    ("specification", 1024),
    ("spoken", 224),
    ("typed", 80),
    ("zip", 512),
    ("listing", 1024),
    ("taught", 1024),
    ("small", 256),
    ("photo", 1024),
];

/// How many run beside each other.
const AT_ONCE: usize = 2;

/// Counters at every edge, as `cargo fuzz --sanitizer none` puts them in. The compiler's own switches, on any channel.
const COUNTERS: &str = "-Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=4 \
    -Cllvm-args=-sanitizer-coverage-inline-8bit-counters -Cllvm-args=-sanitizer-coverage-pc-table --cfg fuzzing";

/// How much of its SHA-256 an input is named by, in hexadecimal digits.
const NAME: usize = 16;

/// What to do.
pub(crate) struct Options {
    /// How many inputs each target is fed.
    pub(crate) executions: u64,
    /// Which targets; all of them when none is named.
    pub(crate) targets: Vec<String>,
    /// Put what was found beside the kept corpus, as little of it as reaches the same edges.
    pub(crate) keep: bool,
    /// Instead of looking for more, run the kept corpus in the browser's build.
    pub(crate) wasm: bool,
}

impl Default for Options {
    fn default() -> Self {
        Self { executions: 1_000_000, targets: Vec::new(), keep: false, wasm: false }
    }
}

/// What became of one target.
struct Outcome {
    name: &'static str,
    executions: u64,
    crashed: bool,
    edges: u64,
    seconds: f64,
}

/// Does it, prints a table and the figures, and adds the figures to those that were found.
///
/// # Errors
/// When something does not build, a name is no target, or an input broke a target.
pub(crate) fn run(options: &Options, found: &mut Vec<Figure>) -> Result<()> {
    if let Some(unknown) = options.targets.iter().find(|name| TARGETS.iter().all(|(known, _)| known != name)) {
        bail!("there is no target `{unknown}`; there is {}", TARGETS.map(|(name, _)| name).join(", "));
    }
    if options.wasm {
        return in_the_browsers_build(found);
    }
    let wanted = |name: &str| options.targets.is_empty() || options.targets.iter().any(|wanted| wanted == name);
    let chosen: Vec<(&'static str, u32)> = TARGETS.into_iter().filter(|(name, _)| wanted(name)).collect();
    let programs = build()?;
    let outcomes = side_by_side(&chosen, |(name, longest)| feed(&programs, name, longest, options.executions))?;
    if options.keep {
        side_by_side(&chosen, |(name, longest)| keep(&programs, name, longest))?;
    }
    let table: String = outcomes.iter().map(Outcome::row).collect();
    println!("\n{:<14} {:>12} {:>8} {:>8} {:>9}\n{table}", "target", "executions", "edges", "crashes", "seconds");
    let total = outcomes.iter().map(|outcome| outcome.executions).sum();
    let crashes = outcomes.iter().filter(|outcome| outcome.crashed).count();
    found.extend(figures::said(&[("fuzz_executions", total), ("fuzz_crashes", crashes as u64)]));
    if crashes > 0 {
        bail!("{crashes} targets broke; what broke them is in {}", work().display());
    }
    Ok(())
}

impl Outcome {
    fn row(&self) -> String {
        let Self { name, executions, crashed, edges, seconds } = self;
        format!("{name:<14} {executions:>12} {edges:>8} {:>8} {seconds:>9.0}\n", u8::from(*crashed))
    }
}

fn folder() -> PathBuf {
    project::root().join("fuzz")
}

/// Where the fuzzer writes what it finds.
fn work() -> PathBuf {
    project::target().join("fuzz/work")
}

fn kept(name: &str) -> PathBuf {
    folder().join("corpus").join(name)
}

/// Builds every target's program, and gives their folder.
fn build() -> Result<PathBuf> {
    let host = process::output(process::command("rustc").args(["--print", "host-tuple"]))?;
    let target = project::target().join("fuzz");
    let mut cargo = process::cargo("build --release --bins --target");
    cargo.arg(host.trim()).current_dir(folder()).env("CARGO_TARGET_DIR", &target);
    process::run(cargo.env("RUSTFLAGS", COUNTERS))?;
    Ok(target.join(host.trim()).join("release"))
}

/// Does something with each, some beside each other; the outcomes in order.
fn side_by_side<T: Copy + Send + Sync, R: Send>(all: &[T], work: impl Fn(T) -> Result<R> + Sync) -> Result<Vec<R>> {
    let next = Mutex::new((0_usize..).zip(all.iter().copied()));
    let done = Mutex::new(BTreeMap::new());
    std::thread::scope(|scope| {
        for _ in 0..AT_ONCE {
            scope.spawn(|| {
                while let Some((place, one)) = next.lock().ok().and_then(|mut next| next.next()) {
                    let outcome = work(one);
                    if let Ok(mut done) = done.lock() {
                        done.insert(place, outcome);
                    }
                }
            });
        }
    });
    let done = done.into_inner().map_err(|_| anyhow::anyhow!("a thread broke"))?;
    done.into_values().collect()
}

/// The fuzzer's command for a target.
fn fuzzer(programs: &Path, name: &str, longest: u32) -> Command {
    let mut command = Command::new(programs.join(name));
    command.current_dir(work()).arg(format!("-max_len={longest}")).args(["-timeout=60", "-rss_limit_mb=2048"]);
    command
}

fn feed(programs: &Path, name: &'static str, longest: u32, executions: u64) -> Result<Outcome> {
    let found = work().join("corpus").join(name);
    fs::create_dir_all(&found)?;
    let words = work().join(format!("{name}.dict"));
    fs::write(&words, dictionary(&kept(name))?)?;
    let log = work().join(format!("{name}.log"));
    let start = Instant::now();
    let mut command = fuzzer(programs, name, longest);
    command.arg(format!("-runs={executions}")).args(["-seed=1", "-print_final_stats=1"]);
    command.arg(format!("-artifact_prefix={name}-")).arg(format!("-dict={}", words.display()));
    let file = fs::File::create(&log)?;
    command.args([found, kept(name)]).stdout(file.try_clone()?).stderr(file);
    let status = command.status().with_context(|| format!("cannot start the fuzzer of {name}"))?;
    let said = fs::read_to_string(&log)?;
    let outcome = Outcome {
        name,
        executions: said_number(&said, "stat::number_of_executed_units:").unwrap_or(0),
        crashed: !status.success(),
        edges: said_number(&said, " cov: ").unwrap_or(0),
        seconds: start.elapsed().as_secs_f64(),
    };
    print!("{}", outcome.row());
    if outcome.crashed {
        let wrong = said.lines().skip_while(|line| !line.contains("panicked at")).take(4);
        println!("{}", wrong.collect::<Vec<_>>().join("\n"));
    }
    Ok(outcome)
}

/// The last number that a log says behind some words.
fn said_number(log: &str, words: &str) -> Option<u64> {
    log.rsplit_once(words)?.1.split_whitespace().next()?.parse().ok()
}

/// The words of the kept inputs, for the fuzzer to put together anew.
fn dictionary(corpus: &Path) -> Result<String> {
    let mut words: BTreeMap<String, usize> = BTreeMap::new();
    for file in fs::read_dir(corpus).with_context(|| format!("no corpus at {}", corpus.display()))? {
        let bytes = fs::read(file?.path())?;
        let text = String::from_utf8_lossy(&bytes);
        for word in text.split(|letter: char| !letter.is_ascii_alphanumeric() && !"-_:.".contains(letter)) {
            if (3..=24).contains(&word.len()) && word.bytes().any(|letter| letter.is_ascii_alphabetic()) {
                *words.entry(word.to_owned()).or_default() += 1;
            }
        }
    }
    let mut often: Vec<(&String, &usize)> = words.iter().collect();
    often.sort_by_key(|(word, count)| (std::cmp::Reverse(**count), word.len()));
    Ok(often.iter().take(300).map(|(word, _)| format!("\"{word}\"\n")).collect())
}

/// Whether a kept input was named by [`keep`], not by somebody who put it there.
fn of_the_fuzzer(name: &str) -> bool {
    name.len() == NAME && name.bytes().all(|letter| letter.is_ascii_hexdigit())
}

/// Merges what was found into the kept corpus: the smallest inputs that reach every edge between them.
fn keep(programs: &Path, name: &str, longest: u32) -> Result<()> {
    let (found, fresh) = (work().join("corpus").join(name), work().join("fresh").join(name));
    if fresh.exists() {
        fs::remove_dir_all(&fresh)?;
    }
    fs::create_dir_all(&fresh)?;
    let mut command = fuzzer(programs, name, longest);
    command.args(["-set_cover_merge=1", "-use_counters=0"]).args([&fresh, &kept(name), &found]);
    process::output(&mut command)?;
    for file in fs::read_dir(kept(name))? {
        let file = file?;
        if of_the_fuzzer(&file.file_name().to_string_lossy()) {
            fs::remove_file(file.path())?;
        }
    }
    for file in fs::read_dir(&fresh)? {
        let file = file?;
        let bytes = fs::read(file.path())?;
        fs::write(kept(name).join(&crate::assets::sha256_hex(&bytes)[..NAME]), bytes)?;
    }
    Ok(())
}

/// Runs the kept corpus natively and in the browser's build, in Node, and holds what came of each input against the other.
fn in_the_browsers_build(found: &mut Vec<Figure>) -> Result<()> {
    let outcomes = project::target().join("fuzz-outcomes.txt");
    let mut native = process::cargo("test --package trammel --test corpus");
    process::run(native.env("TRAMMEL_OUTCOMES", &outcomes))?;
    let target = project::target().join("fuzz");
    let mut cargo = setup::wasm_target()?.cargo("rustc --lib --crate-type cdylib --profile browser --target");
    cargo.arg(WASM).current_dir(folder()).env("CARGO_TARGET_DIR", &target);
    process::run(cargo.env("RUSTFLAGS", "--cfg fuzzing"))?;
    let module = target.join(WASM).join("browser/trammel_fuzz.wasm");
    let mut node = process::command("node");
    node.arg(folder().join("corpus.mjs")).args([&module, &outcomes]);
    let (lines, status) = process::tee(&mut node)?;
    found.extend(figures::printed(&lines)?);
    if !status.success() {
        bail!("the browser's build finds something else than the native one");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    // The form of libFuzzer's log.
    #[test]
    fn the_last_number_of_a_log_counts() {
        let log = "#2\tINITED cov: 12 ft: 9\n#9\tDONE   cov: 34 ft: 10\nstat::number_of_executed_units: 900\n";
        assert_eq!(said_number(log, " cov: "), Some(34));
        assert_eq!(said_number(log, "stat::number_of_executed_units:"), Some(900));
        assert_eq!(said_number("", " cov: "), None);
    }

    #[test]
    fn every_target_has_its_program_and_its_corpus() {
        for (name, _) in TARGETS {
            assert!(folder().join(format!("src/bin/{name}.rs")).is_file(), "{name} has no program");
            assert!(kept(name).is_dir(), "{name} has no corpus");
        }
    }

    #[test]
    fn what_somebody_named_stays() {
        assert!(of_the_fuzzer("0123456789abcdef"));
        assert!(!of_the_fuzzer("eight-digits-and-a-point"));
        assert!(!of_the_fuzzer("the-guide-s-example"));
    }

    #[test]
    fn outcomes_keep_their_order() {
        let doubled = side_by_side(&[5_u64, 3, 8, 1], |number| Ok(number * 2)).unwrap();
        assert_eq!(doubled, [10, 6, 16, 2]);
    }
}
