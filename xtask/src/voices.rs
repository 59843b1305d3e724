//! The synthesised voices that the recogniser is tested with, on a machine that may have none of them.

use std::path::Path;

use anyhow::{Result, bail};

use crate::process;

/// What must be there, a program or a file, and the Debian package that brings it.
const VOICES: [(&str, &str); 6] = [
    ("espeak-ng", "espeak-ng"),
    ("flite", "flite"),
    ("festival", "festival"),
    ("/usr/share/festival/voices/english/kal_diphone", "festvox-kallpc16k"),
    ("/usr/share/festival/voices/english/ked_diphone", "festvox-kdlpc16k"),
    ("/usr/share/festival/voices/us/cmu_us_slt_arctic_hts", "festvox-us-slt-hts"),
];

/// Installs what is missing when we may.
///
/// # Errors
/// When something is missing and cannot be installed; the text holds the command that installs it.
pub(crate) fn prepare() -> Result<()> {
    let packages = missing();
    if packages.is_empty() {
        return Ok(());
    }
    let list = packages.join(" ");
    if !process::is_root() || process::find("apt-get").is_none() {
        bail!(
            "the tests of hearing need voices. Run this, then try again:\n  sudo apt-get install -y --no-install-recommends {list}"
        );
    }
    eprintln!("installing {list}");
    let apt = |args: &[&str]| {
        let mut command = process::command("apt-get");
        command.args(args).env("DEBIAN_FRONTEND", "noninteractive");
        command
    };
    process::run(&mut apt(&["update", "-q"]))?;
    process::run(apt(&["install", "-y", "-q", "--no-install-recommends"]).args(&packages))?;
    let still = missing();
    if !still.is_empty() {
        bail!("apt-get succeeded, yet there is no {}", still.join(", "));
    }
    Ok(())
}

fn missing() -> Vec<&'static str> {
    let there =
        |what: &str| if what.starts_with('/') { Path::new(what).exists() } else { process::find(what).is_some() };
    VOICES.iter().filter(|(what, _)| !there(what)).map(|(_, package)| *package).collect()
}
