//! The page of all readings: what to move, a move taken back, the checks across the gates, and what a proposal would do.

use anyhow::{Result, ensure};
use trammel_browser_tests::Page;

use crate::tour::Tour;

/// A move that was only written down is taken back after a restart, and what it made stale is fresh again.
pub(crate) async fn take_back(page: &Page) -> Result<()> {
    undo(page).await?;
    page.appears("#verdict").await?;
    ensure!(page.kept().await? == 1, "one strike since the restart");
    ensure!(page.screen().await?.verdict.as_deref() == Some("out"), "the reading before the move counts again");
    Ok(())
}

/// What to move by all readings together; the move said, taken back, and said again.
pub(crate) async fn moving_together(tour: &mut Tour, page: &Page) -> Result<()> {
    page.tap("#together").await?;
    page.appears("#together .moved").await?;
    tour.look("place-to-move").await?;
    page.tap("#together .moved").await?;
    page.appears("#undo-move").await?;
    tour.look("place-moved").await?;
    undo(page).await?;
    page.appears("#together .moved").await?;
    page.tap("#together .moved").await?;
    page.appears("#undo-move").await
}

/// Taps the way back: at once, as a second hit of a glove does, which does nothing; and again when the words were read.
async fn undo(page: &Page) -> Result<()> {
    page.reload().await?;
    page.appears("#undo-move").await?;
    let kept = page.kept().await?;
    page.tap("#undo-move").await?;
    page.run_async::<Option<()>>("await new Promise((done) => setTimeout(done, 800));", Vec::new()).await?;
    ensure!(page.kept().await? == kept, "a hit that came too soon counted");
    page.tap("#undo-move").await?;
    page.wait("!document.getElementById('undo-move')").await
}

/// Where the cone sits by all readings, how the checks came through two gates, and what a proposal would do.
pub(crate) async fn placing(tour: &mut Tour, page: &Page) -> Result<()> {
    page.to_mating().await?;
    tour.look("work").await?;
    page.tap("#place").await?;
    page.appears("#fitted li").await?;
    ensure!(page.count(".fitted-check").await? == 4, "pitch, twist, square, offset");
    ensure!(page.count(".views svg").await? == 3, "from the left, from above, from behind");
    ensure!(page.count(".gates .gate").await? == 8, "four checks at two gates");
    let large = page.text(".gate .large").await?;
    ensure!(large.starts_with("+0.078 in since set: more than half the tolerance"), "5/64 in: {large}");
    tour.look("place").await?;
    let before = page.text("#forecast").await?;
    page.tap("#try-saddle-4").await?;
    page.wait("document.querySelector('.try').textContent.includes('Raise the saddle 1/8 in')").await?;
    let raised = page.text("#forecast").await?;
    ensure!(raised.contains("Pitch") && raised.contains(" to spare") && raised != before, "{raised}");
    tour.look("place-what-if").await?;
    within_sight(tour, page).await?;
    page.tap("#try-none").await?;
    page.wait("document.querySelector('.try').textContent.includes('not moved')").await?;
    ensure!(page.text("#forecast").await? == before, "as if nothing had been tried");
    Ok(())
}

/// While a thumb steps, what it does is on the screen with the keys; lying, the keys are on the side of the hand.
async fn within_sight(tour: &mut Tour, page: &Page) -> Result<()> {
    let seen = "const key = document.getElementById('try-saddle-4'); key.scrollIntoView({ block: 'center', behavior: 'instant' }); \
                const [keys, says] = [key.parentElement, document.getElementById('forecast')].map((it) => it.getBoundingClientRect()); \
                return [keys, says].flatMap((it) => [it.left, it.right, it.top, it.bottom]).concat(innerWidth, innerHeight);";
    for hand in ["right", "left"] {
        page.run::<Option<()>>(&format!("document.documentElement.dataset.hand = '{hand}'; return null;"), Vec::new())
            .await?;
        for size in [(320, 640), (740, 360)] {
            tour.resize(size).await?;
            let [left, right, top, bottom, says_left, says_right, says_top, says_bottom, width, height]: [f64; 10] =
                page.run(seen, Vec::new()).await?;
            let context = format!("{hand} hand, {size:?}");
            tour.expect(bottom - top > 63.99, &format!("{context}: keys {} high", bottom - top));
            let seen = says_top >= 0.0 && says_bottom <= height + 0.5;
            tour.expect(seen, &format!("{context}: the forecast from {says_top} to {says_bottom}"));
            let apart = says_bottom <= top || says_right <= left || right <= says_left;
            tour.expect(apart, &format!("{context}: the forecast lies on the keys"));
            let near = size.0 < size.1 || (left + right > width) == (hand == "right");
            tour.expect(near, &format!("{context}: the keys from {left} to {right}"));
        }
        tour.look(&format!("place-what-if-{hand}")).await?;
    }
    page.run::<Option<()>>("document.documentElement.dataset.hand = 'right'; return null;", Vec::new()).await.map(drop)
}
