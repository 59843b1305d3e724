//! The three browser engines and their drivers, on a machine that may have none of them.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Result, bail};

use crate::{debian, npm, process, project};

/// What must be there: a program, and the Debian packages that bring it.
const PROGRAMS: [(&str, &str); 5] = [
    ("chromium", "chromium"),
    ("chromedriver", "chromium-driver"),
    ("firefox-esr", "firefox-esr"),
    ("WebKitWebDriver", "webkit2gtk-driver"),
    ("Xvfb", "xvfb"),
];

/// The npm package of the accessibility checker, and its version.
const AXE: (&str, &str) = ("axe-core", "4.13.0");

/// Makes sure that Chromium, Firefox and WebKitGTK can be driven: installs what is missing when we may.
///
/// # Errors
/// When something is missing and cannot be installed; the text holds the command that installs it.
pub(crate) fn prepare() -> Result<()> {
    let packages = missing();
    if !packages.is_empty() {
        debian::install(&packages, "the browser tests")?;
        let still = missing();
        if !still.is_empty() {
            bail!("apt-get succeeded, yet there is no {}", still.join(", "));
        }
    }
    geckodriver()
}

/// Gives `cargo`, which is to run browser tests, what they look for: our tools first on PATH, this program as their
/// server, the browser that WebKitWebDriver starts, and the accessibility checker.
///
/// # Errors
/// When a folder cannot be made.
pub(crate) fn equip(cargo: &mut Command) -> Result<&mut Command> {
    let old = std::env::var_os("PATH").unwrap_or_default();
    let path = std::iter::once(project::tools().join("bin")).chain(std::env::split_paths(&old));
    if let Ok(path) = std::env::join_paths(path) {
        cargo.env("PATH", path);
    }
    cargo.env("TRAMMEL_XTASK", project::own_program());
    if let Some(browser) = mini_browser() {
        cargo.env("TRAMMEL_MINIBROWSER", browser);
    }
    let (name, version) = AXE;
    if let Some(folder) = npm::package(name, version)? {
        cargo.env("AXE_JS", folder.join("axe.min.js"));
    }
    Ok(cargo)
}

fn missing() -> Vec<&'static str> {
    let mut packages: Vec<&str> =
        PROGRAMS.iter().filter(|(program, _)| process::find(program).is_none()).map(|(_, package)| *package).collect();
    if mini_browser().is_none() && !packages.contains(&"webkit2gtk-driver") {
        packages.push("webkit2gtk-driver");
    }
    packages
}

/// The browser that WebKitWebDriver starts; it lies in a folder named by the machine's architecture and the library.
fn mini_browser() -> Option<PathBuf> {
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

/// Firefox's driver, which Debian does not package: built once into our own tools.
fn geckodriver() -> Result<()> {
    if process::find("geckodriver").is_some() {
        return Ok(());
    }
    eprintln!("building geckodriver");
    let install = |locked: &[&str]| {
        let mut cargo = process::cargo("install geckodriver --root");
        process::run(cargo.arg(project::tools()).args(locked).env("CARGO_TARGET_DIR", project::tools().join("build")))
    };
    // Its lock file may name versions that the registry does not have any more.
    install(&["--locked"]).or_else(|_| install(&[]))?;
    let _ = std::fs::remove_dir_all(project::tools().join("build"));
    Ok(())
}
