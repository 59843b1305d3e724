//! What the phone hears, by the browser's recogniser.

use anyhow::{Context, Result, ensure};
use serde_json::{Value, json};
use trammel_browser_tests::{Bench, Page};

use crate::at_pitch;
use crate::stand_in::{Has, give_ear, give_voice, last, voices};

/// Where the button is at.
async fn is_at(page: &Page, state: &str) -> Result<()> {
    page.wait(&format!("document.querySelector('.talk-panel')?.dataset.hearing === '{state}'")).await
}

/// The readings in the record, in order.
async fn readings(page: &Page, run: &str) -> Result<Vec<Value>> {
    page.open(run.split("/run/").next().context("an airframe")?).await?;
    let record: Value = serde_json::from_str(&page.export("export-json").await?.text)?;
    let entries = record["entries"].as_array().context("entries")?;
    Ok(entries.iter().map(|entry| entry["body"]["reading-taken"]["value"].clone()).filter(|it| !it.is_null()).collect())
}

pub(crate) async fn a_number_is_heard_read_back_and_kept_by_voice(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    give_voice(&page, &voices(true), true).await?;
    let script = json!([
        // What may still change, then what will not; then the answer to the question, then to the read-back.
        [["changing", [["two point", 0.0]]], last(&[("two point six", 0.9)]), ["end", null]],
        [last(&[("tail end low", 0.9)]), ["end", null]],
        [last(&[("yes", 0.9)]), ["end", null]],
        // A wrong one is struck out by voice, and the right one kept.
        [last(&[("minus two point nine", 0.9)]), ["end", null]],
        [last(&[("no", 0.9)]), ["end", null]],
        [last(&[("minus two point six", 0.9)]), ["end", null]],
        [last(&[("keep it", 0.9)]), ["end", null]],
    ]);
    give_ear(&page, Has::Here, &script).await?;
    let run = at_pitch(&page, &app).await?;
    page.tap("#speak-steps").await?;
    let before = page.kept().await?;
    page.tap("#talk").await?;
    page.wait("document.getElementById('hearing')?.textContent === 'two point'").await?;
    page.wait("window.spoken.some((it) => it.text === 'two point six degrees.')").await?;
    ensure!(page.kept().await? == before, "nothing is kept before it is read back and said to be kept");
    page.wait("window.spoken.some((it) => it.text.startsWith('Which end of the longeron is high?') && it.text.includes('Tail end low'))")
        .await?;
    page.wait("window.spoken.some((it) => it.text === 'minus two point six degrees.')").await?;
    page.wait("window.spoken.some((it) => it.text === 'Keep it?')").await?;
    page.wait("window.spoken.some((it) => it.text === 'Kept: minus two point six degrees.')").await?;
    page.wait("document.getElementById('slot-title')?.dataset.repeat === '2'").await?;
    ensure!(page.kept().await? == before + 1);

    page.tap("#talk").await?;
    page.wait("document.getElementById('reading').textContent.includes('2.9')").await?;
    page.wait("document.getElementById('reading').classList.contains('empty')").await?;
    is_at(&page, "still").await?;
    ensure!(page.kept().await? == before + 1, "what was struck out was never kept");
    page.tap("#talk").await?;
    page.wait("document.getElementById('slot-title')?.dataset.slot === 'reversed'").await?;
    let all: Vec<Value> = page.value("window.listened").await?;
    ensure!(all.len() == 7, "{all:?}");
    for it in &all {
        ensure!(
            it["local"] == true
                && it["interim"] == true
                && it["lang"].as_str().is_some_and(|lang| lang.starts_with("en")),
            "{it}"
        );
        let phrases = it["phrases"].as_array().context("phrases")?;
        ensure!(phrases.contains(&json!("keep it")) && phrases.contains(&json!("Tail end low")), "{it}");
    }
    let kept = readings(&page, &run).await?;
    ensure!(kept.iter().map(|it| &it["value"]).eq([&json!(-2.6), &json!(-2.6)]), "{kept:?}");
    Ok(())
}

pub(crate) async fn what_is_not_clear_is_asked(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    give_voice(&page, &voices(true), true).await?;
    let script = json!([
        // Two ways: a question, and the other one taken by a tap.
        [last(&[("minus two point five", 0.8), ("minus two point six", 0.7)]), ["end", null]],
        [["end", null]],
        // It does not stand by what it heard; then nothing that is a number; then an answer that is none.
        [last(&[("minus two point six", 0.2)]), ["end", null]],
        [last(&[("keep hit", 0.9)]), ["end", null]],
        [last(&[("keep it", 0.9)]), ["end", null]],
        // Cut off before its last word.
        [["changing", [["minus two point six", 0.0]]], ["end", null]],
        [["end", null]],
    ]);
    give_ear(&page, Has::Here, &script).await?;
    let run = at_pitch(&page, &app).await?;
    page.tap("#speak-steps").await?;
    let before = page.kept().await?;
    page.tap("#talk").await?;
    page.wait("window.spoken.some((it) => it.text === 'Was it minus two point five degrees?')").await?;
    page.wait("window.spoken.some((it) => it.text === 'Or was it minus two point six degrees?')").await?;
    is_at(&page, "answers").await?;
    is_at(&page, "still").await?;
    page.tap("#heard-1").await?;
    page.wait("document.getElementById('reading').textContent.includes('2.6')").await?;
    ensure!(page.kept().await? == before, "choosing keeps nothing");
    page.tap("#keep").await?;
    page.wait("document.getElementById('slot-title')?.dataset.repeat === '2'").await?;

    page.run::<Option<()>>("window.spoken = [];", Vec::new()).await?;
    page.tap("#talk").await?;
    page.wait("document.getElementById('spoken')?.textContent === 'Was it minus two point six degrees?'").await?;
    page.wait("document.getElementById('deaf').textContent.includes('belongs to no number')").await?;
    page.wait("document.getElementById('slot-title')?.dataset.slot === 'reversed'").await?;

    page.run::<Option<()>>("window.spoken = [];", Vec::new()).await?;
    page.tap("#talk").await?;
    page.wait("window.spoken.some((it) => it.text === 'Was it minus two point six degrees?')").await?;
    is_at(&page, "still").await?;
    page.wait("window.listened.length === 7").await?;
    ensure!(page.kept().await? == before + 2, "what is only asked about is not kept");
    let kept = readings(&page, &run).await?;
    ensure!(kept.len() == 2 && kept.iter().all(|it| it["value"] == -2.6), "{kept:?}");
    Ok(())
}

pub(crate) async fn it_asks_before_the_voice_leaves_the_phone(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let word = json!([[last(&[("minus two point six", 0.9)]), ["end", null]]]);
    give_ear(&page, Has::Silent, &word).await?;
    at_pitch(&page, &app).await?;
    page.tap("#talk").await?;
    page.appears("#voice-asks").await?;
    ensure!(page.is("window.listened.length === 0").await?, "it is asked before anything is heard");
    page.tap("#voice-asks button:not(#voice-agreed)").await?;
    page.wait("!document.getElementById('voice-asks')").await?;
    ensure!(page.is("window.listened.length === 0").await?, "declined: nothing is heard");
    page.tap("#talk").await?;
    page.tap("#voice-agreed").await?;
    page.wait("document.getElementById('reading').textContent.includes('2.6')").await?;
    ensure!(page.is("window.listened[0].local === false").await?);
    // The answer is remembered, and can be taken back.
    page.reload().await?;
    page.tap("#talk").await?;
    page.wait("window.listened.length > 0").await?;
    ensure!(!page.has("#voice-asks").await?);
    let run = page.client().current_url().await?;
    page.open(&app.page("settings")).await?;
    page.tap("#voice-away").await?;
    page.open(run.as_str()).await?;
    page.tap("#talk").await?;
    page.appears("#voice-asks").await?;
    ensure!(page.is("window.listened.length === 0").await?, "taken back: it is asked again");
    page.client().clone().close().await?;

    // One that can be fetched, to be on the phone.
    let page = bench.open().await?;
    give_ear(&page, Has::Fetchable(true), &word).await?;
    at_pitch(&page, &app).await?;
    page.tap("#talk").await?;
    page.tap("#voice-fetch").await?;
    page.wait("window.installed && window.listened.length > 0 && window.listened[0].local === true").await?;
    page.client().clone().close().await?;
    let page = bench.open().await?;
    give_ear(&page, Has::Fetchable(false), &word).await?;
    at_pitch(&page, &app).await?;
    page.tap("#talk").await?;
    page.tap("#voice-fetch").await?;
    page.appears("#voice-agreed").await?;
    ensure!(page.is("window.listened.length === 0").await?, "not fetched: it asks before it sends anything away");
    Ok(())
}

pub(crate) async fn what_goes_wrong_is_said(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let errors = [
        ("not-allowed", "not allowed"),
        ("service-not-allowed", "does not let the app"),
        ("network", "needs a network"),
        ("audio-capture", "no microphone"),
        ("language-not-supported", "does not know this language"),
        ("no-speech", "Nothing was heard"),
        ("anything-else", "failed"),
    ];
    let mut script: Vec<Value> =
        errors.iter().map(|(code, _)| json!([["changing", [["two", 0.0]]], ["error", code], ["end", null]])).collect();
    script.push(json!("throws"));
    script.push(json!([["end", null]]));
    script.push(json!([last(&[("the weather is fine", 0.9)]), ["end", null]]));
    script.push(json!([last(&[("", 0.9)]), ["end", null]]));
    // No phrases: once more without.
    script.push(json!([["error", "phrases-not-supported"], ["end", null]]));
    script.push(json!([last(&[("minus two point six", 0.9)]), ["end", null]]));
    give_ear(&page, Has::Here, &json!(script)).await?;
    let run = at_pitch(&page, &app).await?;
    let before = page.kept().await?;
    let all =
        errors.iter().map(|(_, words)| *words).chain(["would not listen", "Nothing was heard", "belongs to no number"]);
    for words in all.chain(["Nothing was heard"]) {
        page.tap("#talk").await?;
        page.wait(&format!("document.getElementById('deaf').textContent.includes('{words}')"))
            .await
            .with_context(|| page_words(words))?;
        is_at(&page, "still").await?;
        ensure!(page.is("document.getElementById('reading').classList.contains('empty')").await?, "{words}");
    }
    page.tap("#talk").await?;
    page.wait("document.getElementById('reading').textContent.includes('2.6')").await?;
    ensure!(
        page.is("window.listened.at(-1).phrases.length === 0 || window.listened.at(-2).phrases.length === 0").await?
    );
    ensure!(page.kept().await? == before, "nothing of all that was kept");
    // The keys work all the same.
    page.press(&["key-clear".to_owned()]).await?;
    page.read(&[-2.6], trammel_browser_tests::pad::Scale::Decimal(1)).await?;
    ensure!(readings(&page, &run).await?.len() == 1);
    Ok(())
}

fn page_words(words: &str) -> String {
    format!("the app should say {words:?}")
}

pub(crate) async fn where_nothing_listens_the_keyboard_does(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    give_ear(&page, Has::Nothing, &json!([])).await?;
    at_pitch(&page, &app).await?;
    ensure!(!page.has("#talk").await?, "nothing to press where nothing listens");
    page.tap("#listen").await?;
    page.fill("said", "minus two point six").await?;
    page.wait("document.getElementById('reading').textContent.includes('2.6')").await?;
    let before = page.kept().await?;
    page.tap("#keep").await?;
    page.wait(&format!("Number(document.documentElement.dataset.kept ?? 0) === {}", before + 1)).await
}
