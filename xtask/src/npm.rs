//! Packages from npm, each in a folder of its own under `target/`.

use std::fs;
use std::path::PathBuf;

use anyhow::Result;

use crate::{process, project};

/// The folder of the package in exactly that version, installed once; none, and the reason said, where npm is missing
/// or cannot fetch it.
///
/// # Errors
/// When a folder cannot be made.
pub(crate) fn package(name: &str, version: &str) -> Result<Option<PathBuf>> {
    let home = project::target().join("node").join(name);
    let folder = home.join("node_modules").join(name);
    let there = || {
        let about = fs::read_to_string(folder.join("package.json")).unwrap_or_default();
        about.contains(&format!("\"version\": \"{version}\""))
    };
    if there() {
        return Ok(Some(folder));
    }
    if process::find("npm").is_none() {
        eprintln!("npm is not here to fetch {name} {version}");
        return Ok(None);
    }
    fs::create_dir_all(&home)?;
    fs::write(home.join("package.json"), "{ \"private\": true }\n")?;
    let mut npm = process::command("npm");
    npm.args(["install", "--no-save", "--no-package-lock", "--no-audit", "--no-fund", "--prefix"]).arg(&home);
    match process::run(npm.arg(format!("{name}@{version}"))) {
        Ok(()) if there() => Ok(Some(folder)),
        Ok(()) => {
            eprintln!("npm installed another version of {name} than {version}");
            Ok(None)
        }
        Err(e) => {
            eprintln!("{e:#}");
            Ok(None)
        }
    }
}
