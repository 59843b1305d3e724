//! Looking at one page after another, at every size.

use anyhow::{Result, ensure};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::json;
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{AppServer, Bench, Engine, Page, axe, screenshots};

/// A phone upright, the same lying, and the smallest that counts.
const SIZES: [(u32, u32); 3] = [(360, 740), (740, 360), (320, 568)];
/// WebKitGTK's window gets no narrower than its own tool bar.
const WEBKIT_NARROWEST: f64 = 460.0;
/// The looks that a person can choose.
const LOOKS: [&str; 3] = ["light", "dark", "sunlight"];
/// A picture goes no further down than this many CSS pixels.
const LONGEST_PICTURE: f64 = 4_000.0;

/// What the example's instruments show.
pub(crate) const DEGREES: Scale = Scale::Decimal(1);
pub(crate) const TAPE: Scale = Scale::Fraction(32);
pub(crate) const RULE: Scale = Scale::Fraction(64);

/// A tour of the pages, with what was found wrong.
pub(crate) struct Tour {
    pub(crate) page: Page,
    source: String,
    looked: usize,
    problems: Vec<String>,
}

impl Tour {
    /// Opens the app in a window that can be as narrow as a phone.
    pub(crate) async fn begin(bench: &Bench, app: &AppServer) -> Result<Self> {
        let page = bench.open().await?;
        if bench.engine == Engine::Firefox {
            // A full window gets no narrower than its tool bars; a popup does.
            page.client().goto("about:blank").await?;
            let popup = "window.open('about:blank', '', 'popup,width=360,height=740'); return null;";
            page.run::<Option<()>>(popup, Vec::new()).await?;
            let windows = page.client().windows().await?;
            ensure!(windows.len() == 2, "no popup was opened");
            page.client().switch_to_window(windows[1].clone()).await?;
        }
        page.open(app.address().as_str()).await?;
        Ok(Self { page, source: axe::source()?, looked: 0, problems: Vec::new() })
    }

    /// Looks at the page as it is: its layout at every size, axe in every look, and in Chromium a picture at every size.
    pub(crate) async fn look(&mut self, name: &str) -> Result<()> {
        self.looked += 1;
        // WebKitGTK's window is no narrower for the smallest than for the first.
        let sizes = if self.page.engine == Engine::WebKit { &SIZES[..2] } else { SIZES.as_slice() };
        for &size in sizes {
            self.resize(size).await?;
            let found = self.page.layout(Some(&size) == sizes.last()).await?;
            self.note(name, &format!("{}x{}", size.0, size.1), found);
            if self.page.engine == Engine::Chromium {
                self.picture(&format!("{name}-{}x{}", size.0, size.1)).await?;
            }
        }
        self.resize(SIZES[0]).await?;
        // Colours are the same in every engine: the other looks are checked in one.
        let looks = if self.page.engine == Engine::Chromium { LOOKS.as_slice() } else { &LOOKS[..1] };
        // At its end nothing floats over the page.
        let end = "document.scrollingElement.scrollTo({ top: 1e6, behavior: 'instant' });";
        self.page.run::<Option<()>>(end, Vec::new()).await?;
        for look in looks {
            self.dress(look).await?;
            let found = self.page.axe(&self.source).await?;
            self.note(name, look, found);
        }
        self.dress("system").await
    }

    /// Notes a problem that no look finds by itself.
    pub(crate) fn expect(&mut self, holds: bool, problem: &str) {
        if !holds {
            self.problems.push(problem.to_owned());
        }
    }

    /// Says what was found.
    pub(crate) fn end(self) -> Result<()> {
        println!("{}: {} pages and states looked at", self.page.engine, self.looked);
        ensure!(self.looked > 0, "nothing was looked at");
        ensure!(self.problems.is_empty(), "{} problems:\n{}", self.problems.len(), self.problems.join("\n"));
        Ok(())
    }

    fn note(&mut self, name: &str, how: &str, found: Vec<String>) {
        self.problems.extend(found.into_iter().map(|problem| format!("{name}, {how}: {problem}")));
    }

    async fn dress(&self, look: &str) -> Result<()> {
        let body = "document.documentElement.dataset.look = args[0]; \
                    document.getAnimations().forEach((it) => it.finish());";
        self.page.run_async::<Option<()>>(body, vec![json!(look)]).await.map(drop)
    }

    /// Makes the window this large, in CSS pixels.
    pub(crate) async fn resize(&self, (width, height): (u32, u32)) -> Result<()> {
        if self.page.engine == Engine::Chromium {
            self.page.viewport(width, height).await?;
        } else {
            let frame: f64 = self.page.value("outerHeight - innerHeight").await?;
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the height of a tool bar")]
            self.page.client().set_window_size(width, height + frame.max(0.0) as u32).await?;
        }
        let wide = match self.page.engine {
            // A page that is too wide makes a phone's inner width larger.
            Engine::Chromium => format!("document.documentElement.clientWidth === {width}"),
            Engine::Firefox => format!("innerWidth === {width}"),
            Engine::WebKit => format!("innerWidth <= {}", WEBKIT_NARROWEST.max(f64::from(width))),
        };
        self.page.wait(&wide).await?;
        let drawn = "await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));";
        self.page.run_async::<Option<()>>(drawn, Vec::new()).await.map(drop)
    }

    async fn picture(&self, name: &str) -> Result<()> {
        let [width, height]: [f64; 2] = self.page.value("[innerWidth, document.scrollingElement.scrollHeight]").await?;
        let clip = json!({ "x": 0, "y": 0, "width": width, "height": height.min(LONGEST_PICTURE), "scale": 1 });
        let how = json!({ "format": "png", "clip": clip, "captureBeyondViewport": true });
        let taken = self.page.devtools("Page.captureScreenshot", how).await?;
        let folder = screenshots();
        std::fs::create_dir_all(&folder)?;
        std::fs::write(
            folder.join(format!("{name}.png")),
            STANDARD.decode(taken["data"].as_str().unwrap_or_default())?,
        )?;
        Ok(())
    }
}
