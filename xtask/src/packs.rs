//! What is fetched when it is first asked for, and kept from then on by the service worker: the languages, the recogniser.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};
use serde_json::{Value, json};

use crate::assets::Asset;
use crate::bundle::{Care, Module};
use crate::project;

/// Where the catalogues stand: a folder for each language, with `.po` files.
const CATALOGUES: &str = "src/language/catalogue";

/// The recogniser's two files, by the names that the app asks for.
pub(crate) const HEARING: [&str; 2] = ["hearing.js", "hearing.wasm"];

/// The recogniser.
///
/// # Errors
/// When a file cannot be compressed.
pub(crate) fn hearing(module: Module, care: Care) -> Result<[Asset; 2]> {
    let [glue, wasm] = HEARING;
    let program = if care == Care::Small { Asset::plain(wasm, module.wasm)? } else { Asset::bare(wasm, module.wasm) };
    Ok([Asset::plain(glue, module.glue)?, program])
}

/// Every language. The names hold no hash, since the app asks by name; the service worker holds the digest against what comes.
///
/// # Errors
/// When a catalogue cannot be read.
pub(crate) fn packs() -> Result<Vec<Asset>> {
    let pack = |(code, words)| Asset::plain(format!("{code}.json"), serde_json::to_vec(&words)?);
    catalogues()?.into_iter().map(pack).collect()
}

/// A catalogue as the app reads it: words by the English ones, or two where a number decides.
pub(crate) type Words = BTreeMap<String, Value>;

/// The codes of the languages beside English, each with its catalogue.
///
/// # Errors
/// When a catalogue cannot be read.
pub(crate) fn catalogues() -> Result<Vec<(String, Words)>> {
    let mut found = Vec::new();
    for folder in sorted(&project::root().join(CATALOGUES))? {
        let code = folder.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let mut words = BTreeMap::new();
        for file in sorted(&folder)? {
            read(&file, &mut words).with_context(|| format!("{}", file.display()))?;
        }
        found.push((code, words));
    }
    Ok(found)
}

fn sorted(folder: &Path) -> Result<Vec<std::path::PathBuf>> {
    let entries = fs::read_dir(folder).with_context(|| format!("cannot read {}", folder.display()))?;
    let mut paths: Vec<_> = entries.flatten().map(|entry| entry.path()).collect();
    paths.sort();
    Ok(paths)
}

/// Adds a file's words, by the English ones: a text, or two where a number decides.
fn read(file: &Path, words: &mut Words) -> Result<()> {
    let catalogue = polib::po_file::parse(file).map_err(|error| anyhow::anyhow!("{error}"))?;
    for message in catalogue.messages().filter(|message| message.is_translated()) {
        let said = if message.is_plural() {
            let forms = message.msgstr_plural().map_err(|error| anyhow::anyhow!("{error}"))?;
            let [one, many] = &forms[..] else { bail!("{}: not two forms", message.msgid()) };
            json!([one, many])
        } else {
            json!(message.msgstr().map_err(|error| anyhow::anyhow!("{error}"))?)
        };
        let before = words.insert(message.msgid().to_owned(), said.clone());
        if before.is_some_and(|before| before != said) {
            bail!("{} is there twice, in other words", message.msgid());
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_language_is_a_pack_of_words() {
        let codes: Vec<String> = packs().unwrap().into_iter().map(|pack| pack.path).collect();
        assert_eq!(codes, ["de.json", "es.json", "fr.json"]);
        for (code, words) in catalogues().unwrap() {
            assert!(words.len() > 1000, "{code}: {}", words.len());
        }
    }
}
