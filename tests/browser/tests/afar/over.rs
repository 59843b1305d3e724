//! The verdict over the whole screen, and the look.

use std::time::{Duration, Instant};

use anyhow::{Result, ensure};
use serde_json::json;
use trammel_browser_tests::pad::keys;
use trammel_browser_tests::{Bench, Engine, Page, screenshots};

use super::{DEGREES, mating};

/// Enters the last reading of a set and leaves what follows alone.
async fn last_reading(page: &Page, value: f64) -> Result<()> {
    page.press(&keys(value, DEGREES, true)).await?;
    page.tap("#keep").await?;
    page.wait("document.getElementById('flash') || document.getElementById('as-read')").await?;
    if !page.has("#flash").await? {
        page.tap("#as-read").await?;
        page.appears("#flash").await?;
    }
    Ok(())
}

async fn picture(page: &Page, name: &str) -> Result<()> {
    if page.engine == Engine::Chromium {
        std::fs::create_dir_all(screenshots())?;
        std::fs::write(screenshots().join(format!("{name}.png")), page.client().screenshot().await?)?;
    }
    Ok(())
}

pub(super) async fn the_verdict_fills_the_screen_for_a_second(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = mating(&page, &app).await?;
    if page.engine == Engine::Chromium {
        page.viewport(390, 844).await?;
    }
    page.step_in(&run, "set/pitch").await?;
    page.read(&[-2.6; 3], DEGREES).await?;
    last_reading(&page, -2.6).await?;
    let begun = Instant::now();
    let covers = "(() => { const box = document.getElementById('flash').getBoundingClientRect(); \
        return box.left <= 0 && box.top <= 0 && box.right >= document.documentElement.clientWidth && box.bottom >= innerHeight })()";
    ensure!(page.is(covers).await?, "it fills the screen");
    let shown = "[...document.querySelectorAll('#flash #flash-word, #flash p')].map((it) => it.textContent.trim())";
    page.wait("document.querySelector('#flash-word text')").await?;
    let words: Vec<String> = page.value(shown).await?;
    ensure!(words == ["in"] && page.has("#flash svg.is-in").await?, "{words:?}");
    ensure!(page.is("document.getElementById('flash').getAttribute('aria-hidden') === 'true'").await?, "heard once");
    // And that by the one place where things are told.
    page.wait("document.getElementById('told').textContent.includes('in: −2.60°')").await?;
    picture(&page, "verdict-in").await?;
    page.wait("!document.getElementById('flash')").await?;
    ensure!(begun.elapsed() < Duration::from_secs(3), "it ends by itself");

    // Out, with the direction; a tap ends it at once, and hits nothing below.
    page.step_in(&run, "clamped/pitch").await?;
    page.read(&[-3.2; 3], DEGREES).await?;
    last_reading(&page, -3.2).await?;
    picture(&page, "verdict-out").await?;
    let words: Vec<String> = page.value(shown).await?;
    ensure!(words[0] == "out" && words[1].starts_with("Tail end too low by "), "{words:?}");
    let kept = page.kept().await?;
    page.tap("#flash").await?;
    page.wait("!document.getElementById('flash')").await?;
    ensure!(page.kept().await? == kept, "the tap did nothing else");

    // Lying, with less motion asked for.
    if page.engine == Engine::Chromium {
        let calm = json!({ "features": [{ "name": "prefers-reduced-motion", "value": "reduce" }] });
        page.devtools("Emulation.setEmulatedMedia", calm).await?;
        page.viewport(844, 390).await?;
        page.tap("#again").await?;
        page.read(&[-3.2; 3], DEGREES).await?;
        last_reading(&page, -3.2).await?;
        let still = "getComputedStyle(document.querySelector('#flash svg')).animationName === 'none'";
        ensure!(page.is(still).await?, "nothing moves");
        ensure!(page.is("document.getElementById('flash').scrollHeight <= innerHeight").await?, "it fits lying");
        picture(&page, "verdict-out-landscape").await?;
    }
    Ok(())
}

pub(super) async fn the_look_is_one_tap_away(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = mating(&page, &app).await?;
    page.step_in(&run, "set/pitch").await?;
    let ground = "getComputedStyle(document.documentElement).backgroundColor";
    let mut grounds = Vec::new();
    for look in ["light", "dark", "sunlight", "system"] {
        page.tap("#next-look").await?;
        page.wait(&format!("document.documentElement.dataset.look === '{look}'")).await?;
        grounds.push(page.value::<String>(ground).await?);
        if look == "sunlight" {
            super::look_at(&page, "sunlight-reading").await?;
            page.run::<Option<()>>("document.documentElement.dataset.look = 'sunlight';", Vec::new()).await?;
        }
    }
    ensure!(grounds[2] == "rgb(255, 255, 255)" && grounds[0] != grounds[1], "{grounds:?}");
    if page.engine == Engine::Chromium {
        // As the phone: its wish for more contrast, by day and by night.
        for (scheme, seen) in [("light", "rgb(255, 255, 255)"), ("dark", "rgb(0, 0, 0)")] {
            let features = json!({ "features": [
                { "name": "prefers-contrast", "value": "more" }, { "name": "prefers-color-scheme", "value": scheme }] });
            page.devtools("Emulation.setEmulatedMedia", features).await?;
            let found: String = page.value(ground).await?;
            ensure!(found == seen, "{scheme}: {found}");
        }
    }
    page.reload().await?;
    ensure!(page.is("document.documentElement.dataset.look === 'system'").await?);
    Ok(())
}
