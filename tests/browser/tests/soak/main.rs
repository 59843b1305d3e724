//! A day that does not end: cycles of take, strike, navigate in one page that is never loaded anew. What the page holds in memory may not
//! grow but by the record itself.
//!
//! The browser's own heap, its nodes and its listeners hold nothing of the record: they stay flat. The program's memory holds the record;
//! what that takes is what a page takes that opens the same record anew, in a tab beside. Each cycle begins and ends at a freshly drawn
//! step: rows of a list that stays mounted would be let go only with the list, in this version of the framework.
//!
//! `cargo xtask bench proof` runs the long one and reads the lines that begin with "figure:".

#![allow(clippy::print_stdout, reason = "the figures are printed")]

use std::fmt;
use std::time::Duration;

use anyhow::{Context, Result, bail, ensure};
use serde_json::json;
use trammel_browser_tests::{Bench, Engine, Page, run};

const CYCLE: &str = include_str!("cycle.js");
/// How much of anything may come on top, as a part of what was there when the page was warm.
const FLAT: f64 = 0.1;

// The program's memory comes in steps, the last of them before the eightieth cycle; then it stays until the four hundredth at least.
#[test]
fn some_cycles() {
    run(Engine::Chromium, "some_cycles", async |bench| soak(bench, &[80, 160]).await.map(drop));
}

#[test]
#[ignore = "a measurement: run by `cargo xtask bench proof`"]
fn soak_of_ten_thousand() {
    run(Engine::Chromium, "soak_of_ten_thousand", async |bench| {
        let stops: Vec<u32> = (1..=10).map(|thousands| thousands * 1000).collect();
        let growth = soak(bench, &stops).await?;
        println!("figure: soak_cycles = 10000");
        for (name, part) in growth.parts() {
            println!("figure: soak_{name}_growth = {part:.3}");
        }
        Ok(())
    });
}

/// What a page holds once its garbage is collected.
#[derive(Clone, Copy, Debug)]
struct Held {
    /// Bytes of the browser's own heap.
    heap: f64,
    /// Nodes of documents.
    nodes: f64,
    /// Listeners of events.
    listeners: f64,
    /// Bytes of the program's memory.
    program: f64,
}

impl Held {
    fn parts(self) -> [(&'static str, f64); 4] {
        [("heap", self.heap), ("nodes", self.nodes), ("listeners", self.listeners), ("program", self.program)]
    }

    /// How much larger everything is than when the page was warm, as a part of that; of the program's memory what the record itself
    /// takes is left out.
    fn growth(self, fresh: f64, warm: Self, fresh_warm: f64) -> Self {
        let part = |now: f64, then: f64| now / then - 1.0;
        Self {
            heap: part(self.heap, warm.heap),
            nodes: part(self.nodes, warm.nodes),
            listeners: part(self.listeners, warm.listeners),
            program: ((self.program - fresh) - (warm.program - fresh_warm)) / warm.program,
        }
    }
}

impl fmt::Display for Held {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let megabytes = |bytes: f64| bytes / 1e6;
        let (heap, program) = (megabytes(self.heap), megabytes(self.program));
        write!(f, "heap {heap:.2} MB, {} nodes, {} listeners, program {program:.2} MB", self.nodes, self.listeners)
    }
}

/// Runs cycles up to each of these counts; how much had grown from the first of them to the last.
async fn soak(bench: &Bench, stops: &[u32]) -> Result<Held> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.before_every_page(MEMORY).await?;
    page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "tape", 1).await?;
    page.step_in(&run, "twins").await?;
    let soaked = page.client().window().await?;
    let (mut done, mut warm) = (0, None);
    let mut growth = None;
    for stop in stops {
        cycles(&page, done, *stop, &format!("{run}/gaps")).await?;
        done = *stop;
        let now = held(&page).await?;
        let beside = page.client().new_window(true).await?.handle;
        page.client().switch_to_window(beside).await?;
        page.before_every_page(MEMORY).await?;
        page.open(&format!("{run}/twins")).await?;
        let fresh = held(&page).await?;
        page.client().close_window().await?;
        page.client().switch_to_window(soaked.clone()).await?;
        println!("{done} cycles: {now}; opened anew: {fresh}");
        let (warm, fresh_warm) = *warm.get_or_insert((now, fresh.program));
        growth = Some(now.growth(fresh.program, warm, fresh_warm));
    }
    let growth = growth.context("no cycle was run")?;
    for (name, part) in growth.parts() {
        ensure!(part < FLAT, "{name} grew by {part:.3} of what it was when the page was warm");
    }
    Ok(growth)
}

/// Cycles from the one of these numbers to the other, in one script that the page runs by itself and is seldom asked about: the driver's devtools keep the
/// answer of each script in the page's heap for as long as they are there, a hundred bytes that are not the app's.
async fn cycles(page: &Page, from: u32, to: u32, there: &str) -> Result<()> {
    const SELDOM: Duration = Duration::from_secs(4);
    let body = format!(
        "globalThis.soaked = ''; const args = [...arguments]; (async () => {{ {CYCLE} }})() \
         .then(() => {{ globalThis.soaked = 'done'; }}, (error) => {{ globalThis.soaked = String(error?.stack ?? error); }});"
    );
    page.run::<Option<()>>(&body, vec![json!(from), json!(to - from), json!(there)]).await?;
    loop {
        tokio::time::sleep(SELDOM).await;
        match page.value::<String>("globalThis.soaked").await?.as_str() {
            "" => {}
            "done" => return Ok(()),
            error => bail!("{error}"),
        }
    }
}

/// What the page in front holds.
async fn held(page: &Page) -> Result<Held> {
    for _ in 0..3 {
        page.devtools("HeapProfiler.collectGarbage", json!({})).await?;
    }
    page.devtools("Performance.enable", json!({})).await?;
    let metrics = page.devtools("Performance.getMetrics", json!({})).await?;
    let metric = |name: &str| {
        let metrics = metrics["metrics"].as_array().into_iter().flatten();
        metrics.filter(|it| it["name"] == name).find_map(|it| it["value"].as_f64()).with_context(|| name.to_owned())
    };
    Ok(Held {
        heap: metric("JSHeapUsedSize")?,
        nodes: metric("Nodes")?,
        listeners: metric("JSEventListeners")?,
        program: program_memory(page).await?,
    })
}

/// Keeps hold of the program's memory when the program starts.
const MEMORY: &str = "const instantiate = WebAssembly.instantiate; \
    WebAssembly.instantiate = async (...given) => { \
        const made = await instantiate(...given); \
        globalThis.programMemory ??= (made.instance ?? made).exports.memory; \
        return made; \
    };";

/// Bytes of the memory that the page's program has, which never shrinks.
async fn program_memory(page: &Page) -> Result<f64> {
    page.value("globalThis.programMemory.buffer.byteLength").await
}
