//! One tab of one browser, and how a test waits for it.

use std::cell::Cell;
use std::rc::Rc;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};
use fantoccini::error::{CmdError, ErrorStatus};
use fantoccini::{Client, Locator};
use serde::de::DeserializeOwned;
use serde_json::{Value, json};

use crate::{Engine, Session};

/// How often the page is looked at while a test waits.
const POLL: Duration = Duration::from_millis(12);
/// How long a test waits: far longer than anything takes on a machine with something else to do.
const PATIENCE: Duration = Duration::from_secs(20);

/// Hits closer together than this, in time and in CSS pixels, may be one for the app.
const BOUNCE: Duration = Duration::from_millis(280);
const ONE_PLACE: f64 = 60.0;

/// A tab. Elements are named by their ids, without the `#`, unless a parameter says that it is a selector.
#[derive(Clone, Debug)]
pub struct Page {
    /// The engine.
    pub engine: Engine,
    /// The session that the tab belongs to.
    pub session: Session,
    /// When and where it was clicked last.
    hit: Rc<Cell<Option<(Instant, f64, f64)>>>,
}

impl Page {
    /// The current tab of a session.
    #[must_use]
    pub fn new(engine: Engine, session: Session) -> Self {
        Self { engine, session, hit: Rc::default() }
    }

    /// The WebDriver client.
    #[must_use]
    pub const fn client(&self) -> &Client {
        &self.session.client
    }

    /// Goes to an address and waits until the app has read its record and drawn the page.
    ///
    /// # Errors
    /// When it does not come up.
    pub async fn open(&self, address: &str) -> Result<()> {
        self.client().goto(address).await?;
        self.ready().await.with_context(|| format!("opening {address}"))
    }

    /// Loads the same page again.
    ///
    /// # Errors
    /// When it does not come up.
    pub async fn reload(&self) -> Result<()> {
        // Firefox's own "refresh" asks the network past the service worker's answer when no server is there.
        let address = self.client().current_url().await?;
        self.client().goto("about:blank").await?;
        self.open(address.as_str()).await
    }

    /// Waits until the record is read and the page is drawn, in whichever part of the program it is.
    ///
    /// # Errors
    /// When that does not happen.
    pub async fn ready(&self) -> Result<()> {
        self.wait("document.documentElement.dataset.ready === 'true' && !document.getElementById('opening')").await
    }

    /// Waits until the service worker holds everything.
    ///
    /// # Errors
    /// When that does not happen.
    pub async fn kept_for_offline(&self) -> Result<()> {
        self.wait("document.documentElement.dataset.offline === 'ready'").await
    }

    /// Runs a script's body and gives what it returns.
    ///
    /// # Errors
    /// When it throws, or returns something else than `T`.
    pub async fn run<T: DeserializeOwned>(&self, body: &str, arguments: Vec<Value>) -> Result<T> {
        let value = self.client().execute(body, arguments).await?;
        serde_json::from_value(value.clone()).with_context(|| format!("the script gave {value}"))
    }

    /// Runs the body of an async function and gives what it returns.
    ///
    /// # Errors
    /// When it throws, takes longer than half a minute, or returns something else than `T`.
    pub async fn run_async<T: DeserializeOwned>(&self, body: &str, arguments: Vec<Value>) -> Result<T> {
        let script = format!(
            "const args = [...arguments]; const answer = args.pop(); \
             (async () => {{ {body} }})().then((value) => answer([value ?? null, null]), \
             (error) => answer([null, String(error?.stack ?? error)]));"
        );
        let value = self.client().execute_async(&script, arguments).await?;
        let (value, thrown): (Value, Option<String>) =
            serde_json::from_value(value.clone()).with_context(|| format!("the script gave {value}"))?;
        if let Some(thrown) = thrown {
            bail!("the script threw {thrown}");
        }
        serde_json::from_value(value.clone()).with_context(|| format!("the script gave {value}"))
    }

    /// The value of a JavaScript expression.
    ///
    /// # Errors
    /// As [`Self::run`].
    pub async fn value<T: DeserializeOwned>(&self, expression: &str) -> Result<T> {
        self.run(&format!("return ({expression})"), Vec::new()).await
    }

    /// Whether a JavaScript expression holds now.
    ///
    /// # Errors
    /// As [`Self::run`].
    pub async fn is(&self, condition: &str) -> Result<bool> {
        self.value(&format!("Boolean({condition})")).await
    }

    /// Waits until a JavaScript expression holds. The page may be left for another meanwhile.
    ///
    /// # Errors
    /// When it does not hold in time.
    pub async fn wait(&self, condition: &str) -> Result<()> {
        let body = format!("return Boolean({condition})");
        let deadline = Instant::now() + PATIENCE;
        loop {
            match self.client().execute(&body, Vec::new()).await {
                Ok(Value::Bool(true)) => return Ok(()),
                Ok(_) => {}
                Err(error) if between_pages(&error) => {}
                Err(error) => return Err(error).with_context(|| format!("waiting for {condition}")),
            }
            if Instant::now() > deadline {
                bail!("waited {} s in vain for {condition}", PATIENCE.as_secs());
            }
            tokio::time::sleep(POLL).await;
        }
    }

    /// Waits until an element is there and shown.
    ///
    /// # Errors
    /// When it does not appear.
    pub async fn appears(&self, selector: &str) -> Result<()> {
        self.wait(&format!("document.querySelector({})?.checkVisibility?.() ?? false", json!(selector))).await
    }

    /// Whether an element is there.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn has(&self, selector: &str) -> Result<bool> {
        self.value(&format!("document.querySelector({}) !== null", json!(selector))).await
    }

    /// The text of an element; empty when it is not there.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn text(&self, selector: &str) -> Result<String> {
        self.value(&format!("document.querySelector({})?.textContent?.trim() ?? ''", json!(selector))).await
    }

    /// How many elements there are.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn count(&self, selector: &str) -> Result<usize> {
        self.value(&format!("document.querySelectorAll({}).length", json!(selector))).await
    }

    /// Clicks as a hand does, by the driver, as soon as the element can be clicked.
    ///
    /// # Errors
    /// When it cannot.
    pub async fn click(&self, id: &str) -> Result<()> {
        self.click_on(&format!("#{id}")).await
    }

    /// [`Self::click`] by selector.
    ///
    /// # Errors
    /// When it cannot.
    pub async fn click_on(&self, selector: &str) -> Result<()> {
        let deadline = Instant::now() + PATIENCE;
        loop {
            let clicked = async {
                let element = self.client().find(Locator::Css(selector)).await?;
                if !element.is_enabled().await? || !self.stands_still(selector).await? {
                    return Ok(false);
                }
                self.meant(selector).await?;
                element.click().await?;
                // The time counts from where the hit arrived, which may be long after it was asked for.
                self.hit.set(self.hit.get().map(|(_, x, y)| (Instant::now(), x, y)));
                Ok(true)
            };
            match clicked.await {
                Ok(true) => return Ok(()),
                Ok(false) => {}
                Err(error) if Instant::now() < deadline && not_yet(&error) => self.scroll_to(selector).await?,
                Err(error) => return Err(error).with_context(|| format!("clicking {selector}")),
            }
            if Instant::now() > deadline {
                bail!("{selector} stays disabled");
            }
            tokio::time::sleep(POLL).await;
        }
    }

    /// Whether an element is where it was a moment ago. A driver works out where to press before it presses: what moves in
    /// between is missed, silently.
    async fn stands_still(&self, selector: &str) -> Result<bool, CmdError> {
        let body = "const done = arguments[1]; \
            const where = () => { const it = document.querySelector(arguments[0])?.getBoundingClientRect(); \
                return it && `${it.x} ${it.y} ${it.width} ${it.height}`; }; \
            const before = where(); \
            setTimeout(() => requestAnimationFrame(() => done(before !== undefined && where() === before)), 16);";
        Ok(self.client().execute_async(body, vec![json!(selector)]).await? == Value::Bool(true))
    }

    /// Waits as long as a person does who means to hit the same place twice: the app takes a second hit right after the first for a
    /// bounce.
    async fn meant(&self, selector: &str) -> Result<(), CmdError> {
        // Where it will be hit: the driver scrolls to it first.
        let body = "const hit = document.querySelector(arguments[0]); \
                    hit?.scrollIntoView({ block: 'nearest', behavior: 'instant' }); \
                    const it = hit?.getBoundingClientRect(); \
                    return it ? [it.x + it.width / 2, it.y + it.height / 2] : [0, 0];";
        let at = self.client().execute(body, vec![json!(selector)]).await?;
        let part = |place: usize| at[place].as_f64().unwrap_or_default();
        if let Some((last, x, y)) = self.hit.get()
            && (part(0) - x).hypot(part(1) - y) < ONE_PLACE
        {
            tokio::time::sleep(BOUNCE.saturating_sub(last.elapsed())).await;
        }
        self.hit.set(Some((Instant::now(), part(0), part(1))));
        Ok(())
    }

    /// Scrolls as a person does who wants to tap something that lies under a button that floats.
    async fn scroll_to(&self, selector: &str) -> Result<()> {
        let body = "document.querySelector(arguments[0])?.scrollIntoView({ block: 'center', behavior: 'instant' });";
        self.run::<Option<()>>(body, vec![json!(selector)]).await.map(drop)
    }

    /// Clicks by script, as soon as the element is there and enabled.
    ///
    /// # Errors
    /// When it is not.
    pub async fn tap(&self, selector: &str) -> Result<()> {
        let there = format!(
            "(() => {{ const it = document.querySelector({}); if (!it || it.disabled) return false; it.click(); return true }})()",
            json!(selector)
        );
        self.wait(&there).await.with_context(|| format!("tapping {selector}"))
    }

    /// Types into a field, key by key, in the place of what it holds.
    ///
    /// # Errors
    /// When the field does not take it.
    pub async fn fill(&self, id: &str, text: &str) -> Result<()> {
        self.appears(&format!("#{id}")).await?;
        let field = self.client().find(Locator::Id(id)).await?;
        if field.prop("value").await?.is_some_and(|held| !held.is_empty()) {
            field.clear().await?;
        }
        field.send_keys(text).await?;
        let held = field.prop("value").await?.unwrap_or_default();
        if held != text {
            bail!("#{id} holds {held:?} after typing {text:?}");
        }
        Ok(())
    }

    /// Puts a text into a field by script, as if it had been pasted.
    ///
    /// # Errors
    /// When the field is not there.
    pub async fn paste(&self, id: &str, text: &str) -> Result<()> {
        self.appears(&format!("#{id}")).await?;
        let body = "const it = document.getElementById(arguments[0]); \
                    Object.getOwnPropertyDescriptor(Object.getPrototypeOf(it), 'value').set.call(it, arguments[1]); \
                    for (const name of ['input', 'change']) it.dispatchEvent(new Event(name, { bubbles: true }));";
        self.run(body, vec![json!(id), json!(text)]).await
    }

    /// Entries committed in this tab since it was loaded.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn kept(&self) -> Result<u64> {
        self.value("Number(document.documentElement.dataset.kept ?? 0)").await
    }
}

/// The page is just being left.
fn between_pages(error: &CmdError) -> bool {
    match error {
        CmdError::Standard(error) => matches!(error.error, ErrorStatus::JavascriptError | ErrorStatus::UnknownError),
        _ => false,
    }
}

/// The element is not there, or not where it will be, or being drawn anew.
fn not_yet(error: &CmdError) -> bool {
    match error {
        CmdError::Standard(error) => matches!(
            error.error,
            ErrorStatus::NoSuchElement
                | ErrorStatus::StaleElementReference
                | ErrorStatus::ElementNotInteractable
                | ErrorStatus::ElementClickIntercepted
                | ErrorStatus::UnknownError
        ),
        _ => false,
    }
}
