//! How long one adjustment of a whole pass takes in the browser: every reading, covariance, the search for slips, and the moves that
//! bring all checks in.
//!
//! `cargo xtask bench alignment` runs it and reads the lines that begin with "figure:".

#![allow(clippy::print_stdout, reason = "the figure is printed")]

use anyhow::{Result, ensure};
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{Bench, Engine, run};

/// Openings that are measured.
const OPENINGS: usize = 15;

#[test]
#[ignore = "a measurement: run by `cargo xtask bench alignment`"]
fn solve_speed() {
    run(Engine::Chromium, "solve_speed", measure);
}

async fn measure(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.open(app.address().as_str()).await?;
    let airframe = page.make_example(&app).await?;
    let run = page.start_run().await?;
    for (role, preset) in [("protractor", 0), ("tape", 1), ("rule", 1)] {
        page.accept(&run, role, preset).await?;
    }
    // Two sets of each: 32 readings, of which the last set of each counts, and three things that the set-up says.
    let pass: [(&str, &[f64], Scale); 4] = [
        ("pitch", &[-3.0; 4], Scale::Decimal(1)),
        ("twist", &[0.1, 0.1, 0.4, 0.4], Scale::Decimal(1)),
        ("square", &[227.5, 227.5, 227.5, 227.4375, 227.4375, 227.4375], Scale::Fraction(32)),
        ("offset", &[0.375, 0.375], Scale::Fraction(64)),
    ];
    for (check, values, scale) in pass {
        page.step_in(&run, &format!("set/{check}")).await?;
        page.read(values, scale).await?;
    }
    let (mut times, mut readings) = (Vec::new(), 0);
    for _ in 0..OPENINGS {
        page.open(&airframe).await?;
        page.tap("#place").await?;
        page.appears("#fitted li").await?;
        readings = page.count("#fitted li").await?;
        times.push(page.value::<f64>("Number(document.querySelector('main').dataset.solveMs)").await?);
    }
    // The move that the page asks for can be said as made: what it disturbs is stale then, and no place is left.
    page.tap("#together .moved").await?;
    page.appears("#no-place").await?;
    times.sort_by(f64::total_cmp);
    ensure!(times[0] > 0.0, "nothing was measured: {times:?}");
    println!("{readings} observations, {OPENINGS} freshly opened pages: {times:?} ms");
    println!("figure: solve_ms_wasm = {:.2}", times[OPENINGS / 2]);
    Ok(())
}
