//! Where the project's folders are.

use std::path::PathBuf;
use std::sync::OnceLock;

/// The workspace's root.
pub(crate) fn root() -> PathBuf {
    let manifest = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    manifest.parent().map(PathBuf::from).unwrap_or(manifest)
}

/// Cargo's target folder, where everything generated but `dist/` goes.
pub(crate) fn target() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), |dir| root().join(dir))
}

/// What is put on a static host.
pub(crate) fn dist() -> PathBuf {
    root().join("dist")
}

/// Programs installed for this project only; `bin/` inside holds the executables.
pub(crate) fn tools() -> PathBuf {
    target().join("tools")
}

/// This program's file. The first call must come before a build replaces the file, as its name is lost then.
pub(crate) fn own_program() -> PathBuf {
    static FILE: OnceLock<PathBuf> = OnceLock::new();
    FILE.get_or_init(|| std::env::current_exe().unwrap_or_else(|_| target().join("xtask/xtask"))).clone()
}
