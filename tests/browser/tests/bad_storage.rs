//! Storage that is full, refused or blocked: what was typed stays, the screen says so, nothing is lost.

use anyhow::{Context, Result, ensure};
use serde_json::{Value, json};
use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::{AppServer, Bench, Page, in_engines};

in_engines! {
    chromium Chromium: a_write_that_fails_loses_nothing, a_full_disk_loses_nothing, no_storage_at_all, no_local_storage;
    firefox Firefox: a_write_that_fails_loses_nothing;
    webkit WebKit: a_write_that_fails_loses_nothing;
}

const TAPE: Scale = Scale::Fraction(32);

/// An example airframe at a step that is read with the tape.
async fn at_work(page: &Page, app: &AppServer) -> Result<String> {
    page.make_example(app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "tape", 1).await?;
    page.step_in(&run, "twins").await?;
    Ok(run)
}

/// Keeps a reading while the fault lasts, then after it: the digits stay, the trouble is said and goes, the reading counts once.
async fn the_reading_waits(page: &Page, lift: impl AsyncFnOnce() -> Result<()>) -> Result<()> {
    let before = page.kept().await?;
    page.press(&keys(17.25, TAPE, false)).await?;
    page.tap("#keep").await?;
    page.appears("#trouble").await?;
    ensure!(
        page.is("document.querySelector('#trouble').closest('[role=alert]') !== null").await?,
        "it is not said aloud"
    );
    ensure!(!page.text("#trouble").await?.is_empty());
    ensure!(page.text("#reading").await?.contains("17 1/4"), "the digits are gone: {}", page.text("#reading").await?);
    ensure!(page.kept().await? == before && !page.has(".reading").await?, "it looks as if it had been kept");
    let everything = page.export("export-now").await?.text;
    ensure!(everything.contains("Veldrin H2"), "{everything}");

    lift().await?;
    page.tap("#try-again").await?;
    page.wait("!document.getElementById('trouble')").await?;
    ensure!(page.text("#reading").await?.contains("17 1/4"), "the digits are gone: {}", page.text("#reading").await?);
    ensure!(page.enter(&[]).await?.is_empty());
    ensure!(page.kept().await? == before + 1);
    page.reload().await?;
    page.wait("document.querySelectorAll('.reading').length === 1").await
}

async fn a_write_that_fails_loses_nothing(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    at_work(&page, &app).await?;
    // Firefox runs a driver's scripts behind a veil: `wrappedJSObject` is the page's own window.
    let fault = "const page = window.wrappedJSObject ?? window; page.put = page.IDBObjectStore.prototype.put; \
                 page.IDBObjectStore.prototype.put = function () { throw new page.DOMException('full', 'QuotaExceededError'); };";
    page.run::<Option<()>>(fault, Vec::new()).await?;
    the_reading_waits(&page, async || {
        let lift = "const page = window.wrappedJSObject ?? window; page.IDBObjectStore.prototype.put = page.put;";
        page.run::<Option<()>>(lift, Vec::new()).await.map(drop)
    })
    .await
}

/// The browser's own limit, too small for the first entries.
async fn a_full_disk_loses_nothing(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let origin = app.address().origin().ascii_serialization();
    page.devtools("Storage.overrideQuotaForOrigin", json!({ "origin": origin, "quotaSize": 1 })).await?;
    page.open(app.address().as_str()).await?;
    page.tap("#example-0").await?;
    page.appears("#trouble").await?;
    ensure!(page.kept().await? == 0 && page.count("a.airframe").await? == 0, "it looks as if it had been kept");
    page.devtools("Storage.overrideQuotaForOrigin", json!({ "origin": origin })).await?;
    page.tap("#try-again").await?;
    page.wait("!document.getElementById('trouble')").await?;
    at_work(&page, &app).await?;
    page.open(app.address().as_str()).await?;
    page.wait("document.querySelectorAll('a.airframe').length === 1").await
}

/// The browser keeps nothing for this page: the app works in this tab, says so, and hands everything out.
async fn no_storage_at_all(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.before_every_page("IDBFactory.prototype.open = () => { throw new DOMException('no', 'SecurityError'); };")
        .await?;
    page.open(app.address().as_str()).await?;
    page.appears("#trouble").await?;
    at_work(&page, &app).await?;
    page.press(&keys(17.25, TAPE, false)).await?;
    page.tap("#keep").await?;
    page.wait("document.querySelectorAll('.reading').length === 1").await?;
    ensure!(
        page.is("document.querySelector('#unstored, #trouble') !== null").await?,
        "nothing says that it is not stored"
    );
    let everything: Value = serde_json::from_str(&page.export("export-now").await?.text)?;
    let entries = everything["entries"].as_array().context("entries")?;
    ensure!(entries.iter().any(|entry| entry["body"].get("reading-taken").is_some()), "the reading is not in the file");
    Ok(())
}

/// Site data blocked for settings only, as some browsers do it: reading the property throws.
async fn no_local_storage(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let blocked = "for (const name of ['localStorage', 'sessionStorage']) Object.defineProperty(window, name, \
                   { get() { throw new DOMException('blocked', 'SecurityError'); } });";
    page.before_every_page(blocked).await?;
    let run = at_work(&page, &app).await?;
    ensure!(page.is("(() => { try { return !localStorage } catch { return true } })()").await?, "it is not blocked");
    page.read(&[17.25, 17.25], TAPE).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("in"));
    page.open(&format!("{run}/twins")).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("in"), "it is kept");
    Ok(())
}
