//! How long the state of a run takes to be worked out from 10,000 entries of the mating in the browser: states, verdicts, what is stale,
//! what to move.
//!
//! `cargo xtask bench rigging` runs it and reads the line that begins with "figure:".

#![allow(clippy::print_stdout, reason = "the figure is printed")]

use anyhow::{Context, Result, ensure};
use serde_json::{Value, json};
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{Bench, Engine, run};

/// Entries of the run.
const ENTRIES: usize = 10_000;
/// Steps that are read over and over, a set of readings each time.
const GATES: [&str; 5] = ["set", "clamped", "piloted", "drilled", "reassembled"];

#[test]
#[ignore = "a measurement: run by `cargo xtask bench rigging`"]
fn run_state() {
    run(Engine::Chromium, "run_state", measure);
}

async fn measure(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.open(app.address().as_str()).await?;
    let airframe = page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    page.step_in(&run, "set/pitch").await?;
    page.read(&[-2.6; 4], Scale::Decimal(1)).await?;
    page.open(&airframe).await?;
    let mut record: Value = serde_json::from_str(&page.export("export-json").await?.text)?;
    let entries = record["entries"].as_array().context("entries")?;
    let models: Vec<Value> =
        entries.iter().filter(|entry| entry["body"].get("reading-taken").is_some()).cloned().collect();
    ensure!(models.len() == 4, "one set of pitch");
    let mut made = Vec::new();
    for number in 0..ENTRIES {
        let mut entry = models[number % 4].clone();
        // Later than everything that was typed, each later than the one before.
        entry["id"] = json!(format!("7fffffff-{:04x}-7000-8000-{number:012x}", number / 4));
        let gate = GATES[number / 4 % GATES.len()];
        entry["body"]["reading-taken"]["step"] = json!(format!("{gate}/pitch"));
        made.push(entry);
    }
    record["entries"].as_array_mut().context("entries")?.extend(made);
    page.open(app.address().as_str()).await?;
    let said = page.import_made("many.json", "args[1]", &record.to_string()).await?;
    ensure!(said.contains(&format!("{ENTRIES} new")), "{said}");
    let mut times = Vec::new();
    for _ in 0..9 {
        page.open(&format!("{run}/set/pitch")).await?;
        page.wait("document.querySelector('main')?.dataset.step === 'set/pitch'").await?;
        times.push(page.value::<f64>("Number(document.querySelector('main').dataset.foldMs)").await?);
    }
    times.sort_by(f64::total_cmp);
    let median = times[times.len() / 2];
    ensure!(median > 0.0, "nothing was measured: {times:?}");
    println!("the state of a run of {ENTRIES} entries, a page freshly opened each time: {times:?} ms");
    println!("figure: run_state_ms_wasm_10k = {median:.2}");
    Ok(())
}
