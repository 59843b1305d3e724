//! What is said and what follows: a deviation that is accepted opens a hold point, an open item shuts one, time adds up, and a note is
//! spoken. The browser's speech recognition is a stand-in here: no engine under test turns speech into text by itself.

use anyhow::{Context, Result, ensure};
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{AppServer, Bench, Page, in_engines, screenshots};

in_engines! {
    chromium Chromium: a_deviation_and_an_open_item, time_adds_up, a_note_is_spoken;
    firefox Firefox: time_adds_up;
    webkit WebKit: a_deviation_and_an_open_item;
}

const RULE: Scale = Scale::Fraction(32);

/// The invented airframe with its drilling begun, everything before the hold point done, and the edge distance as given, in inches; the
/// address of the run.
async fn drilling(page: &Page, app: &AppServer, edge: f64) -> Result<String> {
    page.open(&app.page("settings")).await?;
    page.fill("name", "A. Builder").await?;
    let airframe = page.make_example(app).await?;
    page.tap("#work-drilling").await?;
    page.tap("#open-run").await?;
    page.appears("main[data-step]").await?;
    let run = format!("{airframe}/run/drilling");
    page.confirm(&run, "cautions").await?;
    page.accept(&run, "rule", 1).await?;
    for step in ["map", "pilots", "centre-line", "trial"] {
        page.confirm(&run, step).await?;
    }
    page.step_in(&run, "edge").await?;
    page.read(&[edge; 2], RULE).await?;
    page.step_in(&run, "pitch").await?;
    page.read(&[1.0; 2], RULE).await?;
    Ok(run)
}

/// The hold point before the drill: its state, and what is missing.
async fn hold(page: &Page, run: &str) -> Result<(String, String)> {
    page.step_in(run, "hold-a").await?;
    page.appears("#hold").await?;
    let screen = page.screen().await?;
    Ok((screen.hold.context("a hold point")?, screen.missing.join(" ")))
}

async fn notes(page: &Page, run: &str, step: &str) -> Result<()> {
    page.step_in(run, step).await?;
    page.tap("#notes").await?;
    page.appears("main.notes").await
}

/// Pictures of what is seen from an element on, upright and lying; and nothing is cut off or covered.
async fn picture(page: &Page, name: &str, from: &str) -> Result<()> {
    if page.engine != trammel_browser_tests::Engine::Chromium {
        return Ok(());
    }
    std::fs::create_dir_all(screenshots())?;
    for (way, width, height) in [("portrait", 360, 740), ("landscape", 740, 360)] {
        page.viewport(width, height).await?;
        let body = "document.querySelector(arguments[0]).scrollIntoView({ behavior: 'instant' });";
        page.run::<Option<()>>(body, vec![from.into()]).await?;
        std::fs::write(screenshots().join(format!("{name}-{way}.png")), page.client().screenshot().await?)?;
        let wrong = page.layout(true).await?;
        ensure!(wrong.is_empty(), "{name}, {way}: {wrong:?}");
    }
    Ok(())
}

async fn a_deviation_and_an_open_item(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = drilling(&page, &app, 3.0 / 16.0).await?;
    let (state, missing) = hold(&page, &run).await?;
    ensure!(state == "shut" && missing.contains("out."), "{state}: {missing}");

    // Raised.
    notes(&page, &run, "edge").await?;
    page.tap("#add-deviation").await?;
    page.appears("#raise-deviation").await?;
    ensure!(page.is("document.getElementById('raise-deviation').disabled").await?, "a deviation needs a reason");
    page.fill("deviation-reason", "A doubler lies behind it.").await?;
    page.fill("deviation-asked", "C. Mentor").await?;
    picture(&page, "deviation-raised", "#add-deviation").await?;
    page.tap("#raise-deviation").await?;
    page.appears(".done-with").await?;
    ensure!(page.text(".left").await?.contains("Deviation put to C. Mentor: out: "), "{}", page.text(".left").await?);
    page.step_in(&run, "edge").await?;
    page.wait("document.getElementById('waits')?.textContent.includes('A deviation waits for an answer.')").await?;
    ensure!(hold(&page, &run).await?.0 == "shut", "it was only asked for");

    // Answered by telephone: not by who raised it.
    notes(&page, &run, "edge").await?;
    page.tap(".done-with").await?;
    page.fill("answered-by", "a. builder").await?;
    page.fill("answer-told", "It may stand with a doubler of the same thickness.").await?;
    page.tap("#told-accepted").await?;
    page.wait("document.getElementById('answer-refusal').textContent.includes('somebody else')").await?;
    page.fill("answered-by", "C. Mentor").await?;
    picture(&page, "deviation-answer", ".left").await?;
    page.tap("#told-accepted").await?;
    page.wait("!document.querySelector('.left li')").await?;
    page.step_in(&run, "edge").await?;
    page.wait("document.getElementById('waits')?.textContent.includes('Out, accepted by C. Mentor.')").await?;
    let screen = page.screen().await?;
    ensure!(screen.verdict.as_deref() == Some("out") && screen.state == "done", "the verdict stays: {screen:?}");
    picture(&page, "deviation-accepted-step", "#verdict").await?;
    ensure!(hold(&page, &run).await?.0 == "ready");
    ensure!(page.text("#accepted").await?.contains("out, accepted by C. Mentor"), "the signer sees it");
    picture(&page, "deviation-accepted-hold", "#hold").await?;

    // An open item that blocks the hold point, and the way from the list.
    notes(&page, &run, "trial").await?;
    page.tap("#add-item").await?;
    page.fill("item-what", "Deburr the back of the skin.").await?;
    page.paste("blocks", "hold-a").await?;
    picture(&page, "item-form", "#add-item").await?;
    page.tap("#open-item").await?;
    page.wait("document.querySelector('.left')?.textContent.includes('Deburr the back')").await?;
    let (state, missing) = hold(&page, &run).await?;
    ensure!(state == "shut" && missing.contains("left to do: Deburr the back of the skin."), "{state}: {missing}");
    page.open(run.split("/run/").next().context("an airframe")?).await?;
    page.wait("document.getElementById('todo')?.textContent === 'Left to do: 1'").await?;
    page.tap("#todo").await?;
    page.appears("main.todo .done-with").await?;
    picture(&page, "todo", "main").await?;
    page.tap("main.todo .done-with").await?;
    page.fill("how", "Done with the scraper.").await?;
    page.tap("#close-item").await?;
    page.wait("document.querySelector('main.todo').textContent.includes('Nothing is left open.')").await?;
    page.open(&format!("{run}/hold-a")).await?;
    page.wait("document.getElementById('hold')?.dataset.hold === 'ready'").await?;

    // Measured again: what was accepted is not what is there now.
    page.step_in(&run, "edge").await?;
    page.tap("#again").await?;
    page.appears("#slot-title").await?;
    page.read(&[5.0 / 32.0; 2], RULE).await?;
    let (state, missing) = hold(&page, &run).await?;
    ensure!(state == "shut" && missing.contains("out."), "{state}: {missing}");
    Ok(())
}

async fn time_adds_up(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = drilling(&page, &app, 0.5).await?;
    page.open(&format!("{}/time", run.split("/run/").next().context("an airframe")?)).await?;
    page.appears("#keep-time").await?;
    for (minutes, day, what) in [("95", "2026-03-04", "Cleaned the jig"), ("30", "2026-03-04", "Ordered rivets")] {
        page.paste("time-minutes", minutes).await?;
        page.paste("time-day", day).await?;
        page.paste("time-what", what).await?;
        page.tap("#keep-time").await?;
        page.wait("document.getElementById('time-minutes').value === ''").await?;
    }
    page.wait("[...document.querySelectorAll('h2')].some((it) => it.textContent === '2026-03-04: 2 h 05 min')").await?;
    page.paste("time-minutes", "1441").await?;
    page.paste("time-what", "A very long day").await?;
    page.tap("#keep-time").await?;
    page.wait("document.getElementById('time-refusal').textContent.includes('1440')").await?;
    picture(&page, "time", "#time-total").await?;
    let sent = page.export("export-time").await?;
    ensure!(sent.name.ends_with("-work-log.csv"), "{}", sent.name);
    ensure!(sent.text.contains(",95,by hand,Cleaned the jig\r\n"), "{}", sent.text);

    // Of a step, from its notes.
    notes(&page, &run, "trial").await?;
    page.tap("#add-time").await?;
    page.paste("time-minutes", "10").await?;
    page.paste("time-what", "Ground the drill").await?;
    page.tap("#keep-time").await?;
    page.wait("document.querySelector('ol.entries:not(.left)').textContent.includes('10 min on')").await
}

/// A browser that hears: each start says the next of these. Firefox's driver runs scripts beside the page, so that what is put on its
/// window has to be made of plain functions.
const STAND_IN: &str = r"
window.heardBy = [];
const words = ['the left rail is', 'two hundred and ten'];
window.SpeechRecognition = function () {
  const handlers = {};
  const tell = (name, event) => setTimeout(() => handlers[name]?.(event), 20);
  this.addEventListener = (name, handler) => { handlers[name] = handler; };
  this.removeEventListener = (name) => { delete handlers[name]; };
  this.start = () => {
    window.heardBy.push({ local: this.processLocally, lang: this.lang });
    tell('result', { results: [[{ transcript: words.shift() }]] });
  };
  this.stop = () => tell('end', {});
  this.abort = () => {};
};";

async fn a_note_is_spoken(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = drilling(&page, &app, 0.5).await?;
    let none = "window.SpeechRecognition = undefined; window.webkitSpeechRecognition = undefined;";
    page.run::<Option<()>>(none, Vec::new()).await?;
    notes(&page, &run, "trial").await?;
    ensure!(!page.has("#speak").await?, "nothing to speak to where the browser does not listen");
    page.step_in(&run, "trial").await?;
    page.run::<Option<()>>(STAND_IN, Vec::new()).await?;
    notes(&page, &run, "trial").await?;
    page.tap("#speak").await?;
    page.appears("#voice-asks").await?;
    ensure!(page.is("window.heardBy.length === 0").await?, "it is asked before anything is heard");
    picture(&page, "note-asks", "#note").await?;
    page.tap("#voice-agreed").await?;
    page.wait("document.getElementById('note').value === 'the left rail is'").await?;
    ensure!(page.is("document.getElementById('speak').getAttribute('aria-pressed') === 'true'").await?);
    picture(&page, "note-listening", "#note").await?;
    page.tap("#speak").await?;
    page.wait("document.getElementById('speak').getAttribute('aria-pressed') === 'false'").await?;
    page.tap("#speak").await?;
    page.wait("document.getElementById('note').value === 'the left rail is two hundred and ten'").await?;
    ensure!(
        page.is("window.heardBy.length === 2 && window.heardBy.every((it) => it.local === false && it.lang)").await?
    );
    page.tap("#speak").await?;
    page.tap("#keep-note").await?;
    page.wait("document.getElementById('note').value === ''").await?;
    page.open(run.split("/run/").next().context("an airframe")?).await?;
    let record: serde_json::Value = serde_json::from_str(&page.export("export-json").await?.text)?;
    let entries = record["entries"].as_array().context("entries")?;
    let note = entries.iter().find(|entry| !entry["body"]["note-made"].is_null()).context("the note")?;
    ensure!(note["body"]["note-made"]["spoken"] == true, "{note}");
    ensure!(note["body"]["note-made"]["text"] == "the left rail is two hundred and ten", "{note}");

    // A browser that says that it listens on the phone itself is told to.
    page.open(&format!("{run}/trial")).await?;
    page.appears("#notes").await?;
    page.run::<Option<()>>(STAND_IN, Vec::new()).await?;
    let on_device = "window.SpeechRecognition.available = async (asked) => asked.processLocally && asked.langs.length === 1 ? 'available' : 'unavailable';";
    page.run::<Option<()>>(on_device, Vec::new()).await?;
    page.tap("#notes").await?;
    page.tap("#speak").await?;
    page.wait("window.heardBy.length === 1 && window.heardBy[0].local === true").await
}
