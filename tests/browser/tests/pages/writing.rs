//! A procedure is written, run, changed while it runs, sent as a file, taken in on another phone, and run there.

use anyhow::{Result, ensure};
use serde_json::{Value, json};
use trammel_browser_tests::{Bench, Page, in_engines};

use crate::tour::{DEGREES, Tour};

in_engines! {
    chromium Chromium: a_written_procedure_is_run_here_and_elsewhere;
    firefox Firefox: a_written_procedure_is_run_here_and_elsewhere;
}

pub(crate) async fn a_written_procedure_is_run_here_and_elsewhere(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let mut tour = Tour::begin(bench, &app).await?;
    let page = tour.page.clone();
    let airframe = page.make_example(&app).await?;
    write(&mut tour, &page).await?;
    shown(&mut tour, &page).await?;

    page.tap("#keep-procedure").await?;
    page.appears("#change-procedure").await?;
    ensure!(page.text("h1").await? == "Level a bench");
    tour.look("written-work").await?;
    number(&page).await?;
    let run = format!("{airframe}/run/level-a-bench");
    page.open(&format!("{airframe}/job/level-a-bench")).await?;
    page.tap("#open-run").await?;
    page.appears("main[data-step=accept-the-protractor]").await?;
    let text = page.text("main").await?;
    ensure!(text.contains("Keep fingers from under the foot."), "the cautions stand before the first step: {text}");
    work(&page, &run).await?;

    let file = change(&mut tour, &page, &airframe, &run).await?;
    tour.end()?;
    page.session.close().await?;
    elsewhere(bench, app.address().as_str(), &file).await
}

/// Back to all of it, or to the step of a reading.
async fn back(page: &Page, there: &str) -> Result<()> {
    page.tap("a.up").await?;
    page.appears(there).await
}

async fn say(page: &Page, fields: &[(&str, &str)]) -> Result<()> {
    for (field, words) in fields {
        page.paste(&format!("field-{field}"), words).await?;
    }
    Ok(())
}

/// Adds a part and leaves its page open.
async fn add(page: &Page, kind: &str, title: &str) -> Result<()> {
    if !title.is_empty() {
        page.paste(&format!("add-{kind}-title"), title).await?;
    }
    page.tap(&format!("#add-{kind}")).await?;
    page.appears("#field-title").await
}

/// From nothing, in the order in which somebody would.
async fn write(tour: &mut Tour, page: &Page) -> Result<()> {
    page.tap("#write-new").await?;
    page.appears("#write-about").await?;
    ensure!(page.text("#faults").await?.contains("it has no steps"), "what is missing is said");
    ensure!(page.is("document.getElementById('keep-procedure').disabled").await?, "nothing to keep yet");
    tour.look("write-nothing").await?;
    page.tap("#write-about").await?;
    page.appears("#field-purpose").await?;
    say(
        page,
        &[
            ("title", "Level a bench"),
            ("purpose", "So that what is built on it is straight."),
            ("tools", "Digital protractor\nSpanner"),
            ("cautions", "Keep fingers from under the foot."),
        ],
    )
    .await?;
    tour.look("write-about").await?;
    back(page, "#add-instrument").await?;
    add(page, "instrument", "").await?;
    back(page, "#add-number").await?;
    add(page, "number", "Level of the bench").await?;
    say(page, &[("form", "toleranced-angle"), ("help", "By the drawing.")]).await?;
    tour.look("write-number").await?;
    back(page, "#add-check").await?;
    add(page, "check", "Level").await?;
    say(page, &[("dimension", "angle"), ("plus", "Left end high"), ("minus", "Right end high")]).await?;
    back(page, "#add-step").await?;
    add(page, "step", "Accept the protractor").await?;
    say(page, &[("kind", "instrument")]).await?;
    page.appears("#field-role").await?;
    say(page, &[("role", "protractor")]).await?;
    back(page, "#add-step").await?;
    add(page, "step", "Read the bench").await?;
    say(page, &[("kind", "measure")]).await?;
    page.appears("#field-check").await?;
    say(page, &[("check", "level"), ("text", "Lay it along the bench.")]).await?;
    for title in ["One way round", "Turned round"] {
        add(page, "reading", title).await?;
        page.appears("#field-question").await?;
        say(page, &[("place", "In the middle of the bench."), ("question", "Which end is high?")]).await?;
        page.appears("#field-minus").await?;
        say(page, &[("plus", "The LEFT end"), ("minus", "The RIGHT end")]).await?;
        if title == "One way round" {
            tour.look("write-reading").await?;
        }
        back(page, "#add-reading").await?;
    }
    tour.look("write-step").await?;
    back(page, "#add-step").await?;
    add(page, "step", "Sign").await?;
    say(page, &[("kind", "hold")]).await?;
    page.appears("#field-statement").await?;
    say(page, &[("statement", "The bench is level.")]).await?;
    back(page, "#faults").await?;

    // The phone dies here, and nothing of it is lost.
    page.reload().await?;
    page.appears("#part-check-0").await?;
    page.tap("#part-check-0").await?;
    page.appears("#field-reading-one-way-round").await?;
    say(
        page,
        &[("reading-one-way-round", "plus"), ("reading-turned-round", "plus"), ("judged-by", "level-of-the-bench")],
    )
    .await?;
    page.tap("#field-error-cancels-yes").await?;
    tour.look("write-check").await?;
    back(page, "#no-faults").await?;
    tour.look("write-all").await?;
    ensure!(page.kept().await? == 0, "a draft is no entry of the record");
    Ok(())
}

/// As the builder will see it: nothing can be entered, and steps lead to steps.
async fn shown(tour: &mut Tour, page: &Page) -> Result<()> {
    page.tap("#show").await?;
    page.appears("main[data-step=accept-the-protractor]").await?;
    page.tap("#following-step").await?;
    page.appears("main[data-step=read-the-bench]").await?;
    page.wait("document.querySelector('fieldset.run-body').disabled").await?;
    let text = page.text("main").await?;
    ensure!(
        text.contains("In the middle of the bench.") && page.has("#sign-plus").await?,
        "the pad as it will be: {text}"
    );
    tour.look("write-shown").await?;
    page.tap("#following-step").await?;
    page.appears("main[data-step=sign]").await?;
    back(page, "#keep-procedure").await
}

/// The number from the manual.
async fn number(page: &Page) -> Result<()> {
    page.tap("#specification").await?;
    page.paste("spec-level-of-the-bench-number", "0").await?;
    page.paste("spec-level-of-the-bench-tolerance", "0.5").await?;
    page.tap("#save-specification").await?;
    page.wait("document.getElementById('saved')?.textContent.startsWith('1 items kept')").await
}

/// The whole of it, to its end.
async fn work(page: &Page, run: &str) -> Result<()> {
    page.accept(run, "accept-the-protractor", 0).await?;
    page.step_in(run, "read-the-bench").await?;
    page.read(&[0.1, -0.1], DEGREES).await?;
    let screen = page.screen().await?;
    ensure!(screen.verdict.as_deref() == Some("in"), "{screen:?}");
    page.step_in(run, "sign").await?;
    page.paste("signer", "A. Builder").await?;
    page.tap("#agree").await?;
    page.tap("#sign").await?;
    page.wait("document.getElementById('hold')?.dataset.hold === 'signed'").await
}

/// Changed while a run of it stands: the run stays as it was, a new one has the change. Gives the file of the new version.
async fn change(tour: &mut Tour, page: &Page, airframe: &str, run: &str) -> Result<String> {
    page.open(&format!("{airframe}/job/level-a-bench")).await?;
    page.tap("#change-procedure").await?;
    page.appears("#part-step-1").await?;
    page.tap("#part-step-1").await?;
    page.appears("#field-text").await?;
    say(page, &[("title", "Read the bench at both ends")]).await?;
    back(page, "#no-faults").await?;
    page.tap("#keep-procedure").await?;
    page.appears("#newer").await?;
    let words = page.text("#newer").await?;
    ensure!(words == "This run stays on version 1, with which it began. A new run will have version 2.", "{words}");
    tour.look("written-newer").await?;
    page.step_in(run, "read-the-bench").await?;
    ensure!(page.text("h1").await? == "Read the bench", "the run is what it was");

    page.open(&format!("{airframe}/job/level-a-bench")).await?;
    page.appears("#start-anew").await?;
    let sent = page.export("send-procedure").await?;
    ensure!(sent.name == "level-a-bench-v2.procedure.json", "{}", sent.name);
    page.tap("#start-anew").await?;
    page.tap("#start-anew-now").await?;
    page.wait("!document.getElementById('newer')").await?;
    page.step_in(run, "read-the-bench").await?;
    ensure!(page.text("h1").await? == "Read the bench at both ends", "the new run has the change");
    ensure!(page.text("main").await?.contains("to do"), "and begins anew");

    // A draft that is thrown away changes nothing.
    page.open(&format!("{airframe}/write/level-a-bench/about")).await?;
    page.paste("field-title", "Something else").await?;
    back(page, "#throw-away").await?;
    page.tap("#throw-away").await?;
    page.tap("#throw-away-now").await?;
    page.appears("#change-procedure").await?;
    page.tap("#change-procedure").await?;
    page.appears("#write-about").await?;
    ensure!(page.text("h1").await? == "Level a bench", "the draft is gone");
    Ok(sent.text)
}

/// On another phone: a file that does not hold together is refused, the good one is taken in and run to its end.
async fn elsewhere(bench: &Bench, app: &str, file: &str) -> Result<()> {
    let page = bench.open().await?;
    page.open(app).await?;
    page.tap("#example-1").await?;
    page.appears("#procedure-file").await?;
    let airframe = page.client().current_url().await?.to_string();
    let mut broken: Value = serde_json::from_str(file)?;
    broken["steps"][1]["kind"]["measure"]["check"] = json!("flat");
    let kept = page.kept().await?;
    choose(&page, &broken.to_string()).await?;
    page.wait("document.getElementById('procedure-result').textContent.includes('does not hold together')").await?;
    ensure!(!page.has("#take-procedure").await? && page.kept().await? == kept, "nothing of it is taken in");

    choose(&page, file).await?;
    page.appears("#take-procedure").await?;
    let words = page.text("#procedure-found").await?;
    ensure!(words.contains("version 2: 3 steps") && words.contains("nobody here has checked it"), "{words}");
    page.tap("#take-procedure").await?;
    page.appears("#work-level-a-bench").await?;
    page.tap("#work-level-a-bench").await?;
    page.appears("#specification").await?;
    number(&page).await?;
    page.open(&format!("{airframe}/job/level-a-bench")).await?;
    page.tap("#open-run").await?;
    page.appears("main[data-step=accept-the-protractor]").await?;
    work(&page, &format!("{airframe}/run/level-a-bench")).await?;
    page.open(&airframe).await?;
    page.wait("document.getElementById('work-level-a-bench')?.parentElement.dataset.progress === 'done'").await
}

/// Puts a file into the input for procedures, as a person chooses it.
async fn choose(page: &Page, text: &str) -> Result<()> {
    let body = "const transfer = new DataTransfer(); \
                transfer.items.add(new File([arguments[0]], 'a.procedure.json', { type: 'application/json' })); \
                const input = document.getElementById('procedure-file'); input.files = transfer.files; \
                input.dispatchEvent(new Event('change', { bubbles: true }));";
    page.run::<Option<()>>(body, vec![json!(text)]).await.map(drop)
}
