//! Databases of earlier versions of the app: brought up to date.
//!
//! `schema-1.json`: what version 1 of the database held, row by row.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, ensure};
use serde_json::{Value, json};
use trammel_browser_tests::{AppServer, Bench, Page};

use crate::{TAPE, readings};

/// Makes a database of that version from rows, as a page does that knows of no later version.
pub(crate) const MAKE: &str = r"
const [version, stores] = args;
globalThis.held = await new Promise((done, failed) => {
  const opening = indexedDB.open('trammel', version ?? undefined);
  opening.onupgradeneeded = () => { for (const name of Object.keys(stores)) opening.result.createObjectStore(name); };
  opening.onsuccess = () => done(opening.result);
  opening.onerror = () => failed(opening.error);
});
const names = Object.keys(stores);
await new Promise((done, failed) => {
  const writing = globalThis.held.transaction(names, 'readwrite');
  for (const name of names) for (const [key, value] of stores[name]) writing.objectStore(name).put(value, key);
  writing.oncomplete = done;
  writing.onabort = () => failed(writing.error);
});";

fn fixture(version: u32) -> Result<Value> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/faults/schema-{version}.json"));
    let text = fs::read_to_string(&file).with_context(|| format!("{}: each schema needs one", file.display()))?;
    Ok(serde_json::from_str(&text)?)
}

/// A page of the app's host without the app, with a database of that version.
pub(crate) async fn earlier(page: &Page, app: &AppServer, version: u32) -> Result<()> {
    page.client().goto(&app.page("photo.js")).await?;
    page.run_async::<Option<()>>(MAKE, vec![json!(version), fixture(version)?["stores"].clone()]).await.map(drop)
}

/// The step that the fixture's record was left at.
async fn as_it_was_left(page: &Page, app: &AppServer, version: u32) -> Result<()> {
    let address = fixture(version)?["at"].as_str().context("an address")?.to_owned();
    page.open(&app.page(&address)).await?;
    readings(page, 1).await?;
    page.wait("document.getElementById('reading')?.textContent.startsWith('17 9/32')").await?;
    page.press(&["key-clear".to_owned()]).await?;
    page.read(&[17.25], TAPE).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("in"), "{:?}", page.screen().await?);
    Ok(())
}

/// Entries and half-typed digits of every earlier version of the database are there, and what it had no place for finds one.
pub(crate) async fn every_earlier_schema(bench: &Bench) -> Result<()> {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../src/app/browser/db.rs");
    let text = fs::read_to_string(source)?;
    let line = text.lines().find_map(|line| line.strip_prefix("const VERSION: u8 = ")).context("the version")?;
    let now: u32 = line.trim_end_matches(';').parse()?;
    ensure!(now > 1, "there is an earlier version");
    for version in 1..now {
        let app = bench.serve()?;
        let page = bench.open().await?;
        earlier(&page, &app, version).await?;
        page.run::<Option<()>>("globalThis.held.close();", Vec::new()).await?;
        as_it_was_left(&page, &app, version).await?;
        page.tap("#photo").await?;
        page.appears("#photo-camera").await?;
        page.photograph().await?;
        page.wait("!document.getElementById('keep-photo').disabled").await?;
        page.tap("#keep-photo").await?;
        page.appears(".thumbnail img").await?;
    }
    Ok(())
}
