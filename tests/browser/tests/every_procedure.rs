//! Every built-in procedure begun in the app on the invented airframe that it applies to, as far as its first reading or the hold point
//! that shuts the way to it: the page of each says what it is for, every step on the way has its words, and the pad comes up. Pictures of both go to `target/screenshots/every`.

use anyhow::{Context, Result, ensure};
use serde_json::Value;
use trammel_browser_tests::{Bench, Engine, Page, run, screenshots};

/// Steps on the way to the first reading, at most.
const STEPS: usize = 40;

#[test]
fn every_procedure_opens() {
    run(Engine::Chromium, "every_procedure_opens", all);
}

/// Id, title, and whether it is for the airframe with a cantilever wing only.
fn procedures() -> Result<Vec<(String, String, bool)>> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../src/procedure/library");
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder)? {
        let file: Value = serde_json::from_str(&std::fs::read_to_string(entry?.path())?)?;
        let Some(id) = file["id"].as_str() else { continue };
        let title = file["title"].as_str().context("a title")?;
        found.push((id.to_owned(), title.to_owned(), file["only-if"]["is"] == "cantilever"));
    }
    found.sort();
    Ok(found)
}

async fn all(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.client().set_window_size(360, 740).await?;
    page.open(app.address().as_str()).await?;
    page.tap("#understood").await?;
    let folder = screenshots().join("every");
    std::fs::create_dir_all(&folder)?;
    let procedures = procedures()?;
    for (example, cantilever) in [("#example-0", false), ("#example-1", true)] {
        page.open(app.address().as_str()).await?;
        page.tap(example).await?;
        page.appears("ol.works").await?;
        let airframe = page.client().current_url().await?;
        picture(&page, &folder.join(format!("aircraft-{}.png", &example[1..]))).await?;
        for (id, title, _) in procedures.iter().filter(|found| found.2 == cantilever) {
            page.open(airframe.as_str()).await?;
            page.tap(&format!("#work-{id}")).await?;
            page.wait(&format!("document.querySelector('h1')?.textContent === {}", serde_json::json!(title))).await?;
            picture(&page, &folder.join(format!("{id}-about.png"))).await?;
            page.tap("#open-run").await?;
            page.appears("main[data-step]").await?;
            let mut steps = 0;
            let there = "document.querySelector('main').dataset.measured === 'true' || document.getElementById('hold') !== null";
            while !page.is(there).await? {
                let words = page.text("main").await?;
                ensure!(words.len() > 60, "{id}: a step without words: {words}");
                let step = page.screen().await?.step;
                if page.has("#accept").await? {
                    page.tap("#preset-0").await?;
                    page.tap("#accept").await?;
                    page.wait("document.querySelector('main[data-step]')?.dataset.state === 'done'").await?;
                }
                page.tap("#following-step").await?;
                page.wait(&format!("document.querySelector('main')?.dataset.step !== {}", serde_json::json!(step)))
                    .await?;
                steps += 1;
                ensure!(steps < STEPS, "{id}: no reading within {STEPS} steps");
            }
            page.appears("#slot-title, #hold").await?;
            picture(&page, &folder.join(format!("{id}.png"))).await?;
        }
    }
    Ok(())
}

/// What is seen without scrolling.
async fn picture(page: &Page, file: &std::path::Path) -> Result<()> {
    page.run::<Option<()>>("document.scrollingElement.scrollTo(0, 0)", Vec::new()).await?;
    std::fs::write(file, page.client().screenshot().await?)?;
    Ok(())
}
