//! Hold points: that none can be gone around, and signing them.

use anyhow::{Result, ensure};
use serde_json::json;

use trammel_browser_tests::{Page, Screen};

use crate::builder::Builder;

/// Each hold point, and the step that it guards.
pub(crate) const HOLDS: [(&str, Option<&str>); 4] =
    [("hold-a", Some("pilot")), ("hold-b", Some("drill")), ("hold-c", Some("fasten")), ("sign", None)];

/// Opens a shut hold point by its address, tries to sign it, and tries the step behind it: nothing must give.
///
/// # Errors
/// When something does.
pub(crate) async fn cannot_skip(page: &Page, run: &str, hold: &str, guarded: Option<&str>) -> Result<()> {
    let shut = at(page, run, hold).await?;
    if shut.hold.is_some() {
        ensure!(shut.hold.as_deref() == Some("shut"), "{shut:?}");
        ensure!(shut.state == "blocked" || !shut.missing.is_empty(), "nothing is missing, yet it is shut: {shut:?}");
    }
    nothing_gives(page, &shut).await?;
    if let Some(guarded) = guarded {
        let behind = at(page, run, guarded).await?;
        ensure!(behind.state == "blocked", "{behind:?}");
        nothing_gives(page, &behind).await?;
    }
    Ok(())
}

async fn at(page: &Page, run: &str, step: &str) -> Result<Screen> {
    page.open(&format!("{run}/{step}")).await?;
    let screen = page.screen().await?;
    ensure!(screen.step == step, "asked for {step}: {screen:?}");
    Ok(screen)
}

/// No control can be pressed; and pressing "sign" by script, disabled or not, signs nothing.
async fn nothing_gives(page: &Page, screen: &Screen) -> Result<()> {
    ensure!(screen.can.is_empty(), "{} can be acted on: {:?}", screen.step, screen.can);
    page.run::<Option<()>>("document.getElementById('sign')?.click();", Vec::new()).await?;
    tokio::time::sleep(std::time::Duration::from_millis(60)).await;
    ensure!(page.kept().await? == 0, "something was kept at {}", screen.step);
    Ok(())
}

/// Signs the hold point on the screen, which is ready: not without a name, not without agreeing, and where a second
/// person has to sign not by who took the readings.
///
/// # Errors
/// When it can be signed too early, or not at all.
pub(crate) async fn sign(page: &Page, builder: &Builder, run: &str, hold: &str, guarded: Option<&str>) -> Result<()> {
    if let Some(guarded) = guarded {
        let behind = at(page, run, guarded).await?;
        ensure!(behind.state == "blocked" && behind.can.is_empty(), "before the signature: {behind:?}");
    }
    let screen = at(page, run, hold).await?;
    ensure!(screen.hold.as_deref() == Some("ready"), "{screen:?}");
    if hold == "hold-a" {
        write_signature(page, &builder.name).await?;
        page.click("sign").await?;
        page.wait("document.getElementById('sign-refusal')?.textContent.includes('second person')").await?;
        let after = page.screen().await?;
        ensure!(after.hold.as_deref() == Some("ready"), "the reader signed as the second person: {after:?}");
        ensure!(page.kept().await? == 0, "the reader's signature was kept");
        let behind = at(page, run, guarded.unwrap_or(hold)).await?;
        ensure!(behind.state == "blocked", "{behind:?}");
        at(page, run, hold).await?;
        write_signature(page, &builder.second).await?;
    } else {
        write_signature(page, &builder.name).await?;
    }
    page.click("sign").await?;
    page.wait("document.getElementById('hold')?.dataset.hold === 'signed'").await
}

async fn write_signature(page: &Page, name: &str) -> Result<()> {
    let disabled = "document.getElementById('sign').disabled === true";
    ensure!(page.is(disabled).await?, "without a name and without agreeing");
    page.fill("signer", name).await?;
    ensure!(page.is(disabled).await?, "without agreeing");
    // As a thumb does that sees no tick: once in many runs a hit in a busy WebKit does nothing.
    const TICKED: &str = "document.getElementById('agree').checked";
    for _ in 0..3 {
        page.click_on("label[for=agree]").await?;
        tokio::time::sleep(std::time::Duration::from_millis(400)).await;
        if page.is(TICKED).await? {
            break;
        }
    }
    ensure!(page.is(TICKED).await?, "the box is not ticked");
    page.paste("signer", " ").await?;
    page.wait(disabled).await?;
    page.paste("signer", name).await?;
    let signer: String = page.value("document.getElementById('signer').value").await?;
    ensure!(json!(signer) == json!(name));
    Ok(())
}
