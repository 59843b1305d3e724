//! A driver, the display that it may need, and the browser sessions that it opens.

use std::cell::RefCell;
use std::io::{BufRead as _, BufReader};
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};
use fantoccini::wd::TimeoutConfiguration;
use fantoccini::{Client, ClientBuilder};
use hyper_util::client::legacy::connect::HttpConnector;
use tempfile::TempDir;

use crate::child::Group;
use crate::{Engine, project};

/// How long a driver gets to listen.
const PATIENCE: Duration = Duration::from_secs(20);

/// How a browser is opened.
#[derive(Clone, Debug, Default)]
pub struct Launch<'a> {
    /// A profile that outlives the session; none is a new and empty one. Not in WebKit.
    pub profile: Option<&'a Path>,
    /// More arguments for Chromium.
    pub args: &'a [&'a str],
}

/// A running driver of one engine.
pub(crate) struct Driver {
    engine: Engine,
    address: String,
    scratch: TempDir,
    open: RefCell<Vec<Client>>,
    // Dropped in this order: the driver before its display.
    driver: Group,
    _display: Option<Group>,
}

/// An open browser: closed by [`Session::close`], or when the test ends.
#[derive(Clone, Debug)]
pub struct Session {
    /// The WebDriver client.
    pub client: Client,
    /// Where the browser puts what it downloads, where the engine lets us say so.
    pub downloads: PathBuf,
}

impl Driver {
    /// Starts the engine's driver on a free port.
    ///
    /// # Errors
    /// When it is not installed, or does not listen.
    pub(crate) fn start(engine: Engine) -> Result<Self> {
        let port = TcpListener::bind((Ipv4Addr::LOCALHOST, 0))?.local_addr()?.port();
        let mut command = engine.driver(port)?;
        let scratch = tempfile::Builder::new().prefix("trammel-browser-").tempdir()?;
        // Whatever the browser leaves in its home folder goes with the test.
        command.env("HOME", scratch.path()).env("XDG_RUNTIME_DIR", scratch.path()).env("LANG", "C.UTF-8");
        command.env("NO_AT_BRIDGE", "1").env("MOZ_REMOTE_SETTINGS_DEVTOOLS", "1");
        let display = match std::env::var_os("DISPLAY") {
            None if engine == Engine::WebKit => {
                let (display, name) = display()?;
                command.env("DISPLAY", name);
                Some(display)
            }
            _ => None,
        };
        if std::env::var_os("TRAMMEL_DRIVER_LOG").is_none() {
            command.stdout(Stdio::null()).stderr(Stdio::null());
        }
        let mut driver = Group::start(command.stdin(Stdio::null()))?;
        let deadline = Instant::now() + PATIENCE;
        let at = SocketAddr::from((Ipv4Addr::LOCALHOST, port));
        while TcpStream::connect_timeout(&at, Duration::from_millis(200)).is_err() {
            if driver.ended() || Instant::now() > deadline {
                bail!("the driver of {engine} does not listen on {at}");
            }
            std::thread::sleep(Duration::from_millis(10));
        }
        let address = format!("http://{at}");
        Ok(Self { engine, address, scratch, open: RefCell::default(), driver, _display: display })
    }

    /// Opens a browser.
    ///
    /// # Errors
    /// When the browser does not start.
    pub(crate) async fn open(&self, launch: &Launch<'_>) -> Result<Session> {
        let own = self.scratch.path().join(self.open.borrow().len().to_string());
        let profile = launch.profile.map_or_else(|| own.join("profile"), Path::to_owned);
        let downloads = own.join("downloads");
        std::fs::create_dir_all(&profile)?;
        std::fs::create_dir_all(&downloads)?;
        let capabilities = self.engine.capabilities(launch, &profile, &downloads)?;
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(capabilities)
            .connect(&self.address)
            .await
            .with_context(|| format!("{} does not start", self.engine))?;
        self.open.borrow_mut().push(client.clone());
        let limit = Some(Duration::from_secs(30));
        client.update_timeouts(TimeoutConfiguration::new(limit, limit, None)).await?;
        Ok(Session { client, downloads })
    }

    /// Kills the driver and its browsers with all their processes, which are of its group.
    ///
    /// # Errors
    /// When the system refuses.
    pub(crate) fn kill(&self) -> Result<()> {
        self.driver.kill()
    }

    /// The browser that was opened last.
    pub(crate) fn last(&self) -> Option<Client> {
        self.open.borrow().last().cloned()
    }

    /// Closes what is still open.
    pub(crate) async fn close_all(&self) {
        let open = self.open.take();
        for client in open {
            let _ = tokio::time::timeout(Duration::from_secs(5), client.close()).await;
        }
    }
}

impl Session {
    /// Closes the browser.
    ///
    /// # Errors
    /// When the driver says so.
    pub async fn close(self) -> Result<()> {
        Ok(self.client.close().await?)
    }
}

/// A display of its own, and its name.
fn display() -> Result<(Group, String)> {
    let program = project::find("Xvfb").context("Xvfb is missing: install the package xvfb")?;
    let mut command = Command::new(program);
    command.args(["-displayfd", "1", "-screen", "0", "1280x1024x24", "-nolisten", "tcp"]);
    let mut group = Group::start(command.stdout(Stdio::piped()).stderr(Stdio::null()))?;
    let out = group.leader().stdout.take().context("the display's output")?;
    let mut number = String::new();
    BufReader::new(out).read_line(&mut number)?;
    if number.trim().is_empty() {
        bail!("the display does not start");
    }
    Ok((group, format!(":{}", number.trim())))
}
