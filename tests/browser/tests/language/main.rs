//! The app in another language: every sentence of its pages comes out of the catalogue, and a language once chosen stays without a
//! network.

#![allow(clippy::print_stdout, reason = "the walk says how far it went")]

mod room;
mod steps;
mod walk;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, ensure};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::Value;
use sha2::{Digest, Sha256};
use trammel_browser_tests::{AppServer, Bench, Page, in_engines, run, sentences};

use walk::Walk;

in_engines! {
    chromium Chromium: german_stays_without_a_network;
    webkit WebKit: german_stays_without_a_network;
}

/// The pages are the same in every engine: one is enough.
#[test]
fn every_sentence_is_looked_up() {
    run(trammel_browser_tests::Engine::Chromium, "every_sentence_is_looked_up", looked_up);
}

#[test]
fn longer_words_have_room() {
    run(trammel_browser_tests::Engine::Chromium, "longer_words_have_room", room::there_is_room);
}

/// A procedure's title, as it stands in its file.
const MATING: &str = "Mate the aft fuselage to the forward frame";

type Words = BTreeMap<String, Value>;

/// The German catalogue as it was built.
fn german(folder: &Path) -> Result<(String, Words)> {
    let text = fs::read_to_string(folder.join("de.json")).context("de.json: has `cargo xtask dist` been run?")?;
    let words = serde_json::from_str(&text)?;
    Ok((text, words))
}

/// An English sentence with what is ours of it between brackets; what is put into it stands outside.
fn marked(english: &str) -> String {
    let mut words = String::from("⟦");
    for letter in english.chars() {
        match letter {
            '{' => words.push_str("⟧{"),
            '}' => words.push_str("}⟦"),
            letter => words.push(letter),
        }
    }
    words.push('⟧');
    words
}

/// The built app once more, with a German that says every sentence in marked English.
fn with_marks(to: &Path) -> Result<()> {
    let built = AppServer::folder();
    for folder in ["", "assets"] {
        fs::create_dir_all(to.join(folder))?;
        for entry in fs::read_dir(built.join(folder))?.flatten().filter(|entry| entry.path().is_file()) {
            fs::copy(entry.path(), to.join(folder).join(entry.file_name()))?;
        }
    }
    let (before, words) = german(&built)?;
    let mut marks: Words = words.into_keys().map(|english| (english.clone(), Value::from(marked(&english)))).collect();
    for (english, many) in sentences()? {
        let one = marked(&english);
        marks.insert(english, many.map_or(Value::from(one.clone()), |many| Value::from(vec![one, marked(&many)])));
    }
    let after = serde_json::to_string(&marks)?;
    let digest = |text: &str| STANDARD.encode(Sha256::digest(text));
    let worker = fs::read_to_string(built.join("sw.js"))?;
    ensure!(worker.contains(&digest(&before)), "sw.js knows the digest of de.json");
    fs::write(to.join("sw.js"), worker.replace(&digest(&before), &digest(&after)))?;
    fs::write(to.join("de.json"), after)?;
    for name in ["sw.js", "de.json"] {
        for ending in ["br", "gz"] {
            let compressed = to.join(format!("{name}.{ending}"));
            if compressed.exists() {
                fs::remove_file(compressed)?;
            }
        }
    }
    Ok(())
}

/// Chooses German in the settings, as a person does.
async fn choose_german(page: &Page, app: &AppServer) -> Result<()> {
    page.open(&app.page("settings")).await?;
    page.tap("#language-de").await?;
    page.wait("document.documentElement.lang === 'de'").await?;
    page.ready().await
}

async fn looked_up(bench: &Bench) -> Result<()> {
    let folder = tempfile::tempdir()?;
    with_marks(folder.path())?;
    let app = AppServer::start_in(Some(folder.path()), 0)?;
    let page = bench.open().await?;
    choose_german(&page, &app).await?;
    Walk::begin(page, &app).all().await
}

async fn german_stays_without_a_network(bench: &Bench) -> Result<()> {
    let (_, words) = german(&AppServer::folder())?;
    let title = words.get(MATING).and_then(Value::as_str).context("the mating has a German title")?;
    let mut app = bench.serve()?;
    let page = bench.open().await?;
    page.open(app.address().as_str()).await?;
    ensure!(page.is("document.documentElement.lang === 'en'").await?, "the page itself is in English");
    ensure!(page.text("h1").await? == "Hangar", "nobody has asked for another language");
    choose_german(&page, &app).await?;
    page.kept_for_offline().await?;
    page.make_example(&app).await?;
    page.to_mating().await?;
    ensure!(page.text("h1").await? == title, "{} is not {title}", page.text("h1").await?);
    let kept = "globalThis.packs ??= caches.keys().then(async (names) => { \
                const all = await Promise.all(names.map(async (name) => (await caches.open(name)).match('de.json', { ignoreVary: true }))); \
                globalThis.packed = all.some(Boolean); globalThis.packs = undefined; }), globalThis.packed";
    page.wait(kept).await?;
    app.stop();
    page.reload().await?;
    let reached = "try { await fetch('not-kept-' + Date.now()); return true } catch { return false }";
    ensure!(!page.run_async::<bool>(reached, Vec::new()).await?, "the server is not gone");
    ensure!(page.is("document.documentElement.lang === 'de'").await?, "the page says that it is German");
    ensure!(page.text("h1").await? == title, "{} is not {title}", page.text("h1").await?);
    Ok(())
}
