//! Looking at one page after another, at every size.

use std::sync::atomic::{AtomicUsize, Ordering};

use anyhow::{Result, ensure};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::json;
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{AppServer, Bench, Engine, Page, Watch, axe, screenshots};

/// A phone upright, the same lying, and the smallest that counts.
const SIZES: [(u32, u32); 3] = [(360, 740), (740, 360), (320, 568)];
/// WebKitGTK's window gets no narrower than its own tool bar.
const WEBKIT_NARROWEST: f64 = 460.0;
/// A phone of today, upright and lying, for what a thumb reaches.
const IN_HAND: [(u32, u32); 2] = [(390, 844), (844, 390)];
/// Text of this many per cent of its size is still all there.
const ENLARGED: u32 = 200;
/// Least contrast of every text of a run with its ground: the enhanced level of the guidelines.
const CONTRAST: f64 = 7.0;
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
    /// What axe found.
    violations: usize,
    /// The least contrast of a run's text, and where.
    contrast: (f64, String),
    problems: Vec<String>,
    /// For a tour that only looks out for what the browser must not do.
    watch: Option<Watch>,
}

/// What axe found in every tour so far.
static VIOLATIONS: AtomicUsize = AtomicUsize::new(0);
/// Requests to other hosts in every watched tour so far.
static ELSEWHERE: AtomicUsize = AtomicUsize::new(0);

impl Tour {
    /// Opens the app in a window that can be as narrow as a phone.
    pub(crate) async fn begin(bench: &Bench, app: &AppServer) -> Result<Self> {
        let watch = if bench.watched() { Some(Watch::begin(bench, app).await?) } else { None };
        let page = match &watch {
            Some(watch) => watch.page.clone(),
            None => bench.open().await?,
        };
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
        Ok(Self {
            page,
            source: axe::source()?,
            looked: 0,
            violations: 0,
            contrast: (21.0, String::new()),
            problems: Vec::new(),
            watch,
        })
    }

    /// Looks at the page as it is: its layout at every size, axe in every look, and in Chromium a picture at every size.
    pub(crate) async fn look(&mut self, name: &str) -> Result<()> {
        self.looked += 1;
        // A verdict over the whole screen goes by itself.
        self.page.wait("!document.getElementById('flash')").await?;
        if let Some(watch) = &self.watch {
            let wrong = watch.wrong().await?;
            self.note(name, "watched", wrong);
            return Ok(());
        }
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
        // What is measured in CSS pixels is the same in every engine.
        if self.page.engine == Engine::Chromium {
            self.in_hand(name).await?;
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
            self.violations += found.len();
            self.note(name, look, found);
            if self.page.has("main.run").await? {
                let (least, words) = self.page.lowest_contrast().await?;
                if least < CONTRAST {
                    self.note(name, look, vec![format!("'{words}' has a contrast of {least:.2}")]);
                }
                if least < self.contrast.0 {
                    self.contrast = (least, format!("{name}, {look}: '{words}'"));
                }
            }
        }
        self.dress("system").await
    }

    /// Distances and thumbs, for either hand; where the focus goes; text of twice its size.
    async fn in_hand(&mut self, name: &str) -> Result<()> {
        let hands = if self.page.has("main.run").await? { ["right", "left"].as_slice() } else { &["right"] };
        for hand in hands {
            let held = "document.documentElement.dataset.hand = arguments[0];";
            self.page.run::<Option<()>>(held, vec![json!(hand)]).await?;
            for size in IN_HAND {
                self.resize(size).await?;
                let how = format!("{}x{}, {hand} hand", size.0, size.1);
                for found in
                    [self.page.out_of_thumb().await?, self.page.spacing().await?, self.page.layout(false).await?]
                {
                    self.note(name, &how, found);
                }
                if hands.len() > 1 && *hand == "left" {
                    self.picture(&format!("{name}-{}x{}-left", size.0, size.1)).await?;
                }
            }
        }
        self.page.run::<Option<()>>("document.documentElement.dataset.hand = 'right';", Vec::new()).await?;
        self.resize(IN_HAND[0]).await?;
        let found = self.page.hidden_focus().await?;
        self.note(name, "focus", found);
        self.resize(SIZES[2]).await?;
        let found = self.page.spacing().await?;
        self.note(name, "320", found);
        let found = self.page.enlarged(ENLARGED).await?;
        self.note(name, "320, twice the size", found);
        Ok(())
    }

    /// Notes a problem that no look finds by itself.
    pub(crate) fn expect(&mut self, holds: bool, problem: &str) {
        if !holds {
            self.problems.push(problem.to_owned());
        }
    }

    /// Says what was found, and adds it to what all tours found.
    pub(crate) fn end(mut self) -> Result<()> {
        if let Some(watch) = self.watch.take() {
            let elsewhere = watch.requests_elsewhere();
            let all = ELSEWHERE.fetch_add(elsewhere.len(), Ordering::Relaxed) + elsewhere.len();
            println!("figure: third_party_requests = {all}");
            self.note("on the way", "watched", elsewhere);
            return self.said();
        }
        let all = VIOLATIONS.fetch_add(self.violations, Ordering::Relaxed) + self.violations;
        println!("figure: axe_violations = {all}");
        if self.page.engine == Engine::Chromium && !self.contrast.1.is_empty() {
            println!("least contrast in a run: {:.2} ({})", self.contrast.0, self.contrast.1);
        }
        self.said()
    }

    /// Says what was found.
    pub(crate) fn said(self) -> Result<()> {
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
