//! Lighthouse, the usual audit of a page, against the app as `cargo xtask serve` serves it.

use std::io::{BufRead as _, BufReader};
use std::path::Path;
use std::process::{Child, Stdio};

use anyhow::{Context, Result, bail};
use serde_json::Value;

use crate::figures::Figure;
use crate::{npm, process, project};

/// The npm package, and its version: the last that runs on the Node of Debian.
const LIGHTHOUSE: (&str, &str) = ("lighthouse", "12.8.2");
const CATEGORIES: [&str; 3] = ["performance", "accessibility", "best-practices"];
/// Audits: the score of a category is the middle one's.
const AUDITS: usize = 3;

/// A server that ends with this.
struct Served(Child);

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// The scores of a phone's first visit, 0 to 100, and the least of them.
///
/// # Errors
/// When npm cannot bring the audit, or it fails.
pub(crate) fn audit() -> Result<Vec<Figure>> {
    let (name, version) = LIGHTHOUSE;
    let folder = npm::package(name, version)?.context("the audit cannot be had without npm")?;
    let browser = process::find("chromium").context("chromium is missing")?;
    let (served, address) = serve()?;
    let reports = project::target().join("lighthouse");
    std::fs::create_dir_all(&reports)?;
    let mut scores = vec![Vec::new(); CATEGORIES.len()];
    for audit in 0..AUDITS {
        let report = reports.join(format!("{audit}.json"));
        let mut lighthouse = process::command("node");
        lighthouse.arg(folder.join("cli/index.js")).arg(&address).env("CHROME_PATH", &browser);
        lighthouse.arg(format!("--only-categories={}", CATEGORIES.join(",")));
        lighthouse.args(["--chrome-flags=--headless=new --no-sandbox", "--output=json", "--quiet", "--output-path"]);
        process::run(lighthouse.arg(&report))?;
        for (scores, category) in scores.iter_mut().zip(CATEGORIES) {
            scores.push(score(&report, category)?);
        }
    }
    drop(served);
    let mut found = Vec::new();
    for (mut scores, category) in scores.into_iter().zip(CATEGORIES) {
        scores.sort_by(f64::total_cmp);
        found.push((format!("lighthouse_{}", category.replace('-', "_")), scores[AUDITS / 2]));
    }
    let least = found.iter().map(|(_, score)| *score).fold(f64::INFINITY, f64::min);
    found.push(("lighthouse_min".to_owned(), least));
    Ok(found)
}

/// The app, served by a process of its own.
fn serve() -> Result<(Served, String)> {
    let mut command = process::command(project::own_program());
    command.args(["serve", "--no-build", "--port", "0"]).stdout(Stdio::piped());
    let mut child = command.spawn().context("the server does not start")?;
    let out = child.stdout.take().context("the server's output")?;
    let served = Served(child);
    for line in BufReader::new(out).lines() {
        if let Some(address) = line?.strip_prefix("serving ") {
            return Ok((served, address.to_owned()));
        }
    }
    bail!("the server ended without an address")
}

/// A score of a report, 0 to 100; what cost points is said.
fn score(report: &Path, category: &str) -> Result<f64> {
    let report: Value = serde_json::from_str(&std::fs::read_to_string(report)?)?;
    let found = &report["categories"][category];
    let score = found["score"].as_f64().with_context(|| format!("no score of {category}"))?;
    for audit in found["auditRefs"].as_array().into_iter().flatten() {
        let said = &report["audits"][audit["id"].as_str().unwrap_or_default()];
        let lost = said["score"].as_f64().is_some_and(|score| score < 1.0);
        if lost && audit["weight"].as_f64().is_some_and(|weight| weight > 0.0) {
            println!("{category}: {} {} {}", said["id"], said["score"], said["displayValue"]);
        }
    }
    Ok((score * 100.0).round())
}
