//! Double hits, the clicker's keys, and the pad by keyboard and by its stepping keys.

use std::time::{Duration, SystemTime, UNIX_EPOCH};

use anyhow::{Result, ensure};
use serde_json::json;
use tokio::time::sleep;
use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::typing::{BACKSPACE, ENTER, LEFT, PAGE_DOWN, PAGE_UP, RIGHT};
use trammel_browser_tests::{Bench, Page};

/// A glove's bounce, and what lies beyond it.
const BOUNCE: Duration = Duration::from_millis(60);
const QUICK: Duration = Duration::from_millis(170);
const SLOW: Duration = Duration::from_millis(320);

/// The device's clock.
fn now() -> Result<Duration> {
    Ok(SystemTime::now().duration_since(UNIX_EPOCH)?)
}

/// Hits a place, as a finger does, at a time by the device's own clock: how busy the machine is does not matter.
async fn hit(page: &Page, (x, y): (f64, f64), at: Duration) -> Result<()> {
    for kind in ["mousePressed", "mouseReleased"] {
        let (button, timestamp) = ("left", at.as_secs_f64());
        let event = json!({ "type": kind, "x": x, "y": y, "button": button, "clickCount": 1, "timestamp": timestamp });
        page.devtools("Input.dispatchMouseEvent", event).await?;
    }
    Ok(())
}

/// The middle of a control, in sight.
async fn middle(page: &Page, selector: &str) -> Result<(f64, f64)> {
    let body = "const it = document.querySelector(arguments[0]); it.scrollIntoView({ block: 'nearest', behavior: 'instant' }); \
                const box = it.getBoundingClientRect(); return [box.x + box.width / 2, box.y + box.height / 2];";
    page.run(body, vec![json!(selector)]).await
}

async fn shown(page: &Page) -> Result<String> {
    page.text("#reading span").await
}

/// Twice within a quarter of a second counts once, on the same control and on whatever came under the finger meanwhile; a digit that
/// is meant twice counts twice.
pub(crate) async fn a_second_hit_is_not_meant(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.viewport(390, 844).await?;
    page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.step_in(&run, "level-frame").await?;

    // The lower part of "Done", and the bounce lands on the way on that stands there by then.
    let (across, down) = middle(&page, "#done").await?;
    let done = (across, down + 25.0);
    let first = now()?;
    hit(&page, done, first).await?;
    page.appears("#next").await?;
    let under = format!("document.elementFromPoint({}, {})?.closest('a, button')?.id", done.0, done.1);
    let came: Option<String> = page.value(&under).await?;
    ensure!(came.as_deref() == Some("next"), "what comes under the finger is {came:?}: nothing is tried here");
    hit(&page, done, first + Duration::from_millis(200)).await?;
    sleep(2 * SLOW).await;
    ensure!(page.screen().await?.step == "level-frame", "the bounce went on");
    hit(&page, done, now()?).await?;
    page.wait("document.querySelector('main[data-step]').dataset.step !== 'level-frame'").await?;

    page.accept(&run, "tape", 1).await?;
    page.step_in(&run, "twins").await?;
    for (pause, shows) in [(BOUNCE, "7"), (QUICK, "77")] {
        page.press(&["key-clear".to_owned()]).await?;
        sleep(SLOW).await;
        let seven = middle(&page, "#key-7").await?;
        let first = now()?;
        hit(&page, seven, first).await?;
        hit(&page, seven, first + pause).await?;
        ensure!(shown(&page).await? == shows, "{pause:?} apart: {}", shown(&page).await?);
    }
    // Other keys right after each other are other digits.
    page.press(&["key-clear".to_owned()]).await?;
    for key in ["#key-1", "#key-4", "#key-1"] {
        let at = middle(&page, key).await?;
        hit(&page, at, now()?).await?;
    }
    ensure!(shown(&page).await? == "141", "{}", shown(&page).await?);
    // The small keys go down and come up again: quickly twice is meant, a bounce is not.
    let half = middle(&page, "#plus-32").await?;
    sleep(SLOW).await;
    let first = now()?;
    hit(&page, half, first).await?;
    hit(&page, half, first + BOUNCE).await?;
    ensure!(shown(&page).await? == "141 1/32", "{}", shown(&page).await?);
    Ok(())
}

/// On and back; nothing else of a clicker does anything; nothing while a field has the focus, or when the settings say so.
pub(crate) async fn a_clicker_goes_on_and_back(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.step_in(&run, "cautions").await?;
    let at = |step: &str| format!("document.querySelector('main[data-step]')?.dataset.step === '{step}'");
    let before = page.kept().await?;
    for (key, step) in [
        (PAGE_DOWN, "protractor"),
        (RIGHT, "reversal"),
        (PAGE_UP, "protractor"),
        (LEFT, "cautions"),
        (LEFT, "cautions"),
    ] {
        page.strike_once(key).await?;
        page.wait(&at(step)).await?;
    }
    // The keys for a dark screen and a bounce of the key that goes on.
    for key in ['b', '.', '/', ' '] {
        page.strike_once(key).await?;
    }
    ensure!(page.is(&at("cautions")).await?, "a key that means nothing went somewhere");
    page.strike(PAGE_DOWN).await?;
    page.strike(PAGE_DOWN).await?;
    page.wait(&at("protractor")).await?;
    sleep(SLOW).await;
    ensure!(page.is(&at("protractor")).await?, "the second press right after the first went on too");
    ensure!(page.kept().await? == before, "going on and back keeps nothing");

    // Enter does what the large button says: the step is done.
    page.strike_once(LEFT).await?;
    page.wait(&at("cautions")).await?;
    page.strike_once(ENTER).await?;
    page.wait("document.querySelector('main[data-step]').dataset.state === 'done'").await?;

    // In a field the keys are the field's.
    page.step_in(&run, "protractor").await?;
    page.tab_to("#instrument-name").await?;
    page.type_text("3-b. 1/2").await?;
    for key in [LEFT, PAGE_DOWN, PAGE_UP, RIGHT] {
        page.strike_once(key).await?;
    }
    ensure!(page.is(&at("protractor")).await?, "a key went on from a field");
    let held: String = page.value("document.getElementById('instrument-name').value").await?;
    ensure!(held == "3-b. 1/2", "{held}");

    page.open(&app.page("settings")).await?;
    page.tap("#keys-off").await?;
    page.open(&format!("{run}/cautions")).await?;
    page.strike_once(PAGE_DOWN).await?;
    ensure!(page.is(&at("cautions")).await?, "the keys are off");
    Ok(())
}

/// Digits, fractions and signs from a keyboard; one step of the instrument up and down.
pub(crate) async fn keys_step_and_type(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    page.accept(&run, "tape", 1).await?;
    page.accept(&run, "rule", 1).await?;
    page.step_in(&run, "twins").await?;
    page.type_text("227 11/16").await?;
    ensure!(shown(&page).await? == "227 11/16", "{}", shown(&page).await?);
    for _ in 0..6 {
        page.strike(BACKSPACE).await?;
    }
    ensure!(shown(&page).await? == "227", "{}", shown(&page).await?);
    page.type_text("-3/").await?;
    page.reload().await?;
    page.appears("#keep").await?;
    ensure!(shown(&page).await? == "227 3/", "half a fraction is kept: {}", shown(&page).await?);
    page.type_text("4").await?;
    ensure!(shown(&page).await? == "227 3/4", "{}", shown(&page).await?);
    for (key, shows) in [("#step-up", "227 25/32"), ("#step-down", "227 3/4"), ("#step-down", "227 23/32")] {
        page.tap(key).await?;
        ensure!(shown(&page).await? == shows, "{key}: {}", shown(&page).await?);
    }
    let name = page.client().find(fantoccini::Locator::Id("step-up")).await?.attr("aria-label").await?;
    ensure!(name.as_deref() == Some("One step up, 1/32 in"), "{name:?}");

    // An empty pad steps from what the sheet expects; through zero the answer to the question turns over.
    page.step_in(&run, "set/pitch").await?;
    page.tap("#step-up").await?;
    ensure!(shown(&page).await? == "\u{2212}2.5", "a tenth above the sheet's \u{2212}2.6: {}", shown(&page).await?);
    page.press(&keys(0.1, Scale::Decimal(1), true)).await.ok();
    page.press(&["key-clear".to_owned()]).await?;
    page.type_text("+.1").await?;
    for shows in ["0.0", "\u{2212}0.1"] {
        page.tap("#step-down").await?;
        ensure!(shown(&page).await? == shows, "{}", shown(&page).await?);
    }
    ensure!(
        page.is("document.getElementById('sign-minus').ariaPressed === 'true'").await?,
        "below zero is the other way"
    );
    Ok(())
}
