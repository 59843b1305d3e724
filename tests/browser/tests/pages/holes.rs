//! A map of holes: laid out, marked hole by hole and row by row, a bad one that shuts the hold point until it is put right.

use anyhow::{Result, ensure};
use fantoccini::Locator;
use fantoccini::key::Key;
use serde_json::json;
use trammel_browser_tests::{Bench, Page, in_engines};

use crate::tour::Tour;

in_engines! {
    chromium Chromium: bad_hole_shuts_the_hold_point;
    webkit WebKit: bad_hole_shuts_the_hold_point;
}

/// What a hole's button is called, and how the page says it stands.
async fn hole(page: &Page, id: &str) -> Result<(String, String)> {
    let read = "const it = document.getElementById(arguments[0]); \
                return [it.getAttribute('aria-label'), `${it.dataset.hole} ${it.querySelector('small').textContent}`.trim()];";
    page.run(read, vec![json!(id)]).await
}

async fn counts(page: &Page, words: &str) -> Result<()> {
    page.wait(&format!("document.getElementById('hole-counts')?.textContent === {}", json!(words))).await
}

/// Everything before the map of the rivets.
async fn before(page: &Page, run: &str) -> Result<()> {
    page.confirm(run, "cautions").await?;
    page.accept(run, "rule", 0).await?;
    for step in ["closed-inside", "grip", "trial-pulled"] {
        page.confirm(run, step).await?;
    }
    page.step_in(run, "hold-a").await?;
    sign(page).await?;
    page.confirm(run, "first").await
}

async fn sign(page: &Page) -> Result<()> {
    page.paste("signer", "B. Helper").await?;
    page.tap("#agree").await?;
    page.tap("#sign").await?;
    page.wait("document.getElementById('hold')?.dataset.hold === 'signed'").await
}

pub(crate) async fn bad_hole_shuts_the_hold_point(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let mut tour = Tour::begin(bench, &app).await?;
    let page = tour.page.clone();
    let airframe = page.make_example(&app).await?;
    page.tap("#work-riveting").await?;
    page.tap("#open-run").await?;
    page.appears("main[data-step]").await?;
    let run = format!("{airframe}/run/riveting");
    before(&page, &run).await?;

    page.step_in(&run, "set-pulled").await?;
    page.appears("#rows").await?;
    ensure!(page.text("#hole-ask").await? == "48 rivets set and looked at.", "the sheet's number");
    page.paste("rows", "twelve").await?;
    page.tap("#lay-out").await?;
    page.wait("document.querySelector('.hole-map .refusal')?.textContent.includes('12 12 8 is three rows')").await?;
    tour.look("holes-refused").await?;
    page.paste("rows", "5 3").await?;
    page.tap("#lay-out").await?;
    page.appears("#hole-2-3").await?;
    ensure!(
        page.text("#hole-sum").await?.starts_with("The map has 8, the sheet says 48."),
        "what does not add up is said"
    );
    marking(&mut tour, &page).await?;

    // As many as the sheet says; what was marked stays where it is.
    page.tap("#lay-out-anew").await?;
    page.paste("rows", "17 16 15").await?;
    page.tap("#lay-out").await?;
    page.appears("#hole-3-15").await?;
    page.wait("!document.getElementById('hole-sum')").await?;
    for row in 1..=3 {
        page.tap(&format!("#row-{row}-done")).await?;
        page.wait(&format!("!document.querySelector('[id^=hole-{row}-][data-hole=to-go]')")).await?;
    }
    counts(&page, "47 of 48 done, 1 bad, 0 to go.").await?;
    tour.look("holes-one-bad").await?;
    page.reload().await?;
    counts(&page, "47 of 48 done, 1 bad, 0 to go.").await?;
    ensure!(hole(&page, "hole-2-1").await?.0 == "Row 2, hole 1: bad, tilted", "after a restart");
    closing(&mut tour, &page, &run).await?;
    tour.end()
}

/// Done by hand and by keyboard, cleared, bad with a reason; a tap does not hide a bad one.
async fn marking(tour: &mut Tour, page: &Page) -> Result<()> {
    page.click("hole-1-1").await?;
    counts(page, "1 of 8 done, 0 bad, 7 to go.").await?;
    ensure!(hole(page, "hole-1-1").await? == ("Row 1, hole 1: done".to_owned(), "done D".to_owned()));
    ensure!(page.kept().await? > 0, "stored before it is shown");
    let by_key = page.client().find(Locator::Id("hole-2-3")).await?;
    by_key.send_keys(&String::from(char::from(Key::Enter))).await?;
    counts(page, "2 of 8 done, 0 bad, 6 to go.").await?;
    page.tap("#tool-clear").await?;
    page.run::<Option<()>>("document.getElementById('hole-1-1').focus(); return null;", Vec::new()).await?;
    page.tap("#hole-1-1").await?;
    counts(page, "1 of 8 done, 0 bad, 7 to go.").await?;
    ensure!(page.value::<String>("document.activeElement.id").await? == "hole-1-1", "the focus stays at the hole");
    ensure!(hole(page, "hole-1-1").await? == ("Row 1, hole 1: to go".to_owned(), "to-go".to_owned()));
    page.tap("#tool-bad").await?;
    page.appears("#why-3").await?;
    page.tap("#why-3").await?;
    page.click("hole-2-1").await?;
    counts(page, "1 of 8 done, 1 bad, 6 to go.").await?;
    ensure!(hole(page, "hole-2-1").await? == ("Row 2, hole 1: bad, tilted".to_owned(), "bad B".to_owned()));
    tour.look("holes-marking-bad").await?;
    let kept = page.kept().await?;
    page.tap("#tool-done").await?;
    page.wait("!document.getElementById('why-3')").await?;
    page.click("hole-2-1").await?;
    page.wait("document.getElementById('hole-refusal').textContent.startsWith('Row 2, hole 1 is bad.')").await?;
    ensure!(page.kept().await? == kept, "nothing was stored");
    Ok(())
}

/// The hold point refuses by name; the bad one is put right, another turns out not to be bad, and it opens.
async fn closing(tour: &mut Tour, page: &Page, run: &str) -> Result<()> {
    for step in ["inside", "close"] {
        page.confirm(run, step).await?;
    }
    page.step_in(run, "sign").await?;
    let screen = page.screen().await?;
    ensure!(
        screen.hold.as_deref() == Some("shut") && screen.missing == ["Set them: row 2, hole 1: tilted."],
        "{screen:?}"
    );
    tour.look("holes-hold-shut").await?;
    page.tap("#missing a").await?;
    page.appears("#bad-2-1").await?;
    page.tap("#tool-bad").await?;
    page.click("hole-1-4").await?;
    page.appears("#bad-1-4").await?;
    page.tap("#bad-1-4").await?;
    page.tap("#not-bad").await?;
    page.wait("!document.getElementById('bad-1-4')").await?;
    ensure!(hole(page, "hole-1-4").await?.0 == "Row 1, hole 4: done", "as it was before");
    page.tap("#bad-2-1").await?;
    page.appears("#answer-note").await?;
    ensure!(page.is("document.getElementById('keep-answer').disabled").await?, "not without words");
    page.paste("answer-note", "drilled out and replaced").await?;
    tour.look("holes-answer").await?;
    page.tap("#keep-answer").await?;
    counts(page, "48 of 48 done (1 of them put right), 0 bad, 0 to go.").await?;
    let right = ("Row 2, hole 1: put right, drilled out and replaced".to_owned(), "put-right P".to_owned());
    ensure!(hole(page, "hole-2-1").await? == right);
    ensure!(page.screen().await?.state == "done");
    tour.look("holes-done").await?;
    page.step_in(run, "sign").await?;
    page.wait("document.getElementById('hold')?.dataset.hold === 'ready'").await?;
    sign(page).await
}
