//! How fast the app opens on a phone that never had it: slow 4G, the processor slowed four times, nothing kept from before. Beside it the
//! pages that it is held against (`xtask/baselines`), where `TRAMMEL_BASELINES` names their folder.
//!
//! `cargo xtask bench proof/start` runs it and reads the lines that begin with "figure:".

#![allow(clippy::print_stdout, reason = "the figures are printed")]

use std::path::PathBuf;

use anyhow::Result;
use serde_json::json;
use trammel_browser_tests::{AppServer, Bench, Engine, Launch, Page, run};

/// Visits of each kind that are measured.
const VISITS: usize = 5;
/// A mid-range phone against this machine.
const SLOWDOWN: u32 = 4;
/// Slow 4G as the usual audits have it: round trip in ms, bytes a second down and up (1.6 Mbit/s, 750 kbit/s).
const ROUND_TRIP: u32 = 150;
const DOWN: u32 = 200_000;
const UP: u32 = 93_750;

/// Notes each largest paint so far. Nobody touches the page: a touch ends the count.
const LARGEST: &str = "new PerformanceObserver((list) => { for (const it of list.getEntries()) { globalThis.largest = it.startTime; \
    globalThis.painted = it.element?.className || it.element?.id || it.element?.tagName; } }) \
    .observe({ type: 'largest-contentful-paint', buffered: true });";

#[test]
#[ignore = "a measurement: run by `cargo xtask bench proof/start`"]
fn cold_start() {
    run(Engine::Chromium, "cold_start", measure);
}

/// A page that opens, and how its first touch is known to be taken.
struct Contender {
    /// What its figures begin with; the app's with nothing.
    name: &'static str,
    server: AppServer,
    /// What is touched.
    touched: &'static str,
    /// Holds once the touch was taken.
    taken: &'static str,
}

async fn measure(bench: &Bench) -> Result<()> {
    let understood = "!document.getElementById('understood')";
    let mut all = vec![Contender { name: "", server: bench.serve()?, touched: "understood", taken: understood }];
    if let Some(folder) = std::env::var_os("TRAMMEL_BASELINES").map(PathBuf::from) {
        for (name, dir) in [("counter_", "counter"), ("plain_", "plain")] {
            let server = AppServer::start_in(Some(&folder.join(dir)), 0)?;
            let taken = "document.getElementById('reading').textContent.includes('2')";
            all.push(Contender { name, server, touched: "key-2", taken });
        }
    }
    for contender in &all {
        let (mut paints, mut taps) = (Vec::new(), Vec::new());
        for _ in 0..VISITS {
            paints.push(painted(bench, contender).await?);
            taps.push(touched(bench, contender).await?);
        }
        println!("{}: largest paints {paints:.0?}, first touches {taps:.0?}", contender.name);
        println!("figure: {}cold_lcp_ms = {:.0}", contender.name, median(paints));
        println!("figure: {}cold_start_ms = {:.0}", contender.name, median(taps));
    }
    Ok(())
}

/// A first visit, and the largest contentful paint of it, in ms from the beginning of the navigation.
async fn painted(bench: &Bench, contender: &Contender) -> Result<f64> {
    let page = visit(bench, contender, LARGEST).await?;
    page.wait(&format!("document.getElementById('{}') && globalThis.largest", contender.touched)).await?;
    // What is painted late counts too.
    tokio::time::sleep(std::time::Duration::from_secs(2)).await;
    let (largest, what): (f64, String) = page.value("[globalThis.largest, String(globalThis.painted)]").await?;
    println!("{}: {largest:.0} ms, {what}", contender.name);
    page.session.close().await?;
    Ok(largest)
}

/// A first visit, touched as soon as there is something to touch, and when that was taken.
async fn touched(bench: &Bench, contender: &Contender) -> Result<f64> {
    let look = format!(
        "const look = () => {{ \
            const it = document.getElementById('{}'); \
            if (globalThis.tapped && ({})) {{ globalThis.accepted = performance.now(); return; }} \
            if (it && !it.disabled && !globalThis.tapped) {{ globalThis.tapped = true; it.click(); }} \
            setTimeout(look); }}; \
         look();",
        contender.touched, contender.taken
    );
    let page = visit(bench, contender, &look).await?;
    page.wait("globalThis.accepted").await?;
    let accepted = page.value("globalThis.accepted").await?;
    page.session.close().await?;
    Ok(accepted)
}

/// Opens a browser that has nothing, slows it and its network, and begins to load the page.
async fn visit(bench: &Bench, contender: &Contender, script: &str) -> Result<Page> {
    let page = Page::new(Engine::Chromium, bench.session(&Launch::default()).await?);
    page.viewport(412, 915).await?;
    page.before_every_page(script).await?;
    page.devtools("Network.enable", json!({})).await?;
    let slow = json!({ "offline": false, "latency": ROUND_TRIP, "downloadThroughput": DOWN, "uploadThroughput": UP });
    page.devtools("Network.emulateNetworkConditions", slow).await?;
    page.devtools("Emulation.setCPUThrottlingRate", json!({ "rate": SLOWDOWN })).await?;
    page.client().goto(contender.server.address().as_str()).await?;
    Ok(page)
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}
