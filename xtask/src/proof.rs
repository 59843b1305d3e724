//! `cargo xtask bench proof`: what shows that the app loses nothing, lets nothing in and starts at once, part by part.
//!
//! A part is a program that prints lines `figure: NAME = VALUE`. `cargo xtask bench proof/start` runs one of them alone.

use anyhow::Result;

use crate::bench::{Group, browser_test, in_browser, measured};
use crate::bundle::Care;
use crate::figures::Figure;
use crate::{baselines, browsers, dist, fuzz, lighthouse, mutants};

/// In the order in which they run.
pub(crate) const PARTS: [Group; 8] = [
    ("proof/start", start),
    ("proof/keys", keys),
    ("proof/lighthouse", lighthouse),
    ("proof/network", network),
    ("proof/kills", kills),
    ("proof/soak", soak),
    ("proof/fuzz", fuzz),
    ("proof/mutants", mutants),
];

/// What the first screen weighs, and how soon it is there: the app, the framework's smallest page, and a page without any library.
#[allow(clippy::cast_precision_loss, reason = "a few hundred thousand bytes")]
fn start(found: &mut Vec<Figure>) -> Result<()> {
    let built = dist::build(dist::ROOT_BASE, Care::Small)?;
    found.push(("critical_brotli_bytes".to_owned(), built.critical_brotli() as f64));
    found.push(("precache_brotli_bytes".to_owned(), built.precache_brotli() as f64));
    for baseline in baselines::build()? {
        found.push((format!("{}_brotli_bytes", baseline.name), baseline.brotli as f64));
    }
    for test in ["warm_start", "cold_start"] {
        let mut start = browser_test(test, &["--ignored"])?;
        found.extend(measured(start.env("TRAMMEL_BASELINES", baselines::folder()))?);
    }
    Ok(())
}

/// How soon a hit is seen, and a kept reading judged.
fn keys(found: &mut Vec<Figure>) -> Result<()> {
    dist::build(dist::ROOT_BASE, Care::Small)?;
    found.extend(in_browser("key_speed", &["--ignored"])?);
    Ok(())
}

/// What the usual audit says of a first visit.
fn lighthouse(found: &mut Vec<Figure>) -> Result<()> {
    dist::build(dist::ROOT_BASE, Care::Small)?;
    browsers::prepare()?;
    found.extend(lighthouse::audit()?);
    Ok(())
}

/// Whether anything is asked of another host, on a walk through all pages.
fn network(found: &mut Vec<Figure>) -> Result<()> {
    dist::build(dist::ROOT_BASE, Care::Small)?;
    found.extend(in_browser("pages", &["watched::chromium::"])?);
    Ok(())
}

/// What is lost of what the screen had acknowledged when the browser is killed.
fn kills(found: &mut Vec<Figure>) -> Result<()> {
    dist::build(dist::ROOT_BASE, Care::Small)?;
    found.extend(in_browser("kills", &["--ignored"])?);
    Ok(())
}

/// What a page that is never loaded anew comes to hold.
fn soak(found: &mut Vec<Figure>) -> Result<()> {
    dist::build(dist::ROOT_BASE, Care::Small)?;
    found.extend(in_browser("soak", &["--ignored"])?);
    Ok(())
}

/// What takes bytes from outside, fed ten million inputs a target; then the kept corpus in the browser's build.
fn fuzz(found: &mut Vec<Figure>) -> Result<()> {
    fuzz::run(&fuzz::Options { executions: 10_000_000, ..fuzz::Options::default() }, found)?;
    fuzz::run(&fuzz::Options { wasm: true, ..fuzz::Options::default() }, found)
}

/// Small wrong changes of the arithmetic: how many the tests notice.
fn mutants(found: &mut Vec<Figure>) -> Result<()> {
    found.extend(mutants::run(None)?);
    Ok(())
}
