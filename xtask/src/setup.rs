//! The standard library of `wasm32-unknown-unknown`, which a fresh Rust does not have.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Result, bail};

use crate::{process, sysroot};

/// The target that the app is built for.
pub(crate) const WASM: &str = "wasm32-unknown-unknown";

/// The compiler that can build for the browser; by default the one on PATH.
#[derive(Default)]
pub(crate) struct Toolchain {
    /// A compiler other than the one on PATH, when only that one's standard library could be had.
    pub(crate) substitute: Option<PathBuf>,
    /// The linker to go with it.
    pub(crate) linker: Option<PathBuf>,
}

impl Toolchain {
    /// A cargo command that compiles with this toolchain; `args` is split at spaces.
    pub(crate) fn cargo(&self, args: &str) -> Command {
        let mut cargo = process::cargo(args);
        if let Some(rustc) = &self.substitute {
            cargo.env("RUSTC", rustc);
        }
        if let Some(linker) = &self.linker {
            cargo.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker);
        }
        cargo
    }
}

/// Makes sure that the app can be compiled, by the first of these that works: it already can; rustup; the standard
/// library's source of exactly our compiler, from Debian; a compiler together with its source, from Debian.
///
/// # Errors
/// When none works; the text says what to install.
pub(crate) fn wasm_target() -> Result<Toolchain> {
    let library = target_library(Path::new("rustc"))?;
    if is_complete(&library) {
        return Ok(Toolchain::default());
    }
    eprintln!("the standard library of {WASM} is missing: asking rustup for it");
    let by_rustup = process::run(process::command("rustup").args(["target", "add", WASM]));
    if is_complete(&library) {
        return Ok(Toolchain::default());
    }
    let first = by_rustup.err().map_or_else(|| "rustup added it to another toolchain".to_owned(), |e| format!("{e:#}"));
    eprintln!("{first}\nbuilding it from Debian's source of the same version");
    let second = match sysroot::from_matching_source(&library) {
        Ok(()) if is_complete(&library) => return Ok(Toolchain::default()),
        Ok(()) => "the build left it incomplete".to_owned(),
        Err(e) => format!("{e:#}"),
    };
    eprintln!("{second}\ntaking Debian's compiler and source that belong together");
    match sysroot::matched_pair() {
        Ok(rustc) => Ok(Toolchain { substitute: Some(rustc), linker: sysroot::lld()? }),
        Err(third) => bail!(
            "cannot compile for the browser: no standard library for {WASM}.\n  1. {first}\n  2. {second}\n  3. {third:#}\n\
             Install it by hand: `rustup target add {WASM}`, or your system's package of it (libstd-rust-dev-wasm32 on \
             Debian, for Debian's own rustc)."
        ),
    }
}

/// Makes sure that the standard library's source stands where cargo looks for it, so that it can be compiled for size together
/// with the app; `false`, said, when it cannot be had: the ready-made one serves too and makes the download larger.
///
/// # Errors
/// When the compiler does not say where its files are.
pub(crate) fn library_source() -> Result<bool> {
    let sysroot = process::output(process::command("rustc").args(["--print", "sysroot"]))?;
    let place = Path::new(sysroot.trim()).join("lib/rustlib/src/rust/library");
    if place.join("sysroot/Cargo.toml").exists() {
        return Ok(true);
    }
    eprintln!("the standard library's source is missing: asking rustup for it");
    let by_rustup = process::run(process::command("rustup").args(["component", "add", "rust-src"]));
    if by_rustup.is_ok() && place.join("sysroot/Cargo.toml").exists() {
        return Ok(true);
    }
    eprintln!("taking Debian's source of the same version");
    match sysroot::copy_matching_source(&place) {
        Ok(()) => Ok(true),
        Err(error) => {
            eprintln!("{error:#}\nusing the ready-made standard library: the download will be larger");
            Ok(false)
        }
    }
}

/// Makes sure that `cargo fmt` and `cargo clippy` are there.
///
/// # Errors
/// When one is missing and rustup cannot add it.
pub(crate) fn components() -> Result<()> {
    for (program, component) in [("rustfmt", "rustfmt"), ("cargo-clippy", "clippy")] {
        if process::output(process::command(program).arg("--version")).is_err() {
            process::run(process::command("rustup").args(["component", "add", component]))?;
        }
    }
    Ok(())
}

/// The folder where `rustc` looks for the target's standard library.
pub(crate) fn target_library(rustc: &Path) -> Result<PathBuf> {
    let printed = process::output(process::command(rustc).args(["--print", "target-libdir", "--target", WASM]))?;
    Ok(PathBuf::from(printed.trim()))
}

/// Whether a folder holds a standard library: `core` and `std` are the ones no crate does without.
pub(crate) fn is_complete(library: &Path) -> bool {
    let Ok(files) = std::fs::read_dir(library) else { return false };
    let names: Vec<String> = files.flatten().map(|file| file.file_name().to_string_lossy().into_owned()).collect();
    ["libcore", "libstd"].iter().all(|name| {
        names.iter().any(|file| {
            file.strip_prefix(name).is_some_and(|rest| rest.starts_with(['-', '.']) && rest.ends_with(".rlib"))
        })
    })
}
