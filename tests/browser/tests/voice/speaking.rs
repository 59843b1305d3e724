//! What the phone says.

use anyhow::{Context, Result, ensure};
use serde_json::json;
use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::{Bench, Page};

use crate::at_pitch;
use crate::stand_in::{give_voice, voices};

/// Everything that was said since this was asked last.
async fn said(page: &Page) -> Result<Vec<String>> {
    page.run("const all = window.spoken.map((it) => it.text); window.spoken = []; return all;", Vec::new()).await
}

/// Waits until something with these words was said, and gives everything.
async fn hears(page: &Page, words: &str) -> Result<Vec<String>> {
    page.wait(&format!("window.spoken.some((it) => it.text.includes({}))", json!(words)))
        .await
        .with_context(|| format!("to hear {words:?}"))?;
    said(page).await
}

pub(crate) async fn the_steps_are_said(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    give_voice(&page, &voices(true), true).await?;
    at_pitch(&page, &app).await?;
    ensure!(said(&page).await?.is_empty(), "nobody asked it to speak");
    page.tap("#speak-steps").await?;
    let first = hears(&page, "Which end of the longeron is high?").await?;
    ensure!(first[0].contains("Pitch"), "{first:?}");
    ensure!(
        first.iter().any(|words| words == "Target: minus two point six degrees plus or minus zero point two degrees."),
        "{first:?}"
    );
    // A reading: what was kept, and what is new, without the rest again.
    ensure!(page.enter(&keys(-2.9, Scale::Decimal(1), true)).await?.is_empty());
    let second = hears(&page, "2 of 2").await?;
    ensure!(second[0] == "Kept: minus two point nine degrees.", "{second:?}");
    ensure!(!second.iter().any(|words| words.contains("Target")), "{second:?}");
    page.read(&[-2.9; 3], Scale::Decimal(1)).await?;
    let verdict = hears(&page, "Then expect").await?;
    ensure!(verdict.iter().any(|words| words.starts_with("Out. minus two point nine")), "{verdict:?}");
    let order = verdict.iter().find(|words| words.starts_with("Raise the saddle")).context("the order")?;
    ensure!(order.ends_with("of an inch."), "{order}");
    // Again: the whole of it, in the voice of the phone, at the speed that is chosen.
    page.tap("#say-again").await?;
    hears(&page, "Raise the saddle").await?;
    page.tap("#say-again").await?;
    page.wait("window.spoken.length > 0").await?;
    ensure!(page.is("window.spoken.every((it) => it.voice === 'Here' && it.rate === 1 && it.lang === 'en_GB')").await?);

    // Faster, then quiet: no word and no tone.
    let run = page.client().current_url().await?;
    page.open(&app.page("settings")).await?;
    page.tap("#speed-fastest").await?;
    page.tap("#try-voice").await?;
    page.wait("window.spoken.some((it) => it.rate === 1.5 && it.text.includes('eleven sixteenths'))").await?;
    page.open(run.as_str()).await?;
    page.wait("window.spoken.some((it) => it.rate === 1.5 && it.text.startsWith('Out.'))").await?;
    page.open(&app.page("settings")).await?;
    page.tap("#quiet").await?;
    page.open(run.as_str()).await?;
    page.appears("#verdict").await?;
    page.run::<Option<()>>(
        "window.sounds = 0; const real = AudioContext.prototype.createOscillator; \
         AudioContext.prototype.createOscillator = function () { window.sounds += 1; return real.call(this); };",
        Vec::new(),
    )
    .await?;
    page.tap("#again").await?;
    page.read(&[-2.6; 4], Scale::Decimal(1)).await?;
    page.appears("#verdict").await?;
    ensure!(!page.has("#say-again").await?, "nothing to say again in quiet");
    ensure!(page.is("window.spoken.length === 0 && window.sounds === 0").await?, "quiet is quiet");
    // Out of quiet from within the run.
    page.tap("#speak-steps").await?;
    hears(&page, "degrees").await?;
    page.click("again").await?;
    page.read(&[-2.6; 4], Scale::Decimal(1)).await?;
    page.wait("window.sounds > 0").await
}

pub(crate) async fn a_phone_without_a_voice_says_so(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    give_voice(&page, &voices(false), true).await?;
    page.open(&app.page("settings")).await?;
    page.wait("document.getElementById('voice-state').textContent.includes('no voice of its own')").await?;
    page.tap("#voice").await?;
    ensure!(!page.has("#try-voice").await?, "there is nothing to try");
    at_pitch(&page, &app).await?;
    page.wait("document.getElementById('voice-missing').textContent.includes('no voice of its own')").await?;
    ensure!(page.is("window.spoken.length === 0").await?, "a voice over the network is not used");
    // One is put in while the page is open.
    page.run::<Option<()>>("window.voicesCome(arguments[0]);", vec![voices(true)]).await?;
    page.wait("document.getElementById('voice-missing').textContent === ''").await?;
    page.tap("#say-again").await?;
    hears(&page, "Pitch").await.map(drop)
}

pub(crate) async fn it_waits_for_the_first_touch(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    give_voice(&page, &voices(true), false).await?;
    at_pitch(&page, &app).await?;
    page.tap("#speak-steps").await?;
    page.appears("#say-again").await?;
    tokio::time::sleep(std::time::Duration::from_millis(600)).await;
    ensure!(page.is("window.spoken.length === 0").await?, "a browser lets no page speak that nobody touched");
    let touch = "window.touched = true; document.dispatchEvent(new PointerEvent('pointerup', { bubbles: true }));";
    page.run::<Option<()>>(touch, Vec::new()).await?;
    hears(&page, "Pitch").await.map(drop)
}
