//! A builder asks, a mentor answers, the builder takes the answer in: two phones, which share nothing but files. Two phones are two
//! origins here, each with a storage of its own, so that every engine can hold both in one browser.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};
use fantoccini::Locator;
use serde_json::{Value, json};
use trammel_browser_tests::files::Exported;
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{AppServer, Bench, Engine, Page, in_engines, screenshots};

in_engines! {
    chromium Chromium: there_and_back, handed_over_without_a_network, the_desk;
    firefox Firefox: there_and_back;
    webkit WebKit: there_and_back;
}

const STEP: &str = "set/pitch";

/// Says on a phone who holds it.
async fn named(page: &Page, app: &AppServer, name: &str) -> Result<()> {
    page.open(&app.page("settings")).await?;
    page.fill("name", name).await
}

/// An airframe whose pitch was read and is out; the address of its run.
async fn out_reading(page: &Page, app: &AppServer) -> Result<String> {
    named(page, app, "A. Builder").await?;
    let run = pitched(page, app, -3.4).await?;
    let screen = page.screen().await?;
    ensure!(screen.verdict.as_deref() == Some("out"), "{screen:?}");
    Ok(run)
}

/// An airframe with its pitch read, in degrees; the address of its run.
async fn pitched(page: &Page, app: &AppServer, pitch: f64) -> Result<String> {
    page.make_example(app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    page.step_in(&run, STEP).await?;
    page.read(&[pitch; 4], Scale::Decimal(1)).await?;
    Ok(run)
}

/// A photo of the step on the screen, and back to the step.
async fn photographed(page: &Page, run: &str) -> Result<()> {
    page.tap("#notes").await?;
    page.appears("#caption").await?;
    page.photograph().await?;
    page.fill("caption", "The protractor on the longeron, left side").await?;
    page.tap("#keep-photo").await?;
    page.appears(".thumbnail img").await?;
    page.step_in(run, STEP).await
}

/// A deviation of the step, as a second phone of the builder's would have raised it.
async fn deviation_raised(page: &Page, app: &AppServer, run: &str) -> Result<()> {
    let airframe = run.split("/run/").next().context("the airframe's address")?;
    page.open(airframe).await?;
    let record: Value = serde_json::from_str(&page.export("export-json").await?.text)?;
    let begun =
        record["entries"].as_array().context("entries")?.iter().find(|entry| !entry["body"]["run-started"].is_null());
    let begun = begun.context("the run's first entry")?;
    let mut raised = begun.clone();
    // Later than anything that is there, and from before entries were sealed.
    raised["id"] = "7fffffff-0000-7000-8000-000000000001".into();
    raised.as_object_mut().context("an entry")?.remove("seal");
    raised["body"] = json!({ "deviation-raised": {
        "about": { "run": begun["body"]["run-started"]["run"], "step": STEP },
        "found": "-3.4\u{b0}", "limit": "-2.6\u{b0} \u{b1} 0.2\u{b0}", "reason": "the tail is rigged to suit", "asked": "C. Mentor",
    } });
    let file = json!({ "format": record["format"], "version": record["version"], "entries": [raised] });
    page.open(app.address().as_str()).await?;
    let said = page.import_made("second-phone.json", "args[1]", &file.to_string()).await?;
    ensure!(said.starts_with("1 new"), "{said}");
    page.open(&format!("{run}/{STEP}")).await?;
    page.appears("#verdict").await
}

/// Asks about the step on the screen, and gives the file that goes out.
async fn ask(page: &Page, question: &str) -> Result<Exported> {
    page.tap("#ask").await?;
    page.appears("main.ask").await?;
    page.fill("question", question).await?;
    page.fill("to", "C. Mentor").await?;
    page.tap("#ask-it").await?;
    page.appears("main.question-page").await?;
    picture(page, "question-asked").await?;
    page.wait("!document.getElementById('send-question').disabled").await?;
    page.export("send-question").await
}

fn written(folder: &Path, file: &Exported) -> Result<PathBuf> {
    let path = folder.join(&file.name);
    std::fs::write(&path, &file.text)?;
    Ok(path)
}

async fn there_and_back(bench: &Bench) -> Result<()> {
    let (at_home, away) = (bench.serve()?, bench.serve()?);
    let page = bench.open().await?;
    let folder = tempfile::tempdir()?;

    let run = out_reading(&page, &at_home).await?;
    photographed(&page, &run).await?;
    deviation_raised(&page, &at_home, &run).await?;
    let value = page.text("#value").await?;
    let question = ask(&page, "The pitch is out. What would you move?").await?;
    let address = page.client().current_url().await?;
    page.open(&format!("{run}/{STEP}")).await?;
    page.appears(".asked").await?;
    ensure!(page.text(".asked").await?.contains("(no answer yet)"), "{}", page.text(".asked").await?);
    page.tap(".asked").await?;
    page.appears("main.question-page").await?;
    ensure!(page.client().current_url().await? == address, "the way back to the question");
    ensure!(question.name.ends_with("-question.json") && question.name.starts_with("20"), "{}", question.name);
    ensure!(question.text.len() < 5_000_000, "{}", question.text.len());
    ensure!(question.text.matches("\"jpeg\":").count() == 1, "the photo goes with it");
    let sent = entries(&question.text)?;

    // The mentor's phone: what the builder saw is worked out there anew.
    named(&page, &away, "C. Mentor").await?;
    page.open(away.address().as_str()).await?;
    choose(&page, &written(folder.path(), &question)?).await?;
    page.appears("main.question-page").await?;
    ensure!(page.text("#question-text").await?.contains("What would you move?"));
    page.wait("document.getElementById('verdict')").await?;
    ensure!(page.text("#value").await? == value, "the mentor sees {}", page.text("#value").await?);
    ensure!(page.is("document.getElementById('verdict').dataset.verdict === 'out'").await?);
    ensure!(page.count("#raw li").await? == 4, "four raw readings");
    ensure!(page.text("#raw").await?.contains("A. Builder") && page.text("#raw").await?.contains("good to 0.1"));
    ensure!(!page.has("#send-question").await?, "it is not the mentor's question");
    // Its file is read when it comes near what is seen.
    let near = "(() => { const it = document.querySelector('.thumbnail img'); it?.scrollIntoView(); return it?.naturalWidth === 640 })()";
    page.wait(near).await?;
    picture(&page, "question-to-answer").await?;

    // A deviation is not answered without a reason.
    page.tap("#accept-deviation").await?;
    page.wait("document.querySelector('.deviation .refusal').textContent.includes('write both')").await?;
    page.fill("deviation-answer", "With the sheet's own page beside it: no.").await?;
    page.tap("#refuse-deviation").await?;
    page.wait("document.querySelector('.deviation').textContent.includes('Answered.')").await?;

    // A proposal without an amount is refused, with one it is kept.
    page.fill("remark", "Lower the saddle and read it again.").await?;
    page.click_on("label[for=about-1]").await?;
    page.click_on("label[for=move-2]").await?;
    page.tap("#keep-remark").await?;
    page.wait("document.getElementById('remark-refusal').textContent.trim()").await?;
    page.fill("amount", "1/8").await?;
    page.tap("#keep-remark").await?;
    page.wait("document.querySelector('#remarks .remark')").await?;
    ensure!(page.text("#remarks").await?.contains("C. Mentor says"), "{}", page.text("#remarks").await?);
    page.wait("!document.getElementById('send-answer').disabled").await?;
    let answer = page.export("send-answer").await?;
    ensure!(answer.name.ends_with("-answer.json"), "{}", answer.name);
    let mentors = page.client().current_url().await?;

    // Back at the airframe.
    let answer_file = written(folder.path(), &answer)?;
    page.open(at_home.address().as_str()).await?;
    choose(&page, &answer_file).await?;
    page.appears("main.question-page").await?;
    page.open(&format!("{run}/{STEP}")).await?;
    page.appears(".remark").await?;
    let remark = page.text(".remark").await?;
    ensure!(remark.contains("C. Mentor says") && remark.contains("Lower the saddle"), "{remark}");
    ensure!(remark.contains("Proposed:") && remark.contains("1/8 in"), "{remark}");
    ensure!(remark.contains("Pitch, display toward you"), "it is about a reading: {remark}");
    ensure!(!page.text(".asked").await?.contains("no answer yet"), "{}", page.text(".asked").await?);
    ensure!(page.screen().await?.verdict.as_deref() == Some("out"), "a proposal moves nothing");
    picture(&page, "remark-at-the-step").await?;

    // Once more: nothing new.
    page.open(at_home.address().as_str()).await?;
    let said = page.import(&answer_file).await?;
    ensure!(said.starts_with("0 new entries"), "{said}");
    ensure!(page.has("#to-question").await?);

    // Both hold the same of what was asked about: the builder's extract now, and the mentor's whole record of the airframe.
    page.tap("#to-question").await?;
    page.appears("main.question-page").await?;
    page.wait("!document.getElementById('send-question').disabled").await?;
    let home = entries(&page.export("send-question").await?.text)?;
    let theirs = mentors.as_str().split("/question/").next().context("an airframe")?.to_owned();
    let answered = |entry: &Value| !entry["body"]["deviation-answered"].is_null();
    ensure!(home.iter().any(answered), "the deviation's answer came back");
    page.open(&theirs).await?;
    page.appears("ol.works").await?;
    let there = entries(&page.export("export-json").await?.text)?;
    ensure!(home == there, "{} entries at home, {} there", home.len(), there.len());
    ensure!(there.len() == sent.len() + entries(&answer.text)?.len() - 1, "the question is in both files");

    // The proposal as an order, made by the builder's own hand.
    page.open(&format!("{run}/{STEP}")).await?;
    page.tap(".take-proposal").await?;
    page.tap(".moved").await?;
    page.wait("document.querySelector('main[data-step]')?.dataset.state === 'stale'").await?;
    page.wait("document.querySelector('.remark')?.textContent.includes('moved since')").await
}

/// Two airframes of a type beside each other, and what waits.
async fn the_desk(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    named(&page, &app, "C. Mentor").await?;
    pitched(&page, &app, -2.4).await?;
    pitched(&page, &app, -3.0).await?;
    ask(&page, "Which way?").await?;
    page.open(app.address().as_str()).await?;
    page.tap("#desk").await?;
    page.appears("#waiting").await?;
    ensure!(page.count("#waiting li").await? == 1 && page.text("#waiting").await?.contains("Which way?"));
    ensure!(page.count("#desk-airframes tbody tr").await? == 2);
    page.tap("input[name=type]").await?;
    page.appears("#spreads").await?;
    let row = page.text("#spreads tbody tr").await?;
    for part in ["Pitch", "\u{2212}3.00\u{b0}", "\u{2212}2.700\u{b0}", "\u{2212}2.40\u{b0}"] {
        ensure!(row.contains(part), "{part}: {row}");
    }
    if page.engine == Engine::Chromium {
        page.viewport(1280, 860).await?;
        std::fs::create_dir_all(screenshots())?;
        std::fs::write(screenshots().join("desk.png"), page.client().screenshot().await?)?;
    }
    page.fill("filter", "okalune").await?;
    page.wait("[...document.querySelectorAll('#desk-airframes tbody tr')].every((it) => it.hidden)").await?;
    page.fill("filter", "veldrin").await?;
    page.wait("![...document.querySelectorAll('#desk-airframes tbody tr')].some((it) => it.hidden)").await?;
    page.tap("#waiting a").await?;
    page.appears("main.question-page").await
}

/// A record's entries, by themselves.
fn entries(text: &str) -> Result<Vec<Value>> {
    let file: Value = serde_json::from_str(text)?;
    Ok(file["entries"].as_array().context("entries")?.clone())
}

/// Chooses a file in the hangar; what is new leads away from it, so that nothing is said there.
async fn choose(page: &Page, file: &Path) -> Result<()> {
    page.appears(".file").await?;
    if page.engine == Engine::WebKit {
        let body = "const transfer = new DataTransfer(); \
                    transfer.items.add(new File([args[1]], args[0], { type: 'application/json' })); \
                    const input = document.getElementById('import'); input.files = transfer.files; \
                    input.dispatchEvent(new Event('change', { bubbles: true }));";
        let text = std::fs::read_to_string(file)?;
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        return page.run_async::<Option<()>>(body, vec![json!(name), json!(text)]).await.map(drop);
    }
    let path = file.to_str().context("a plain path")?;
    Ok(page.client().find(Locator::Id("import")).await?.send_keys(path).await?)
}

/// With no network the platform's share sheet hands a file over by a form that is posted to the app's own address: the app takes it,
/// names it, and opens it when told to.
async fn handed_over_without_a_network(bench: &Bench) -> Result<()> {
    let at_home = bench.serve()?;
    let mut away = bench.serve()?;
    let page = bench.open().await?;
    out_reading(&page, &at_home).await?;
    let question = ask(&page, "Which way?").await?;
    page.open(away.address().as_str()).await?;
    page.kept_for_offline().await?;
    page.reload().await?;
    let target = away.page("share");
    away.stop();
    let name = format!("{}.txt", question.name);
    post(&page, &target, Some((&name, &question.text))).await?;
    page.appears("#handed").await?;
    ensure!(page.text("#handed").await?.contains(&question.name), "{}", page.text("#handed").await?);
    page.tap("#open-handed").await?;
    page.appears("main.question-page").await?;
    ensure!(page.text("#question-text").await?.contains("Which way?"));
    // Taken once: not offered again.
    page.open(away.address().as_str()).await?;
    ensure!(page.count("a.airframe").await? == 1 && !page.has("#handed").await?);

    // What cannot be put aside is said, once.
    post(&page, &target, None).await?;
    page.appears("#trouble").await?;
    ensure!(page.text("#trouble").await?.contains("could not be put aside"), "{}", page.text("#trouble").await?);
    page.reload().await?;
    ensure!(!page.has("#trouble").await?);

    // A file that is opened with the app: the platform calls the app with a handle.
    let queue = "Object.defineProperty(window, 'launchQueue', { value: { setConsumer(take) { this.take = take; } } });";
    page.devtools("Page.addScriptToEvaluateOnNewDocument", json!({ "source": queue })).await?;
    page.reload().await?;
    let launch = "launchQueue.take({ files: [{ getFile: async () => new File([args[1]], args[0]) }] });";
    page.run_async::<Option<()>>(launch, vec![json!(question.name), json!(question.text)]).await?;
    page.appears("#handed").await?;
    page.tap("#leave-handed").await?;
    page.wait("!document.getElementById('handed')").await?;
    page.run_async::<Option<()>>(launch, vec![json!("words.txt"), json!("Dear mentor, here is my record.")]).await?;
    page.tap("#open-handed").await?;
    page.wait("document.getElementById('handed-said')?.textContent.includes('not a record file')").await
}

/// Posts a form to an address as the share sheet does, with a file or without one.
async fn post(page: &Page, address: &str, file: Option<(&str, &str)>) -> Result<()> {
    let body = "const form = Object.assign(document.createElement('form'), \
                    { method: 'post', enctype: 'multipart/form-data', action: args[0] }); \
                const input = Object.assign(document.createElement('input'), { type: 'file', name: 'record' }); \
                const transfer = new DataTransfer(); \
                if (args[1]) transfer.items.add(new File([args[2]], args[1], { type: 'text/plain' })); \
                input.files = transfer.files; if (args[1]) form.append(input); document.body.append(form); \
                setTimeout(() => form.submit());";
    let (name, text) = file.unzip();
    page.run_async::<Option<()>>(body, vec![json!(address), json!(name), json!(text)]).await?;
    // Left, and come up anew.
    page.wait("!document.querySelector('form[enctype]')").await?;
    page.ready().await
}

/// Pictures to look at, where a folder for them is named.
async fn picture(page: &Page, name: &str) -> Result<()> {
    if page.engine != Engine::Chromium {
        return Ok(());
    }
    let folder = screenshots();
    std::fs::create_dir_all(&folder)?;
    page.phone().await?;
    for (part, from) in [("top", "main"), ("middle", ".remark, #raw, #remark"), ("end", "#keep-remark, #send-question")]
    {
        if page.has(from).await? {
            page.snapshot(&folder.join(format!("{name}-{part}.png")), Some(from)).await?;
        }
    }
    Ok(())
}
