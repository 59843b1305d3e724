//! Every built-in procedure begun in the app on the invented airframe that it applies to, as far as a reading that tells what it is
//! about: the page of each says what it is for, every step on the way has its words, and the pad comes up. Pictures of both, of the
//! size of a phone's page, go to `target/screenshots/every`; all of them on one sheet to `target/screenshots/procedures.png`.

use anyhow::{Context, Result, ensure};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};
use trammel_browser_tests::{Bench, Engine, Page, run, screenshots};

/// Steps on the way, at most.
const STEPS: usize = 60;

/// The steps that tell what a procedure is about, where its first reading is of an instrument, of the fuselage or of the day.
const TELLING: [(&str, &str); 11] = [
    ("mate-aft-fuselage", "pitch"),
    ("wing-dihedral", "dihedral-left"),
    ("wing-incidence", "left"),
    ("cantilever-wing", "left"),
    ("tailplane", "tail-square"),
    ("fin", "fin-lean"),
    ("third-wheel-fit", "wheel-centred"),
    ("cable-tension", "tension-left"),
    ("propeller-track", "two"),
    ("riveting", "set-pulled"),
    ("weighing", "read"),
];

/// A procedure that comes with the app.
struct BuiltIn {
    id: String,
    title: String,
    /// It is for the airframe with a cantilever wing only.
    cantilever: bool,
}

#[test]
fn every_procedure_opens() {
    run(Engine::Chromium, "every_procedure_opens", all);
}

/// In the order in which the app shows them.
fn procedures() -> Result<Vec<BuiltIn>> {
    let source = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../src/procedure");
    let library = std::fs::read_to_string(source.join("library.rs"))?;
    let (_, order) = library.split_once("files![").context("the list of files")?;
    let mut found = Vec::new();
    for entry in std::fs::read_dir(source.join("library"))? {
        let file: Value = serde_json::from_str(&std::fs::read_to_string(entry?.path())?)?;
        let Some(id) = file["id"].as_str() else { continue };
        let place = order.find(&format!("\"{id}\"")).with_context(|| format!("{id} is not in the library"))?;
        let title = file["title"].as_str().context("a title")?.to_owned();
        found.push((place, BuiltIn { id: id.to_owned(), title, cantilever: file["only-if"]["is"] == "cantilever" }));
    }
    found.sort_by_key(|(place, _)| *place);
    Ok(found.into_iter().map(|(_, found)| found).collect())
}

async fn all(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.phone().await?;
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
        page.snapshot(&folder.join(format!("aircraft-{}.png", &example[1..])), None).await?;
        for BuiltIn { id, title, .. } in procedures.iter().filter(|found| found.cantilever == cantilever) {
            page.open(airframe.as_str()).await?;
            page.tap(&format!("#work-{id}")).await?;
            page.wait(&format!("document.querySelector('h1')?.textContent === {}", json!(title))).await?;
            page.snapshot(&folder.join(format!("{id}-about.png")), None).await?;
            page.tap("#open-run").await?;
            page.appears("main[data-step]").await?;
            walk(&page, id).await.with_context(|| id.clone())?;
            page.snapshot(&folder.join(format!("{id}.png")), None).await?;
        }
    }
    sheet(&page, &procedures).await
}

/// From the first step to the one that tells what the procedure is about, ready to be read.
async fn walk(page: &Page, id: &str) -> Result<()> {
    let telling = TELLING.iter().find(|(of, _)| *of == id).map(|(_, step)| *step);
    for _ in 0..STEPS {
        let words = page.text("main").await?;
        ensure!(words.len() > 60, "a step without words: {words}");
        let step = page.screen().await?.step;
        let there = match telling {
            Some(telling) => step.rsplit('/').next() == Some(telling),
            None => page.is("document.querySelector('main').dataset.measured === 'true'").await?,
        };
        if there {
            if page.has("#rows").await? {
                page.paste("rows", "17 16 15").await?;
                page.tap("#lay-out").await?;
            }
            return page.appears("#slot-title, .hole").await;
        }
        let done = "document.querySelector('main[data-step]')?.dataset.state === 'done'";
        if page.has("#accept").await? {
            page.tap("#preset-0").await?;
            page.tap("#accept").await?;
            page.wait(done).await?;
        } else if page.has("#done").await? {
            page.tap("#done").await?;
            page.wait(done).await?;
        } else if page.has("#agree").await? {
            page.paste("signer", "B. Helper").await?;
            page.tap("#agree").await?;
            page.tap("#sign").await?;
            page.wait(done).await?;
        }
        page.tap("#following-step").await?;
        page.wait(&format!("document.querySelector('main')?.dataset.step !== {}", json!(step))).await?;
    }
    anyhow::bail!("no such reading within {STEPS} steps")
}

/// All of them side by side, each at its full size.
async fn sheet(page: &Page, procedures: &[BuiltIn]) -> Result<()> {
    let mut figures = Vec::new();
    for (place, BuiltIn { id, title, .. }) in procedures.iter().enumerate() {
        let picture = STANDARD.encode(std::fs::read(screenshots().join(format!("every/{id}.png")))?);
        figures.push(json!([format!("{}  {title}", place + 1), format!("data:image/png;base64,{picture}")]));
    }
    page.client().goto("about:blank").await?;
    let draw = "document.body.style.cssText = 'margin:0;padding:8px;background:#555;display:grid;gap:8px;grid-template-columns:repeat(9,360px);align-content:start;font:bold 15px sans-serif;color:#fff;width:max-content'; \
                const all = args[0].map(([title, source]) => { \
                    const picture = Object.assign(new Image(360, 740), { src: source }); \
                    const figure = document.createElement('div'); \
                    const name = Object.assign(document.createElement('div'), { textContent: title }); \
                    name.style.cssText = 'height:42px;line-height:20px;overflow:hidden'; \
                    figure.append(name, picture); document.body.append(figure); return picture.decode(); }); \
                await Promise.all(all); const end = document.body.lastChild.getBoundingClientRect(); \
                return [9 * 368 + 8, Math.ceil(end.bottom) + 8];";
    let (width, height): (u32, u32) = page.run_async(draw, vec![Value::Array(figures)]).await?;
    page.viewport(width, height).await?;
    std::fs::write(screenshots().join("procedures.png"), page.client().screenshot().await?)?;
    Ok(())
}
