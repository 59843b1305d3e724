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
    chromium Chromium: without_a_network, without_a_network_in_a_sub_folder;
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
    fs::create_dir_all(to.join("assets"))?;
    for folder in ["", "assets"] {
        for entry in fs::read_dir(built.join(folder))?.flatten().filter(|entry| entry.path().is_file()) {
            fs::copy(entry.path(), to.join(folder).join(entry.file_name()))?;
        }
    }
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
