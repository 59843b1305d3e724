//! What the app's weight and speed are held against: the smallest page that the framework makes, and a page without any library that does
//! the entry screen's work (`xtask/baselines/`).

use std::fs;
use std::path::PathBuf;

use anyhow::{Context, Result};

use crate::assets::Asset;
use crate::{bundle, project, template};

/// Where their files stand.
const FOLDER: &str = "xtask/baselines";

/// Names of the pages; each has a folder of that name.
pub(crate) const NAMES: [&str; 2] = ["counter", "plain"];

/// A page that was built.
pub(crate) struct Baseline {
    /// Its name.
    pub(crate) name: &'static str,
    /// Brotli bytes of everything that it shows itself with.
    pub(crate) brotli: usize,
}

/// Where the built pages are, each in a folder of its own name.
pub(crate) fn folder() -> PathBuf {
    project::target().join("baselines")
}

/// Builds both pages, as the app is built.
///
/// # Errors
/// When a step of the build fails or a file cannot be written.
pub(crate) fn build() -> Result<Vec<Baseline>> {
    NAMES.into_iter().map(page).collect()
}

fn page(name: &'static str) -> Result<Baseline> {
    let read = |file: &str| {
        let path = project::root().join(FOLDER).join(file);
        fs::read(&path).with_context(|| format!("cannot read {}", path.display()))
    };
    let own = |file: &str| Asset::plain(file, read(&format!("{name}/{file}"))?);
    let mut assets = vec![own("index.html")?];
    if name == "counter" {
        let module = bundle::build_other(FOLDER, name)?;
        assets.push(own("start.js")?);
        assets.push(Asset::plain(format!("{name}.js"), module.glue)?);
        assets.push(Asset::plain(format!("{name}.wasm"), module.wasm)?);
    } else {
        assets.push(own("page.css")?);
        assets.push(own("page.js")?);
    }
    let files: Vec<String> = assets[1..].iter().map(|asset| format!("{:?}", asset.path)).collect();
    let worker = template::fill(&String::from_utf8(read("sw.js")?)?, &[("files", &files.join(", "))])?;
    let to = folder().join(name);
    for asset in assets.iter().chain([&Asset::plain("sw.js", worker.into_bytes())?]) {
        asset.write(&to)?;
    }
    Ok(Baseline { name, brotli: assets.iter().map(Asset::sent).sum() })
}
