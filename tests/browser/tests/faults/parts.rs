//! The parts of the program: which page fetches which, and one that does not come.

use anyhow::{Result, ensure};
use serde_json::json;
use trammel_browser_tests::{Bench, Page};

use crate::half_way;

/// The parts that this page has fetched so far, but for what all but the first screen need.
async fn fetched(page: &Page) -> Result<Vec<String>> {
    let names = "[...new Set(performance.getEntriesByType('resource').map((it) => /part-split_(\\w+)\\./.exec(it.name)?.[1]).filter(Boolean))].sort()";
    page.value(names).await
}

/// The first screen needs none, a page of the work and another one need each its own, whether they are opened or come to.
pub(crate) async fn a_page_fetches_its_own_part(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.open(app.address().as_str()).await?;
    page.appears("#example-0").await?;
    ensure!(fetched(&page).await?.is_empty(), "{:?}", fetched(&page).await?);
    let run = half_way(&page, &app).await?;
    let airframe = run.split("/run/").next().unwrap_or_default().to_owned();
    let work = [
        String::new(),
        "/instruments".to_owned(),
        "/job/mate-aft-fuselage".to_owned(),
        "/specification/mate-aft-fuselage".to_owned(),
        "/place/mate-aft-fuselage".to_owned(),
        "/run/mate-aft-fuselage/twins".to_owned(),
        "/helper/mate-aft-fuselage/twins".to_owned(),
    ];
    for place in work {
        page.open(&format!("{airframe}{place}")).await?;
        page.appears("h1").await?;
        ensure!(fetched(&page).await? == ["work"], "{place}: {:?}", fetched(&page).await?);
    }
    for place in ["/record", "/specification", "/todo", "/send"] {
        page.open(&format!("{airframe}{place}")).await?;
        page.appears("h1").await?;
        ensure!(fetched(&page).await? == ["paper"], "{place}: {:?}", fetched(&page).await?);
    }
    for place in ["settings", "bench", "airframe/new"] {
        page.open(&app.page(place)).await?;
        page.appears("h1").await?;
        ensure!(fetched(&page).await? == ["paper"], "{place}: {:?}", fetched(&page).await?);
    }
    Ok(())
}

/// A part that the network does not bring, on a first visit: the page says so, the first screen works on, and with a network it comes.
pub(crate) async fn a_part_that_does_not_come(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.devtools("Network.enable", json!({})).await?;
    page.devtools("Network.setBypassServiceWorker", json!({ "bypass": true })).await?;
    page.devtools("Network.setBlockedURLs", json!({ "urls": ["*part-*"] })).await?;
    page.open(app.address().as_str()).await?;
    page.tap("a[href$='/settings']").await?;
    page.appears("#unfetched").await?;
    page.client().back().await?;
    page.appears("#example-0").await?;
    page.tap("#example-0").await?;
    page.appears("#trouble").await?;
    ensure!(page.count("a.airframe").await? == 0, "half an airframe");
    page.tap("a[href$='/settings']").await?;
    page.appears("#unfetched").await?;
    page.devtools("Network.setBlockedURLs", json!({ "urls": [] })).await?;
    page.tap("#fetch-again").await?;
    page.appears("#keeping").await
}
