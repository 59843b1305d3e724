//! A pip for the tests that hold the library against Python packages.

use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context, Result};

use crate::apt::Apt;
use crate::{process, project};

/// Says in `TRAMMEL_PIP` where a pip is, when python3 has none of its own to put into a virtual environment (Debian keeps that in
/// python3-venv): one from Debian, unpacked below `target/`. A test that needs it says what is missing when that cannot be had.
pub(crate) fn equip(tests: &mut Command) {
    if process::output(process::command("python3").args(["-c", "import ensurepip"])).is_ok() {
        return;
    }
    match unpacked() {
        Ok(pip) => {
            tests.env("TRAMMEL_PIP", pip);
        }
        Err(error) => eprintln!("no pip for python3: {error:#}"),
    }
}

/// Pip runs from inside its wheel.
fn unpacked() -> Result<PathBuf> {
    let folder = project::tools().join("python");
    let wheels = folder.join("usr/share/python-wheels");
    let find = || {
        let files = std::fs::read_dir(&wheels).ok()?;
        let mut names = files.flatten().map(|file| file.path());
        names.find(|path| path.file_name().is_some_and(|name| name.to_string_lossy().starts_with("pip-")))
    };
    if find().is_none() {
        let apt = Apt::of_this_machine(&project::tools().join("python-apt"))?;
        apt.unpack(&["python3-pip-whl".to_owned()], &folder)?;
    }
    Ok(find().context("the package python3-pip-whl holds no pip")?.join("pip"))
}
