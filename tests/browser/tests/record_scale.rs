//! A record of 100,000 entries and 500 photos in the browser: what taking it in, opening it, appending to it and writing it out take, and
//! the most memory that the page's process ever had.
//!
//! `cargo xtask bench record` makes the record (`TRAMMEL_SCALE` names its file), runs this and reads the lines that begin with "figure:".

#![allow(clippy::print_stdout, reason = "the figures are printed")]

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;

use anyhow::{Context, Result, ensure};
use serde_json::{Value, json};
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{Bench, Engine, Launch, Page, run};

const ENTRIES: usize = 100_000;
const PHOTOS: usize = 500;
/// What a photo weighs, once the app has made it small.
const PHOTO_BYTES: u32 = 300_000;
/// Readings that are appended through the pad.
const APPENDS: usize = 120;

/// Notes when the page was ready, and how long after a tap an entry was kept and drawn.
const WATCH: &str = r"
const root = document.documentElement;
let tapped = 0;
addEventListener('click', (event) => { if (event.isTrusted || event.target.closest?.('button')) tapped = performance.now(); }, true);
globalThis.kept = []; globalThis.drawn = [];
new MutationObserver((changes) => {
  for (const { attributeName } of changes) {
    const now = performance.now();
    if (attributeName === 'data-ready') globalThis.readyAt = now;
    if (attributeName === 'data-kept') {
      const since = tapped;
      globalThis.kept.push(now - since);
      requestAnimationFrame(() => setTimeout(() => globalThis.drawn.push(performance.now() - since)));
    }
  }
}).observe(document, { attributes: true, subtree: true, attributeFilter: ['data-ready', 'data-kept'] });";

/// Notes how long after a tap the button is ready that sends the file. Watched only where files are made: it would be a burden elsewhere.
const WATCH_FILES: &str = r"
let tapped = 0;
addEventListener('click', () => tapped = performance.now(), true);
new MutationObserver((changes) => {
  for (const { target } of changes) {
    if (target.id === 'send-it' && !target.disabled) globalThis.madeAfter = performance.now() - tapped;
  }
}).observe(document, { attributes: true, subtree: true, attributeFilter: ['disabled'] });";

#[test]
#[ignore = "a measurement: run by `cargo xtask bench record`"]
fn record_scale() {
    run(Engine::Chromium, "record_scale", measure);
}

async fn measure(bench: &Bench) -> Result<()> {
    let file = PathBuf::from(std::env::var_os("TRAMMEL_SCALE").context("TRAMMEL_SCALE names no record")?);
    let record: Value = serde_json::from_str(&fs::read_to_string(&file)?)?;
    let entries = record["entries"].as_array().context("entries")?;
    ensure!(entries.len() == ENTRIES, "{} entries", entries.len());
    let photos: Vec<&Value> = entries
        .iter()
        .filter_map(|entry| entry["body"].get("photo-attached"))
        .map(|it| &it["photo"]["digest"])
        .collect();
    ensure!(photos.len() == PHOTOS, "{} photos", photos.len());
    let airframe = entries[0]["airframe"].as_str().context("an id")?;

    let app = bench.serve()?;
    let profile = tempfile::tempdir()?;
    let page = Page::new(Engine::Chromium, bench.session(&Launch { profile: Some(profile.path()), args: &[] }).await?);
    page.viewport(412, 915).await?;
    page.before_every_page(WATCH).await?;
    page.open(app.address().as_str()).await?;
    let begun = Instant::now();
    let said = page.import(&file).await?;
    let import = begun.elapsed().as_secs_f64() * 1000.0;
    ensure!(said.contains(&format!("{ENTRIES} new")), "{said}");
    store(&page, &photos).await?;

    let step = format!("{}airframe/{airframe}/run/mate-aft-fuselage/set/pitch", app.address());
    let mut opens = Vec::new();
    for _ in 0..5 {
        page.client().goto("about:blank").await?;
        page.open(&step).await?;
        page.appears("main[data-step]").await?;
        opens.push(page.value::<f64>("globalThis.readyAt").await?);
    }
    for number in 0..APPENDS {
        if page.has("#again").await? {
            page.tap("#again").await?;
        }
        let turned = page.value::<String>("document.getElementById('slot-title').dataset.slot").await? == "reversed";
        let size = 2.5 + [0.0, 0.1][number % 2];
        page.read(&[if turned { size } else { -size }], Scale::Decimal(1)).await?;
    }
    let (kept, drawn): (Vec<f64>, Vec<f64>) = page.value("[globalThis.kept, globalThis.drawn]").await?;
    ensure!(kept.len() >= APPENDS, "{} entries were kept", kept.len());
    page.open(&format!("{}airframe/{airframe}", app.address())).await?;
    page.run::<Option<()>>(WATCH_FILES, Vec::new()).await?;
    let text = page.export("export-json").await?.text;
    let export: f64 = page.value("globalThis.madeAfter").await?;
    ensure!(text.len() > fs::metadata(&file)?.len().try_into()?, "what was appended is in the file");
    page.click("send").await?;
    let (_, zip) = page.made("bundle").await?;
    let bundle: f64 = page.value("globalThis.madeAfter").await?;
    ensure!(zip.len() > PHOTOS * PHOTO_BYTES as usize, "{} bytes", zip.len());
    page.open(&format!("{}airframe/{airframe}/record", app.address())).await?;
    page.appears("li.entry").await?;

    println!("opened {opens:.0?} ms");
    println!("a tap to the entry kept: {}; to the page drawn: {}", spread(&kept), spread(&drawn));
    println!("figure: import_ms_100k = {import:.0}");
    println!("figure: open_ms_100k = {:.0}", at(&opens, 0.5));
    println!("figure: append_p95_ms_100k = {:.1}", at(&kept, 0.95));
    println!("figure: append_drawn_p95_ms_100k = {:.1}", at(&drawn, 0.95));
    println!("figure: export_ms_100k = {export:.0}");
    println!("figure: bundle_ms_100k = {bundle:.0}");
    println!("figure: record_peak_memory_mb_100k = {:.0}", peak_memory(profile.path())?);
    Ok(())
}

/// Puts the files of the photos where the app keeps them; what they show does not matter here.
async fn store(page: &Page, digests: &[&Value]) -> Result<()> {
    let body = "const asked = (request) => new Promise((done, failed) => { \
                    request.onsuccess = () => done(request.result); request.onerror = () => failed(request.error); }); \
                const db = await asked(indexedDB.open('trammel')); const bytes = new Uint8Array(args[1]); \
                for (let at = 0; at < bytes.length; at += 50000) crypto.getRandomValues(bytes.subarray(at, at + 50000)); \
                for (const key of args[0]) await asked(db.transaction('photos', 'readwrite').objectStore('photos').put(bytes, key)); \
                db.close();";
    page.run_async::<Option<()>>(body, vec![json!(digests), json!(PHOTO_BYTES)]).await.map(drop)
}

/// The most memory that a page's process of this browser has had, in MB: `VmHWM` of proc(5).
fn peak_memory(profile: &Path) -> Result<f64> {
    let mut most = 0.0_f64;
    for process in fs::read_dir("/proc")?.flatten() {
        let read = |name| fs::read(process.path().join(name)).unwrap_or_default();
        let command = String::from_utf8_lossy(&read("cmdline")).into_owned();
        if !command.contains("--type=renderer") || !command.contains("chrom") {
            continue;
        }
        let status = String::from_utf8_lossy(&read("status")).into_owned();
        let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        let kilobytes: f64 = line.and_then(|line| line.trim().strip_suffix(" kB")?.parse().ok()).unwrap_or(0.0);
        most = most.max(kilobytes / 1024.0);
    }
    ensure!(most > 0.0, "no process of a page was found; the profile is {}", profile.display());
    Ok(most)
}

/// The value below which this part of the values lies.
fn at(values: &[f64], part: f64) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "a place")]
    let place = ((sorted.len() as f64 * part).ceil() as usize).clamp(1, sorted.len());
    sorted[place - 1]
}

fn spread(values: &[f64]) -> String {
    format!(
        "median {:.1} ms, 95th {:.1} ms, longest {:.1} ms of {}",
        at(values, 0.5),
        at(values, 0.95),
        at(values, 1.0),
        values.len()
    )
}
