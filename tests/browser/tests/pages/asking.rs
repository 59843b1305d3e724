//! Asking, answering, and the desk, at every size.

use anyhow::{Result, ensure};
use trammel_browser_tests::{AppServer, Bench, Page};

use crate::tour::{DEGREES, Tour};

/// An airframe whose pitch was read; the address of its run.
async fn pitched(page: &Page, app: &AppServer, pitch: f64) -> Result<String> {
    page.make_example(app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    page.step_in(&run, "set/pitch").await?;
    page.read(&[pitch; 4], DEGREES).await?;
    Ok(run)
}

pub(crate) async fn asking_answering_and_the_desk(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let mut tour = Tour::begin(bench, &app).await?;
    let page = tour.page.clone();
    page.tap("#understood").await?;
    let run = pitched(&page, &app, -3.4).await?;
    page.tap("#ask").await?;
    page.appears("#ask-it").await?;
    ensure!(page.is("document.getElementById('ask-it').disabled").await?, "nobody is asked nothing");
    page.paste("question", "The pitch is out. What would you move?").await?;
    page.paste("to", "C. Mentor").await?;
    tour.look("ask").await?;
    page.tap("#ask-it").await?;
    page.wait("document.getElementById('send-question')?.disabled === false").await?;
    tour.look("question-asked").await?;

    // Another phone, as far as the page can tell.
    page.become_another_phone().await?;
    page.appears("#keep-remark").await?;
    page.tap("#move-2").await?;
    page.paste("answers", "C. Mentor").await?;
    page.paste("remark", "Lower the saddle and read it again.").await?;
    page.tap("#keep-remark").await?;
    page.wait("document.getElementById('remark-refusal').textContent.trim()").await?;
    tour.look("question-to-answer").await?;
    page.paste("amount", "1/8").await?;
    page.tap("#keep-remark").await?;
    page.appears("#remarks .remark").await?;
    tour.look("question-answered").await?;
    page.open(&format!("{run}/set/pitch")).await?;
    page.appears(".remark").await?;
    tour.look("step-remark").await?;

    pitched(&page, &app, -2.5).await?;
    page.open(&app.page("desk")).await?;
    page.tap("input[name=type]").await?;
    page.appears("#spreads").await?;
    tour.look("desk").await?;
    tour.end()
}
