//! The helper's screen.

use anyhow::{Context, Result, ensure};
use trammel_browser_tests::pad::keys;
use trammel_browser_tests::{Bench, Engine, Page};

use super::{TAPE, look_at, mating};

/// No number that was read, no target, no verdict is on the screen.
async fn blind(page: &Page) -> Result<()> {
    let text = page.text("main.helper").await?;
    for spoiled in ["227", "−2.6", "target", "expect", "chart"] {
        ensure!(!text.contains(spoiled), "{spoiled} is on the helper's screen: {text}");
    }
    for selector in ["#verdict", "#flash", ".reading.chip", "#expected", ".sketch-chart", "#orders"] {
        ensure!(!page.has(selector).await?, "{selector} is on the helper's screen");
    }
    Ok(())
}

pub(super) async fn the_helper_reads_blind(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = mating(&page, &app).await?;
    page.step_in(&run, "set/square").await?;
    page.read(&[227.4375; 3], TAPE).await?;
    // Handed over by one tap: the number that is asked for next.
    page.click("to-helper").await?;
    page.appears("main.helper #helper-slot").await?;
    ensure!(page.text("#helper-slot").await? == "RIGHT distance", "{}", page.text("#helper-slot").await?);
    let text = page.text("main.helper").await?;
    ensure!(text.contains("aft centre point") && text.contains("Call the number with its unit"), "{text}");
    blind(&page).await?;
    look_at(&page, "helper").await?;

    // They type it in themselves: three readings, the last of which would be the verdict.
    page.tap("#helper-types").await?;
    page.fill("reader", "B. Helper").await?;
    page.tap("#begin-reading").await?;
    page.appears("#helper-entry #keep").await?;
    look_at(&page, "helper-entry").await?;
    for (repeat, value) in [(1, 227.4375), (2, 272.4375), (3, 227.4375)] {
        page.wait(&format!("document.getElementById('helper-entry')?.dataset.repeat === '{repeat}'")).await?;
        page.press(&keys(value, TAPE, false)).await?;
        page.tap("#keep").await?;
        if repeat == 2 {
            page.appears("#doubt").await?;
            let asked = page.text("#doubt-words").await?;
            ensure!(asked.starts_with("Look at the instrument once more") && !asked.contains("227"), "{asked}");
            page.tap("#look-again").await?;
            page.tap("#key-clear").await?;
            page.press(&keys(227.4375, TAPE, false)).await?;
            page.tap("#keep").await?;
        }
    }
    page.appears("#handed-back").await?;
    blind(&page).await?;
    let told = page.text("#told").await?;
    ensure!(told == "Kept: 227 7/16 in.", "no verdict is told either: {told}");
    // Still so after a restart.
    page.reload().await?;
    page.appears("main.helper").await?;
    blind(&page).await?;
    page.click("hand-back").await?;
    page.appears("#verdict").await?;
    ensure!(page.screen().await?.step == "set/square");

    page.open(run.split("/run/").next().context("an airframe")?).await?;
    let record: serde_json::Value = serde_json::from_str(&page.export("export-json").await?.text)?;
    let entries = record["entries"].as_array().context("entries")?;
    let right: Vec<&serde_json::Value> =
        entries.iter().filter(|entry| entry["body"]["reading-taken"]["slot"] == "right").collect();
    ensure!(right.len() == 3 && right.iter().all(|entry| entry["by"] == "B. Helper"), "{right:?}");

    // The reading that is made to be read blind, by the same way.
    page.open(&format!("{run}/set/square")).await?;
    Ok(())
}

/// The record of the airframe is on a second phone, no run was begun there, and there is no network.
pub(super) async fn a_second_phone_helps(bench: &Bench) -> Result<()> {
    let mut app = bench.serve()?;
    let page = bench.open().await?;
    ensure!(page.engine == Engine::Chromium);
    page.open(app.address().as_str()).await?;
    page.kept_for_offline().await?;
    page.make_example(&app).await?;
    app.stop();
    page.tap("#work-mate-aft-fuselage").await?;
    page.tap("#helper").await?;
    page.appears("main.helper").await?;
    ensure!(page.text("h1").await? == "Before you start", "{}", page.text("h1").await?);
    ensure!(!page.has("#helper-types").await?, "no run was begun here");
    // On, from card to card and from step to step, to the tape.
    for _ in 0..60 {
        if page.text("#helper-slot").await? == "RIGHT distance" {
            break;
        }
        let before = page.text("main.helper").await?;
        page.tap("#helper-after").await?;
        page.wait(&format!(
            "document.querySelector('main.helper').textContent.trim() !== {}",
            serde_json::json!(before)
        ))
        .await?;
    }
    ensure!(page.text("#helper-slot").await? == "RIGHT distance", "{}", page.text("main.helper").await?);
    page.tap("#helper-before").await?;
    page.wait("document.getElementById('helper-slot')?.textContent === 'LEFT distance'").await?;
    look_at(&page, "helper-second-phone").await?;
    page.reload().await?;
    page.wait("document.getElementById('helper-slot')?.textContent === 'LEFT distance'").await
}
