//! What is written down at a step beside its readings, what is left to do, and the time that was spent, at every size.

use anyhow::Result;
use trammel_browser_tests::{Bench, in_engines};

use crate::tour::{DEGREES, Tour};

in_engines! {
    chromium Chromium: what_is_written_down;
}

pub(crate) async fn what_is_written_down(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let mut tour = Tour::begin(bench, &app).await?;
    let page = tour.page.clone();
    page.tap("#understood").await?;
    let airframe = page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    page.step_in(&run, "set/pitch").await?;
    page.read(&[-3.4; 4], DEGREES).await?;
    page.tap("#notes").await?;
    page.appears("#add-item").await?;
    tour.look("notes").await?;
    page.tap("#add-deviation").await?;
    page.paste("deviation-reason", "The tail is rigged to suit.").await?;
    page.paste("deviation-asked", "C. Mentor").await?;
    tour.look("notes-deviation").await?;
    page.tap("#raise-deviation").await?;
    page.appears(".done-with").await?;
    page.tap("#add-item").await?;
    page.paste("item-what", "Grind the tip of the saddle's bolt").await?;
    page.paste("blocks", "tape").await?;
    tour.look("notes-item").await?;
    page.tap("#open-item").await?;
    page.wait("document.querySelectorAll('.left li').length === 2").await?;
    page.tap("#add-time").await?;
    page.appears("#time-minutes").await?;
    tour.look("notes-time").await?;
    page.tap(".done-with").await?;
    page.appears("#told-accepted").await?;
    tour.look("notes-answer").await?;
    page.paste("answered-by", "C. Mentor").await?;
    page.paste("answer-told", "It may stand.").await?;
    page.tap("#told-accepted").await?;
    page.wait("document.querySelectorAll('.left li').length === 1").await?;
    page.step_in(&run, "set/pitch").await?;
    page.appears("#waits").await?;
    tour.look("step-accepted").await?;

    page.open(&format!("{airframe}/todo")).await?;
    page.tap(".done-with").await?;
    page.appears("#close-item").await?;
    tour.look("todo").await?;
    page.open(&format!("{airframe}/time")).await?;
    page.paste("time-minutes", "95").await?;
    page.paste("time-what", "Cleaned the jig").await?;
    page.tap("#keep-time").await?;
    page.wait("document.getElementById('time-minutes').value === ''").await?;
    tour.look("time").await?;
    tour.end()
}
