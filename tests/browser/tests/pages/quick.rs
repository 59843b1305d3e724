//! The bench: a quick answer while typing.

use anyhow::{Result, ensure};
use trammel_browser_tests::Bench;

use crate::tour::Tour;

/// Two incidences give a washout, in words too; what is wrong is said, and nothing is kept.
pub(crate) async fn bench_answers_while_typing(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let mut tour = Tour::begin(bench, &app).await?;
    let page = tour.page.clone();
    page.appears("#bench").await?;
    page.tap("#bench").await?;
    page.appears("a[href$='/bench/washout']").await?;
    tour.look("bench").await?;
    page.open(&app.page("bench/washout")).await?;
    page.appears("#given-tip").await?;
    ensure!(page.text("#answer").await?.contains("Still to enter"), "nothing is entered yet");
    page.fill("given-root", "1.8").await?;
    page.fill("given-tip", "0.8").await?;
    page.wait("document.querySelector('#answer').textContent.includes('1.00°')").await?;
    let said = page.text("#answer").await?;
    ensure!(said.contains("less incidence than the root") && said.contains("counts as exact"), "{said}");
    page.fill("given-root-give-or-take", "0.06").await?;
    page.fill("given-tip-give-or-take", "0.08").await?;
    page.wait("document.querySelector('#answer').textContent.includes('Give or take 0.10°')").await?;
    tour.look("bench-washout").await?;
    page.fill("given-tip", "steep").await?;
    page.wait("document.querySelector('#answer .refusal')").await?;
    tour.look("bench-refused").await?;
    page.open(&app.page("bench/difference")).await?;
    page.tap("#units-mm").await?;
    page.wait("document.querySelector('label[for=given-a]').textContent.endsWith(', mm')").await?;
    tour.look("bench-difference").await?;
    page.open(&app.page("bench/nothing-of-the-kind")).await?;
    ensure!(page.text("h1").await?.contains("No such page"), "an unknown reckoning");
    ensure!(page.kept().await? == 0, "the bench keeps nothing");
    tour.end()
}
