//! A step seen from two metres, the verdict over the whole screen, the helper's screen, and a run that was interrupted.

mod helping;
mod over;
mod paused;
mod seen;

use anyhow::{Result, ensure};
use serde_json::json;
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{AppServer, Engine, Page, axe, in_engines, screenshots};

use helping::{a_second_phone_helps, the_helper_reads_blind};
use over::{the_look_is_one_tap_away, the_verdict_fills_the_screen_for_a_second};
use paused::{a_pause_asks_first, the_screen_stays_lit, turning_is_told_of_once};
use seen::{from_two_metres, nothing_runs_over_at_any_length};

in_engines! {
    chromium Chromium: from_two_metres, nothing_runs_over_at_any_length, the_verdict_fills_the_screen_for_a_second,
        the_look_is_one_tap_away, the_helper_reads_blind, a_second_phone_helps, a_pause_asks_first, the_screen_stays_lit,
        turning_is_told_of_once;
    firefox Firefox: from_two_metres, the_helper_reads_blind;
    webkit WebKit: from_two_metres, the_verdict_fills_the_screen_for_a_second, the_look_is_one_tap_away;
}

const DEGREES: Scale = Scale::Decimal(1);
const TAPE: Scale = Scale::Fraction(32);

/// The invented airframe's mating, with its instruments accepted; the address of the run.
async fn mating(page: &Page, app: &AppServer) -> Result<String> {
    page.open(&app.page("settings")).await?;
    page.fill("name", "A. Builder").await?;
    page.make_example(app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    page.accept(&run, "tape", 1).await?;
    Ok(run)
}

/// Upright, lying and the smallest; in Chromium alone, whose window is as large as a test says.
const SIZES: [(&str, u32, u32); 3] = [("portrait", 390, 844), ("landscape", 844, 390), ("small", 320, 568)];

/// Pictures at every size; at each of them nothing is cut off, covered or too small, and axe finds nothing.
async fn look_at(page: &Page, name: &str) -> Result<()> {
    if page.engine != Engine::Chromium {
        return Ok(());
    }
    let source = axe::source()?;
    std::fs::create_dir_all(screenshots())?;
    for (way, width, height) in SIZES {
        page.viewport(width, height).await?;
        settled(page).await?;
        std::fs::write(screenshots().join(format!("{name}-{way}.png")), page.client().screenshot().await?)?;
        let wrong = page.layout(true).await?;
        ensure!(wrong.is_empty(), "{name}, {way}: {wrong:?}");
    }
    page.viewport(320, 568).await?;
    let twice = "document.documentElement.setAttribute('data-test-size', ''); \
        const sheet = new CSSStyleSheet(); sheet.replaceSync('html[data-test-size] { font-size: 212.5% }'); \
        document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];";
    page.run::<Option<()>>(twice, Vec::new()).await?;
    settled(page).await?;
    std::fs::write(screenshots().join(format!("{name}-twice.png")), page.client().screenshot().await?)?;
    let wide = "[document.scrollingElement.scrollWidth, document.documentElement.clientWidth]";
    let [needs, gets]: [f64; 2] = page.value(wide).await?;
    ensure!(needs <= gets, "{name}: at twice the size {needs} in {gets}");
    page.run::<Option<()>>("document.documentElement.removeAttribute('data-test-size');", Vec::new()).await?;
    page.viewport(390, 844).await?;
    for look in ["light", "dark", "sunlight"] {
        let dress = "document.documentElement.dataset.look = arguments[0];";
        page.run::<Option<()>>(dress, vec![json!(look)]).await?;
        settled(page).await?;
        std::fs::write(screenshots().join(format!("{name}-{look}.png")), page.client().screenshot().await?)?;
        let found = page.axe(&source).await?;
        ensure!(found.is_empty(), "{name}, {look}: {found:?}");
    }
    page.run::<Option<()>>("document.documentElement.dataset.look = 'system';", Vec::new()).await.map(drop)
}

/// Waits until what a change of size or look set going is drawn.
async fn settled(page: &Page) -> Result<()> {
    let drawn = "document.getAnimations().forEach((it) => it.finish()); \
        for (let i = 0; i < 3; i += 1) await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));";
    page.run_async::<Option<()>>(drawn, Vec::new()).await.map(drop)
}
