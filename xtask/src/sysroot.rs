//! Building the standard library of the browser's target where rustup cannot fetch it.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};

use crate::apt::Apt;
use crate::setup::{self, WASM};
use crate::{process, project};

/// Where Debian keeps the standard library's source of newer compilers than a release has.
const SUITES: [&str; 2] = ["trixie", "trixie-backports"];

/// Builds it from Debian's source of exactly our compiler's version and copies it into `library`.
///
/// # Errors
/// When Debian does not have that version any more, or it does not build, or `library` cannot be written.
pub(crate) fn from_matching_source(library: &Path) -> Result<()> {
    let work = project::target().join("sysroot");
    let unpacked = matching_source(&work)?;
    compile(Path::new("rustc"), &unpacked, &work.join("build"), library)?;
    fs::remove_dir_all(&work).context("cannot clear what the build left")
}

/// Copies Debian's source of exactly our compiler's version to `place`, the toolchain's own folder for it.
///
/// # Errors
/// When Debian does not have that version any more, or `place` cannot be written.
pub(crate) fn copy_matching_source(place: &Path) -> Result<()> {
    let work = project::target().join("sysroot");
    let unpacked = matching_source(&work)?;
    let source = source_in(&unpacked.join("usr/src"))?.join("library");
    fs::create_dir_all(place).with_context(|| format!("cannot write {}", place.display()))?;
    process::run(process::command("cp").arg("-rT").arg(source).arg(place))?;
    fs::remove_dir_all(&work).context("cannot clear what was unpacked")
}

fn matching_source(work: &Path) -> Result<PathBuf> {
    let release = release_of(Path::new("rustc"))?;
    let apt = Apt::with_suites(&work.join("apt"), &SUITES)?;
    let version = apt.version("rust-src", &format!("{release}+"))?;
    let unpacked = work.join("unpacked");
    apt.unpack(&[format!("rust-src={version}")], &unpacked)?;
    Ok(unpacked)
}

/// Unpacks Debian's compiler and source that belong together, builds the standard library beside that compiler and
/// gives the compiler.
///
/// # Errors
/// When the machine's sources do not have the pair, or it does not build.
pub(crate) fn matched_pair() -> Result<PathBuf> {
    let work = project::target().join("rustc-web");
    let rustc = work.join("rustc");
    if rustc.exists() && setup::is_complete(&setup::target_library(&rustc)?) {
        return Ok(rustc);
    }
    let apt = Apt::of_this_machine(&work.join("apt"))?;
    let version = apt.version("rustc-web", "")?;
    let packages = ["rustc-web", "libstd-rust-web-dev", "rust-web-src"].map(|name| format!("{name}={version}"));
    let unpacked = work.join("unpacked");
    apt.unpack_with_dependencies(&packages, &unpacked)?;
    launcher(&rustc, &unpacked)?;
    let library = setup::target_library(&rustc)?;
    compile(&rustc, &unpacked, &work.join("build"), &library)?;
    if !setup::is_complete(&library) {
        bail!("the build left {} incomplete", library.display());
    }
    for done in ["apt", "build"] {
        fs::remove_dir_all(work.join(done)).context("cannot clear what the build left")?;
    }
    Ok(rustc)
}

/// Writes a script that starts the unpacked compiler with the libraries that were unpacked beside it.
fn launcher(rustc: &Path, unpacked: &Path) -> Result<()> {
    use std::os::unix::fs::PermissionsExt as _;
    let libraries = fs::read_dir(unpacked.join("usr/lib"))?.flatten().map(|entry| entry.path());
    let folders: Vec<String> = libraries
        .filter(|dir| dir.file_name().is_some_and(|name| name.to_string_lossy().ends_with("-linux-gnu")))
        .map(|dir| dir.display().to_string())
        .collect();
    let program = unpacked.join("usr/bin/rustc");
    let text = format!("#!/bin/sh\nLD_LIBRARY_PATH='{}' exec '{}' \"$@\"\n", folders.join(":"), program.display());
    fs::write(rustc, text)?;
    fs::set_permissions(rustc, fs::Permissions::from_mode(0o755))?;
    Ok(())
}

fn compile(rustc: &Path, unpacked: &Path, build: &Path, library: &Path) -> Result<()> {
    let source = source_in(&unpacked.join("usr/src"))?;
    // `-Zforce-unstable-if-unmarked` is what the standard library is always built with; the bitcode lets a fat LTO in.
    let mut cargo = process::cargo("build --release --features panic-unwind,compiler-builtins-mem --target");
    cargo.arg(WASM).arg("--manifest-path").arg(source.join("library/sysroot/Cargo.toml")).current_dir(&source);
    cargo
        .env("RUSTC_BOOTSTRAP", "1")
        .env("RUSTFLAGS", "-Zforce-unstable-if-unmarked -Cembed-bitcode=yes")
        .env("CARGO_TARGET_DIR", build)
        .env("RUSTC", rustc);
    if let Some(linker) = lld()? {
        cargo.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker);
    }
    process::run(&mut cargo)?;
    fs::create_dir_all(library).with_context(|| format!("cannot write {}", library.display()))?;
    for file in fs::read_dir(build.join(WASM).join("release/deps"))? {
        let file = file?.path();
        if let Some(name) = file.file_name().filter(|_| file.extension().is_some_and(|end| end == "rlib")) {
            fs::copy(&file, library.join(name)).with_context(|| format!("cannot write {}", library.display()))?;
        }
    }
    Ok(())
}

/// The compiler's release, such as `1.95.0`.
fn release_of(rustc: &Path) -> Result<String> {
    let told = process::output(process::command(rustc).arg("-vV"))?;
    let release = told.lines().find_map(|line| line.strip_prefix("release: "));
    release.map(str::to_owned).context("rustc does not say its release")
}

/// The linker that comes with the toolchain on PATH, which Debian's compiler does not bring.
pub(crate) fn lld() -> Result<Option<PathBuf>> {
    let sysroot = process::output(process::command("rustc").args(["--print", "sysroot"]))?;
    let host = process::output(process::command("rustc").args(["--print", "host-tuple"]))?;
    let linker = Path::new(sysroot.trim()).join("lib/rustlib").join(host.trim()).join("bin/rust-lld");
    Ok(linker.exists().then_some(linker))
}

/// The one source tree below `dir`: its name holds the version.
fn source_in(dir: &Path) -> Result<PathBuf> {
    let mut trees = fs::read_dir(dir)?.flatten().map(|entry| entry.path());
    trees.find(|tree| tree.join("library/sysroot/Cargo.toml").exists()).context("the package holds no standard library")
}
