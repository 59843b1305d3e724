//! Debian packages unpacked beside the project, through a package list of our own: the machine's stays as it is.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::process;

const KEYRING: &str = "/usr/share/keyrings/debian-archive-keyring.gpg";

/// A package list in a folder of its own, made from a mirror that the machine already uses.
pub(crate) struct Apt {
    dir: PathBuf,
}

impl Apt {
    /// Fetches the lists of `suites` into `dir`.
    ///
    /// # Errors
    /// When the machine has no apt, no Debian mirror, or the mirror does not have one of the suites.
    pub(crate) fn with_suites(dir: &Path, suites: &[&str]) -> Result<Self> {
        let signed = if Path::new(KEYRING).exists() { format!("[signed-by={KEYRING}] ") } else { String::new() };
        let mut last = None;
        for mirror in mirrors()? {
            let lines: Vec<String> =
                suites.iter().map(|suite| format!("deb {signed}{mirror} {suite} main\n")).collect();
            match Self::with_sources(dir, &lines.concat()) {
                Ok(apt) => return Ok(apt),
                Err(e) => last = Some(e),
            }
        }
        last.map_or_else(|| bail!("apt's configuration names no Debian mirror"), Err)
    }

    /// Fetches the lists of the machine's own sources into `dir`.
    ///
    /// # Errors
    /// When apt is missing or cannot fetch.
    pub(crate) fn of_this_machine(dir: &Path) -> Result<Self> {
        let apt = Self::folder(dir)?;
        process::run(apt.get(false).args(["-q", "update"]))?;
        Ok(apt)
    }

    fn with_sources(dir: &Path, sources: &str) -> Result<Self> {
        let apt = Self::folder(dir)?;
        fs::write(dir.join("sources.list"), sources)?;
        // Without this apt forgives a suite that it could not fetch.
        process::run(apt.get(true).args(["-q", "-o", "APT::Update::Error-Mode=any", "update"]))?;
        Ok(apt)
    }

    fn folder(dir: &Path) -> Result<Self> {
        if dir.exists() {
            fs::remove_dir_all(dir)?;
        }
        for sub in ["lists/partial", "cache/archives/partial", "debs"] {
            fs::create_dir_all(dir.join(sub))?;
        }
        Ok(Self { dir: dir.to_owned() })
    }

    /// The newest version of `package` that starts with `prefix`.
    ///
    /// # Errors
    /// When there is none.
    pub(crate) fn version(&self, package: &str, prefix: &str) -> Result<String> {
        let mut policy = self.tool("apt-cache", self.dir.join("sources.list").exists());
        let listed = process::output(policy.args(["madison", package]))?;
        let mut versions = listed.lines().filter_map(|line| line.split('|').nth(1)).map(str::trim);
        let found = versions.find(|version| version.starts_with(prefix));
        found.map(str::to_owned).with_context(|| format!("no {package} {prefix} among the packages"))
    }

    /// Downloads `packages` (each as `name=version` or `name`) and unpacks them into `into`.
    ///
    /// # Errors
    /// When one cannot be fetched or unpacked.
    pub(crate) fn unpack(&self, packages: &[String], into: &Path) -> Result<()> {
        let debs = self.dir.join("debs");
        let own = self.dir.join("sources.list").exists();
        process::run(self.get(own).args(["-q", "download"]).args(packages).current_dir(&debs))?;
        extract(&debs, into)
    }

    /// As [`unpack`](Self::unpack), with whatever `packages` need that is not installed on this machine.
    ///
    /// # Errors
    /// When one cannot be fetched or unpacked.
    pub(crate) fn unpack_with_dependencies(&self, packages: &[String], into: &Path) -> Result<()> {
        let mut get = self.get(self.dir.join("sources.list").exists());
        // Nothing is installed, so nothing needs dpkg's lock, which only root may take.
        get.args(["-q", "-y", "-o", "Debug::NoLocking=1", "--no-install-recommends", "--download-only", "install"]);
        process::run(get.args(packages))?;
        extract(&self.dir.join("cache/archives"), into)
    }

    fn get(&self, own_sources: bool) -> Command {
        self.tool("apt-get", own_sources)
    }

    fn tool(&self, program: &str, own_sources: bool) -> Command {
        let mut command = process::command(program);
        let mut set = |key: &str, value: &Path| {
            command.arg("-o").arg(format!("{key}={}", value.display()));
        };
        if own_sources {
            set("Dir::Etc::SourceList", &self.dir.join("sources.list"));
            set("Dir::Etc::SourceParts", Path::new("/dev/null"));
        }
        set("Dir::State::Lists", &self.dir.join("lists"));
        set("Dir::Cache", &self.dir.join("cache"));
        set("APT::Sandbox::User", Path::new("root"));
        set("Acquire::Languages", Path::new("none"));
        command
    }
}

fn extract(debs: &Path, into: &Path) -> Result<()> {
    fs::create_dir_all(into)?;
    for file in fs::read_dir(debs)? {
        let file = file?.path();
        if file.extension().is_some_and(|end| end == "deb") {
            process::run(process::command("dpkg-deb").arg("-x").arg(file).arg(into))?;
        }
    }
    Ok(())
}

/// The Debian mirrors in the machine's apt configuration, those of the system's own release first.
fn mirrors() -> Result<Vec<String>> {
    let uris = process::output(process::command("apt-get").args(["update", "--print-uris"]))?;
    let codename = fs::read_to_string("/etc/os-release").ok().and_then(|text| {
        text.lines()
            .find_map(|line| line.strip_prefix("VERSION_CODENAME=").map(|name| name.trim_matches('"').to_owned()))
    });
    Ok(mirrors_in(&uris, codename.as_deref().unwrap_or("stable")))
}

fn mirrors_in(uris: &str, codename: &str) -> Vec<String> {
    let mut found = Vec::new();
    for line in uris.lines() {
        let uri = line.trim_start_matches('\'').split('\'').next().unwrap_or_default();
        if let Some((mirror, file)) = uri.split_once("/dists/")
            && file == format!("{codename}/InRelease")
            && !found.iter().any(|known| known == mirror)
        {
            found.push(mirror.to_owned());
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::mirrors_in;

    // The form of `apt-get update --print-uris` as apt 2.6 writes it.
    #[test]
    fn takes_the_mirror_of_the_release_and_no_other() {
        let uris = "'http://mirror.example/debian/dists/bookworm/InRelease' mirror.example_debian_InRelease 0 \n\
                    'http://mirror.example/debian/dists/bookworm-updates/InRelease' x 0 \n\
                    'http://mirror.example/debian-security/dists/bookworm-security/InRelease' x 0 \n\
                    'http://mirror.example/debian/dists/bookworm/main/binary-amd64/Packages.xz' x 0 \n\
                    'https://node.example/deb/dists/nodistro/InRelease' x 0 \n";
        assert_eq!(mirrors_in(uris, "bookworm"), ["http://mirror.example/debian"]);
        assert!(mirrors_in(uris, "trixie").is_empty());
    }
}
