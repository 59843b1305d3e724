//! The far view.

use anyhow::{Result, ensure};
use serde_json::json;
use trammel_browser_tests::pad::keys;
use trammel_browser_tests::{AppServer, Bench, Engine, Page};

use super::{DEGREES, TAPE, look_at, mating, settled};

/// Number, word, and what the far view says that it shows.
async fn seen(page: &Page) -> Result<[String; 3]> {
    settled(page).await?;
    let read = "(() => { \
        const lines = (id) => [...document.querySelectorAll(`#${id} text`)].map((it) => it.textContent.trim()).join(' '); \
        return [lines('far-number'), lines('far-word'), document.getElementById('far')?.dataset.seen ?? ''] })()";
    page.value(read).await
}

/// Every letter of the far view lies on the screen, and the number is at least this many pixels high.
async fn fits(page: &Page, least: f64, what: &str) -> Result<()> {
    settled(page).await?;
    let read = "(() => { const found = []; let size = 1e9; \
        for (const it of document.querySelectorAll('#far text')) { \
          const box = it.getBoundingClientRect(); const room = it.closest('.fitted').getBoundingClientRect(); \
          if (box.width === 0 || box.left < room.left - 0.5 || box.right > room.right + 0.5 || box.left < 0 || box.right > innerWidth) \
            found.push(`${it.textContent.trim()}: ${box.left} to ${box.right} in ${room.left} to ${room.right} of ${innerWidth}`); \
          const [base, high] = [Number(it.getAttribute('y')), Number(it.getAttribute('font-size'))]; \
          const deep = base + (/[gjpqy]/.test(it.textContent) ? 0.22 * high : 0); \
          if (base - 0.72 * high < 0 || deep > it.closest('.fitted').clientHeight) \
            found.push(`${it.textContent.trim()}: ${base - 0.72 * high} to ${deep} of ${room.height}`); \
          if (it.closest('#far-number')) size = Math.min(size, Number(it.getAttribute('font-size'))); } \
        return [found, size] })()";
    let (wrong, size): (Vec<String>, f64) = page.value(read).await?;
    ensure!(wrong.is_empty(), "{what}: {wrong:?}");
    ensure!((least..1e6).contains(&size), "{what}: {size} px");
    Ok(())
}

async fn far(page: &Page) -> Result<()> {
    page.tap("#far-view").await?;
    page.wait("document.getElementById('far')?.open === true").await
}

pub(super) async fn from_two_metres(bench: &Bench) -> Result<()> {
    let app: AppServer = bench.serve()?;
    let page = bench.open().await?;
    let run = mating(&page, &app).await?;
    page.step_in(&run, "set/pitch").await?;
    page.click("far-view").await?;
    page.wait("document.getElementById('far')?.open === true").await?;
    ensure!(seen(&page).await? == ["−2.6°", "target", "target"], "{:?}", seen(&page).await?);
    look_at(&page, "far-target").await?;
    // Digits that come from elsewhere than the screen: from a keyboard, or spoken.
    page.press(&keys(-2.6, DEGREES, true)).await?;
    ensure!(seen(&page).await? == ["−2.6°", "typed", "typed"], "{:?}", seen(&page).await?);
    look_at(&page, "far-typed").await?;
    let heard = page.text("#far-leave .unseen").await?;
    ensure!(heard == "−2.6°, typed", "{heard}");

    // The keyboard stays inside, and the escape key ends it; so does one tap, anywhere.
    let inside = "document.activeElement?.closest('#far') !== null";
    ensure!(page.is(inside).await?, "the focus is in the far view");
    page.client().find(fantoccini::Locator::Id("far-leave")).await?.send_keys("\u{e00c}").await?;
    page.wait("!document.getElementById('far')").await?;
    ensure!(page.is("document.activeElement?.id === 'far-view'").await?, "the focus is where it was");
    far(&page).await?;
    page.click("far-leave").await?;
    page.wait("!document.getElementById('far')").await?;

    // A number that is asked about brings the step back.
    far(&page).await?;
    page.tap("#key-clear").await?;
    page.press(&keys(26.0, DEGREES, true)).await?;
    page.tap("#keep").await?;
    page.wait("!document.getElementById('far')").await?;
    page.appears("#doubt").await?;
    page.tap("#look-again").await?;
    page.tap("#key-clear").await?;

    // Verdicts, with nothing over them.
    page.read(&[-2.6; 3], DEGREES).await?;
    far(&page).await?;
    page.enter(&keys(-2.6, DEGREES, true)).await?;
    ensure!(!page.has("#flash").await?, "from afar the verdict is seen as it is");
    ensure!(seen(&page).await? == ["−2.60°", "in", "in"], "{:?}", seen(&page).await?);
    look_at(&page, "far-in").await?;
    page.tap("#far-leave").await?;

    // Blind: the count, and what is typed.
    page.step_in(&run, "reread").await?;
    if page.has("#reader").await? {
        page.fill("reader", "B. Helper").await?;
        page.tap("#begin-reading").await?;
        page.appears("#slot-title").await?;
        far(&page).await?;
        let blind = seen(&page).await?;
        ensure!(blind[1] == "reading" && blind[2] == "count", "{blind:?}");
    }
    Ok(())
}

pub(super) async fn nothing_runs_over_at_any_length(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = mating(&page, &app).await?;
    page.step_in(&run, "set/square").await?;
    ensure!(page.engine == Engine::Chromium);
    for (value, name) in [(227.0 + 11.0 / 16.0, "long"), (1.0, "short"), (12_345.0 + 31.0 / 32.0, "longest")] {
        page.press(&keys(value, TAPE, false)).await?;
        far(&page).await?;
        // At least as high as a tenth of the width, however long it is.
        for (width, height) in [(390, 844), (844, 390), (320, 568), (568, 320), (1_024, 768)] {
            page.viewport(width, height).await?;
            fits(&page, f64::from(width.min(height)) * 0.2, &format!("{name} in {width} by {height}")).await?;
        }
        if name == "long" {
            page.viewport(390, 844).await?;
            ensure!(seen(&page).await?[0] == "227 11/16 in", "{:?}", seen(&page).await?);
            fits(&page, 100.0, "a fraction upright").await?;
            look_at(&page, "far-fraction").await?;
        }
        page.tap("#far-leave").await?;
        page.tap("#key-clear").await?;
    }
    // At twice the size of text it is as large as the screen still.
    page.step_in(&run, "clamp").await?;
    far(&page).await?;
    page.run::<Option<()>>("document.documentElement.dataset.look = arguments[0];", vec![json!("sunlight")]).await?;
    fits(&page, 60.0, "a step's place").await?;
    look_at(&page, "far-place").await
}
