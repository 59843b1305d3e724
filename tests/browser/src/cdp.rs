//! Chromium's own powers, through chromedriver's command for the devtools protocol.

use anyhow::{Context, Result};
use fantoccini::wd::WebDriverCompatibleCommand;
use http::Method;
use serde_json::{Value, json};
use url::{ParseError, Url};

use crate::Page;

/// One devtools command.
#[derive(Debug)]
struct Execute {
    command: String,
    parameters: Value,
}

impl WebDriverCompatibleCommand for Execute {
    fn endpoint(&self, base_url: &Url, session_id: Option<&str>) -> Result<Url, ParseError> {
        base_url.join(&format!("session/{}/goog/cdp/execute", session_id.unwrap_or_default()))
    }

    fn method_and_body(&self, _: &Url) -> (Method, Option<String>) {
        (Method::POST, Some(json!({ "cmd": self.command, "params": self.parameters }).to_string()))
    }
}

impl Page {
    /// Sends a devtools command and gives its result.
    ///
    /// # Errors
    /// In another engine, or when Chromium refuses it.
    pub async fn devtools(&self, command: &str, parameters: Value) -> Result<Value> {
        let execute = Execute { command: command.to_owned(), parameters };
        self.client().issue_cmd(execute).await.with_context(|| command.to_owned())
    }

    /// Runs a script in every page from now on, before the page's own scripts. Chromium only.
    ///
    /// # Errors
    /// As [`Self::devtools`].
    pub async fn before_every_page(&self, script: &str) -> Result<()> {
        self.devtools("Page.addScriptToEvaluateOnNewDocument", json!({ "source": script })).await.map(drop)
    }

    /// Gives the page a viewport of this size, as a phone's. Chromium only.
    ///
    /// # Errors
    /// As [`Self::devtools`].
    pub async fn viewport(&self, width: u32, height: u32) -> Result<()> {
        let metrics = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": true });
        self.devtools("Emulation.setDeviceMetricsOverride", metrics).await.map(drop)
    }
}
