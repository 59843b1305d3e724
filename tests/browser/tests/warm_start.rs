//! How fast the app opens on a phone in a hangar: installed, the server stopped, the browser started anew on the same profile,
//! the processor slowed four times. Beside it a page of plain HTML from a service worker: nothing can be faster. And the pages that the app
//! is held against (`xtask/baselines`), where `TRAMMEL_BASELINES` names their folder.
//!
//! `cargo xtask bench` runs it and reads the lines that begin with "figure:".

#![allow(clippy::print_stdout, reason = "the figures are printed")]

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Result, ensure};
use serde_json::json;
use trammel_browser_tests::{AppServer, Bench, Engine, Launch, Page, run};

/// Starts that are measured; one more goes before, which fills the browser's code cache.
const STARTS: usize = 7;
/// As in the notes of the developers' page: a mid-range phone against this machine.
const SLOWDOWN: u32 = 4;

#[test]
#[ignore = "a measurement: run by `cargo xtask bench main`"]
fn warm_start() {
    run(Engine::Chromium, "warm_start", measure);
}

async fn measure(bench: &Bench) -> Result<()> {
    let app = installed(bench).await?;
    let floor = static_page(bench).await?;
    let [mut paints, mut taps, mut programs, mut floors]: [Vec<f64>; 4] = Default::default();
    for start in 0..=STARTS {
        let (paint, tap, program) = relaunched(bench, &app, FIRST_TAP).await?;
        let (floor_paint, ..) = relaunched(bench, &floor, FIRST_PAINT).await?;
        println!(
            "start {start}: paint {paint:.0} ms, first tap {tap:.0} ms, program {program:.0} ms; static page {floor_paint:.0} ms"
        );
        if start > 0 {
            paints.push(paint);
            taps.push(tap);
            programs.push(program);
            floors.push(floor_paint);
        }
    }
    let baselines = std::env::var_os("TRAMMEL_BASELINES").map(PathBuf::from);
    for (name, folder) in
        ["counter", "plain"].into_iter().filter_map(|name| Some((name, baselines.as_ref()?.join(name))))
    {
        let page = baseline(bench, &folder).await?;
        let (mut paints, mut taps) = (Vec::new(), Vec::new());
        for start in 0..=STARTS {
            let (paint, tap, _) = relaunched(bench, &page, FIRST_TAP).await?;
            if start > 0 {
                paints.push(paint);
                taps.push(tap);
            }
        }
        println!("figure: {name}_warm_paint_ms_4x = {:.0}", median(paints));
        println!("figure: {name}_warm_start_ms_4x = {:.0}", median(taps));
    }
    let (paint, floor) = (median(paints), median(floors));
    println!("figure: warm_paint_ms_4x = {paint:.0}");
    println!("figure: warm_start_ms_4x = {:.0}", median(taps));
    println!("figure: warm_program_ms_4x = {:.0}", median(programs));
    println!("figure: floor_paint_ms_4x = {floor:.0}");
    println!("figure: warm_paint_to_floor_ratio = {:.2}", paint / floor);
    Ok(())
}

/// Something that opens with no server: the browser's profile that holds it, and its address.
struct Installed {
    profile: tempfile::TempDir,
    address: String,
}

/// The app with the example airframe at a step that is read, installed from a server that is gone afterwards.
async fn installed(bench: &Bench) -> Result<Installed> {
    let app = bench.serve()?;
    let profile = tempfile::tempdir()?;
    let page = open(bench, profile.path()).await?;
    page.open(app.address().as_str()).await?;
    page.kept_for_offline().await?;
    page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "tape", 1).await?;
    page.step_in(&run, "twins").await?;
    page.appears("#key-2").await?;
    let address = page.client().current_url().await?.to_string();
    page.session.close().await?;
    Ok(Installed { profile, address })
}

/// One HTML file from a service worker, in the same words and amount as the app's first screen.
async fn static_page(bench: &Bench) -> Result<Installed> {
    let folder = tempfile::tempdir()?;
    let page = "<!doctype html><html lang=en><base href=\"/\"><meta name=viewport content=\"width=device-width\">\
                <title>Floor</title><h1>Are the forward points twins?</h1><p>Straightedge on the left and right forward \
                points. Read the distance of each from the centre line.</p><button id=key-2>2</button>";
    let worker = "addEventListener('install', (event) => event.waitUntil(caches.open('floor').then((cache) => cache.add('./'))));\
                  addEventListener('fetch', (event) => event.respondWith(caches.match(new URL('./', registration.scope))));";
    fs::write(folder.path().join("index.html"), page)?;
    fs::write(folder.path().join("floor-sw.js"), worker)?;
    let app = AppServer::start_in(Some(folder.path()), 0)?;
    let address = app.address().to_string();
    let profile = tempfile::tempdir()?;
    let tab = open(bench, profile.path()).await?;
    tab.client().goto(&address).await?;
    let install = "await navigator.serviceWorker.register('floor-sw.js'); await navigator.serviceWorker.ready;";
    tab.run_async::<Option<()>>(install, Vec::new()).await?;
    tab.session.close().await?;
    Ok(Installed { profile, address })
}

/// A page of `xtask/baselines`, which keeps itself on the device.
async fn baseline(bench: &Bench, folder: &Path) -> Result<Installed> {
    let server = AppServer::start_in(Some(folder), 0)?;
    let address = server.address().to_string();
    let profile = tempfile::tempdir()?;
    let tab = open(bench, profile.path()).await?;
    tab.client().goto(&address).await?;
    let kept = "await navigator.serviceWorker.ready;";
    tab.run_async::<Option<()>>(kept, Vec::new()).await?;
    tab.session.close().await?;
    Ok(Installed { profile, address })
}

async fn open(bench: &Bench, profile: &Path) -> Result<Page> {
    let launch = Launch { profile: Some(profile), args: &[] };
    let page = Page::new(Engine::Chromium, bench.session(&launch).await?);
    page.viewport(412, 915).await?;
    Ok(page)
}

/// Taps a key as soon as it is there and notes when the number stands on the screen; and when the program has it, where a picture
/// (`public/ahead.js`) stood before.
const FIRST_TAP: &str = r"
const look = () => {
  const reading = document.getElementById('reading')?.textContent ?? '';
  if (reading.includes('2')) {
    globalThis.accepted ??= performance.now();
    if (!document.getElementById('ahead')) { globalThis.program = performance.now(); return; }
  }
  const key = document.getElementById('key-2');
  if (key && !key.disabled && !globalThis.tapped) { globalThis.tapped = true; key.click(); }
  setTimeout(look);
};
look();";

/// Nothing to wait for but the paint.
const FIRST_PAINT: &str = "globalThis.accepted = globalThis.program = 1;";

/// Starts the browser anew on a profile and opens the address, slowed. Gives the first contentful paint and the first tap that
/// was accepted, and when the program had it, in ms from the beginning of the navigation.
async fn relaunched(bench: &Bench, installed: &Installed, script: &str) -> Result<(f64, f64, f64)> {
    let page = open(bench, installed.profile.path()).await?;
    page.before_every_page(script).await?;
    page.devtools("Emulation.setCPUThrottlingRate", json!({ "rate": SLOWDOWN })).await?;
    page.client().goto(&installed.address).await?;
    page.wait("globalThis.program && performance.getEntriesByName('first-contentful-paint').length").await?;
    let times: (f64, f64, f64) = page
        .value(
            "[performance.getEntriesByName('first-contentful-paint')[0].startTime, globalThis.accepted, globalThis.program]",
        )
        .await?;
    ensure!(page.is("navigator.serviceWorker.controller !== null").await?, "it did not come from the service worker");
    if page.has("#key-clear").await? {
        // The half-typed digit would be there at the next start.
        page.tap("#key-clear").await?;
        page.wait("!document.getElementById('reading').textContent.includes('2')").await?;
        tokio::time::sleep(std::time::Duration::from_millis(150)).await;
    }
    page.session.close().await?;
    Ok(times)
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}
