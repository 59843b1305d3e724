//! A run that was interrupted; a screen that stays lit; a phone that keeps turning its picture.

use anyhow::{Result, ensure};
use trammel_browser_tests::{Bench, Page};

use super::{DEGREES, look_at, mating};

/// A clock that a test can move on, by minutes. Firefox's and WebKit's drivers run no script before the page's own.
const CLOCK: &str = r"
const Real = Date;
const shift = () => Number(localStorage.getItem('test.minutes') ?? 0) * 60_000;
globalThis.Date = class extends Real {
  constructor(...given) { if (given.length) super(...given); else super(Real.now() + shift()); }
  static now() { return Real.now() + shift(); }
};";

async fn minutes_pass(page: &Page, minutes: i32) -> Result<()> {
    page.run::<Option<()>>(&format!("localStorage.setItem('test.minutes', '{minutes}');"), Vec::new()).await.map(drop)
}

/// The app goes behind another and comes back.
async fn comes_back(page: &Page) -> Result<()> {
    page.run::<Option<()>>("document.dispatchEvent(new Event('visibilitychange'));", Vec::new()).await.map(drop)
}

pub(super) async fn a_pause_asks_first(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.before_every_page(CLOCK).await?;
    let run = mating(&page, &app).await?;
    page.confirm(&run, "cautions").await?;
    page.step_in(&run, "set/pitch").await?;
    page.read(&[-2.6; 4], DEGREES).await?;
    page.step_in(&run, "set/twist").await?;
    page.read(&[0.1; 4], DEGREES).await?;
    page.step_in(&run, "clamped/pitch").await?;
    page.read(&[-2.6; 2], DEGREES).await?;
    page.press(&["key-2".to_owned()]).await?;

    minutes_pass(&page, 5).await?;
    comes_back(&page).await?;
    ensure!(!page.has("main.back").await?, "five minutes are no pause");
    minutes_pass(&page, 43).await?;
    comes_back(&page).await?;
    page.appears("main.back").await?;
    let words = page.text("#back-words").await?;
    ensure!(words.starts_with("You were at step ") && words.ends_with(", 43 minutes ago."), "{words}");
    ensure!(
        page.text("#back-datum").await? == "Read the datum again first: “Twist, set”",
        "{}",
        page.text("#back-datum").await?
    );
    ensure!(page.text("#back-over").await?.starts_with("Go back three steps, from “"));
    let first = page.value::<String>("document.querySelector('.back-keys').firstElementChild.id").await?;
    ensure!(first == "back-datum", "the datum comes first: {first}");
    look_at(&page, "back").await?;

    // By the keyboard: go on here, with the digits as they were.
    page.client().find(fantoccini::Locator::Id("back-on")).await?.send_keys("\u{e007}").await?;
    page.appears("#slot-title").await?;
    ensure!(page.text("#reading span").await?.ends_with('2'), "{}", page.text("#reading span").await?);
    comes_back(&page).await?;
    ensure!(!page.has("main.back").await?, "one pause is asked about once");

    // The app was closed: three minutes are enough, and the datum is one tap away.
    page.tap("#key-clear").await?;
    page.read(&[-2.6; 1], DEGREES).await?;
    minutes_pass(&page, 46).await?;
    page.reload().await?;
    page.appears("main.back").await?;
    page.click("back-datum").await?;
    page.wait("document.querySelector('main[data-step]')?.dataset.step === 'set/twist'").await?;
    page.appears("#again").await?;

    // Three steps back.
    minutes_pass(&page, 600).await?;
    page.reload().await?;
    page.appears("main.back").await?;
    ensure!(page.text("#back-words").await?.ends_with(" hours ago."), "{}", page.text("#back-words").await?);
    let from = page.text("main.back ul li").await?;
    page.click("back-over").await?;
    page.appears("main[data-step]").await?;
    let title = page.text("h1").await?;
    ensure!(from.starts_with(&title), "{from}: {title}");

    // The clock was set back.
    minutes_pass(&page, -120).await?;
    page.reload().await?;
    page.appears("main.back").await?;
    ensure!(page.text("#back-words").await?.contains("set back"), "{}", page.text("#back-words").await?);
    minutes_pass(&page, 0).await
}

/// A browser that keeps the screen lit, lets go of it when the app is behind another, and counts how often it was asked.
const LAMP: &str = r"
globalThis.lamps = [];
globalThis.refuses = false;
Object.defineProperty(navigator, 'wakeLock', { configurable: true, value: { request: async (kind) => {
  if (globalThis.refuses) throw new DOMException('the battery is low', 'NotAllowedError');
  const lamp = new EventTarget();
  lamp.kind = kind;
  lamp.lit = true;
  lamp.release = async () => { lamp.lit = false; lamp.dispatchEvent(new Event('release')); };
  globalThis.lamps.push(lamp);
  return lamp;
} } });";

pub(super) async fn the_screen_stays_lit(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.before_every_page(LAMP).await?;
    let run = mating(&page, &app).await?;
    page.step_in(&run, "set/pitch").await?;
    page.wait("lamps.filter((it) => it.lit).length === 1 && lamps.at(-1).kind === 'screen'").await?;
    let before: usize = page.value("lamps.length").await?;
    // Behind another app the browser lets go; in front again it is asked again.
    page.run::<Option<()>>("lamps.at(-1).release();", Vec::new()).await?;
    page.wait(&format!("lamps.length > {before} && lamps.filter((it) => it.lit).length === 1")).await?;
    ensure!(page.text("#awake").await?.is_empty());
    page.run::<Option<()>>("globalThis.refuses = true; lamps.at(-1).release();", Vec::new()).await?;
    page.wait("document.getElementById('awake').textContent.includes('may switch its screen off')").await?;
    page.run::<Option<()>>("globalThis.refuses = false;", Vec::new()).await?;
    comes_back(&page).await?;
    page.wait("document.getElementById('awake').textContent === '' && lamps.filter((it) => it.lit).length === 1")
        .await?;
    // Out of the run the phone may sleep.
    page.tap("a.up").await?;
    page.appears("#open-run").await?;
    page.wait("lamps.every((it) => !it.lit)").await
}

pub(super) async fn turning_is_told_of_once(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = mating(&page, &app).await?;
    page.step_in(&run, "set/pitch").await?;
    let turn = "screen.orientation.dispatchEvent(new Event('change'));";
    page.run::<Option<()>>(turn, Vec::new()).await?;
    ensure!(!page.has("#turning").await?, "one turn is meant");
    page.run::<Option<()>>(turn, Vec::new()).await?;
    page.appears("#turning").await?;
    ensure!(page.text("#turning").await?.contains("lock the rotation"));
    page.tap("#turning-seen").await?;
    page.wait("!document.getElementById('turning')").await?;
    page.run::<Option<()>>(&turn.repeat(3), Vec::new()).await?;
    ensure!(!page.has("#turning").await?, "it is said once");
    Ok(())
}
