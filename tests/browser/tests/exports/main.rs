//! Files that leave the phone: each is made in the app and looked at by programs that know nothing of it; a backup is restored on an
//! empty phone and on a used one; the printed page is printed.

mod paper;

use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, ensure};
use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use serde::Deserialize;
use serde_json::{Value, json};
use sha2::{Digest as _, Sha256};
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{AppServer, Bench, Page, in_engines, screenshots};

use paper::prints_on_paper;

in_engines! {
    chromium Chromium: every_file_is_what_it_says, a_backup_comes_back, a_day_that_was_not_sent, prints_on_paper;
    firefox Firefox: every_file_is_what_it_says, a_backup_comes_back;
    webkit WebKit: every_file_is_what_it_says, a_backup_comes_back;
}

/// A small picture, as a canvas writes it.
const PICTURE: &str = r"
const canvas = Object.assign(document.createElement('canvas'), { width: 800, height: 600 });
const pen = canvas.getContext('2d');
for (let n = 0; n < 400; n += 1) {
  pen.fillStyle = `hsl(0 0% ${n * 37 % 100}%)`;
  pen.fillRect(n % 20 * 40, Math.floor(n / 20) * 30, 40, 30);
}
const blob = await new Promise((done) => canvas.toBlob(done, 'image/jpeg', 0.9));
const transfer = new DataTransfer();
transfer.items.add(new File([blob], 'photo.jpg', { type: 'image/jpeg' }));
const input = document.getElementById('photo-camera');
input.files = transfer.files;
input.dispatchEvent(new Event('change', { bubbles: true }));";

/// A caption that would be a formula and markup.
const CAPTION: &str = "=1+1 <b>\"tape\"</b> & the mark";

/// An example airframe with a reading and a photo of it; its address.
async fn with_a_photo(page: &Page, app: &AppServer) -> Result<String> {
    let airframe = page.make_example(app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "tape", 1).await?;
    page.step_in(&run, "twins").await?;
    page.read(&[17.25], Scale::Fraction(32)).await?;
    page.tap("#photo").await?;
    page.appears("#photo-camera").await?;
    page.run_async::<Option<()>>(PICTURE, Vec::new()).await?;
    page.wait("document.getElementById('photo-said').textContent.includes('pixels')").await?;
    page.paste("caption", CAPTION).await?;
    page.tap("#keep-photo").await?;
    page.appears(".thumbnail img").await?;
    page.open(&airframe).await?;
    Ok(airframe)
}

/// What Python finds.
#[derive(Deserialize)]
struct Found {
    tags: Vec<String>,
    text: String,
    images: Vec<String>,
    outside: Vec<Value>,
    damaged: Option<String>,
    /// The SHA-256 of each file of the bundle.
    digests: BTreeMap<String, String>,
}

fn looked_at(page: &[u8], bundle: &[u8]) -> Result<Found> {
    let folder = tempfile::tempdir()?;
    let [page_file, bundle_file] = ["page.html", "bundle.zip"].map(|name| folder.path().join(name));
    std::fs::write(&page_file, page)?;
    std::fs::write(&bundle_file, bundle)?;
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/exports/look.py");
    let output = Command::new("python3").arg(script).arg(page_file).arg(bundle_file).output()?;
    ensure!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    Ok(serde_json::from_slice(&output.stdout)?)
}

fn digest(bytes: &[u8]) -> String {
    URL_SAFE_NO_PAD.encode(Sha256::digest(bytes))
}

/// Against the published schema, by a validator that is not ours.
fn valid(record: &[u8]) -> Result<Value> {
    let schema = serde_json::from_str(include_str!("../../../../docs/schemas/record.schema.json"))?;
    let schema = jsonschema::validator_for(&schema)?;
    let record: Value = serde_json::from_slice(record)?;
    let errors: Vec<String> = schema.iter_errors(&record).map(|error| error.to_string()).collect();
    ensure!(errors.is_empty(), "{errors:#?}");
    Ok(record)
}

async fn every_file_is_what_it_says(bench: &Bench) -> Result<()> {
    let mut app = bench.serve()?;
    let page = bench.open().await?;
    page.open(app.address().as_str()).await?;
    page.kept_for_offline().await?;
    with_a_photo(&page, &app).await?;
    // All of it with no network.
    app.stop();
    let mut files = BTreeMap::new();
    page.click("send").await?;
    for choice in ["page", "record", "whole", "readings", "work", "bundle"] {
        let (name, bytes) = page.made(choice).await.with_context(|| choice.to_owned())?;
        let said = page.text("#parcel").await?;
        ensure!(said.contains(&name), "{said}");
        ensure!(
            !bytes.is_empty() && said.contains("1 photo") == matches!(choice, "page" | "whole" | "bundle"),
            "{said}"
        );
        files.insert(choice, (name, bytes));
    }
    let today: String =
        page.value("new Date(Date.now() - new Date().getTimezoneOffset() * 6e4).toISOString().slice(0, 10)").await?;
    for (name, _) in files.values() {
        ensure!(name.starts_with(&today), "{name}");
        ensure!(name.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"-.".contains(&byte)), "{name}");
    }
    let bytes = |choice: &str| files[choice].1.as_slice();

    let (record, whole) = (valid(bytes("record"))?, valid(bytes("whole"))?);
    ensure!(record["entries"] == whole["entries"] && record.get("photos").is_none());
    let photos = whole["photos"].as_array().context("photos")?;
    let [photo] = photos.as_slice() else { anyhow::bail!("{} photos", photos.len()) };
    let jpeg = URL_SAFE_NO_PAD.decode(photo["jpeg"].as_str().context("a file")?)?;
    ensure!(photo["digest"] == json!(digest(&jpeg)));

    let found = looked_at(bytes("page"), bytes("bundle"))?;
    for never in ["script", "link", "iframe", "object", "embed", "form", "a", "base"] {
        ensure!(!found.tags.iter().any(|tag| tag == never), "{never}");
    }
    ensure!(found.outside.is_empty(), "{:?}", found.outside);
    ensure!(found.images.iter().all(|image| *image == digest(&jpeg)) && !found.images.is_empty());
    ensure!(found.text.contains(CAPTION), "{}", found.text);
    ensure!(found.damaged.is_none(), "{:?}", found.damaged);
    let inside = |name: &str| found.digests.get(name).cloned();
    ensure!(inside("page.html") == Some(digest(bytes("page"))));
    ensure!(inside("record.json") == Some(digest(bytes("record"))));
    ensure!(inside("readings.csv") == Some(digest(bytes("readings"))));
    ensure!(inside("work-log.csv") == Some(digest(bytes("work"))));
    let name = digest(&jpeg);
    ensure!(inside(&format!("photos/{name}.jpg")) == Some(name), "{:?}", found.digests.keys());
    let rows = csv::ReaderBuilder::new().from_reader(bytes("readings")).into_records().count();
    ensure!(rows == 1, "{rows} readings");
    Ok(())
}

/// Everything in one file, by the settings.
async fn everything(page: &Page, app: &AppServer) -> Result<(String, Vec<u8>)> {
    page.open(&app.page("settings")).await?;
    page.tap("#make-all").await?;
    page.wait("document.querySelector('#send-it:enabled')").await?;
    page.take("send-it").await
}

/// How many photos are stored.
const STORED: &str = "const asked = (request) => new Promise((done, failed) => { \
    request.onsuccess = () => done(request.result); request.onerror = () => failed(request.error); }); \
    const db = await asked(indexedDB.open('trammel')); \
    const count = await asked(db.transaction('photos').objectStore('photos').count()); db.close(); return count;";

async fn a_backup_comes_back(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.open(app.address().as_str()).await?;
    with_a_photo(&page, &app).await?;
    let (_, whole) = page.send("whole").await?;
    let (name, backup) = everything(&page, &app).await?;
    let airframe = valid(&backup)?["entries"][0]["airframe"].as_str().context("an airframe")?.to_owned();
    let folder = tempfile::tempdir()?;
    let file = folder.path().join(name);
    std::fs::write(&file, &backup)?;
    page.session.close().await?;

    // An empty phone.
    let other = bench.open().await?;
    other.open(app.address().as_str()).await?;
    ensure!(other.count("a.airframe").await? == 0, "a new browser is empty");
    let said = other.import(&file).await?;
    ensure!(said.contains("1 photos came") && said.contains("0 known"), "{said}");
    ensure!(other.run_async::<u32>(STORED, Vec::new()).await? == 1);
    ensure!(everything(&other, &app).await?.1 == backup, "restored: not the same bytes");
    other.session.close().await?;

    // One that is in use.
    let used = bench.open().await?;
    used.open(app.address().as_str()).await?;
    used.make_example(&app).await?;
    let own = used.export("export-json").await?;
    used.open(app.address().as_str()).await?;
    let said = used.import(&file).await?;
    ensure!(said.contains("0 known"), "{said}");
    used.wait("document.querySelectorAll('a.airframe').length === 2").await?;
    let said = used.import(&file).await?;
    ensure!(said.contains("0 new"), "{said}");
    used.open(&app.page(&format!("airframe/{airframe}"))).await?;
    ensure!(used.send("whole").await?.1 == whole, "merged: not the same bytes");
    let mine =
        serde_json::from_str::<Value>(&own.text)?["entries"][0]["airframe"].as_str().context("an id")?.to_owned();
    used.open(&app.page(&format!("airframe/{mine}"))).await?;
    ensure!(used.export("export-json").await? == own, "what was there is as it was");
    Ok(())
}

/// The day after, for every page from now on.
const TOMORROW: &str = "const Today = Date; globalThis.Date = class extends Today { \
    constructor(...given) { if (given.length) super(...given); else super(Today.now() + 864e5); } };";

async fn a_day_that_was_not_sent(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.open(app.address().as_str()).await?;
    page.make_airframe(&app, "Veldrin H2", "A. Builder").await?;
    page.open(app.address().as_str()).await?;
    page.appears("a.airframe").await?;
    ensure!(!page.has("#unsent").await?, "the day is not over");
    page.before_every_page(TOMORROW).await?;
    page.open(app.address().as_str()).await?;
    page.appears("#unsent").await?;
    let said = page.text("#unsent").await?;
    ensure!(said.contains("nothing was ever exported"), "{said}");
    page.phone().await?;
    std::fs::create_dir_all(screenshots())?;
    page.snapshot(&screenshots().join("unsent.png"), Some("#unsent")).await?;
    page.tap("#keep-copy").await?;
    page.appears("#make-all").await?;
    everything(&page, &app).await?;
    page.open(app.address().as_str()).await?;
    page.appears("a.airframe").await?;
    ensure!(!page.has("#unsent").await?, "it was sent");
    Ok(())
}
