//! The address says where the app is: links change it, "back" goes back, a reload and a copied address come to the same place.

use anyhow::{Result, ensure};
use trammel_browser_tests::{Bench, Page, in_engines};

in_engines!(the_address_follows);

async fn the_address_follows(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let airframe = page.make_example(&app).await?;
    let id = airframe.rsplit('/').next().unwrap_or_default().to_owned();
    ensure!(id.len() == 36, "the airframe's page has its own address: {airframe}");
    page.click("specification").await?;
    arrives(&page, "Rigging specification", "/specification").await?;
    page.client().back().await?;
    arrives(&page, "Veldrin H2", &id).await?;
    page.click("open-run").await?;
    arrives(&page, "Before you start", "/run/cautions").await?;
    page.click("following-step").await?;
    arrives(&page, "Accept the protractor", "/run/protractor").await?;
    page.click("following-step").await?;
    arrives(&page, "Turn the protractor end for end", "/run/reversal").await?;
    page.client().back().await?;
    arrives(&page, "Accept the protractor", "/run/protractor").await?;
    page.reload().await?;
    arrives(&page, "Accept the protractor", "/run/protractor").await?;

    // An address without a step goes to the one that is open.
    page.open(&format!("{airframe}/run")).await?;
    arrives(&page, "Before you start", "/run/cautions").await?;
    // An address of nothing says so, and offers the way home.
    let other = if airframe.ends_with('0') { '1' } else { '0' };
    page.open(&format!("{}{other}/record", &airframe[..airframe.len() - 1])).await?;
    page.click_on("main a").await?;
    arrives(&page, "Hangar", app.address().path()).await
}

/// The heading, the title and the end of the address, and the focus where a screen reader goes on reading.
async fn arrives(page: &Page, heading: &str, end: &str) -> Result<()> {
    page.wait(&format!(
        "document.querySelector('h1')?.textContent === '{heading}' && location.pathname.endsWith('{end}')"
    ))
    .await?;
    page.wait(&format!("document.title.startsWith('{heading}')")).await?;
    page.wait("document.activeElement?.localName === 'h1'").await
}
