//! The grammar recogniser of the npm registry (`soundswallower` 0.6.3, a model of American English with it), fed the same sound.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/voice/other.mjs");

/// A scale with decimals, and a tape of sixteenths: tighter than our order of roles, to its advantage.
const DECIMAL: &str = "#JSGF V1.0; grammar g; \
    <d> = zero | one | two | three | four | five | six | seven | eight | nine; \
    <c> = keep it | strike that | say again | next | go back; \
    public <r> = <c> | [minus] <d>+ [point <d>+];";
const TAPE: &str = "#JSGF V1.0; grammar g; \
    <d> = zero | one | two | three | four | five | six | seven | eight | nine; \
    <c> = keep it | strike that | say again | next | go back; \
    <n> = <d> | eleven | thirteen | fifteen; \
    <f> = one half | <d> (quarter | quarters) | <n> (eighths | sixteenth | sixteenths); \
    public <r> = <c> | [minus] (<f> | <d>+ [and <f>]);";

/// The package's folder, when `cargo xtask bench voice` fetched it.
pub(crate) fn package() -> Option<PathBuf> {
    std::env::var_os("TRAMMEL_SOUNDSWALLOWER").map(PathBuf::from)
}

/// What it hears in each sound.
pub(crate) fn heard(package: &Path, sounds: &[(Vec<f32>, Option<u32>)], scratch: &Path) -> Vec<String> {
    std::fs::create_dir_all(scratch).unwrap();
    let mut lines = String::new();
    for (at, (sound, finest)) in sounds.iter().enumerate() {
        let file = scratch.join(format!("{at}.f32"));
        let bytes: Vec<u8> = sound.iter().flat_map(|sample| sample.clamp(-1.0, 1.0).to_le_bytes()).collect();
        std::fs::write(&file, bytes).unwrap();
        let grammar = if finest.is_some() { TAPE } else { DECIMAL };
        lines += &format!("{}\n", serde_json::json!({ "file": file, "grammar": grammar }));
    }
    let mut node = Command::new("node");
    node.arg(SCRIPT)
        .arg(package)
        .current_dir(package)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null());
    let mut child = node.spawn().expect("node starts");
    child.stdin.take().unwrap().write_all(lines.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "the other recogniser failed");
    let texts = String::from_utf8(output.stdout).unwrap();
    texts.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}
