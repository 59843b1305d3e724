//! Real keys, by the driver: struck, typed, and tabbed with to a control. No click.

use std::time::Duration;

use anyhow::{Context, Result, bail};
use fantoccini::actions::{InputSource as _, KeyAction, KeyActions};
use serde_json::json;

use crate::Page;

/// Keys without a sign, as the driver's protocol names them (WebDriver, section 17.4.2).
pub const TAB: char = '\u{e004}';
/// The enter key.
pub const ENTER: char = '\u{e007}';
/// Page up.
pub const PAGE_UP: char = '\u{e00e}';
/// Page down.
pub const PAGE_DOWN: char = '\u{e00f}';
/// The arrow to the left.
pub const LEFT: char = '\u{e012}';
/// The arrow to the right.
pub const RIGHT: char = '\u{e014}';
/// The arrow down.
pub const DOWN: char = '\u{e015}';
/// Backspace.
pub const BACKSPACE: char = '\u{e003}';

/// As long as somebody who means it waits before the same key again.
const MEANT: Duration = Duration::from_millis(270);

/// No page has more that can be tabbed to.
const STOPS: usize = 250;

impl Page {
    /// Strikes one key.
    ///
    /// # Errors
    /// When the driver does not take it.
    pub async fn strike(&self, key: char) -> Result<()> {
        let strokes = KeyActions::new("keyboard".to_owned());
        let strokes = strokes.then(KeyAction::Down { value: key }).then(KeyAction::Up { value: key });
        self.client().perform_actions(strokes).await.with_context(|| format!("striking {key:?}"))
    }

    /// Strikes a key that acts, and gives it time to have been meant.
    ///
    /// # Errors
    /// As [`Self::strike`].
    pub async fn strike_once(&self, key: char) -> Result<()> {
        self.strike(key).await?;
        tokio::time::sleep(MEANT).await;
        Ok(())
    }

    /// Types a text, key by key, to wherever the focus is.
    ///
    /// # Errors
    /// As [`Self::strike`].
    pub async fn type_text(&self, text: &str) -> Result<()> {
        let mut strokes = KeyActions::new("keyboard".to_owned());
        for value in text.chars() {
            strokes = strokes.then(KeyAction::Down { value }).then(KeyAction::Up { value });
        }
        self.client().perform_actions(strokes).await.with_context(|| format!("typing {text:?}"))
    }

    /// Goes on with the tab key until the focus is on what the selector names, and sees that the focus is in sight there.
    ///
    /// # Errors
    /// When it never gets there, or cannot be seen there.
    pub async fn tab_to(&self, selector: &str) -> Result<()> {
        // A verdict over the whole screen goes by itself.
        self.wait("!document.getElementById('flash')").await?;
        self.appears(selector).await?;
        let there = format!("document.activeElement?.matches({})", json!(selector));
        for _ in 0..STOPS {
            if self.is(&there).await? {
                // Some engines scroll a moment after the focus came.
                let seen = "((it) => { const box = it.getBoundingClientRect(); \
                    const places = [0.1, 0.5, 0.9].flatMap((x) => [0.1, 0.5, 0.9].map((y) => [box.left + box.width * x, box.top + box.height * y])); \
                    const on = (top) => top && (it.contains(top) || top.contains(it) && top.matches('label, fieldset')); \
                    return places.some(([x, y]) => on(document.elementFromPoint(x, y))); })(document.activeElement)";
                self.wait(seen).await.with_context(|| format!("the focus on {selector} is out of sight"))?;
                return Ok(());
            }
            self.strike(TAB).await?;
        }
        bail!("the tab key does not lead to {selector}")
    }

    /// Goes to a control with the tab key and presses it with Enter.
    ///
    /// # Errors
    /// As [`Self::tab_to`].
    pub async fn press_by_key(&self, selector: &str) -> Result<()> {
        self.tab_to(selector).await?;
        self.strike_once(ENTER).await
    }
}
