//! Programs and files that a test or a measurement needs from Debian's packages.

use std::path::Path;
use std::sync::{Mutex, PoisonError};

use anyhow::{Result, bail};

use crate::process;

/// What must be there, a program or a file by its whole path, and the Debian package that brings it.
pub(crate) type Need = (&'static str, &'static str);

/// Installs what is missing when we may.
///
/// # Errors
/// When something is missing and cannot be installed; the text says what for, and holds the command that installs it.
pub(crate) fn see_to(needs: &[Need], what_for: &str) -> Result<()> {
    let packages = missing(needs);
    if packages.is_empty() {
        return Ok(());
    }
    install(&packages, what_for)?;
    let still = missing(needs);
    if !still.is_empty() {
        bail!("apt-get succeeded, yet there is no {}", still.join(", "));
    }
    Ok(())
}

/// Installs packages when we may.
///
/// # Errors
/// When we may not, or apt fails; the text says what for, and holds the command that installs them.
pub(crate) fn install(packages: &[&str], what_for: &str) -> Result<()> {
    /// Apt's own lock is no queue.
    static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());
    let list = packages.join(" ");
    if !process::is_root() || process::find("apt-get").is_none() {
        bail!(
            "{what_for} needs packages. Run this, then try again:\n  sudo apt-get install -y --no-install-recommends {list}"
        );
    }
    let _turn = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
    eprintln!("installing {list}");
    let apt = |args: &[&str]| {
        let mut command = process::command("apt-get");
        command.args(args).env("DEBIAN_FRONTEND", "noninteractive");
        command
    };
    process::run(&mut apt(&["update", "-q"]))?;
    process::run(apt(&["install", "-y", "-q", "--no-install-recommends"]).args(packages))
}

fn missing(needs: &[Need]) -> Vec<&'static str> {
    let there =
        |what: &str| if what.starts_with('/') { Path::new(what).exists() } else { process::find(what).is_some() };
    needs.iter().filter(|(what, _)| !there(what)).map(|(_, package)| *package).collect()
}
