//! The whole specification: its shape, its numbers as a file, and a second person who reads them again.

use anyhow::{Result, ensure};
use trammel_browser_tests::{Bench, Page};

use crate::tour::Tour;

/// A mentor's numbers go to a builder, who takes in all but one; a second person reads them again, one of them wrongly. An invented
/// example's numbers are refused.
pub(crate) async fn numbers_travel_and_are_read_again(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let mut tour = Tour::begin(bench, &app).await?;
    let page = tour.page.clone();

    let example = page.make_example(&app).await?;
    whole(&page, &example).await?;
    let invented = page.export("export-specification").await?;
    ensure!(invented.text.contains("\"invented\":true"), "an example's file says so");

    let mentor = page.make_airframe(&app, "Kestle 4", "C. Mentor").await?;
    whole(&page, &mentor).await?;
    tour.look("specification-whole-empty").await?;
    page.tap("label[for=shape-wing-bracing-1]").await?;
    page.wait(
        "document.querySelector('main').textContent.includes('Lift struts: dihedral and washout by their forks. ')",
    )
    .await?;
    page.tap("#keep-shape").await?;
    page.wait("document.getElementById('shape-kept').textContent.startsWith('Kept: 1')").await?;
    page.wait("!document.getElementById('sheet-lift-struts')").await?;
    page.tap("#sheet-mate-aft-fuselage").await?;
    page.appears("#spec-pitch-number").await?;
    page.paste("source", "page 4-2, revision C").await?;
    for (id, number) in
        [("pitch-number", "-2.6"), ("pitch-tolerance", "0.2"), ("half-width-number", "17 1/4"), ("holes-number", "48")]
    {
        page.paste(&format!("spec-{id}"), number).await?;
    }
    page.tap("#save-specification").await?;
    page.wait("document.getElementById('saved').textContent.startsWith('3 items')").await?;
    whole(&page, &mentor).await?;
    ensure!(page.text("#sheet-mate-aft-fuselage + .hint").await?.ends_with("3 numbers nobody has read again."));
    tour.look("specification-whole").await?;
    let sent = page.export("export-specification").await?;
    ensure!(sent.name.ends_with("-specification.json"), "{}", sent.name);

    let builder = page.make_airframe(&app, "Kestle 4", "A. Builder").await?;
    whole(&page, &builder).await?;
    let said = page.import_made("invented.json", "args[1]", &invented.text).await?;
    ensure!(said.contains("invented example") && said.contains("not taken in"), "{said}");
    tour.look("specification-file-invented").await?;
    let said = page.import_made("cut.json", "args[1]", &sent.text[..sent.text.len() / 2]).await?;
    ensure!(said.contains("cut short"), "{said}");
    ensure!(page.count(".changes label").await? == 0 && page.kept().await? == 0, "nothing of a refused file");
    let other = sent.text.replacen("Kestle 4", "Kestle 5", 1);
    let said = page.import_made("numbers.json", "args[1]", &other).await?;
    ensure!(said == "4 items would change.", "{said}");
    page.wait("document.getElementById('differs').textContent.includes('another type')").await?;
    ensure!(page.kept().await? == 0, "nothing is kept by looking");
    page.tap("#take-holes").await?;
    tour.look("specification-offer").await?;
    page.paste("handed-by", "C. Mentor").await?;
    page.tap("#take-file").await?;
    page.wait("document.getElementById('import-result').textContent.startsWith('3 items taken in')").await?;
    ensure!(page.text("#sheet-mate-aft-fuselage + .hint").await?.ends_with("2 numbers nobody has read again."));

    page.tap("#reread").await?;
    page.appears("#compare-pitch").await?;
    ensure!(!page.text("main").await?.contains("17"), "what was entered is not shown");
    page.paste("again-half-width-number", "17.5").await?;
    page.tap("#compare-half-width").await?;
    page.wait("document.querySelector('#again-half-width .refusal').textContent.includes('name')").await?;
    page.paste("reader", "c. mentor").await?;
    page.tap("#compare-half-width").await?;
    page.wait("document.querySelector('#again-half-width .refusal').textContent.includes('yourself')").await?;
    page.paste("reader", "B. Helper").await?;
    page.tap("#compare-half-width").await?;
    page.appears("#correct-half-width").await?;
    let both = page.text("#again-half-width .refusal").await?;
    ensure!(both.contains("17 1/4 in") && both.contains("17 1/2 in"), "{both}");
    tour.look("reread-different").await?;
    page.paste("again-half-width-number", "17 1/4").await?;
    page.tap("#compare-half-width").await?;
    page.wait("document.querySelector('#again-half-width .lead')?.textContent.startsWith('The same')").await?;
    page.paste("again-pitch-number", "-2.5").await?;
    page.paste("again-pitch-tolerance", "0.2").await?;
    page.tap("#compare-pitch").await?;
    page.tap("#correct-pitch").await?;
    page.wait("document.querySelector('#again-pitch .lead')?.textContent.startsWith('Corrected')").await?;
    ensure!(page.text("#open").await? == "1 number nobody has read again.", "the corrected one");
    page.open(&format!("{builder}/job/mate-aft-fuselage")).await?;
    page.appears("#unread").await?;
    tour.look("work-unread").await?;
    page.open(&format!("{builder}/record")).await?;
    page.wait("document.querySelector('li.entry')").await?;
    let record = page.text("main").await?;
    ensure!(record.contains("Read again in the manual, the same"), "{record}");
    ensure!(record.contains("page 4-2, revision C; handed over by C. Mentor"), "{record}");
    tour.end()
}

async fn whole(page: &Page, airframe: &str) -> Result<()> {
    page.open(airframe).await?;
    page.tap("#whole-specification").await?;
    page.appears("#export-specification").await
}
