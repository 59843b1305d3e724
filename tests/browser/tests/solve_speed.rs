//! How long one adjustment of a whole pass takes in the browser: every reading, covariance, the search for slips, once more without
//! the one that is found, and the moves that bring all checks in. Twice: the first on a page that was just opened, and again and
//! again on one that stays open.
//!
//! `cargo xtask bench alignment` runs it and reads the lines that begin with "figure:".

#![allow(clippy::print_stdout, reason = "the figure is printed")]

use anyhow::{Result, ensure};
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{Bench, Engine, Page, run};

/// Openings that are measured.
const OPENINGS: usize = 15;
/// Adjustments on the page that stays open.
const AGAIN: usize = 60;
/// What the four steps and the set-up give: 4 of pitch, 4 of twist, two sets of 6 distances, 2 of the string, 3 assumptions.
const OBSERVATIONS: usize = 25;

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
    let (left, right) = ([227.5; 3], [227.4375; 3]);
    let pass: [(&str, &[f64], Scale); 4] = [
        ("pitch", &[-3.0; 4], Scale::Decimal(1)),
        ("twist", &[0.1, 0.1, 0.4, 0.4], Scale::Decimal(1)),
        ("square", &[left, right].concat(), Scale::Fraction(32)),
        ("offset", &[0.375, 0.375], Scale::Fraction(64)),
    ];
    for (check, values, scale) in pass {
        page.step_in(&run, &format!("set/{check}")).await?;
        page.read(values, scale).await?;
        if scale == Scale::Decimal(1) {
            // Angles are adjusted in pairs, one reading each way round: a second set.
            page.tap("#again").await?;
            page.appears("#slot-title").await?;
            page.read(values, scale).await?;
        }
    }
    page.step_in(&run, "set/square").await?;
    page.tap("#again").await?;
    page.appears("#slot-title").await?;
    // One pull is misread by an eighth: it has to be found, and the rest adjusted again.
    page.read(&[&[227.5, 227.625, 227.5], right.as_slice()].concat(), Scale::Fraction(32)).await?;
    let mut fresh = Vec::new();
    for _ in 0..OPENINGS {
        page.open(&airframe).await?;
        page.to_mating().await?;
        fresh.push(adjusted(&page).await?);
    }
    let mut warm = Vec::new();
    for _ in 0..AGAIN {
        page.run::<Option<()>>("history.back()", vec![]).await?;
        page.appears("#place").await?;
        warm.push(adjusted(&page).await?);
    }
    // The move that the page asks for can be said as made: what it disturbs is stale then, and no place is left.
    page.tap("#together .moved").await?;
    page.appears("#no-place").await?;
    for (name, key, times) in [("freshly opened", "solve_ms_wasm", fresh), ("left open", "solve_ms_wasm_warm", warm)] {
        println!("{OBSERVATIONS} observations, a page {name}, {} times: {times:?} ms", times.len());
        println!("figure: {key} = {:.2}", median(times)?);
    }
    Ok(())
}

/// From the mating's page to where everything sits, and how long the adjustment took, in milliseconds.
async fn adjusted(page: &Page) -> Result<f64> {
    page.tap("#place").await?;
    page.appears("#fitted li").await?;
    let readings = page.count("#fitted li").await?;
    ensure!(readings == OBSERVATIONS, "{readings} observations");
    ensure!(page.count("#suspects li").await? == 1, "the misread pull is named");
    page.value("Number(document.querySelector('main').dataset.solveMs)").await
}

fn median(mut times: Vec<f64>) -> Result<f64> {
    times.sort_by(f64::total_cmp);
    ensure!(times[times.len() / 2] > 0.0, "nothing was measured: {times:?}");
    Ok(times[times.len() / 2])
}
