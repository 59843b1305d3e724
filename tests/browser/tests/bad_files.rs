//! A file that is cut short, too new, too large or hostile is refused whole, with the reason, and the record stays as it was.

use anyhow::{Context, Result, ensure};
use serde_json::Value;
use trammel_browser_tests::{Bench, Page, in_engines};

in_engines!(refused_whole, hostile_words_are_only_words);

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

/// What a script would have to get past to run: an image that fails, a script element, an attribute's end.
const HOSTILE: &str = "<img src=x onerror=\"document.documentElement.dataset.hacked='image'\">\
                       <script>document.documentElement.dataset.hacked='script'</script>\"'><b>=1+1";

async fn hostile_words_are_only_words(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.make_example(&app).await?;
    let good = page.export("export-json").await?.text;
    let mut record: Value = serde_json::from_str(&good)?;
    let list = record["entries"].as_array_mut().context("entries")?;
    let count = list.len();
    for entry in list {
        // Another airframe, other entries; every free text is hostile.
        for key in ["id", "airframe"] {
            let id = entry[key].as_str().context("an id")?;
            let other = if id.ends_with('0') { "1" } else { "0" };
            entry[key] = format!("{}{other}", &id[..id.len() - 1]).into();
        }
        entry["by"] = HOSTILE.into();
        if let Some(made) = entry["body"].get_mut("airframe-made") {
            for key in ["model", "serial", "builder", "manual"] {
                made["details"][key] = HOSTILE.into();
            }
        }
        if let Some(set) = entry["body"].get_mut("specification-set") {
            set["source"] = HOSTILE.into();
            if set["key"] == "pitch-zero-face" {
                set["value"]["words"] = HOSTILE.into();
            }
        }
    }
    page.open(app.address().as_str()).await?;
    let said = page.import_made("hostile.json", "args[1]", &record.to_string()).await?;
    ensure!(said.contains(&format!("{count} new")), "{said}");

    page.wait("document.querySelectorAll('a.airframe').length === 2").await?;
    only_words(&page, "a.airframe").await?;
    let choose = "[...document.querySelectorAll('a.airframe')].find((it) => it.textContent.includes('<img')).click();";
    page.run::<Option<()>>(choose, Vec::new()).await?;
    page.appears("ol.works").await?;
    only_words(&page, "main").await?;
    let airframe = page.client().current_url().await?;
    let csv = page.export("export-csv").await?.text;
    ensure!(csv.starts_with("entry,"), "{csv}");
    let run = page.start_run().await?;
    for step in ["cautions", "set/pitch"] {
        page.step_in(&run, step).await?;
        no_element(&page).await?;
    }
    for place in ["specification/mate-aft-fuselage", "record"] {
        page.open(&format!("{airframe}/{place}")).await?;
        page.appears("main h1").await?;
        no_element(&page).await?;
    }
    only_words(&page, "li.entry").await
}

/// The words stand there as they were written, and nothing was made of them.
async fn only_words(page: &Page, selector: &str) -> Result<()> {
    let there = format!(
        "[...document.querySelectorAll('{selector}')].some((it) => it.textContent.includes('<img src=x onerror='))"
    );
    page.wait(&there).await?;
    no_element(page).await
}

async fn no_element(page: &Page) -> Result<()> {
    ensure!(page.count("main img, main script, main b").await? == 0, "an element was made of a text");
    ensure!(page.is("!document.documentElement.dataset.hacked").await?, "a text was run");
    Ok(())
}
