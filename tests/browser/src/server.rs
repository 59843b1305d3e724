//! The app, served by the project's own server in a process of its own; stopping that is "no network".

use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};
use url::Url;

use crate::child::Group;
use crate::project;

/// The server and its address.
pub struct AppServer {
    group: Option<Group>,
    address: Url,
}

impl AppServer {
    /// Serves the built app on a free port.
    ///
    /// # Errors
    /// When the server does not start: most likely nothing has been built.
    pub fn start() -> Result<Self> {
        Self::start_in(None, 0)
    }

    /// The folder of the built app.
    #[must_use]
    pub fn folder() -> PathBuf {
        std::env::var_os("TRAMMEL_DIST").map_or_else(|| project::root().join("dist"), PathBuf::from)
    }

    /// Serves the folder `dir` (none: the built app) on `port` (0: a free one).
    ///
    /// # Errors
    /// When the server does not start.
    pub fn start_in(dir: Option<&Path>, port: u16) -> Result<Self> {
        let mut command = server();
        command.args(["serve", "--no-build", "--port", &port.to_string()]);
        command.arg("--dir").arg(dir.map_or_else(Self::folder, Path::to_owned));
        let mut group = Group::start(command.stdout(Stdio::piped()))?;
        let out = group.leader().stdout.take().context("the server's output")?;
        for line in BufReader::new(out).lines() {
            if let Some(address) = line?.strip_prefix("serving ") {
                return Ok(Self { group: Some(group), address: address.trim().parse()? });
            }
        }
        bail!("the server ended without an address: has `cargo xtask dist` been run?")
    }

    /// The app's base address.
    #[must_use]
    pub const fn address(&self) -> &Url {
        &self.address
    }

    /// The address of a page of the app.
    #[must_use]
    pub fn page(&self, path: &str) -> String {
        format!("{}{path}", self.address)
    }

    /// Ends the server: from here on there is no network.
    pub fn stop(&mut self) {
        self.group = None;
    }
}

/// Every sentence that a catalogue has to hold, as the project's own program finds them in the code: the file, the English words, and
/// those for more than one where a number decides.
///
/// # Errors
/// When the program does not run.
pub fn sentences() -> Result<Vec<(String, Option<String>)>> {
    let out = server().arg("words").output()?;
    if !out.status.success() {
        bail!("{}", String::from_utf8_lossy(&out.stderr));
    }
    let text = String::from_utf8(out.stdout)?.replace("\\n", "\r");
    let one = |line: &str| {
        let mut parts = line.split('\t').skip(1).map(|part| part.replace('\r', "\n"));
        Some((parts.next()?, parts.next()))
    };
    Ok(text.lines().filter_map(one).collect())
}

fn server() -> Command {
    if let Some(program) = std::env::var_os("TRAMMEL_XTASK") {
        return Command::new(program);
    }
    let built = [project::target(), project::root().join("target")].map(|target| target.join("xtask/xtask"));
    if let Some(program) = built.into_iter().find(|program| program.is_file()) {
        return Command::new(program);
    }
    let mut cargo = Command::new("cargo");
    cargo.current_dir(project::root()).arg("xtask");
    cargo
}
