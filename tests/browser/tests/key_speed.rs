//! How soon a hit is seen, on a phone whose processor is four times slower than this machine: from the hit of a key to the painted number,
//! and from "keep" to the painted verdict, the strict write to the disk included.
//!
//! Hits are the browser's own input events, by the devtools protocol. The time counts from the event's own stamp (what waits before the page
//! is asked counts too) to the first task after the frame that shows the change, as seen by the page.
//!
//! `cargo xtask bench proof/keys` runs it and reads the lines that begin with "figure:".

#![allow(clippy::print_stdout, reason = "the figures are printed")]

use anyhow::{Context, Result, ensure};
use serde_json::json;
use trammel_browser_tests::{AppServer, Bench, Engine, Page, run};

/// A mid-range phone against this machine.
const SLOWDOWN: u32 = 4;
/// Airframes on which readings are taken, and verdicts on each: a run of a usual length, and enough of both.
const AIRFRAMES: usize = 10;
const VERDICTS: usize = 22;
/// A reading of the invented airframe in millimetres: no key twice.
const READING: [&str; 3] = ["key-4", "key-3", "key-0"];

/// Notes for each hit when what it changes was painted.
const TIMES: &str = r"
globalThis.times = { key: [], keep: [], next: [], stored: [], lost: [] };
let hit = 0;
new MutationObserver(() => globalThis.times.stored.push(performance.now() - hit))
  .observe(document, { subtree: true, attributeFilter: ['data-kept'] });
const state = () => {
  const verdict = document.getElementById('verdict');
  if (verdict) return 'verdict';
  const slot = document.getElementById('slot-title');
  return `${slot?.dataset.slot} ${slot?.dataset.repeat} ${document.getElementById('reading')?.textContent}`;
};
addEventListener('click', (event) => {
  const id = event.target.closest?.('button')?.id ?? '';
  if (!event.isTrusted || !(id.startsWith('key-') || id === 'keep')) return;
  hit = event.timeStamp;
  const [before, slot] = [state(), document.getElementById('slot-title')?.dataset.slot];
  const after = new MessageChannel();
  after.port1.onmessage = () => {
    const now = performance.now();
    const seen = state();
    const done = id === 'keep' ? seen === 'verdict' || (seen !== before && document.getElementById('slot-title')?.dataset.slot !== slot)
      : seen !== before;
    if (!done && now - event.timeStamp < 5000) return requestAnimationFrame(frame);
    if (!done) return globalThis.times.lost.push(id);
    const kind = id !== 'keep' ? 'key' : seen === 'verdict' ? 'keep' : 'next';
    globalThis.times[kind].push(now - event.timeStamp);
  };
  const frame = () => after.port2.postMessage(null);
  requestAnimationFrame(frame);
}, true);";

#[test]
#[ignore = "a measurement: run by `cargo xtask bench proof/keys`"]
fn key_speed() {
    run(Engine::Chromium, "key_speed", measure);
}

async fn measure(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.viewport(412, 915).await?;
    page.before_every_page(TIMES).await?;
    page.open(app.address().as_str()).await?;
    page.kept_for_offline().await?;
    let mut times: [Vec<f64>; 5] = Default::default();
    for _ in 0..AIRFRAMES {
        at_the_pad(&page, &app).await?;
        page.devtools("Emulation.setCPUThrottlingRate", json!({ "rate": SLOWDOWN })).await?;
        for verdict in 0..VERDICTS {
            judged(&page, verdict).await.with_context(|| format!("verdict {verdict}"))?;
        }
        // What a page was loaded for is compiled when it is first done: the first verdict after a start stands by itself too.
        let (found, lost): ([Vec<f64>; 5], Vec<String>) = page
            .value("[[times.key, times.next, times.keep, times.stored, times.keep.slice(0, 1)], times.lost]")
            .await?;
        ensure!(lost.is_empty(), "hits that changed nothing: {lost:?}");
        page.devtools("Emulation.setCPUThrottlingRate", json!({ "rate": 1 })).await?;
        for (all, found) in times.iter_mut().zip(found) {
            all.extend(found);
        }
    }
    let [keys, next, verdicts, stored, first] = times.map(sorted);
    ensure!(keys.len() >= 200 && verdicts.len() >= 200, "{} keys, {} verdicts", keys.len(), verdicts.len());
    for (name, all) in [
        ("key to paint", &keys),
        ("keep to stored", &stored),
        ("keep to the next reading", &next),
        ("keep to verdict", &verdicts),
        ("keep to the first verdict after a start", &first),
    ] {
        println!(
            "{name}: {} times, median {:.1}, 95 % {:.1}, most {:.1} ms",
            all.len(),
            at(all, 50),
            at(all, 95),
            at(all, 100)
        );
    }
    println!("figure: key_to_paint_p95_ms_4x = {:.1}", at(&keys, 95));
    println!("figure: keep_to_verdict_p95_ms_4x = {:.1}", at(&verdicts, 95));
    Ok(())
}

/// A new example airframe in millimetres, its tape accepted, at the step that reads both sides once.
async fn at_the_pad(page: &Page, app: &AppServer) -> Result<()> {
    page.open(app.address().as_str()).await?;
    page.tap("#example-1").await?;
    page.appears("ol.works").await?;
    let run = page.start_run().await?;
    page.accept(&run, "tape", 0).await?;
    page.step_in(&run, "twins").await?;
    page.appears("#key-2").await
}

/// Both sides read by hand, up to the verdict.
async fn judged(page: &Page, verdict: usize) -> Result<()> {
    if verdict > 0 {
        page.tap("#again").await?;
        page.appears("#slot-title").await?;
    }
    for side in 0..2 {
        let before = page.text("#slot-title").await?;
        hit(page, &READING).await?;
        page.wait("document.getElementById('reading').textContent.includes('430')").await?;
        hit(page, &["keep"]).await?;
        if side == 0 {
            page.wait(&format!("document.getElementById('slot-title')?.textContent.trim() !== {}", json!(before)))
                .await?;
        }
    }
    page.appears("#verdict").await?;
    // A verdict that fills the screen is tapped away, as a hand would.
    page.wait("(document.getElementById('flash')?.click(), !document.getElementById('flash'))").await
}

/// Hits in the middle of buttons, as the browser's own input.
async fn hit(page: &Page, ids: &[&str]) -> Result<()> {
    let body = "return arguments[0].map((id) => { const it = document.getElementById(id).getBoundingClientRect(); \
                return [it.x + it.width / 2, it.y + it.height / 2]; });";
    let places: Vec<[f64; 2]> = page.run(body, vec![json!(ids)]).await?;
    for [x, y] in places {
        for kind in ["mousePressed", "mouseReleased"] {
            let event = json!({ "type": kind, "x": x, "y": y, "button": "left", "clickCount": 1 });
            page.devtools("Input.dispatchMouseEvent", event).await?;
        }
    }
    Ok(())
}

fn sorted(mut values: Vec<f64>) -> Vec<f64> {
    values.sort_by(f64::total_cmp);
    values
}

/// The value that so many per cent of the sorted ones do not exceed.
fn at(sorted: &[f64], per_cent: usize) -> f64 {
    sorted[(sorted.len() * per_cent).div_ceil(100).max(1) - 1]
}
