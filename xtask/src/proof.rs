//! `cargo xtask bench proof`: what shows that the app loses nothing, lets nothing in and starts at once, part by part.
//!
//! A part is a program that prints lines `figure: NAME = VALUE`. `cargo xtask bench proof/start` runs one of them alone.

use anyhow::Result;

use crate::bench::{Group, in_browser};
use crate::bundle::Care;
use crate::figures::Figure;
use crate::{dist, fuzz, mutants};

/// In the order in which they run.
pub(crate) const PARTS: [Group; 5] = [
    ("proof/start", start),
    ("proof/kills", kills),
    ("proof/soak", soak),
    ("proof/fuzz", fuzz),
    ("proof/mutants", mutants),
];

/// What the first screen weighs, and how soon it is there.
#[allow(clippy::cast_precision_loss, reason = "a few hundred thousand bytes")]
fn start(found: &mut Vec<Figure>) -> Result<()> {
    let built = dist::build(dist::ROOT_BASE, Care::Small)?;
    found.push(("critical_brotli_bytes".to_owned(), built.critical_brotli() as f64));
    found.push(("precache_brotli_bytes".to_owned(), built.precache_brotli() as f64));
    found.extend(in_browser("warm_start", &["--ignored"])?);
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
