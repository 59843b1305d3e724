//! The mating from the first screen to the file that is sent, by real keys alone.

use std::time::Instant;

use anyhow::{Context, Result, bail, ensure};
use serde_json::Value;
use trammel_browser_tests::typing::{DOWN, ENTER, PAGE_DOWN};
use trammel_browser_tests::{Bench, Page, Screen};

/// Whoever reads again and signs the first hold point.
const SECOND: &str = "B. Helper";

/// Every press of a mouse's button or a finger, trusted or not, is noted: there must be none.
const WATCH: &str = "globalThis.pressed = 0; \
    for (const name of ['pointerdown', 'mousedown', 'touchstart']) addEventListener(name, () => { globalThis.pressed += 1 }, true);";

pub(crate) async fn from_start_to_export_by_keyboard(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.before_every_page(WATCH).await?;
    page.open(app.address().as_str()).await?;
    let begun = Instant::now();

    page.press_by_key("#understood").await?;
    page.press_by_key("#example-0").await?;
    page.appears("ol.works").await?;
    page.press_by_key("#work-mate-aft-fuselage").await?;
    page.press_by_key("#open-run").await?;
    page.wait("document.querySelector('main[data-step]')").await?;
    ensure!(page.is("document.activeElement?.id === 'heading'").await?, "a new page begins at its heading");

    let mut steps = 0;
    loop {
        let screen = page.screen().await?;
        if screen.finished {
            break;
        }
        step(&page, &screen).await.with_context(|| format!("at {}", screen.step))?;
        steps += 1;
        ensure!(steps < 80, "no end to it");
    }

    // Up to the airframe, and out.
    page.press_by_key("a.up").await?;
    page.appears("#open-run").await?;
    page.press_by_key("a.up").await?;
    page.press_by_key("#send").await?;
    page.tab_to("[name=send]").await?;
    for _ in 0..10 {
        if page.is("document.activeElement?.id === 'send-record' && document.activeElement.checked").await? {
            break;
        }
        let key = if page.is("document.activeElement?.id === 'send-record'").await? { ' ' } else { DOWN };
        page.strike(key).await?;
    }
    page.wait("document.querySelector('#send-it:enabled')").await?;
    page.run::<Option<()>>(
        "Object.defineProperty(navigator, 'canShare', { value: () => false, configurable: true });",
        Vec::new(),
    )
    .await?;
    page.press_by_key("#send-it").await?;
    let file = page.handed_out().await?;
    let record: Value = serde_json::from_str(&std::fs::read_to_string(&file)?)?;
    let entries = record["entries"].as_array().context("entries")?;
    let of = |kind: &str| entries.iter().filter(|entry| entry["body"].get(kind).is_some()).count();
    let (readings, signed) = (of("reading-taken"), of("hold-signed"));
    ensure!(signed == 4 && readings > 60, "{readings} readings, {signed} signatures in the file");
    ensure!(page.value::<u32>("globalThis.pressed").await? == 0, "something was pressed otherwise than by a key");
    println!("{steps} steps, {readings} readings by keyboard alone in {:.0} s", begun.elapsed().as_secs_f64());
    Ok(())
}

/// Does what the screen asks and goes on.
async fn step(page: &Page, screen: &Screen) -> Result<()> {
    let can = |id: &str| screen.can.iter().any(|control| control == id);
    if can("done") {
        page.strike_once(ENTER).await?;
        done(page).await?;
    } else if can("accept") {
        let preset = if screen.step == "protractor" { 0 } else { 1 };
        page.tab_to("[name=preset]").await?;
        while !page.is(&format!("document.activeElement?.id === 'preset-{preset}'")).await? {
            page.strike(DOWN).await?;
        }
        page.press_by_key("#accept").await?;
        done(page).await?;
    } else if can("keep-count") {
        let count = if screen.step == "pilot" { "4" } else { "48" };
        page.tab_to("#good").await?;
        page.type_text(count).await?;
        page.press_by_key("#keep-count").await?;
        done(page).await?;
    } else if screen.hold.is_some() {
        sign(page, screen).await?;
    } else {
        measure(page, screen).await?;
    }
    if page.screen().await?.finished {
        return Ok(());
    }
    page.strike_once(PAGE_DOWN).await?;
    page.wait(&format!("document.querySelector('main[data-step]')?.dataset.step !== '{}'", screen.step)).await
}

async fn done(page: &Page) -> Result<()> {
    page.wait("document.querySelector('main[data-step]')?.dataset.state === 'done'").await
}

/// Reads until the verdict is there; the phone changes hands where somebody reads blind.
async fn measure(page: &Page, screen: &Screen) -> Result<()> {
    if page.has("#reader").await? {
        page.tab_to("#reader").await?;
        page.type_text(SECOND).await?;
        page.press_by_key("#begin-reading").await?;
        page.appears("#slot-title").await?;
    }
    loop {
        let now = page.screen().await?;
        let Some((slot, repeat)) = now.slot else {
            ensure!(matches!(now.verdict.as_deref(), Some("in" | "not-judged")), "{now:?}");
            return Ok(());
        };
        page.type_text(reading(&screen.step, &slot)?).await?;
        let before = page.kept().await?;
        page.strike_once(ENTER).await?;
        if page.has("#as-read").await? {
            page.press_by_key("#as-read").await?;
        }
        page.wait(&format!("Number(document.documentElement.dataset.kept) > {before}")).await?;
        let next = format!(
            "document.getElementById('verdict') || (document.getElementById('slot-title') && \
             (({{ slot, repeat }}) => slot !== '{slot}' || Number(repeat) !== {repeat})(document.getElementById('slot-title').dataset))"
        );
        page.wait(&next).await?;
    }
}

/// What is typed, sign and fraction included.
fn reading(step: &str, slot: &str) -> Result<&'static str> {
    let check = step.rsplit('/').next().unwrap_or(step);
    Ok(match (check, slot) {
        ("reversal", "first") => "0.3+",
        ("reversal", _) => "-.1",
        ("pitch", _) | ("reread", "direct" | "reversed") => "-2.6",
        ("twist", _) => "+0.1",
        ("square" | "reread", _) => "227 7/16",
        ("offset", _) => "0",
        ("twins", _) => "17-1/4",
        ("edge", _) => "3/8",
        ("gaps", _) => "1/32",
        _ => bail!("no reading of {slot} at {step}"),
    })
}

async fn sign(page: &Page, screen: &Screen) -> Result<()> {
    ensure!(screen.hold.as_deref() == Some("ready"), "{screen:?}");
    page.tab_to("#agree").await?;
    page.strike(' ').await?;
    page.tab_to("#signer").await?;
    page.type_text(if screen.step == "hold-a" { SECOND } else { "A. Builder" }).await?;
    page.press_by_key("#sign").await?;
    page.wait("document.getElementById('hold')?.dataset.hold === 'signed'").await
}
