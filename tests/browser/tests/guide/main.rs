//! The user guide (`docs/guide`): its first page done as it says, and its pictures, taken on an invented airframe. They go to
//! `target/screenshots/guide`, and from there, when they have been looked at, by `shrink.py` to `docs/guide/images`.

#![allow(clippy::print_stdout, reason = "the figure is part of the test's report")]

use std::path::PathBuf;

use anyhow::{Result, ensure};
use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::{Bench, Engine, Page, run, screenshots};

/// A protractor that reads tenths of a degree.
const DEGREES: Scale = Scale::Decimal(1);

/// A tape that reads 32nds of an inch.
const INCHES: Scale = Scale::Fraction(32);

#[test]
fn pictures_of_the_guide() {
    run(Engine::Chromium, "pictures_of_the_guide", pictures);
}

#[test]
fn the_first_two_minutes() {
    run(Engine::Chromium, "the_first_two_minutes", two_minutes);
}

/// `docs/guide/README.md`, tap by tap.
async fn two_minutes(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.phone().await?;
    page.open(app.address().as_str()).await?;
    page.tap("#understood").await?;
    page.tap("#example-0").await?;
    page.tap("#work-mate-aft-fuselage").await?;
    page.tap("#open-run").await?;
    let (mut path, mut taps) = (Vec::new(), 4);
    loop {
        let found = page.screen().await?;
        path.push(found.step.clone());
        match found.step.as_str() {
            "twins" => break,
            "reversal" => {
                page.press(&keys(0.1, DEGREES, true)).await?;
                page.tap("#keep").await?;
                page.wait("document.getElementById('slot-title')?.dataset.slot === 'turned'").await?;
                page.press(&keys(-0.1, DEGREES, true)).await?;
                page.tap("#keep").await?;
                page.appears("#verdict").await?;
                ensure!(page.screen().await?.verdict.as_deref() == Some("not-judged"), "{:?}", page.screen().await?);
                taps += 10;
            }
            _ => {
                page.tap(if found.can.iter().any(|control| control == "accept") { "#accept" } else { "#done" }).await?;
                taps += 1;
            }
        }
        page.appears("#next").await?;
        page.go_on(&found.step).await?;
        taps += 1;
    }
    page.read(&[17.25, 17.25], INCHES).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("in"), "{:?}", page.screen().await?);
    // Keys 1, 7, a quarter, and keep it, twice.
    println!("{} taps to the first verdict in or out, by {}", taps + 8, path.join(", "));
    ensure!(taps + 8 <= 40, "two minutes are three seconds for each of 40 taps");
    page.tap("#again").await?;
    page.read(&[17.25, 17.5], INCHES).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("cant-tell"), "{:?}", page.screen().await?);
    ensure!(page.is("globalThis.asked?.length > 0").await?, "the page says that the app asks");
    Ok(())
}

fn file(name: &str) -> PathBuf {
    screenshots().join(format!("guide/guide-{name}.png"))
}

async fn pictures(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.phone().await?;
    std::fs::create_dir_all(screenshots().join("guide"))?;
    page.open(app.address().as_str()).await?;
    page.tap("#understood").await?;
    page.wait("!document.getElementById('cautions')").await?;
    let airframe = page.make_example(&app).await?;
    page.snapshot(&file("airframe"), Some("main h2")).await?;
    page.tap("#work-mate-aft-fuselage").await?;
    page.tap("#specification").await?;
    page.appears("#spec-pitch").await?;
    page.snapshot(&file("numbers"), Some("#spec-pitch")).await?;
    page.open(&airframe).await?;
    let mating = page.start_run().await?;
    judged(&page, &mating).await?;
    page.step_in(&mating, "hold-a").await?;
    page.appears("#missing").await?;
    page.snapshot(&file("hold"), None).await?;
    page.open(&airframe).await?;
    holes(&page, &airframe).await?;
    page.open(&airframe).await?;
    page.tap("#work-wing-sweep").await?;
    page.tap("#change-procedure").await?;
    page.appears("#write-about").await?;
    page.snapshot(&file("write"), None).await
}

/// A reading on the pad, and one that is out with the order that brings it in.
async fn judged(page: &Page, mating: &str) -> Result<()> {
    for role in ["protractor", "tape", "rule"] {
        page.accept(mating, role, 0).await?;
    }
    page.step_in(mating, "set/pitch").await?;
    page.press(&keys(-3.6, DEGREES, true)).await?;
    page.snapshot(&file("reading"), None).await?;
    page.tap("#far-view").await?;
    page.appears("#far[open]").await?;
    page.snapshot(&file("far"), None).await?;
    page.tap("#far-leave").await?;
    page.wait("!document.querySelector('#far[open]')").await?;
    page.tap("#to-helper").await?;
    page.appears("#helper-slot").await?;
    page.snapshot(&file("helper"), Some("#helper-slot")).await?;
    page.tap("#hand-back").await?;
    page.appears("#key-clear").await?;
    page.press(&["key-clear".to_owned()]).await?;
    page.read(&[-3.6; 4], DEGREES).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("out"), "1° off is out");
    page.snapshot(&file("verdict"), Some("#verdict")).await
}

/// A map of rivets, some done and one bad.
async fn holes(page: &Page, airframe: &str) -> Result<()> {
    page.tap("#work-riveting").await?;
    page.tap("#open-run").await?;
    page.appears("main[data-step]").await?;
    let run = format!("{airframe}/run/riveting");
    page.confirm(&run, "cautions").await?;
    page.accept(&run, "rule", 0).await?;
    for step in ["closed-inside", "grip", "trial-pulled"] {
        page.confirm(&run, step).await?;
    }
    page.step_in(&run, "hold-a").await?;
    page.paste("signer", "B. Helper").await?;
    page.tap("#agree").await?;
    page.tap("#sign").await?;
    page.wait("document.getElementById('hold')?.dataset.hold === 'signed'").await?;
    page.confirm(&run, "first").await?;
    page.step_in(&run, "set-pulled").await?;
    page.paste("rows", "12 12 12 12").await?;
    page.tap("#lay-out").await?;
    page.appears("#hole-1-1").await?;
    page.tap("#row-1-done").await?;
    page.wait("!document.querySelector('[id^=hole-1-][data-hole=to-go]')").await?;
    page.tap("#tool-bad").await?;
    page.appears("#why-3").await?;
    page.tap("#why-3").await?;
    page.tap("#hole-2-3").await?;
    page.wait("document.getElementById('hole-2-3').dataset.hole === 'bad'").await?;
    page.snapshot(&file("holes"), Some("#hole-ask")).await
}
