//! What is wrong is refused with a reason, nothing is kept silently, and nothing is lost.

use anyhow::{Result, ensure};
use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::{Bench, Engine, Page, in_engines};

in_engines! {
    chromium Chromium: no_key_moves, the_pad_refuses_and_keeps_the_digits, half_typed_digits_survive_a_reload, only_one_tab_writes;
    firefox Firefox: the_pad_refuses_and_keeps_the_digits, half_typed_digits_survive_a_reload, only_one_tab_writes;
    webkit WebKit: no_key_moves, the_pad_refuses_and_keeps_the_digits, half_typed_digits_survive_a_reload, only_one_tab_writes;
}

const TAPE: Scale = Scale::Fraction(32);

/// An example airframe with its instruments accepted, and the address of its run.
async fn at_work(bench: &Bench) -> Result<(trammel_browser_tests::AppServer, Page, String)> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    page.accept(&run, "tape", 1).await?;
    page.accept(&run, "rule", 1).await?;
    Ok((app, page, run))
}

/// From the first digit to a refusal every key stays where the thumb found it.
async fn no_key_moves(bench: &Bench) -> Result<()> {
    // From the head of the page: the driver scrolls to what it clicks, and the keys may stick to the lower edge.
    const WHERE: &str = "(scrollTo({ top: 0, behavior: 'instant' }), [...document.querySelectorAll('.key, .sign, #keep')] \
        .map((it) => [it.id, it.offsetLeft, Math.round(it.getBoundingClientRect().top)]))";
    let (_app, page, run) = at_work(bench).await?;
    // As high as a phone: on a lower screen a refusal of several lines pushes the keys down (docs/decisions/0023).
    if page.engine == Engine::Chromium {
        page.viewport(390, 844).await?;
    }
    for (step, typed) in
        [("twins", &["key-5", "key-2", "key-0", "eighth-3"][..]), ("reversal", &["key-3", "key-point"])]
    {
        page.step_in(&run, step).await?;
        let before: Vec<(String, i64, i64)> = page.value(WHERE).await?;
        ensure!(before.len() > 12, "{step}: {before:?}");
        for key in typed {
            page.press(&[(*key).to_owned()]).await?;
            let after: Vec<(String, i64, i64)> = page.value(WHERE).await?;
            ensure!(after == before, "{step}: {key} moves the keys: {before:?} {after:?}");
        }
        page.tap("#keep").await?;
        page.wait("document.getElementById('refusal').textContent.trim()").await?;
        let after: Vec<(String, i64, i64)> = page.value(WHERE).await?;
        ensure!(after == before, "{step}: the refusal moves the keys: {before:?} {after:?}");
        page.press(&["key-clear".to_owned()]).await?;
    }
    Ok(())
}

/// Types what is refused: a reason is given, the digits stay, nothing is kept.
async fn refused(page: &Page, keys: &[String], shown: &str) -> Result<String> {
    let before = page.kept().await?;
    let why = page.enter(keys).await?;
    ensure!(!why.is_empty(), "{shown} was kept");
    ensure!(page.kept().await? == before, "{shown} was kept");
    let reading = page.text("#reading").await?;
    ensure!(reading.contains(shown), "{shown} was typed, {reading} is left");
    ensure!(page.value::<String>("document.getElementById('refusal').getAttribute('role')").await? == "alert");
    page.press(&["key-clear".to_owned()]).await?;
    page.wait("!document.getElementById('refusal').textContent.trim()").await?;
    Ok(why)
}

async fn the_pad_refuses_and_keeps_the_digits(bench: &Bench) -> Result<()> {
    let (_app, page, run) = at_work(bench).await?;

    page.step_in(&run, "twins").await?;
    ensure!(page.is("document.getElementById('keep').disabled").await?, "an empty pad can be kept");
    // The sheet gives 17 1/4 in: thirty times that is 517 1/2.
    let why = refused(&page, &keys(520.0, TAPE, false), "520").await?;
    ensure!(why.contains("520") && why.contains("17"), "it names both numbers: {why}");
    refused(&page, &keys(0.5, TAPE, false), "1/2").await?;

    // No shop has a tape of a hundred miles.
    page.step_in(&run, "gaps").await?;
    refused(&page, &keys(9_999_999.0, Scale::Fraction(64), false), "9999999").await?;

    // A number without the answer that gives it its sign is no reading; nor is a lone point.
    page.step_in(&run, "reversal").await?;
    let why = refused(&page, &keys(0.3, Scale::Decimal(1), false), "0.3").await?;
    ensure!(why.to_lowercase().contains("question"), "{why}");
    page.press(&["sign-plus".to_owned()]).await?;
    refused(&page, &keys(999.0, Scale::Decimal(1), false), "999").await?;

    // And after all that a good one is taken.
    page.step_in(&run, "twins").await?;
    page.read(&[17.25, 17.25], TAPE).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("in"));
    Ok(())
}

async fn half_typed_digits_survive_a_reload(bench: &Bench) -> Result<()> {
    let (_app, page, run) = at_work(bench).await?;
    page.step_in(&run, "twins").await?;
    page.read(&[17.25], TAPE).await?;
    page.press(&keys(17.28125, TAPE, false)).await?;
    settle().await;
    page.reload().await?;
    page.wait("document.getElementById('slot-title')?.dataset.slot === 'twin-right'").await?;
    ensure!(page.text("#reading").await?.contains("17 9/32"), "{}", page.text("#reading").await?);
    page.press(&["key-back".to_owned()]).await?;
    settle().await;
    page.reload().await?;
    page.appears("#reading").await?;
    let reading = page.text("#reading").await?;
    ensure!(reading.starts_with("17") && !reading.contains('/'), "{reading}");

    page.step_in(&run, "reversal").await?;
    page.press(&keys(-2.5, Scale::Decimal(1), true)).await?;
    settle().await;
    page.reload().await?;
    page.appears("#reading").await?;
    ensure!(page.text("#reading").await?.contains("2.5"), "{}", page.text("#reading").await?);
    ensure!(page.is("document.getElementById('sign-minus').getAttribute('aria-pressed') === 'true'").await?);
    ensure!(page.enter(&[]).await?.is_empty(), "what was half typed can be kept");
    ensure!(page.text(".reading").await?.contains("2.5"), "{}", page.text(".reading").await?);

    // What was kept does not come back as half typed.
    page.reload().await?;
    page.wait("document.getElementById('slot-title')?.dataset.slot === 'turned'").await?;
    ensure!(!page.text("#reading").await?.contains("2.5"));
    Ok(())
}

/// The draft is written at every key, behind the screen.
async fn settle() {
    tokio::time::sleep(std::time::Duration::from_millis(150)).await;
}

async fn only_one_tab_writes(bench: &Bench) -> Result<()> {
    let (_app, page, run) = at_work(bench).await?;
    page.step_in(&run, "twins").await?;
    ensure!(!page.has("#not-writer").await?, "the only tab writes");
    let first = page.client().window().await?;
    let second = page.client().new_window(true).await?.handle;
    page.client().switch_to_window(second.clone()).await?;
    page.open(&format!("{run}/twins")).await?;
    page.appears("#not-writer").await?;

    // What the first keeps is seen in the second.
    page.client().switch_to_window(first.clone()).await?;
    page.read(&[17.25], TAPE).await?;
    page.client().switch_to_window(second.clone()).await?;
    page.wait("document.querySelectorAll('.reading').length === 1").await?;

    // Taking over: then the first only looks.
    page.tap("#write-here").await?;
    page.wait("!document.getElementById('not-writer')").await?;
    page.read(&[17.25], TAPE).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("in"));
    page.client().switch_to_window(first).await?;
    page.appears("#not-writer").await?;
    page.wait("document.querySelectorAll('.reading').length === 2").await
}
