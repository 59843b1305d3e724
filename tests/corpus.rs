//! The kept corpus of the fuzzer (`docs/fuzzing.md`): every input goes through the function that it was found with, and what once broke
//! one is among them.

#[path = "../fuzz/src/targets/mod.rs"]
#[allow(dead_code, unreachable_pub, reason = "the fuzzer's programs use them too")]
mod targets;

use std::fmt::Write as _;
use std::fs;
use std::panic::catch_unwind;
use std::path::{Path, PathBuf};

use targets::{TARGETS, Target, Told};
use trammel::record::Digest;

/// Every kept input of a target, in the order of names.
fn kept(target: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus").join(target);
    let files = fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    let mut kept: Vec<PathBuf> = files.map(|file| file.expect("a file").path()).collect();
    kept.sort();
    kept
}

/// What comes of an input.
fn outcome(target: &Target, bytes: &[u8]) -> String {
    let mut told = Told::all();
    target.feed(bytes, &mut told);
    told.text().to_owned()
}

/// One after the other: the memory that is counted is the whole program's.
#[test]
fn every_kept_input_is_read_or_refused() {
    let mut outcomes = String::new();
    for (place, target) in TARGETS.iter().enumerate() {
        let kept = kept(target.name);
        assert!(kept.len() > 20, "{}: only {} inputs", target.name, kept.len());
        for file in kept {
            let bytes = fs::read(&file).expect("reads");
            let Ok(told) = catch_unwind(|| outcome(target, &bytes)) else { panic!("{} broke it", file.display()) };
            assert_eq!(outcome(target, &bytes), told, "{}: another outcome the second time", file.display());
            let digest = Digest::of(told.as_bytes());
            let digest: String = digest.bytes()[..8].iter().map(|byte| format!("{byte:02x}")).collect();
            let _ = writeln!(outcomes, "{place}\t{}\t{digest}", file.display());
        }
    }
    // For the browser's build to be held against (`cargo xtask fuzz --wasm`).
    if let Some(file) = std::env::var_os("TRAMMEL_OUTCOMES") {
        fs::write(file, outcomes).expect("writes");
    }
}
