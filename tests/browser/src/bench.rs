//! What a test is given: one engine's driver, the served app, and a report when it fails.

use std::cell::{Cell, RefCell};
use std::io::Write as _;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::path::PathBuf;
use std::rc::Rc;
use std::sync::Mutex;
use std::time::{Duration, Instant};

use anyhow::{Context, Result};

use crate::driver::Driver;
use crate::{AppServer, Engine, Launch, Page, Session};

/// One engine's test bench.
pub struct Bench {
    /// The engine.
    pub engine: Engine,
    driver: RefCell<Rc<Driver>>,
    watched: Cell<bool>,
}

/// Width and height of the window.
const PHONE: (u32, u32) = (412, 915);

/// Browsers are heavy and share a display: one test at a time.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

/// The longest that a test may take: where a browser hangs its test fails, and the others go on.
const LONGEST: Duration = Duration::from_secs(300);

/// As [`run`], for no longer than five minutes.
///
/// # Panics
/// When the case fails, or does not end.
pub fn run_test(engine: Engine, name: &str, case: impl AsyncFnOnce(&Bench) -> Result<()>) {
    run(engine, name, async |bench: &Bench| {
        tokio::time::timeout(LONGEST, case(bench)).await.with_context(|| format!("not done after {LONGEST:?}"))?
    });
}

/// Runs one case in one engine, prints how long it took, and on failure what the page showed.
///
/// # Panics
/// When the case fails.
pub fn run(engine: Engine, name: &str, case: impl AsyncFnOnce(&Bench) -> Result<()>) {
    if !engine.wanted() {
        println!("{engine}: {name} left out, as TRAMMEL_ENGINES says");
        return;
    }
    let turn = ONE_AT_A_TIME.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    let start = Instant::now();
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
    let driver = Driver::start(engine).unwrap_or_else(|error| panic!("{error:#}"));
    let bench = Bench { engine, driver: RefCell::new(Rc::new(driver)), watched: Cell::new(false) };
    let local = tokio::task::LocalSet::new();
    let outcome = catch_unwind(AssertUnwindSafe(|| local.block_on(&runtime, case(&bench))));
    if !matches!(outcome, Ok(Ok(()))) {
        runtime.block_on(bench.report(name));
    }
    runtime.block_on(bench.driver().close_all());
    // Past the harness's capture, so that the times of tests that pass are seen too.
    let _ = writeln!(std::io::stderr(), "{engine}: {name} took {:.1} s", start.elapsed().as_secs_f64());
    drop(bench);
    drop(turn);
    match outcome {
        Ok(Ok(())) => {}
        Ok(Err(error)) => panic!("{engine}: {name}: {error:?}"),
        Err(panic) => resume_unwind(panic),
    }
}

impl Bench {
    /// The app, served.
    ///
    /// # Errors
    /// When it is not built.
    pub fn serve(&self) -> Result<AppServer> {
        AppServer::start()
    }

    /// A browser with an empty profile, as large as a phone's.
    ///
    /// # Errors
    /// When it does not start.
    pub async fn open(&self) -> Result<Page> {
        let page = Page::new(self.engine, self.session(&Launch::default()).await?);
        page.client().set_window_size(PHONE.0, PHONE.1).await?;
        Ok(page)
    }

    /// A browser as asked for.
    ///
    /// # Errors
    /// When it does not start.
    pub async fn session(&self, launch: &Launch<'_>) -> Result<Session> {
        self.driver().open(launch).await
    }

    fn driver(&self) -> Rc<Driver> {
        Rc::clone(&self.driver.borrow())
    }

    /// Kills every browser with all its processes by SIGKILL, at once; the next session gets a driver of its own.
    ///
    /// # Errors
    /// When the system refuses, or no driver starts.
    pub fn kill(&self) -> Result<()> {
        self.driver().kill()?;
        self.driver.replace(Rc::new(Driver::start(self.engine)?));
        Ok(())
    }

    /// From here on this test's tours watch the browser, and look at nothing else.
    pub fn watch(&self) {
        self.watched.set(true);
    }

    /// Whether [`Self::watch`] was called.
    #[must_use]
    pub const fn watched(&self) -> bool {
        self.watched.get()
    }

    /// Says what the last page showed, and keeps a picture of it where TRAMMEL_SCREENSHOTS says.
    async fn report(&self, name: &str) {
        let told = tokio::time::timeout(Duration::from_secs(5), self.tell(name)).await;
        match told {
            Ok(Ok(())) => {}
            Ok(Err(error)) => eprintln!("{}: {name}: nothing to show: {error:#}", self.engine),
            Err(_) => eprintln!("{}: {name}: the browser does not answer", self.engine),
        }
    }

    async fn tell(&self, name: &str) -> Result<()> {
        let client = self.driver().last().context("no browser was opened")?;
        eprintln!("{}: {name} at {}", self.engine, client.current_url().await?);
        let text = client
            .execute(
                "const root = document.documentElement; \
                 return JSON.stringify({ ...root.dataset }) + '\\n' + document.body.innerText.slice(0, 1500)",
                Vec::new(),
            )
            .await?;
        eprintln!("{}", text.as_str().unwrap_or_default());
        if let Some(folder) = std::env::var_os("TRAMMEL_SCREENSHOTS").map(PathBuf::from) {
            std::fs::create_dir_all(&folder)?;
            let file = folder.join(format!("failed-{}-{name}.png", self.engine));
            std::fs::write(&file, client.screenshot().await?)?;
            eprintln!("picture: {}", file.display());
        }
        Ok(())
    }
}
