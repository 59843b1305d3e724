//! Accessibility by axe-core, and every text with a contrast of 7:1.

use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context, Result, ensure};
use serde_json::json;

use crate::{Page, project};

/// The version that is installed when none is given.
const VERSION: &str = "4.13.0";

/// Which rules are run: the two levels of the guidelines that law refers to, good practice, and the enhanced contrast.
const RUN: &str = r"
const options = {
  runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
  rules: { 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } },
  resultTypes: ['violations'],
};
const { violations, passes } = await (window.axe ?? globalThis.axe).run(document, options);
if (!passes.length && !violations.length) throw new Error('no rule was run');
return violations.map(({ id, nodes }) =>
  `${id}: ` + nodes.slice(0, 4).map((node) => `${node.target.join(' ')} (${node.any.map((one) => one.message).join('; ').slice(0, 200)})`).join(', '));";

/// The library's source: from `AXE_JS`, from `target/axe`, or fetched there once by npm.
///
/// # Errors
/// When it is nowhere and npm cannot fetch it.
pub fn source() -> Result<String> {
    let file = match std::env::var_os("AXE_JS") {
        Some(given) => PathBuf::from(given),
        None => installed()?,
    };
    std::fs::read_to_string(&file).with_context(|| file.display().to_string())
}

fn installed() -> Result<PathBuf> {
    let home = project::root().join("target/axe");
    let file = home.join("node_modules/axe-core/axe.min.js");
    let description = std::fs::read_to_string(home.join("node_modules/axe-core/package.json")).unwrap_or_default();
    if file.exists() && description.contains(&format!("\"version\": \"{VERSION}\"")) {
        return Ok(file);
    }
    std::fs::create_dir_all(&home)?;
    std::fs::write(home.join("package.json"), "{ \"private\": true }\n")?;
    let mut npm = Command::new("npm");
    npm.args(["install", "--no-save", "--no-package-lock", "--no-audit", "--no-fund", "--silent", "--prefix"])
        .arg(&home);
    let status = npm.arg(format!("axe-core@{VERSION}")).status().context("axe-core is not here, and npm neither")?;
    ensure!(status.success() && file.exists(), "npm could not install axe-core ({status})");
    Ok(file)
}

impl Page {
    /// What axe finds wrong with the page as it is, one line a rule.
    ///
    /// # Errors
    /// When axe cannot be run.
    pub async fn axe(&self, source: &str) -> Result<Vec<String>> {
        let there = "const it = window.axe ?? globalThis.axe; return typeof it?.run === 'function';";
        if !self.run::<bool>(there, Vec::new()).await? {
            // The library asks for a module loader before it settles for the window.
            let load = format!("const module = undefined, define = undefined;\n{source}\nreturn true;");
            self.run::<bool>(&load, vec![json!(null)]).await.context("loading axe")?;
        }
        self.run_async(RUN, Vec::new()).await
    }
}
