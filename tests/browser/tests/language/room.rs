//! German, French and Spanish words are longer than English ones: the pages have room for them, also on the smallest phone and with
//! letters twice as large.

use anyhow::{Result, ensure};
use serde_json::json;
use trammel_browser_tests::{AppServer, Bench, Page, screenshots};

/// Letters twice as large, as a phone's setting makes them.
const TWICE: &str = "const sheet = new CSSStyleSheet(); sheet.replaceSync('html[data-twice] { font-size: 212.5% }'); \
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet]; \
    document.documentElement.toggleAttribute('data-twice', arguments[0]);";

/// What is wider than the room that it has.
const TOO_WIDE: &str = "(() => { \
    const width = document.documentElement.clientWidth; const found = []; \
    if (document.scrollingElement.scrollWidth > width) found.push(`the page: ${document.scrollingElement.scrollWidth} in ${width}`); \
    for (const it of document.querySelectorAll('main a, main button, main label, h1, h2')) { \
      if (it.checkVisibility() && getComputedStyle(it).display !== 'inline' && it.scrollWidth > it.clientWidth + 1) \
        found.push(`${it.id || it.className}: ${it.textContent.slice(0, 40)}`); \
    } return found; })()";

/// Each language on the smallest phone, at the size of letters that is usual and at twice that.
pub(crate) async fn there_is_room(bench: &Bench) -> Result<()> {
    for code in ["de", "fr", "es"] {
        let app = bench.serve()?;
        let page = bench.open().await?;
        page.viewport(320, 568).await?;
        page.open(&app.page("settings")).await?;
        page.tap(&format!("#language-{code}")).await?;
        page.wait(&format!("document.documentElement.lang === '{code}'")).await?;
        page.ready().await?;
        look(&page, code, "settings").await?;
        page.make_example(&app).await?;
        look(&page, code, "airframe").await?;
        let run = page.start_run().await?;
        page.accept(&run, "protractor", 0).await?;
        page.accept(&run, "tape", 1).await?;
        page.step_in(&run, "set/pitch").await?;
        look(&page, code, "reading").await?;
        pages_of(&page, &app, code).await?;
    }
    Ok(())
}

/// Pages that are not of a run.
async fn pages_of(page: &Page, app: &AppServer, code: &str) -> Result<()> {
    for name in ["", "bench", "desk", "folder"] {
        page.open(&app.page(name)).await?;
        page.ready().await?;
        look(page, code, if name.is_empty() { "hangar" } else { name }).await?;
    }
    Ok(())
}

async fn look(page: &Page, code: &str, name: &str) -> Result<()> {
    std::fs::create_dir_all(screenshots())?;
    for twice in [false, true] {
        page.run::<Option<()>>(TWICE, vec![json!(twice)]).await?;
        let size = if twice { "twice" } else { "usual" };
        std::fs::write(screenshots().join(format!("{code}-{name}-{size}.png")), page.client().screenshot().await?)?;
        let wide: Vec<String> = page.value(TOO_WIDE).await?;
        ensure!(wide.is_empty(), "{code}, {name}, {size}: {wide:#?}");
    }
    page.run::<Option<()>>(TWICE, vec![json!(false)]).await.map(drop)
}
