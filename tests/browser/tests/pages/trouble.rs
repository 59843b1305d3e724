//! Storage that is full, and a program that stopped.

use anyhow::Result;
use trammel_browser_tests::pad::keys;
use trammel_browser_tests::{Engine, Page};

use crate::tour::{DEGREES, Tour};

/// What stands over a page when something is wrong: storage that refuses, and the app itself stopped.
pub(crate) async fn trouble(tour: &mut Tour, page: &Page, run: &str) -> Result<()> {
    page.open(&format!("{run}/set/twist")).await?;
    page.appears("#again").await?;
    let fault = "const page = window.wrappedJSObject ?? window; page.put = page.IDBObjectStore.prototype.put; \
                 page.IDBObjectStore.prototype.put = function () { throw new page.DOMException('full', 'QuotaExceededError'); };";
    page.run::<Option<()>>(fault, Vec::new()).await?;
    page.tap("#again").await?;
    page.press(&keys(0.1, DEGREES, true)).await?;
    page.tap("#keep").await?;
    page.appears("#trouble").await?;
    tour.look("trouble").await?;
    // Another engine's words would be the same.
    if page.engine == Engine::Chromium {
        page.run::<Option<()>>(
            "trammelRescue('panicked at a line of the program: it should not have been reached');",
            Vec::new(),
        )
        .await?;
        page.appears(".rescue").await?;
        tour.look("rescue").await?;
    }
    Ok(())
}
