//! The printed page as Chromium prints it.

use anyhow::{Context, Result, ensure};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::json;
use trammel_browser_tests::{Bench, screenshots};

use super::with_a_photo;

/// A4, in inches.
const PAPER: (f64, f64) = (8.27, 11.69);

pub(super) async fn prints_on_paper(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.open(app.address().as_str()).await?;
    with_a_photo(&page, &app).await?;
    let (name, bytes) = page.send("page").await?;
    let folder = tempfile::tempdir()?;
    let file = folder.path().join(&name);
    std::fs::write(&file, bytes)?;
    let address = url::Url::from_file_path(&file).ok().context("an address")?;
    page.client().goto(address.as_str()).await?;
    ensure!(page.value::<String>("document.title").await?.starts_with("Record of"));
    let pictures: (usize, usize) =
        page.value("[document.images.length, [...document.images].filter((it) => it.naturalWidth > 0).length]").await?;
    ensure!(pictures.0 > 0 && pictures.0 == pictures.1, "{pictures:?} pictures, shown");
    let wide: bool = page.value("document.documentElement.scrollWidth > document.documentElement.clientWidth").await?;
    ensure!(!wide, "it runs over");
    let (width, height) = PAPER;
    let how =
        json!({ "paperWidth": width, "paperHeight": height, "preferCSSPageSize": false, "printBackground": false });
    let printed = page.devtools("Page.printToPDF", how).await?;
    let printed = STANDARD.decode(printed["data"].as_str().context("a file")?)?;
    std::fs::create_dir_all(screenshots())?;
    std::fs::write(screenshots().join("printed.pdf"), &printed)?;
    let pages = String::from_utf8_lossy(&printed).matches("/Type /Page\n").count();
    // The title, the run, every entry.
    ensure!(pages >= 3, "{pages} pages");
    Ok(())
}
