//! Libraries of the Python package index as second opinions: a virtual environment below `target/` for each set of
//! pinned versions, made on first use. The first run needs the network; later ones need nothing.

use std::fs::File;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;

use serde::Serialize;
use serde::de::DeserializeOwned;

/// Runs a script with `given` as JSON on its standard input; its answer is read as JSON from its standard output.
pub(crate) fn evaluate<T: DeserializeOwned>(python: &Path, script: &str, given: &impl Serialize) -> T {
    let given = serde_json::to_vec(given).expect("numbers");
    serde_json::from_slice(&answer(Command::new(python).arg(script), &given)).expect("a result for each case")
}

/// What a program writes to its standard output, with `given` on its standard input. It may print before it has read all of that: who wrote
/// first and read afterwards would wait for it, and it for them.
pub(crate) fn answer(program: &mut Command, given: &[u8]) -> Vec<u8> {
    let mut child = program.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("the program starts");
    let mut cases = child.stdin.take().expect("a pipe");
    let output = thread::scope(|scope| {
        scope.spawn(move || cases.write_all(given).expect("the program reads its cases"));
        child.wait_with_output().expect("the program ends")
    });
    assert!(output.status.success(), "the program failed; its message is above");
    output.stdout
}

/// The python of a virtual environment called `name` that holds the libraries, made on first use.
pub(crate) fn python(name: &str, libraries: &[(&str, &str)]) -> PathBuf {
    let home = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let python = home.join("bin").join("python");
    // A test runner that gives each test a process of its own asks for the same one several times at once.
    let alone = File::create(home.with_extension("lock")).expect("a file below target");
    alone.lock().expect("a lock on it");
    let holds = |(name, version): &(&str, &str)| {
        let ask = format!("import importlib.metadata as m; assert m.version('{name}') == '{version}'");
        Command::new(&python).args(["-c", &ask]).stderr(Stdio::null()).status().is_ok_and(|status| status.success())
    };
    if libraries.iter().all(holds) {
        return python;
    }
    let pinned: Vec<_> = libraries.iter().map(|(name, version)| format!("{name}=={version}")).collect();
    let mut venv = Command::new("python3");
    venv.args(["-m", "venv", "--clear"]);
    let mut pip = Command::new(&python);
    // `cargo xtask test` names a pip of its own where python3 has none to give (Debian without python3-venv).
    match std::env::var_os("TRAMMEL_PIP") {
        Some(own) => {
            venv.arg("--without-pip");
            pip.arg(own);
        }
        None => {
            pip.args(["-m", "pip"]);
        }
    }
    run(venv.arg(&home), "python3 cannot make a virtual environment. On Debian: apt-get install python3-venv");
    pip.args(["install", "--quiet", "--disable-pip-version-check"]).args(&pinned);
    run(&mut pip, &format!("{} cannot be installed. The first run needs the network", pinned.join(" and ")));
    python
}

fn run(command: &mut Command, otherwise: &str) {
    let output = command.output().unwrap_or_else(|error| panic!("{otherwise}.\n{error}"));
    let said = [output.stdout, output.stderr].map(|text| String::from_utf8_lossy(&text).into_owned()).concat();
    assert!(output.status.success(), "{otherwise}.\n{said}");
}
