//! The three engines: which driver each has, how it is started, what the browser is asked to be.

use std::fmt;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result};
use serde_json::{Map, Value, json};

use crate::{Launch, project};

/// A browser engine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Engine {
    /// Blink and V8, by chromedriver.
    Chromium,
    /// Gecko, by geckodriver.
    Firefox,
    /// WebKitGTK's own small browser, by WebKitWebDriver.
    WebKit,
}

impl fmt::Display for Engine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Chromium without a screen, as root, and without a call home.
const CHROMIUM: [&str; 11] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-extensions",
    "--lang=en",
    "--hide-scrollbars",
];

impl Engine {
    /// The name that `TRAMMEL_ENGINES` uses.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Chromium => "chromium",
            Self::Firefox => "firefox",
            Self::WebKit => "webkit",
        }
    }

    /// Whether this engine was asked for.
    #[must_use]
    pub fn wanted(self) -> bool {
        std::env::var("TRAMMEL_ENGINES")
            .map_or(true, |list| list.split(',').any(|name| name.trim().eq_ignore_ascii_case(self.name())))
    }

    /// The driver's program, listening on `port`.
    ///
    /// # Errors
    /// When it is not installed.
    pub(crate) fn driver(self, port: u16) -> Result<Command> {
        let program = match self {
            Self::Chromium => "chromedriver",
            Self::Firefox => "geckodriver",
            Self::WebKit => "WebKitWebDriver",
        };
        let given = (self == Self::Firefox).then(|| std::env::var_os("GECKODRIVER").map(PathBuf::from)).flatten();
        let found = given.or_else(|| project::find(program));
        let mut command =
            Command::new(found.with_context(|| format!("{program} is missing: `cargo xtask test` installs it"))?);
        command.arg(format!("--port={port}"));
        match self {
            Self::Chromium => command.arg("--log-level=SEVERE"),
            Self::Firefox => command.args(["--websocket-port=0", "--log=fatal"]),
            Self::WebKit => &mut command,
        };
        Ok(command)
    }

    /// What the browser is asked to be, with its data in `profile` (Firefox: only where the launch names one) and its downloads in
    /// `downloads`, where the engine lets us say so.
    ///
    /// # Errors
    /// When the browser is not installed.
    pub(crate) fn capabilities(
        self,
        launch: &Launch<'_>,
        profile: &Path,
        downloads: &Path,
    ) -> Result<Map<String, Value>> {
        let asked = match self {
            Self::Chromium => {
                let mut args: Vec<String> = CHROMIUM.iter().chain(launch.args).map(|&arg| arg.to_owned()).collect();
                args.push(format!("--user-data-dir={}", profile.display()));
                let binary = project::find("chromium").context("chromium is missing")?;
                let prefs = json!({ "download.default_directory": downloads, "download.prompt_for_download": false });
                let options = json!({ "binary": binary, "args": args, "prefs": prefs });
                json!({ "browserName": "chrome", "goog:chromeOptions": options })
            }
            Self::Firefox => {
                let binary = project::find("firefox-esr").or_else(|| project::find("firefox"));
                let binary = binary.context("firefox-esr is missing")?;
                let kept = launch.profile.map(|profile| ["-profile".to_owned(), profile.display().to_string()]);
                let args: Vec<String> =
                    ["-headless".to_owned()].into_iter().chain(kept.into_iter().flatten()).collect();
                json!({
                    "browserName": "firefox",
                    "moz:firefoxOptions": {
                        "binary": binary,
                        "args": args,
                        "prefs": {
                            "intl.accept_languages": "en",
                            "browser.download.folderList": 2,
                            "browser.download.dir": downloads,
                        },
                    },
                })
            }
            Self::WebKit => json!({
                "browserName": "MiniBrowser",
                "webkitgtk:browserOptions": {
                    "binary": project::mini_browser().context("WebKitGTK's MiniBrowser is missing")?,
                    "args": ["--automation"],
                },
            }),
        };
        let Value::Object(map) = asked else { unreachable!("an object was written above") };
        Ok(map)
    }
}
