//! The pictures of the user guide (`docs/guide.md`), taken on an invented airframe: they go to `target/screenshots/guide`, and from
//! there, when they have been looked at, to `docs/images`.

use std::path::PathBuf;

use anyhow::{Result, ensure};
use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::{Bench, Engine, Page, run, screenshots};

/// A protractor that reads tenths of a degree.
const DEGREES: Scale = Scale::Decimal(1);

#[test]
fn pictures_of_the_guide() {
    run(Engine::Chromium, "pictures_of_the_guide", pictures);
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
