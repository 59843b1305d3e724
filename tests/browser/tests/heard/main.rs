//! A person teaches the phone words and then reads out numbers with a compressor running: real sound, through the browser's microphone, the
//! worklet and the recogniser, to the record. In Chromium, whose microphone can be a wav file.
//!
//! `cargo xtask bench voice` reads the line that begins with "figure:". The speaker is a synthesiser; what is read out later differs in speed
//! and pitch from every take that was taught, and stands among other words.

#![allow(clippy::print_stdout, reason = "the figure is printed")]

mod sound;

use std::path::Path;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, ensure};
use serde_json::Value;
use sound::{Manner, Tape};
use trammel_browser_tests::{Bench, Engine, Launch, Page, run};

/// The words that every tool needs, in the order in which they are taught.
const CORE: [&str; 17] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "minus",
    "point",
    "keep it",
    "strike that",
    "say again",
    "next",
    "go back",
];
const TAKES: [Manner; 2] = [Manner { speed: 145, pitch: 50 }, Manner { speed: 160, pitch: 44 }];
const READ_OUT: Manner = Manner { speed: 152, pitch: 55 };
/// Decibels between speech and compressor.
const NOISE: f64 = 10.0;
/// As many readings are read out.
const READINGS: usize = 4;

#[test]
#[ignore = "a measurement: run by `cargo xtask bench voice`"]
fn heard() {
    run(Engine::Chromium, "heard", taught_and_heard);
}

/// A browser whose microphone is a file, with the profile of the browser before it.
async fn with_microphone(bench: &Bench, profile: &Path, wav: &Path) -> Result<Page> {
    let file = format!("--use-file-for-fake-audio-capture={}%noloop", wav.display());
    let args = [
        "--use-fake-device-for-media-stream",
        "--use-fake-ui-for-media-stream",
        "--autoplay-policy=no-user-gesture-required",
        &file,
    ];
    let launch = Launch { profile: Some(profile), args: &args };
    Ok(Page::new(Engine::Chromium, bench.session(&launch).await?))
}

async fn taught_and_heard(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let folder = tempfile::tempdir()?;
    let (profile, teaching, reading) =
        (folder.path().join("profile"), folder.path().join("teaching.wav"), folder.path().join("reading.wav"));
    std::fs::create_dir_all(&profile)?;
    let mut tape = Tape::default();
    tape.pause(3.0);
    for word in CORE {
        for manner in TAKES {
            tape.say(word, manner)?;
            tape.pause(1.4);
        }
    }
    tape.with_noise(30.0, 1).write(&teaching)?;
    let page = with_microphone(bench, &profile, &teaching).await?;
    page.open(&app.page("settings/voice")).await?;
    page.appears("#teach-begin").await?;
    page.tap("#teach-begin").await?;
    page.appears("#teach-stop").await?;
    within(&page, 100, "document.getElementById('taught').textContent.startsWith('17 of')").await?;
    let next = page.text("#word").await?;
    ensure!(!CORE.contains(&next.as_str()), "every word was taken for itself: {next}");
    page.tap("#teach-stop").await?;
    page.appears("#anew-0").await?;
    // Taken up again: what was taught is there, and the next word is the one that was left.
    page.reload().await?;
    page.wait("document.getElementById('taught').textContent.startsWith('17 of')").await?;
    page.open(&app.page("settings")).await?;
    page.tap("#listening-taught").await?;
    page.client().clone().close().await?;

    let mut tape = Tape::default();
    tape.pause(2.0);
    tape.say("minus two point six", READ_OUT)?;
    tape.pause(3.5);
    tape.say("keep it", READ_OUT)?;
    tape.pause(3.0);
    tape.with_noise(NOISE, 2).write(&reading)?;
    let page = with_microphone(bench, &profile, &reading).await?;
    page.open(app.address().as_str()).await?;
    page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    page.step_in(&run, "set/pitch").await?;
    watch(&page).await?;
    for _ in 0..READINGS {
        let (before, from) = (page.kept().await?, page.value::<String>(PLACE).await?);
        page.tap("#talk").await?;
        within(&page, 40, &format!("Number(document.documentElement.dataset.kept ?? 0) > {before}")).await?;
        page.wait(&format!("({PLACE}) !== '{from}'")).await?;
    }
    let read_back: Vec<String> = page.value("window.readBack").await?;
    page.open(run.split("/run/").next().context("an airframe")?).await?;
    let record: Value = serde_json::from_str(&page.export("export-json").await?.text)?;
    let entries = record["entries"].as_array().context("entries")?;
    let kept: Vec<f64> =
        entries.iter().filter_map(|entry| entry["body"]["reading-taken"]["value"]["value"].as_f64()).collect();
    let unread = kept.len().saturating_sub(read_back.len());
    println!("read out: minus two point six, {READINGS} times at {NOISE} dB; kept {kept:?}; read back {read_back:?}");
    println!("figure: voice_wrong_kept = {}", unread + kept.iter().filter(|value| **value != -2.6).count());
    ensure!(kept == [-2.6; READINGS], "{kept:?}");
    ensure!(unread == 0, "every number was read back before it was kept");
    Ok(())
}

const PLACE: &str =
    "`${document.getElementById('slot-title')?.dataset.slot} ${document.getElementById('slot-title')?.dataset.repeat}`";

/// Waits longer than a page is waited for: somebody is speaking.
async fn within(page: &Page, seconds: u64, condition: &str) -> Result<()> {
    let end = Instant::now() + Duration::from_secs(seconds);
    loop {
        match page.wait(condition).await {
            Err(error) if Instant::now() > end => return Err(error),
            Err(_) => {}
            Ok(()) => return Ok(()),
        }
    }
}

/// Notes every number that is read back on the screen.
async fn watch(page: &Page) -> Result<()> {
    let script = "window.readBack = []; let before = ''; setInterval(() => { \
        const state = document.querySelector('.talk-panel')?.dataset.hearing ?? ''; \
        if (state === 'answers' && before !== 'answers') window.readBack.push(document.getElementById('spoken').textContent); \
        before = state; }, 20);";
    page.run::<Option<()>>(script, Vec::new()).await.map(drop)
}
