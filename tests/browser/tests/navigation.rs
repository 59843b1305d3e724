//! The address says where the app is: links change it, "back" goes back, a reload and a copied address come to the same place.

use anyhow::{Result, ensure};
use trammel_browser_tests::{Bench, Page, in_engines};

in_engines!(the_address_follows);

const MATING: &str = "Mate the aft fuselage to the forward frame";

async fn the_address_follows(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let airframe = page.make_example(&app).await?;
    let id = airframe.rsplit('/').next().unwrap_or_default().to_owned();
    ensure!(id.len() == 36, "the airframe's page has its own address: {airframe}");
    page.click("work-mate-aft-fuselage").await?;
    arrives(&page, MATING, "job/mate-aft-fuselage").await?;
    page.click("specification").await?;
    arrives(&page, "Rigging specification", "/specification/mate-aft-fuselage").await?;
    page.client().back().await?;
    arrives(&page, MATING, "job/mate-aft-fuselage").await?;
    page.client().back().await?;
    arrives(&page, "Veldrin H2", &id).await?;
    page.client().forward().await?;
    arrives(&page, MATING, "job/mate-aft-fuselage").await?;
    page.click("open-run").await?;
    arrives(&page, "Before you start", "/run/mate-aft-fuselage/cautions").await?;
    page.click("following-step").await?;
    arrives(&page, "Accept the protractor", "/run/mate-aft-fuselage/protractor").await?;
    page.click("following-step").await?;
    arrives(&page, "Turn the protractor end for end", "/run/mate-aft-fuselage/reversal").await?;
    page.client().back().await?;
    arrives(&page, "Accept the protractor", "/run/mate-aft-fuselage/protractor").await?;
    page.reload().await?;
    arrives(&page, "Accept the protractor", "/run/mate-aft-fuselage/protractor").await?;

    // An address without a step goes to the one that is open.
    page.open(&format!("{airframe}/run/mate-aft-fuselage")).await?;
    arrives(&page, "Before you start", "/run/mate-aft-fuselage/cautions").await?;
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
