//! What a step's screen shows, read in one go.

use anyhow::Result;
use serde::Deserialize;

use crate::Page;

/// A move that the app asks for.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Move {
    /// The adjuster's key.
    pub adjuster: String,
    /// Signed, in the airframe's unit.
    pub amount: f64,
    /// The words of the order.
    pub order: String,
}

/// A step's screen.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Screen {
    /// Path of the step.
    pub step: String,
    /// `to-do`, `done`, `stale` or `blocked`.
    pub state: String,
    /// The heading.
    pub title: String,
    /// Ids and classes of every control that would change the record and could be pressed now.
    pub can: Vec<String>,
    /// The reading that is asked for and the how many-th of its kind.
    pub slot: Option<(String, u32)>,
    /// `in`, `out`, `cant-tell`, `not-judged`; none while readings are missing.
    pub verdict: Option<String>,
    /// What the app asks to move.
    pub moves: Vec<Move>,
    /// Why the work has to stop.
    pub stop: Option<String>,
    /// State of the hold point, for a hold point.
    pub hold: Option<String>,
    /// What keeps the hold point shut.
    pub missing: Vec<String>,
    /// Whether a next step is offered.
    pub next: bool,
    /// Whether the whole run is done.
    pub finished: bool,
}

/// Everything that would change the record.
const CONTROLS: &str = "#done, #accept, [id^=key-], [id^=eighth-], [id^=plus-], #sign-plus, #sign-minus, #keep, #again, \
                        .moved, #keep-count, #begin-reading, #sign, #lay-out, .hole";

const READ: &str = r"
const main = document.querySelector('main[data-step]');
if (!main) return null;
const text = (selector) => main.querySelector(selector)?.textContent?.trim() ?? null;
const slot = main.querySelector('#slot-title');
const moves = [...main.querySelectorAll('#orders .moved')];
return {
  step: main.dataset.step,
  state: main.dataset.state,
  title: text('h1') ?? '',
  can: [...main.querySelectorAll(arguments[0])].filter((it) => !it.disabled && it.checkVisibility())
    .map((it) => it.id || it.className),
  slot: slot ? [slot.dataset.slot, Number(slot.dataset.repeat)] : null,
  verdict: main.querySelector('#verdict')?.dataset.verdict ?? null,
  moves: moves.map((it) => ({
    adjuster: it.dataset.adjuster, amount: Number(it.dataset.amount),
    order: it.parentElement?.querySelector('.order')?.textContent ?? '',
  })),
  stop: text('#stop'),
  hold: main.querySelector('#hold')?.dataset.hold ?? null,
  missing: [...main.querySelectorAll('#missing li')].map((it) => it.textContent.trim()),
  next: main.querySelector('#next') !== null,
  finished: main.textContent.includes('Every step is done.'),
};";

impl Page {
    /// The step's screen.
    ///
    /// # Errors
    /// When the page is not a step's.
    pub async fn screen(&self) -> Result<Screen> {
        self.wait("document.querySelector('main[data-step]') !== null").await?;
        self.run(READ, vec![CONTROLS.into()]).await
    }

    /// Goes from a step that is done to the next that is offered.
    ///
    /// # Errors
    /// When none is.
    pub async fn go_on(&self, step: &str) -> Result<()> {
        self.click("next").await?;
        let left = format!("(document.querySelector('main[data-step]')?.dataset.step ?? '{step}') !== '{step}'");
        self.wait(&left).await
    }
}
