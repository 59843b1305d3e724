//! A record from a hostile hand, opened through every page: its words stay words. Nothing of them becomes markup, runs, is asked of
//! another host, or makes a page wider than the phone.

#![allow(clippy::print_stdout, reason = "the walk says how far it went")]

mod record;

use std::collections::BTreeSet;

use anyhow::{Context, Result, ensure};
use serde_json::{Value, json};
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{AppServer, Bench, Engine, Page, Watch, in_engines};

use record::PROCEDURE;

// WebKit takes a hundred new addresses in half a minute and no more; these are 111 pages in a row.
in_engines! {
    chromium Chromium: hostile_words_are_only_words;
    firefox Firefox: hostile_words_are_only_words;
}

/// Texts that these pages do not show: a drawn signature is read as strokes or not at all, an instrument's name in a reading is that of its
/// acceptance, and the last two wait for the steps before theirs. Markup in them is looked for all the same.
const UNSHOWN: [&str; 5] =
    ["airframe-made by", "hold-signed drawn", "reading-taken name", "procedure statement", "procedure what"];

/// What is wrong with the page, and which fields' texts it shows.
const LOOK: &str = r"
const root = document.documentElement;
const wrong = [];
if (root.dataset.hacked) wrong.push(`a text was run: ${root.dataset.hacked}`);
for (const it of document.querySelectorAll('[data-hostile]')) wrong.push(`an element was made: ${it.outerHTML.slice(0, 80)}`);
for (const it of document.querySelectorAll('[href], [src], [action], [formaction]')) {
  const address = it.getAttribute('href') ?? it.getAttribute('src') ?? it.getAttribute('action') ?? it.getAttribute('formaction');
  if (/^\s*javascript:/i.test(address) || address.includes('HYPERLINK')) wrong.push(`an address was made: ${address.slice(0, 80)}`);
}
for (const it of document.querySelectorAll('*')) {
  for (const { name } of it.attributes) if (name.startsWith('on')) wrong.push(`a handler was made: ${name}`);
}
if (document.scrollingElement.scrollWidth > root.clientWidth) {
  const wide = [...document.querySelectorAll('main *')].find((it) => it.getBoundingClientRect().right > root.clientWidth + 1);
  wrong.push(`wider than the phone: ${wide?.tagName} ${wide?.className} ${wide?.id}`);
}
const said = [root.textContent, ...[...document.querySelectorAll('input, textarea')].map((it) => it.value)];
for (const it of document.querySelectorAll('[aria-label], [alt]')) said.push(it.getAttribute('aria-label') ?? it.getAttribute('alt'));
const shown = said.flatMap((text) => [...text.matchAll(/¤([^¤]+)¤/g)].map(([, field]) => field));
return [wrong, shown];";

/// A walk through the pages.
struct Walk<'a> {
    page: &'a Page,
    wrong: Vec<String>,
    /// Fields whose text was seen on a page.
    shown: BTreeSet<String>,
    looked: usize,
}

impl Walk<'_> {
    async fn look(&mut self, name: &str) -> Result<()> {
        let (wrong, shown): (Vec<String>, Vec<String>) = self.page.run(LOOK, Vec::new()).await?;
        self.looked += 1;
        self.wrong.extend(wrong.into_iter().map(|wrong| format!("{name}: {wrong}")));
        self.shown.extend(shown);
        Ok(())
    }

    /// Follows a link to a page, without loading the app again.
    async fn go(&mut self, address: &str) -> Result<()> {
        let body = "const link = Object.assign(document.createElement('a'), { href: args[0] }); \
                    document.body.append(link); link.click(); link.remove(); \
                    for (let frame = 0; frame < 3; frame += 1) await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));";
        self.page.run_async::<Option<()>>(body, vec![json!(address)]).await?;
        let there = format!("location.href === {} && document.querySelector('main h1, main h2, main')", json!(address));
        self.page.wait(&there).await?;
        self.look(address).await
    }
}

async fn hostile_words_are_only_words(bench: &Bench) -> Result<()> {
    record::every_text_is_known()?;
    let app = bench.serve()?;
    let watch = match bench.engine {
        Engine::Chromium => Some(Watch::begin(bench, &app).await?),
        Engine::Firefox | Engine::WebKit => None,
    };
    let page = match &watch {
        Some(watch) => watch.page.clone(),
        None => bench.open().await?,
    };
    if watch.is_some() {
        page.phone().await?;
    }
    let good = whole_record(&page, &app).await?;
    let hostile = record::record(&good)?;
    let count = hostile["entries"].as_array().context("entries")?.len();
    page.open(app.address().as_str()).await?;
    let said = page.import_made("hostile.json", "args[1]", &hostile.to_string()).await?;
    ensure!(said.contains(&format!("{count} new")), "{said}");
    page.wait("document.querySelectorAll('a.airframe').length === 2").await?;

    let mut walk = Walk { page: &page, wrong: Vec::new(), shown: BTreeSet::new(), looked: 0 };
    walk.look("hangar").await?;
    let choose = "[...document.querySelectorAll('a.airframe')].find((it) => it.textContent.includes('<img')).click();";
    page.run::<Option<()>>(choose, Vec::new()).await?;
    page.appears("ol.works").await?;
    let airframe = page.client().current_url().await?.to_string();
    for address in addresses(&app, &airframe, &hostile)? {
        walk.go(&address).await?;
    }
    far_and_helper(&mut walk, &airframe).await?;
    println!("{}: {} pages looked at, the texts of {} fields seen", page.engine, walk.looked, walk.shown.len());
    let Walk { mut wrong, shown, .. } = walk;
    if let Some(watch) = &watch {
        wrong.extend(watch.wrong().await?);
        wrong.extend(watch.requests_elsewhere());
    }
    ensure!(wrong.is_empty(), "{} faults:\n{}", wrong.len(), wrong.join("\n"));
    all_seen(&hostile, &shown)?;
    page.open(&airframe).await?;
    no_formula(&page).await?;
    if page.engine == Engine::Chromium { printed(&page).await } else { Ok(()) }
}

/// A record made by hand in the app, with a reading and a photo.
async fn whole_record(page: &Page, app: &AppServer) -> Result<Value> {
    page.open(app.address().as_str()).await?;
    let airframe = page.make_example(app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "tape", 1).await?;
    page.step_in(&run, "twins").await?;
    page.read(&[17.25], Scale::Fraction(32)).await?;
    page.tap("#notes").await?;
    page.appears("#caption").await?;
    page.photograph().await?;
    page.appears("#photo-taken").await?;
    page.paste("caption", "A plate").await?;
    page.tap("#keep-photo").await?;
    page.appears("a.thumbnail").await?;
    page.open(&airframe).await?;
    Ok(serde_json::from_slice(&page.send("whole").await?.1)?)
}

/// Every page of the app: one address at least of each kind that `src/app/address.rs` names, and every step of the hostile run.
fn addresses(app: &AppServer, airframe: &str, hostile: &Value) -> Result<Vec<String>> {
    let entries = hostile["entries"].as_array().context("entries")?;
    let photo = entries.iter().find(|entry| entry["body"].get("photo-attached").is_some()).context("a photo")?;
    let photo = photo["id"].as_str().context("an id")?;
    let question = record::question();
    let mating = "mate-aft-fuselage";
    let mut all: Vec<(&str, String)> = vec![
        ("Settings", app.page("settings")),
        ("Folder", app.page("settings/folder")),
        ("Teach", app.page("settings/voice")),
        ("NewAirframe", app.page("airframe/new")),
        ("Desk", app.page("desk")),
        ("Bench", app.page("bench")),
        ("BenchOf", app.page("bench/washout")),
        ("Unknown", app.page("nowhere/at/all")),
    ];
    let of = |kind: &'static str, path: &str| (kind, format!("{airframe}{path}"));
    all.extend([
        of("Overview", ""),
        of("WholeSpecification", "/specification"),
        of("Reread", "/reread"),
        of("Reread", &format!("/reread/{PROCEDURE}")),
        of("Instruments", "/instruments"),
        of("People", "/people"),
        of("Record", "/record"),
        of("Send", "/send"),
        of("Todo", "/todo"),
        of("Time", "/time"),
        of("Place", &format!("/place/{mating}")),
        of("Question", &format!("/question/{question}")),
        of("Photo", &format!("/photo/{photo}")),
        of("Run", "/run/riveting/set-pulled"),
        of("Run", "/run/riveting/hold-a"),
    ]);
    for procedure in [mating, PROCEDURE] {
        all.extend([
            of("Work", &format!("/job/{procedure}")),
            of("Specification", &format!("/specification/{procedure}")),
        ]);
        for step in ["twins", "set/pitch"] {
            for (kind, page) in [("Notes", "notes"), ("Ask", "ask"), ("Helper", "helper")] {
                all.push(of(kind, &format!("/{page}/{procedure}/{step}")));
            }
        }
    }
    for part in
        ["", "/about", "/number-0", "/instrument-0", "/check-0", "/adjuster-0", "/group-0", "/step-0", "/step-6"]
    {
        all.push(of("Write", &format!("/write/{PROCEDURE}{part}")));
    }
    for step in record::steps(&record::procedure()?) {
        all.push(of("Run", &format!("/run/{mating}/{step}")));
        all.push(of("Run", &format!("/run/{PROCEDURE}/{step}")));
    }
    let source = include_str!("../../../../src/app/address.rs");
    let listed: BTreeSet<&str> = all.iter().map(|(kind, _)| *kind).chain(["Hangar"]).collect();
    let missing: Vec<&str> = variants(source).into_iter().filter(|kind| !listed.contains(kind)).collect();
    ensure!(missing.is_empty(), "pages that nobody looks at: {missing:?}");
    Ok(all.into_iter().map(|(_, address)| address).collect())
}

/// The variants of the two enums of addresses.
fn variants(source: &str) -> Vec<&str> {
    let bodies = ["pub(crate) enum Address {", "pub(crate) enum Page {"].into_iter().filter_map(|head| {
        let (_, rest) = source.split_once(head)?;
        rest.split_once("\n}").map(|(body, _)| body)
    });
    let lines = bodies.flat_map(str::lines).map(str::trim).filter(|line| !line.starts_with("//") && !line.is_empty());
    let names = lines.map(|line| line.split(['(', ',']).next().unwrap_or_default());
    names.filter(|name| *name != "Of").collect()
}

/// The far view and the helper's screen, where somebody else reads.
async fn far_and_helper(walk: &mut Walk<'_>, airframe: &str) -> Result<()> {
    let page = walk.page;
    for procedure in ["mate-aft-fuselage", PROCEDURE] {
        walk.go(&format!("{airframe}/run/{procedure}/cautions")).await?;
        if page.has("#far-view").await? {
            page.tap("#far-view").await?;
            page.appears("#far").await?;
            walk.look(&format!("far view of {procedure}")).await?;
            page.tap("#far-leave").await?;
        }
        walk.go(&format!("{airframe}/helper/{procedure}")).await?;
        page.appears("main.helper").await?;
        walk.look(&format!("the helper's screen of {procedure}")).await?;
    }
    Ok(())
}

/// Every hostile text of the record stood on some page: what is nowhere shown proves nothing.
fn all_seen(hostile: &Value, shown: &BTreeSet<String>) -> Result<()> {
    let text = hostile.to_string();
    let fields: BTreeSet<&str> = text.split('\u{a4}').skip(1).step_by(2).collect();
    ensure!(fields.len() > 40, "{fields:?}");
    let unseen: Vec<&&str> =
        fields.iter().filter(|field| !shown.contains(**field) && !UNSHOWN.contains(field)).collect();
    ensure!(unseen.is_empty(), "on no page: {unseen:?}");
    Ok(())
}

/// No cell of a table begins with what a spreadsheet takes for a formula (RFC 4180 for the cells; the characters: common practice).
async fn no_formula(page: &Page) -> Result<()> {
    for choice in ["readings", "work"] {
        let (_, bytes) = page.send(choice).await?;
        let mut cells = 0;
        for row in csv::ReaderBuilder::new().has_headers(false).from_reader(bytes.as_slice()).into_records() {
            for cell in row?.iter().filter(|cell| cell.contains('\u{a4}')) {
                cells += 1;
                ensure!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{choice}: {cell}");
            }
        }
        ensure!(cells > 0, "{choice}: no hostile cell");
    }
    Ok(())
}

/// The page to print, opened as a file.
async fn printed(page: &Page) -> Result<()> {
    let (name, bytes) = page.send("page").await?;
    let folder = tempfile::tempdir()?;
    let file = folder.path().join(&name);
    std::fs::write(&file, bytes)?;
    page.client().goto(url::Url::from_file_path(&file).ok().context("an address")?.as_str()).await?;
    let (wrong, shown): (Vec<String>, Vec<String>) = page.run(LOOK, Vec::new()).await?;
    ensure!(wrong.is_empty(), "the printed page: {wrong:?}");
    ensure!(shown.len() > 10, "{shown:?}");
    ensure!(
        page.count("script, a, form, iframe, object, embed, base").await? == 0,
        "the printed page holds an element that acts"
    );
    Ok(())
}
