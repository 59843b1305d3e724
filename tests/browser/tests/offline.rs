//! With the network gone after the first visit, the app opens, takes a reading, judges it, and keeps it.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, ensure};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{AppServer, Bench, Engine, Page, in_engines};

in_engines! {
    chromium Chromium: without_a_network, without_a_network_in_a_sub_folder, the_guide_without_a_network;
    firefox Firefox: without_a_network;
    webkit WebKit: without_a_network;
}

async fn without_a_network(bench: &Bench) -> Result<()> {
    stop_the_server_and_go_on(bench, bench.serve()?).await
}

/// As on a static host that gives the app a folder of its own.
async fn without_a_network_in_a_sub_folder(bench: &Bench) -> Result<()> {
    let folder = tempfile::tempdir()?;
    moved_to_sub_folder(&AppServer::folder(), folder.path())?;
    let app = AppServer::start_in(Some(folder.path()), 0)?;
    ensure!(app.address().path() == "/sub/", "{}", app.address());
    stop_the_server_and_go_on(bench, app).await
}

/// The user guide opens from a step in a folder of its own, leads through its chapters with their pictures, and back to the half-typed number.
async fn the_guide_without_a_network(bench: &Bench) -> Result<()> {
    let folder = tempfile::tempdir()?;
    moved_to_sub_folder(&AppServer::folder(), folder.path())?;
    let mut app = AppServer::start_in(Some(folder.path()), 0)?;
    let page = bench.open().await?;
    page.open(app.address().as_str()).await?;
    page.kept_for_offline().await?;
    page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "tape", 1).await?;
    page.step_in(&run, "twins").await?;
    page.press(&["key-1".to_owned(), "key-7".to_owned()]).await?;
    app.stop();
    again(&page).await?;

    let there = page.client().current_url().await?;
    page.click("guide").await?;
    page.appears("h1#doing-a-step").await?;
    ensure!(page.client().current_url().await?.path() == "/sub/help/step/");
    let mut read = 0;
    while page.has("a[rel=next]").await? {
        let title: String = page.value("document.querySelector('a[rel=next]').textContent").await?;
        page.click_on("a[rel=next]").await?;
        page.wait(&format!("document.querySelector('h1').textContent === {}", serde_json::to_string(&title)?)).await?;
        page.wait("[...document.images].every((it) => it.complete && it.naturalWidth > 0)").await?;
        // A stylesheet that did not come leaves the browser's own colours.
        page.wait("getComputedStyle(document.documentElement).backgroundColor !== 'rgba(0, 0, 0, 0)'").await?;
        read += 1;
    }
    ensure!(read > 8, "{read} chapters after this one");
    for _ in 0..=read {
        page.client().back().await?;
    }
    page.ready().await?;
    ensure!(page.client().current_url().await? == there);
    page.wait("document.querySelector('#reading')?.textContent.includes('17')").await?;

    page.click("guide").await?;
    page.appears("h1#doing-a-step").await?;
    page.click("to-app").await?;
    page.ready().await?;
    page.appears("#guide[href='help/']").await?;
    page.click("guide").await?;
    page.appears("h1#two-minutes-to-the-first-verdict").await
}

async fn stop_the_server_and_go_on(bench: &Bench, mut app: AppServer) -> Result<()> {
    let page = bench.open().await?;
    page.open(app.address().as_str()).await?;
    page.kept_for_offline().await?;
    let airframe = page.make_example(&app).await?;
    let hangar = app.address().to_string();
    app.stop();
    again(&page).await?;
    let reached = "try { await fetch('not-kept-' + Date.now()); return true } catch { return false }";
    ensure!(!page.run_async::<bool>(reached, Vec::new()).await?, "the server is not gone");

    page.open(&hangar).await?;
    page.click_on("a.airframe").await?;
    page.appears("ol.works").await?;
    ensure!(page.client().current_url().await?.as_str() == airframe);
    let run = page.start_run().await?;
    page.accept(&run, "tape", 1).await?;
    page.step_in(&run, "twins").await?;
    page.read(&[17.25, 17.25], Scale::Fraction(32)).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("in"), "{:?}", page.screen().await?);

    again(&page).await?;
    let screen = page.screen().await?;
    ensure!(screen.step == "twins" && screen.verdict.as_deref() == Some("in"), "{screen:?}");
    ensure!(page.count(".reading").await? == 2, "both readings are still there");
    Ok(())
}

/// The same page from the beginning: by the browser's own button, but for Firefox, whose driver takes it for a failure that
/// the reload asks the network first.
async fn again(page: &Page) -> Result<()> {
    if page.engine == Engine::Firefox {
        return page.reload().await;
    }
    page.client().refresh().await?;
    page.ready().await
}

/// Copies the built app for a host that serves it under `/sub/`: what `dist --base` writes, without compiling again. Only the
/// page names its base, and only the service worker knows the page's digest.
fn moved_to_sub_folder(built: &Path, to: &Path) -> Result<()> {
    copied(built, to)?;
    let page = fs::read_to_string(built.join("index.html"))?;
    let moved = page.replace("<base href=\"/\">", "<base href=\"/sub/\">");
    ensure!(moved != page, "index.html names its base");
    let digest = |text: &str| STANDARD.encode(Sha256::digest(text));
    let worker = fs::read_to_string(built.join("sw.js"))?;
    ensure!(worker.contains(&digest(&page)), "sw.js knows the digest of index.html");
    for (name, text) in [("index.html", moved.clone()), ("404.html", moved.clone())] {
        fs::write(to.join(name), text)?;
    }
    fs::write(to.join("sw.js"), worker.replace(&digest(&page), &digest(&moved)))?;
    for name in ["index.html", "404.html", "sw.js"] {
        for ending in ["br", "gz"] {
            let compressed = to.join(format!("{name}.{ending}"));
            if compressed.exists() {
                fs::remove_file(&compressed).with_context(|| compressed.display().to_string())?;
            }
        }
    }
    Ok(())
}

fn copied(from: &Path, to: &Path) -> Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)?.flatten() {
        let there = to.join(entry.file_name());
        if entry.path().is_dir() {
            copied(&entry.path(), &there)?;
        } else {
            fs::copy(entry.path(), there)?;
        }
    }
    Ok(())
}
