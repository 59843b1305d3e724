//! Where things are: the project's folders, programs, browsers.

use std::path::{Path, PathBuf};

/// The workspace's root.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The folder for everything generated.
#[must_use]
pub fn target() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), |dir| root().join(dir))
}

/// Where pictures of the pages go.
#[must_use]
pub fn screenshots() -> PathBuf {
    root().join("target/screenshots")
}

/// The program of that name among the project's own tools or on PATH.
pub(crate) fn find(program: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    [target().join("tools/bin"), root().join("target/tools/bin")]
        .into_iter()
        .chain(std::env::split_paths(&path))
        .map(|dir| dir.join(program))
        .find(|file| file.is_file())
}

/// The browser that WebKitWebDriver starts; it lies in a folder named by the machine's architecture and the library.
pub(crate) fn mini_browser() -> Option<PathBuf> {
    if let Some(given) = std::env::var_os("TRAMMEL_MINIBROWSER") {
        return Some(given.into());
    }
    let below = |dir: &Path| -> Vec<PathBuf> {
        std::fs::read_dir(dir).map(|entries| entries.flatten().map(|entry| entry.path()).collect()).unwrap_or_default()
    };
    let mut folders = below(Path::new("/usr/lib"));
    folders.push("/usr/libexec".into());
    let engines = folders
        .iter()
        .flat_map(|dir| below(dir))
        .filter(|dir| dir.file_name().is_some_and(|name| name.to_string_lossy().starts_with("webkit")));
    engines.map(|dir| dir.join("MiniBrowser")).find(|file| file.is_file())
}
