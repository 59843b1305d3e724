//! Storage that is held, emptied, broken, gone or nearly full, and a clock that is set back.

use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, ensure};
use serde_json::{Value, json};
use trammel_browser_tests::pad::keys;
use trammel_browser_tests::{AppServer, Bench, Launch, Page};

use crate::versions::{MAKE, earlier};
use crate::{TAPE, half_way, readings};

/// Throws the database away, as a browser does that clears what a page keeps.
const DELETE: &str = r"
await new Promise((done, failed) => {
  const deleting = indexedDB.deleteDatabase('trammel');
  deleting.onsuccess = done;
  deleting.onerror = () => failed(deleting.error);
});";

/// Throws the second copy away, as what clears all that a page keeps does.
const DELETE_COPY: &str = "await caches.delete('trammel-copy');";

/// How many entries the second copy has, by the addresses of its pieces.
const COPIED: &str = r"
const pieces = await (await caches.open('trammel-copy')).keys();
return pieces.reduce((sum, piece) => sum + Number(piece.url.split('/').pop()), 0);";

/// How many entries the database has.
const STORED: &str = r"
const asked = (request) => new Promise((done, failed) => {
  request.onsuccess = () => done(request.result); request.onerror = () => failed(request.error);
});
const db = await asked(indexedDB.open('trammel'));
const count = await asked(db.transaction('entries').objectStore('entries').count());
db.close();
return count;";

/// From here on the page's clock is two days behind.
const BACK: &str = r"
const back = 2 * 86400000;
const Real = Date;
globalThis.Date = class extends Real {
  constructor(...when) { if (when.length) super(...when); else super(Real.now() - back); }
  static now() { return Real.now() - back; }
};";

/// The step of the run, and that its other reading can be taken there.
async fn the_other_reading_is_taken(page: &Page) -> Result<()> {
    page.read(&[17.25], TAPE).await?;
    readings(page, 2).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("in"), "{:?}", page.screen().await?);
    Ok(())
}

async fn put_away(page: &Page, notice: &str) -> Result<()> {
    page.tap(&format!("{notice} button")).await?;
    page.wait(&format!("!document.querySelector('{notice}')")).await
}

/// A tab of an earlier version that does not let go: said, and gone on with by itself.
pub(crate) async fn held_by_an_earlier_version(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    earlier(&page, &app, 1).await?;
    let old = page.client().window().await?;
    let new = page.client().new_window(true).await?.handle;
    page.client().switch_to_window(new.clone()).await?;
    page.client().goto(app.address().as_str()).await?;
    page.appears("#held").await?;
    ensure!(page.count("a.airframe").await? == 0 && page.is("!document.documentElement.dataset.ready").await?);
    page.client().switch_to_window(old).await?;
    page.run::<Option<()>>("globalThis.held.close();", Vec::new()).await?;
    page.client().switch_to_window(new).await?;
    page.ready().await?;
    ensure!(!page.has("#held").await?);
    page.appears("a.airframe").await
}

/// The browser clears what the page keeps while the page is open: what is in it is written again, and that is said.
pub(crate) async fn emptied_under_the_app(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = half_way(&page, &app).await?;
    let origin = app.address().origin().ascii_serialization();
    page.devtools("Storage.clearDataForOrigin", json!({ "origin": origin, "storageTypes": "indexeddb" })).await?;
    page.appears("#emptied").await?;
    readings(&page, 1).await?;
    put_away(&page, "#emptied").await?;
    the_other_reading_is_taken(&page).await?;
    page.open(&format!("{run}/twins")).await?;
    readings(&page, 2).await?;
    ensure!(!page.has("#entries-lost, #emptied, #trouble").await?);
    Ok(())
}

/// A browser on this profile.
async fn opened(bench: &Bench, profile: &Path) -> Result<Page> {
    let launch = Launch { profile: Some(profile), args: &[] };
    Ok(Page::new(bench.engine, bench.session(&launch).await?))
}

/// A reading is taken, then the browser is started anew and does this before the app is opened: the run's address, and how many entries were kept.
async fn started_anew(bench: &Bench, app: &AppServer, profile: &Path, scripts: &[&str]) -> Result<(Page, String, u64)> {
    let page = opened(bench, profile).await?;
    let run = half_way(&page, app).await?;
    let kept = page.run_async(STORED, Vec::new()).await?;
    copied(&page, kept).await?;
    // A page of the app that is still there would write again what it holds. The guide's pages are without the app.
    page.session.close().await?;
    let page = opened(bench, profile).await?;
    page.client().goto(&app.page("help/")).await?;
    for script in scripts {
        page.run_async::<Option<()>>(script, Vec::new()).await?;
    }
    Ok((page, run, kept))
}

/// Waits until the second copy has this many entries.
async fn copied(page: &Page, entries: u64) -> Result<()> {
    let deadline = Instant::now() + Duration::from_secs(20);
    loop {
        let there: u64 = page.run_async(COPIED, Vec::new()).await?;
        if there == entries {
            return Ok(());
        }
        ensure!(Instant::now() < deadline, "{there} of {entries} entries are copied");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
}

/// The database is gone and the second copy is there: nothing of the record is lost, and the run goes on.
pub(crate) async fn a_lost_database(bench: &Bench) -> Result<()> {
    let (app, profile) = (bench.serve()?, tempfile::tempdir()?);
    let (page, run, kept) = started_anew(bench, &app, profile.path(), &[DELETE]).await?;
    page.open(&format!("{run}/twins")).await?;
    page.appears("#taken-back").await?;
    let said = page.text("#taken-back").await?;
    ensure!(said.contains(&format!("{kept} entries")), "{said} of {kept}");
    ensure!(!page.has("#entries-lost, #trouble").await?);
    readings(&page, 1).await?;
    put_away(&page, "#taken-back").await?;
    the_other_reading_is_taken(&page).await?;
    page.open(&format!("{run}/twins")).await?;
    readings(&page, 2).await?;
    ensure!(!page.has("#taken-back, #entries-lost, #trouble").await?);
    copied(&page, page.run_async(STORED, Vec::new()).await?).await
}

/// What local storage held is lost with the database, so that nobody knows how many entries there were: they come back all the same.
pub(crate) async fn a_lost_database_and_local_storage(bench: &Bench) -> Result<()> {
    let (app, profile) = (bench.serve()?, tempfile::tempdir()?);
    let (page, run, _) = started_anew(bench, &app, profile.path(), &[DELETE, "localStorage.clear();"]).await?;
    page.open(app.address().as_str()).await?;
    page.appears("#taken-back").await?;
    page.appears("a.airframe").await?;
    page.open(&format!("{run}/twins")).await?;
    readings(&page, 1).await
}

/// A browser that does not open the database as long as the tab remembers it so.
const SHUT: &str = r"
const open = IDBFactory.prototype.open;
IDBFactory.prototype.open = function (...given) {
  if (!sessionStorage.getItem('shut')) return open.apply(this, given);
  const request = open.call(this, 'shut');
  request.addEventListener('upgradeneeded', () => request.transaction.abort());
  return request;
};";

/// The database cannot be opened at all: what the second copy has is shown and can be sent, a reading is taken all the same, and all of it is stored once
/// the database opens again.
pub(crate) async fn a_database_that_cannot_be_opened(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.before_every_page(SHUT).await?;
    let run = half_way(&page, &app).await?;
    let kept: u64 = page.run_async(STORED, Vec::new()).await?;
    copied(&page, kept).await?;
    page.run::<Option<()>>("sessionStorage.setItem('shut', '1');", Vec::new()).await?;
    page.open(&format!("{run}/twins")).await?;
    page.appears("#from-copy").await?;
    let said = page.text("#from-copy").await?;
    ensure!(said.contains(&format!("{kept} entries")) && said.contains("Send the record"), "{said} of {kept}");
    ensure!(page.text("#trouble").await?.contains("stopped answering"), "{}", page.text("#trouble").await?);
    readings(&page, 1).await?;
    page.press(&keys(17.25, TAPE, false)).await?;
    page.tap("#keep").await?;
    readings(&page, 2).await?;
    page.appears("#unstored").await?;
    let sent = page.export("export-now").await?.text;
    let sent: Value = serde_json::from_str(&sent)?;
    let entries = sent["entries"].as_array().context("entries")?.len() as u64;
    ensure!(entries == kept + 1, "{entries} of {kept} and one more");
    page.run::<Option<()>>("sessionStorage.removeItem('shut');", Vec::new()).await?;
    page.tap("#try-again").await?;
    page.wait("!document.querySelector('#trouble, #unstored')").await?;
    page.open(&format!("{run}/twins")).await?;
    readings(&page, 2).await?;
    ensure!(!page.has("#from-copy, #taken-back, #entries-lost, #trouble").await?);
    Ok(())
}

/// The second copy is gone, or was never made: it is made of what the database has.
pub(crate) async fn a_lost_copy(bench: &Bench) -> Result<()> {
    let (app, profile) = (bench.serve()?, tempfile::tempdir()?);
    let (page, run, kept) = started_anew(bench, &app, profile.path(), &[DELETE_COPY]).await?;
    page.open(&format!("{run}/twins")).await?;
    readings(&page, 1).await?;
    copied(&page, kept).await?;
    ensure!(!page.has("#taken-back, #entries-lost, #trouble").await?);
    Ok(())
}

/// The database and its copy are gone when the app opens: how many entries were there, and what to do.
pub(crate) async fn entries_that_are_gone(bench: &Bench) -> Result<()> {
    let (app, profile) = (bench.serve()?, tempfile::tempdir()?);
    let (page, _, before) = started_anew(bench, &app, profile.path(), &[DELETE, DELETE_COPY]).await?;
    page.open(app.address().as_str()).await?;
    page.appears("#entries-lost").await?;
    let said = page.text("#entries-lost").await?;
    let lost: u64 = said.split(' ').next().context("a number")?.parse()?;
    ensure!(lost == before && said.contains("Open the last file"), "{said}");
    // Until it was read it is said at every start; then no more.
    page.reload().await?;
    page.appears("#entries-lost").await?;
    put_away(&page, "#entries-lost").await?;
    page.reload().await?;
    ensure!(!page.has("#entries-lost").await?);
    page.make_example(&app).await.map(drop)
}

/// An entry that this version cannot read is counted, left where it is, and in nobody's way.
pub(crate) async fn an_entry_that_cannot_be_read(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = half_way(&page, &app).await?;
    page.client().goto(&app.page("help/")).await?;
    let broken = json!({ "entries": [["0192f0c1-2b3c-7d4e-8f5a-6b7c8d9e0f1a", "{\"id\":"]] });
    page.run_async::<Option<()>>(MAKE, vec![json!(null), broken]).await?;
    page.run::<Option<()>>("globalThis.held.close();", Vec::new()).await?;
    page.open(&format!("{run}/twins")).await?;
    page.appears("#trouble").await?;
    let said = page.text("#trouble").await?;
    ensure!(said.starts_with("1 stored") && said.contains("left as"), "{said}");
    readings(&page, 1).await?;
    the_other_reading_is_taken(&page).await
}

/// What local storage held is lost, as when Chromium is killed in its first seconds: the device keeps its name in the record.
pub(crate) async fn local_storage_is_lost(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = half_way(&page, &app).await?;
    page.client().goto(&app.page("help/")).await?;
    page.run::<Option<()>>("localStorage.clear();", Vec::new()).await?;
    page.open(&format!("{run}/twins")).await?;
    the_other_reading_is_taken(&page).await?;
    page.open(run.split("/run/").next().context("the airframe's address")?).await?;
    let record: Value = serde_json::from_str(&page.export("export-json").await?.text)?;
    let entries = record["entries"].as_array().context("entries")?;
    let devices: HashSet<&str> = entries.iter().filter_map(|entry| entry["device"].as_str()).collect();
    ensure!(devices.len() == 1, "{devices:?}");
    Ok(())
}

/// The files of the database below a profile.
fn database(below: &Path) -> Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    for entry in fs::read_dir(below)? {
        let path = entry?.path();
        if path.is_dir() {
            found.extend(database(&path)?);
        } else if path.components().any(|part| part.as_os_str() == "IndexedDB") {
            found.push(path);
        }
    }
    Ok(found)
}

/// What a stopped app hands out: the text of the file.
const RESCUED: &str = r"
IDBFactory.prototype.open = () => { throw new Error('broken'); };
const text = new Promise((done) => { URL.createObjectURL = (file) => { file.text().then(done); return 'blob:none'; }; });
HTMLAnchorElement.prototype.click = () => {};
trammelRescue('panicked at a line of the program');
[...document.querySelectorAll('.rescue button')].at(-1).click();
return await text;";

/// The app stops, and its database cannot be opened: the file that it hands out has the entries of the second copy, is a record file that another phone
/// opens, and holds nothing that is half typed.
pub(crate) async fn what_a_stopped_app_hands_out(bench: &Bench) -> Result<()> {
    let (app, profile) = (bench.serve()?, tempfile::tempdir()?);
    let (page, run, kept) = started_anew(bench, &app, profile.path(), &[]).await?;
    page.open(&format!("{run}/twins")).await?;
    page.press(&["key-1".to_owned()]).await?;
    let text: String = page.run_async(RESCUED, Vec::new()).await?;
    let file: Value = serde_json::from_str(&text)?;
    let mut members: Vec<&String> = file.as_object().context("a record file")?.keys().collect();
    members.sort();
    ensure!(members == ["entries", "format", "version"], "{members:?}");
    ensure!(file["entries"].as_array().is_some_and(|entries| entries.len() as u64 == kept), "{kept} entries");
    page.session.close().await?;
    let other = bench.open().await?;
    other.open(app.address().as_str()).await?;
    let said = other.import_made("trammel-rescue.json", "args[1]", &text).await?;
    ensure!(said.contains(&format!("{kept} new entries")), "{said}");
    other.appears("a.airframe").await
}

/// The database's files are overwritten while no browser runs: whatever the browser makes of them, what was kept is there.
pub(crate) async fn a_broken_database(bench: &Bench) -> Result<()> {
    let (app, profile) = (bench.serve()?, tempfile::tempdir()?);
    let page = opened(bench, profile.path()).await?;
    let run = half_way(&page, &app).await?;
    copied(&page, page.run_async(STORED, Vec::new()).await?).await?;
    page.session.close().await?;
    let files = database(profile.path())?;
    ensure!(!files.is_empty(), "no database below the profile");
    for file in &files {
        let size = fs::metadata(file)?.len();
        fs::write(file, vec![0xa5; usize::try_from(size)?])?;
    }
    let page = opened(bench, profile.path()).await?;
    page.open(&format!("{run}/twins")).await?;
    page.appears("#taken-back, #from-copy").await?;
    readings(&page, 1).await?;
    the_other_reading_is_taken(&page).await?;
    if page.has("#from-copy").await? {
        return page.appears("#unstored").await;
    }
    page.open(&format!("{run}/twins")).await?;
    readings(&page, 2).await
}

/// The clock is set back by two days between two readings, then between two starts: the later reading is the later one.
pub(crate) async fn a_clock_that_is_set_back(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = half_way(&page, &app).await?;
    page.run::<Option<()>>(BACK, Vec::new()).await?;
    the_other_reading_is_taken(&page).await?;

    page.before_every_page(BACK).await?;
    page.open(&format!("{run}/twins")).await?;
    page.appears("#clock-behind").await?;
    put_away(&page, "#clock-behind").await?;
    readings(&page, 2).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("in"));
    // Read again with the clock behind: what counts is the new reading, here and after a start.
    page.tap("#again").await?;
    page.wait("document.getElementById('slot-title')").await?;
    page.read(&[17.5, 17.25], TAPE).await?;
    let after = page.screen().await?.verdict;
    ensure!(after.as_deref() != Some("in"), "the readings of the clock that is behind do not count: {after:?}");
    page.open(&format!("{run}/twins")).await?;
    ensure!(page.screen().await?.verdict == after, "{:?}, then {after:?}", page.screen().await?.verdict);
    Ok(())
}

/// One hundredth of what the page may use is left, by the browser's own word. (Chromium no longer says how much there truly is; there the
/// first sign is a write that is refused: `bad_storage`, `photos`.)
const NEARLY_FULL: &str = "StorageManager.prototype.estimate = async () => ({ usage: 99e7, quota: 100e7 });";

/// Hardly any room is left: said before something is refused, and what fits is still kept.
pub(crate) async fn hardly_any_room(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = half_way(&page, &app).await?;
    ensure!(!page.has("#little-room").await?);
    page.before_every_page(NEARLY_FULL).await?;
    page.open(&format!("{run}/twins")).await?;
    page.appears("#little-room").await?;
    ensure!(page.text("#little-room").await?.contains("10.0 MB left"), "{}", page.text("#little-room").await?);
    put_away(&page, "#little-room").await?;
    the_other_reading_is_taken(&page).await?;
    page.open(&format!("{run}/twins")).await?;
    readings(&page, 2).await
}
