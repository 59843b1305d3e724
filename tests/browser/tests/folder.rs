//! Two phones that keep their records in step through a folder of a real WebDAV server, and files that wait for a network. Two phones are
//! two origins here, each with a storage of its own, so that every engine can hold both in one browser.

#[allow(dead_code, reason = "only its python is used")]
#[path = "../../support/libraries.rs"]
mod libraries;
#[allow(dead_code, reason = "the native tests use more of it")]
#[path = "../../folder/server.rs"]
mod server;

use anyhow::{Context as _, Result, ensure};
use serde_json::{Value, json};
use server::{NAME, PASSWORD, Server};
use trammel_browser_tests::{AppServer, Bench, Engine, Page, in_engines, screenshots};

in_engines! {
    chromium Chromium: in_step, files_wait;
    firefox Firefox: in_step, files_wait;
    webkit WebKit: in_step, files_wait;
}

/// Names the folder on a phone whose settings are fresh.
async fn folder_named(page: &Page, app: &AppServer, server: &Server) -> Result<()> {
    page.open(&app.page("settings/folder")).await?;
    page.fill("folder-address", &format!("http://{}/hangar", server.at)).await?;
    page.fill("folder-name", NAME).await?;
    page.fill("folder-password", PASSWORD).await
}

/// Brings a phone into step, its folder page open, and gives what it says.
async fn bring(page: &Page) -> Result<String> {
    page.tap("#folder-now").await?;
    page.wait("document.getElementById('folder-now') && !/Asking|^$/.test(document.getElementById('folder-result').textContent)")
        .await?;
    page.text("#folder-result").await
}

/// A photo beside the step that is open.
async fn photographed(page: &Page) -> Result<()> {
    page.start_run().await?;
    page.tap("#notes").await?;
    page.appears("#caption").await?;
    page.photograph().await?;
    page.tap("#keep-photo").await?;
    page.appears(".thumbnail img").await
}

async fn in_step(bench: &Bench) -> Result<()> {
    let (first, second) = (bench.serve()?, bench.serve()?);
    let disk = tempfile::tempdir()?;
    let server = Server::of(disk.path(), None);
    let page = bench.open().await?;
    page.make_example(&first).await?;
    let airframe = page.make_airframe(&first, "Veldrin's Own", "A. Builder").await?;
    photographed(&page).await?;
    let notes = page.client().current_url().await?;

    folder_named(&page, &first, &server).await?;
    let said = bring(&page).await?;
    ensure!(said == "Sent: 1 record, 1 photo.", "{said}");
    ensure!(page.text("#folder-last").await?.starts_with("Last in step: 2"), "{}", page.text("#folder-last").await?);
    picture(&page, "folder").await?;
    let said = bring(&page).await?;
    ensure!(said == "Nothing was new, here or there.", "{said}");

    // The other phone: the airframe comes with its photo, the invented one stays where it is.
    folder_named(&page, &second, &server).await?;
    let said = bring(&page).await?;
    ensure!(said.contains("1 photo") && said.contains("Taken in"), "{said}");
    let there = |address: &str| address.replace(first.address().as_str(), second.address().as_str());
    page.open(second.address().as_str()).await?;
    ensure!(page.count("a.airframe").await? == 1);
    page.open(&there(notes.as_str())).await?;
    page.appears(".thumbnail img").await?;
    page.wait("document.querySelector('.thumbnail img').naturalWidth > 0").await?;

    // What is done there comes back.
    page.open(&there(&airframe)).await?;
    let run = page.start_run().await?;
    page.accept(&run, "tape", 1).await?;
    page.make_airframe(&second, "Second Thoughts", "C. Mentor").await?;
    folder_named(&page, &second, &server).await?;
    let said = bring(&page).await?;
    ensure!(said.contains("Sent: 2 records"), "{said}");
    page.open(&first.page("settings/folder")).await?;
    ensure!(
        page.value::<String>("document.getElementById('folder-password').value").await?.is_empty(),
        "it was not to be kept"
    );
    let said = bring(&page).await?;
    ensure!(said.contains("does not accept the name or the password"), "{said}");
    page.fill("folder-password", PASSWORD).await?;
    page.tap("#folder-keep").await?;
    let said = bring(&page).await?;
    ensure!(said.contains("Taken in"), "{said}");
    page.reload().await?;
    ensure!(page.value::<String>("document.getElementById('folder-password').value").await? == PASSWORD);
    page.open(first.address().as_str()).await?;
    ensure!(page.count("a.airframe").await? == 3);

    // The network goes and comes back: said on every page, and one tap brings into step.
    network(&page, false).await?;
    ensure!(!page.has("#outbox-notice").await?);
    network(&page, true).await?;
    page.wait("document.getElementById('outbox-notice')?.textContent.includes('The network is back')").await?;
    picture(&page, "network-is-back").await?;
    page.tap("#send-waiting").await?;
    page.wait("document.getElementById('outbox-said')?.textContent === 'Nothing was new, here or there.'").await?;
    ensure!(!page.has("#outbox-notice").await?);

    // A server that is gone: it is asked again and again, until somebody has had enough.
    drop(server);
    page.open(&first.page("settings/folder")).await?;
    page.tap("#folder-now").await?;
    page.tap("#folder-stop").await?;
    page.wait("document.getElementById('folder-result').textContent.includes('does not answer')").await?;
    ensure!(page.text("#folder-result").await?.contains("Nothing was lost"));
    Ok(())
}

/// The device loses its network or finds it again, by its own word, and has a share sheet.
async fn network(page: &Page, there: bool) -> Result<()> {
    let body = "Object.defineProperty(navigator, 'onLine', { get: () => arguments[0], configurable: true }); \
                Object.defineProperty(navigator, 'canShare', { value: () => true, configurable: true }); \
                window.shared ??= []; \
                const share = async ({ files: [file] }) => { window.shared.push([file.name, await file.text()]); }; \
                Object.defineProperty(navigator, 'share', { value: share, configurable: true }); \
                window.dispatchEvent(new Event(arguments[0] ? 'online' : 'offline'));";
    page.run::<Option<()>>(body, vec![json!(there)]).await.map(drop)
}

/// Makes a file and sends it.
async fn sent(page: &Page, choice: &str) -> Result<()> {
    page.tap(&format!("#send-{choice}")).await?;
    page.tap("#send-it:enabled").await
}

async fn files_wait(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let airframe = page.make_example(&app).await?;
    network(&page, false).await?;
    page.tap("#send").await?;
    sent(&page, "record").await?;
    page.appears("#outbox-notice").await?;
    ensure!(page.text("#sent").await?.contains("waits in the outbox"));
    sent(&page, "readings").await?;
    page.wait("document.getElementById('outbox-notice')?.textContent.includes('2 files')").await?;
    ensure!(!page.has("#send-waiting").await?, "there is no network to send by");
    ensure!(page.value::<usize>("window.shared.length").await? == 0);

    // The app is closed and opened again: they still wait, as they were.
    page.open(&airframe).await?;
    network(&page, false).await?;
    page.wait("document.getElementById('outbox-notice')?.textContent.includes('2 files')").await?;
    picture(&page, "outbox-notice").await?;
    network(&page, true).await?;
    let noted = "JSON.parse(localStorage.getItem('trammel.settings')).sent";
    ensure!(page.value::<String>(noted).await?.is_empty(), "what waits is not elsewhere yet");
    page.tap("#send-waiting").await?;
    page.wait("window.shared.length === 1").await?;
    page.wait(&format!("{noted}.startsWith('{}')", airframe.rsplit('/').next().context("an id")?)).await?;
    page.wait("document.getElementById('outbox-notice')?.textContent.includes('1 file')").await?;
    let (name, text): (String, String) = page.value("window.shared[0]").await?;
    ensure!(name.ends_with("-record.json.txt"), "{name}");
    let record: Value = serde_json::from_str(&text)?;
    ensure!(record["entries"].as_array().is_some_and(|entries| entries.len() > 3), "the whole record");

    // One that nobody wants any more is taken out.
    page.open(&app.page("settings/folder")).await?;
    page.appears("#unsend-0").await?;
    ensure!(page.text("#unsend-0").await?.contains(".csv"));
    picture(&page, "outbox").await?;
    page.tap("#unsend-0").await?;
    page.wait("!document.getElementById('outbox-notice') && !document.getElementById('unsend-0')").await?;
    Ok(())
}

/// Pictures to look at, where a folder for them is named: upright, and lying on its side.
async fn picture(page: &Page, name: &str) -> Result<()> {
    if page.engine != Engine::Chromium {
        return Ok(());
    }
    let folder = screenshots();
    std::fs::create_dir_all(&folder)?;
    for (side, (width, height)) in [("upright", (360, 740)), ("across", (740, 360))] {
        page.viewport(width, height).await?;
        std::fs::write(folder.join(format!("{name}-{side}.png")), page.client().screenshot().await?)?;
    }
    Ok(())
}
