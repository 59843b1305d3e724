//! A new version of the app comes while somebody works.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, ensure};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};
use tempfile::TempDir;
use trammel_browser_tests::pad::keys;
use trammel_browser_tests::{AppServer, Bench, Page};

use crate::{TAPE, half_way, readings};

const UPDATE: &str = "const it = await navigator.serviceWorker.getRegistration(); await it.update();";

fn copy(from: &Path, to: &Path) -> Result<()> {
    fs::create_dir_all(to)?;
    for file in fs::read_dir(from)?.flatten() {
        let to = to.join(file.file_name());
        if file.path().is_dir() { copy(&file.path(), &to)? } else { fs::copy(file.path(), to).map(drop)? }
    }
    Ok(())
}

/// A copy of the built app in a folder of its own, and the app served from there.
fn served() -> Result<(TempDir, AppServer)> {
    let folder = tempfile::tempdir()?;
    copy(&AppServer::folder(), folder.path())?;
    let app = AppServer::start_in(Some(folder.path()), 0)?;
    Ok((folder, app))
}

/// Puts another build in its place: the same app with another page, which the service worker's list names with this digest; without one,
/// as it is.
fn published(folder: &Path, digest: Option<&str>) -> Result<()> {
    let write = |name: &str, text: &str| -> Result<()> {
        for ending in [".br", ".gz"] {
            let compressed = folder.join(format!("{name}{ending}"));
            if compressed.exists() {
                fs::remove_file(compressed)?;
            }
        }
        Ok(fs::write(folder.join(name), text)?)
    };
    let hashed = |text: &str| STANDARD.encode(Sha256::digest(text));
    let page = fs::read_to_string(folder.join("index.html"))?;
    let newer = page.replacen("<html ", "<html data-edition=\"newer\" ", 1);
    ensure!(newer != page, "index.html begins with <html and a language");
    let worker = fs::read_to_string(folder.join("sw.js"))?;
    let listed = hashed(&page);
    ensure!(worker.contains(&listed), "sw.js knows the digest of index.html");
    let build = worker.lines().find_map(|line| line.strip_prefix("const BUILD = \"")?.strip_suffix("\";"));
    let build = build.context("the name of the build")?;
    let worker = worker.replace(&listed, digest.unwrap_or(&hashed(&newer))).replace(build, "0123456789abcdef");
    write("index.html", &newer)?;
    write("sw.js", &worker)
}

/// The app, kept for offline, half way through a step, with a half-typed reading.
async fn at_work(page: &Page, app: &AppServer) -> Result<()> {
    page.open(app.address().as_str()).await?;
    page.kept_for_offline().await?;
    half_way(page, app).await?;
    page.press(&keys(17.28125, TAPE, false)).await
}

async fn as_it_was(page: &Page) -> Result<()> {
    readings(page, 1).await?;
    page.wait("document.getElementById('reading')?.textContent.startsWith('17 9/32')").await
}

/// It says so and waits; taken, it comes up at the same step with the reading, and with what was half typed.
pub(crate) async fn a_new_version_in_the_middle_of_a_run(bench: &Bench) -> Result<()> {
    let (folder, app) = served()?;
    let page = bench.open().await?;
    at_work(&page, &app).await?;
    published(folder.path(), None)?;
    page.run_async::<Option<()>>(UPDATE, Vec::new()).await?;
    page.appears("#update-ready").await?;
    as_it_was(&page).await?;
    ensure!(page.is("!document.documentElement.dataset.edition").await?, "it did not wait");
    page.tap("#update-now").await?;
    page.wait("document.documentElement.dataset.edition === 'newer'").await?;
    page.ready().await?;
    as_it_was(&page).await?;
    page.press(&["key-clear".to_owned()]).await?;
    page.read(&[17.25], TAPE).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("in"));
    Ok(())
}

/// One file of the new version is not what its list says: it is not taken, and the version that is there works on, with no network too.
pub(crate) async fn a_new_version_that_is_not_whole(bench: &Bench) -> Result<()> {
    let (folder, mut app) = served()?;
    let page = bench.open().await?;
    at_work(&page, &app).await?;
    published(folder.path(), Some(&STANDARD.encode(Sha256::digest("another file"))))?;
    // The browser says that a worker failed to install once it has: then there is none that installs or waits.
    let refused = format!("try {{ {UPDATE} }} catch {{}} return true;");
    page.run_async::<bool>(&refused, Vec::new()).await?;
    let settled = "const it = await navigator.serviceWorker.getRegistration(); \
                   while (it.installing) await new Promise((done) => setTimeout(done, 20)); return it.waiting === null;";
    ensure!(page.run_async::<bool>(settled, Vec::new()).await?, "half a version waits to be taken");
    ensure!(!page.has("#update-ready").await?, "it is offered");
    app.stop();
    page.reload().await?;
    ensure!(page.is("!document.documentElement.dataset.edition").await?);
    as_it_was(&page).await
}
