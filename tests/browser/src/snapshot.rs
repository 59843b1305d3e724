//! Pictures for the documentation: a page as it is seen on a phone, without scrolling. Chromium only.

use std::path::Path;

use anyhow::{Result, ensure};

use crate::Page;

/// Width and height of the page in the pictures, in CSS pixels.
const PHONE: (u32, u32) = (360, 740);

impl Page {
    /// Gives the page the size of a phone's page: the inside, not the window.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn phone(&self) -> Result<()> {
        self.viewport(PHONE.0, PHONE.1).await
    }

    /// What is seen without scrolling, or after scrolling to the element of `from` where one is named.
    ///
    /// # Errors
    /// When the page is not of a phone's size, as when something in it is too wide, or the file cannot be written.
    pub async fn snapshot(&self, file: &Path, from: Option<&str>) -> Result<()> {
        let body = "document.getAnimations().forEach((it) => it.finish()); document.activeElement?.blur(); \
                    const from = arguments[0] && document.querySelector(arguments[0]); \
                    document.scrollingElement.scrollTo({ top: from ? from.getBoundingClientRect().top + scrollY - 8 : 0, behavior: 'instant' });";
        self.run::<Option<()>>(body, vec![from.into()]).await?;
        let size: (u32, u32) = self.value("[innerWidth, innerHeight]").await?;
        ensure!(size == PHONE, "{}: {size:?} and not {PHONE:?}", file.display());
        std::fs::write(file, self.client().screenshot().await?)?;
        Ok(())
    }
}
