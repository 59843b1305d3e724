//! A file that is cut short, too new, too large or not a record is refused whole, with the reason, and the record stays as it was.

use anyhow::{Context, Result, ensure};
use trammel_browser_tests::{Bench, Page, in_engines};

in_engines!(refused_whole);

/// How many entries the record of the airframe has, as its page says.
async fn entries(page: &Page, airframe: &str) -> Result<usize> {
    page.open(&format!("{airframe}/record")).await?;
    page.appears("#entry-count").await?;
    page.count("li.entry").await
}

async fn refused_whole(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let airframe = page.make_example(&app).await?;
    let good = page.export("export-json").await?.text;
    let before = entries(&page, &airframe).await?;
    ensure!(before > 20, "the example's sheet is in the record: {before}");
    page.open(app.address().as_str()).await?;

    // The cut falls inside an entry; a character boundary, so that it is the end that is wrong and not the encoding.
    let half = (good.len() / 2..).find(|&at| good.is_char_boundary(at)).context("a boundary")?;
    let newer = good.replacen("\"version\":4", "\"version\":999", 1);
    ensure!(newer != good, "the file names its version");
    let unknown = good.replacen("\"airframe-made\"", "\"airframe-crushed\"", 1);
    ensure!(unknown != good, "the file holds the airframe");
    let nested = "[".repeat(200_000);
    let cases: [(&str, &str, &str, &str); 9] = [
        ("cut-short.json", "args[1]", &good[..half], "cut short"),
        ("newer.json", "args[1]", &newer, "newer"),
        ("other.json", "args[1]", "{\"format\":\"somebody's\",\"version\":1,\"entries\":[]}", "not a record"),
        ("words.json", "args[1]", "Dear mentor, here is my record.", "not a record"),
        ("empty.json", "args[1]", "", "cut short"),
        ("nested.json", "args[1]", &nested, "not a record"),
        ("unknown-entry.json", "args[1]", &unknown, "damaged"),
        ("picture.json", "new Uint8Array([137, 80, 78, 71, 13, 10, 26, 10, 255])", "", "not text"),
        ("huge.json", "new Uint8Array(161 * 1024 * 1024)", "", "mb"),
    ];
    for (name, contents, text, reason) in cases {
        let said = page.import_made(name, contents, text).await.with_context(|| name.to_owned())?;
        ensure!(said.to_lowercase().contains(reason), "{name}: {said}");
        ensure!(page.kept().await? == 0, "{name}: something was stored");
        ensure!(page.count("a.airframe").await? == 1, "{name}: the hangar changed");
    }
    ensure!(entries(&page, &airframe).await? == before, "the record changed");
    page.open(&airframe).await?;
    ensure!(page.export("export-json").await?.text == good, "the record changed");
    Ok(())
}
