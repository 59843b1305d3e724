//! A photo of a reading: chosen, made small, stripped, kept with its entry, shown with no network; and what is refused.

use std::path::PathBuf;

use anyhow::{Context, Result, ensure};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use fantoccini::Locator;
use serde_json::{Value, json};
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{AppServer, Bench, Engine, Page, in_engines, screenshots};

in_engines! {
    chromium Chromium: a_photo_is_kept, without_a_worker, what_is_no_photo_is_refused, a_full_disk_keeps_neither, a_photo_that_is_not_here;
    firefox Firefox: a_photo_is_kept, without_a_worker;
    webkit WebKit: a_photo_is_kept, without_a_worker, what_is_no_photo_is_refused;
}

/// What the camera saw, 4000 × 3000, with the phone held upright: to be turned a quarter to the right. On the picture as it is seen
/// the upper left is red, the upper right green, the lower left blue, the lower right white.
const TAKEN: &str = r"
const canvas = Object.assign(document.createElement('canvas'), { width: 4000, height: 3000 });
const pen = canvas.getContext('2d');
// Turned right, the lower left comes to the upper left, the upper left to the upper right.
const corners = [['#0f0', 0, 0], ['#fff', 2000, 0], ['#f00', 0, 1500], ['#00f', 2000, 1500]];
for (const [colour, x, y] of corners) { pen.fillStyle = colour; pen.fillRect(x, y, 2000, 1500); }
for (let n = 0; n < 3000; n += 1) {
  pen.fillStyle = `hsl(${n * 77 % 360} 60% 50%)`;
  pen.fillRect(1000 + n * 7919 % 2000, 700 + n * 104729 % 1600, 40, 40);
}
const blob = await new Promise((done) => canvas.toBlob(done, 'image/jpeg', 0.95));
const bytes = new Uint8Array(await blob.arrayBuffer());
let text = '';
for (let at = 0; at < bytes.length; at += 32768) text += String.fromCharCode(...bytes.subarray(at, at + 32768));
return btoa(text);";

/// An Exif segment (Exif 2.3): orientation 6, and a place: 48° north, 11° east.
fn exif() -> Vec<u8> {
    let short = |tag: u16, kind: u16, count: u32, value: [u8; 4]| {
        [&tag.to_be_bytes()[..], &kind.to_be_bytes(), &count.to_be_bytes(), &value].concat()
    };
    let mut tiff = b"MM\0\x2a\0\0\0\x08".to_vec();
    // The first directory: two fields, from byte 8, 2 + 2 * 12 + 4 bytes; the place's from byte 38, 2 + 4 * 12 + 4.
    tiff.extend([0, 2]);
    tiff.extend(short(0x0112, 3, 1, [0, 6, 0, 0]));
    tiff.extend(short(0x8825, 4, 1, 38_u32.to_be_bytes()));
    tiff.extend([0; 4]);
    tiff.extend([0, 4]);
    tiff.extend(short(1, 2, 2, *b"N\0\0\0"));
    tiff.extend(short(2, 5, 3, 92_u32.to_be_bytes()));
    tiff.extend(short(3, 2, 2, *b"E\0\0\0"));
    tiff.extend(short(4, 5, 3, 116_u32.to_be_bytes()));
    tiff.extend([0; 4]);
    for degrees in [48_u32, 11] {
        tiff.extend([degrees, 1, 0, 1, 0, 1].iter().flat_map(|number| number.to_be_bytes()));
    }
    let body = [b"Exif\0\0".to_vec(), tiff].concat();
    let length = u16::try_from(body.len() + 2).unwrap_or(u16::MAX).to_be_bytes();
    [vec![0xff, 0xe1], length.to_vec(), body].concat()
}

/// The picture as a phone's camera writes it.
async fn taken(page: &Page) -> Result<Vec<u8>> {
    let mut file = STANDARD.decode(page.run_async::<String>(TAKEN, Vec::new()).await?)?;
    file.splice(2..2, exif());
    ensure!(file.windows(4).any(|part| part == b"Exif"), "the picture says where it was taken");
    Ok(file)
}

/// Gives a file to an input as a person chooses it; WebKit's driver hands over none, so that there a script does it.
async fn choose(page: &Page, input: &str, name: &str, bytes: &[u8]) -> Result<()> {
    if page.engine == Engine::WebKit {
        let made = "Uint8Array.from(atob(args[2]), (letter) => letter.charCodeAt(0))";
        return hand_over(page, input, name, made, &STANDARD.encode(bytes)).await;
    }
    let folder = tempfile::tempdir()?;
    let file: PathBuf = folder.path().join(name);
    std::fs::write(&file, bytes)?;
    page.appears("#caption").await?;
    let field = page.client().find(Locator::Id(input)).await?;
    field.send_keys(file.to_str().context("a plain path")?).await?;
    answered(page).await
}

/// The same with contents that a script makes.
async fn hand_over(page: &Page, input: &str, name: &str, contents: &str, text: &str) -> Result<()> {
    let body = format!(
        "const transfer = new DataTransfer(); \
         transfer.items.add(new File([{contents}], args[1], {{ type: 'image/jpeg' }})); \
         const input = document.getElementById(args[0]); input.files = transfer.files; \
         input.dispatchEvent(new Event('change', {{ bubbles: true }}));"
    );
    page.appears("#caption").await?;
    page.run_async::<Option<()>>(&body, vec![json!(input), json!(name), json!(text)]).await?;
    answered(page).await
}

async fn answered(page: &Page) -> Result<()> {
    page.wait("(() => { const said = document.getElementById('photo-said').textContent; return said && !said.startsWith('Making') })()")
        .await
}

/// An example airframe with a reading just taken; the address of its run.
async fn at_a_reading(page: &Page, app: &AppServer) -> Result<String> {
    page.make_example(app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "tape", 1).await?;
    page.step_in(&run, "twins").await?;
    page.read(&[17.25], Scale::Fraction(32)).await?;
    Ok(run)
}

/// From the step to the photo's form.
async fn to_the_form(page: &Page) -> Result<()> {
    page.tap("#photo").await?;
    page.appears("#photo-camera").await
}

/// Every stored photo: its key, and its bytes in base64.
async fn stored(page: &Page) -> Result<Vec<(String, Vec<u8>)>> {
    let body = "const asked = (request) => new Promise((done, failed) => { \
                    request.onsuccess = () => done(request.result); request.onerror = () => failed(request.error); }); \
                const db = await asked(indexedDB.open('trammel')); \
                const store = db.transaction('photos').objectStore('photos'); \
                const [keys, values] = await Promise.all([asked(store.getAllKeys()), asked(store.getAll())]); db.close(); \
                return values.map((value, place) => { let text = ''; for (const byte of value) text += String.fromCharCode(byte); \
                    return [keys[place], btoa(text)]; });";
    let found: Vec<(String, String)> = page.run_async(body, Vec::new()).await?;
    found.into_iter().map(|(key, text)| Ok((key, STANDARD.decode(text)?))).collect()
}

/// The colours of a shown picture's corners, red, green and blue each as one of 0 and 255, and its size.
async fn corners(page: &Page, selector: &str) -> Result<(Vec<String>, [u32; 2])> {
    page.wait(&format!("document.querySelector('{selector}')?.naturalWidth > 0")).await?;
    let body = "const picture = document.querySelector(args[0]); const [width, height] = [picture.naturalWidth, picture.naturalHeight]; \
                const canvas = Object.assign(document.createElement('canvas'), { width, height }); \
                const pen = canvas.getContext('2d'); pen.drawImage(picture, 0, 0); \
                const at = (x, y) => [...pen.getImageData(x, y, 1, 1).data].slice(0, 3).map((part) => part > 127 ? 1 : 0).join(''); \
                return [[at(20, 20), at(width - 20, 20), at(20, height - 20), at(width - 20, height - 20)], [width, height]];";
    page.run_async(body, vec![json!(selector)]).await
}

/// Upright: what is red, green, blue and white stands where it was seen.
fn upright((corners, size): &(Vec<String>, [u32; 2])) -> Result<()> {
    ensure!(corners == &["100", "010", "001", "111"], "{corners:?}");
    ensure!(size == &[1500, 2000], "{size:?}");
    Ok(())
}

/// The record's entry of the photo.
async fn entry(page: &Page, airframe: &str) -> Result<Option<Value>> {
    page.open(airframe).await?;
    let record: Value = serde_json::from_str(&page.export("export-json").await?.text)?;
    let entries = record["entries"].as_array().context("entries")?;
    Ok(entries.iter().find_map(|entry| entry["body"].get("photo-attached")).cloned())
}

async fn picture(page: &Page, name: &str) -> Result<()> {
    if page.engine != Engine::Chromium {
        return Ok(());
    }
    page.phone().await?;
    std::fs::create_dir_all(screenshots())?;
    page.snapshot(&screenshots().join(format!("{name}.png")), None).await
}

async fn a_photo_is_kept(bench: &Bench) -> Result<()> {
    let mut app = bench.serve()?;
    let page = bench.open().await?;
    page.open(app.address().as_str()).await?;
    page.kept_for_offline().await?;
    let run = at_a_reading(&page, &app).await?;
    picture(&page, "photo-step").await?;
    to_the_form(&page).await?;
    let said = page.text("#photo-words").await?;
    ensure!(said.contains("17 1/4"), "the reading that it is of: {said}");
    let file = taken(&page).await?;
    choose(&page, "photo-camera", "photo.jpg", &file).await?;
    let said = page.text("#photo-said").await?;
    ensure!(said.contains("1500 \u{d7} 2000 pixels"), "{said}");
    upright(&corners(&page, "#photo-taken").await?)?;
    picture(&page, "photo-form").await?;
    page.paste("caption", "Tape on the left twin, the mark in view").await?;
    let before = page.kept().await?;
    page.tap("#keep-photo").await?;
    page.appears(".thumbnail img").await?;
    ensure!(page.kept().await? == before + 1);

    let kept = stored(&page).await?;
    let [(key, bytes)] = kept.as_slice() else { anyhow::bail!("{} photos are stored", kept.len()) };
    ensure!(bytes.len() < 700_000 && bytes.starts_with(&[0xff, 0xd8]), "{} bytes", bytes.len());
    ensure!(!bytes.windows(4).any(|part| part == b"Exif"), "it still says where it was taken");
    ensure!(
        !bytes.windows(2).any(|pair| pair[0] == 0xff && matches!(pair[1], 0xe1..=0xef | 0xfe)),
        "a segment is left"
    );
    let digest = <sha2::Sha256 as sha2::Digest>::digest(bytes);
    let digest = base64::engine::general_purpose::URL_SAFE_NO_PAD.encode(digest);
    ensure!(*key == digest, "{key} and {digest}");

    app.stop();
    page.reload().await?;
    page.appears(".thumbnail img").await?;
    upright(&corners(&page, ".thumbnail img").await?)?;
    page.step_in(&run, "twins").await?;
    page.tap("#notes").await?;
    page.appears("main.notes").await?;
    upright(&corners(&page, ".thumbnail img").await?)?;
    picture(&page, "photo-notes").await?;
    page.tap(".thumbnail").await?;
    page.appears(".photo-whole img").await?;
    upright(&corners(&page, ".photo-whole img").await?)?;
    let alt: String = page.value("document.querySelector('.photo-whole img').alt").await?;
    ensure!(alt == "Tape on the left twin, the mark in view", "{alt}");
    picture(&page, "photo-whole").await?;

    let airframe = run.split("/run/").next().context("the airframe's address")?;
    let attached = entry(&page, airframe).await?.context("the entry")?;
    ensure!(
        attached["photo"] == json!({ "digest": digest, "bytes": bytes.len(), "width": 1500, "height": 2000 }),
        "{attached}"
    );
    ensure!(attached["about"]["step"] == "twins" && attached["about"]["entry"].is_string(), "{attached}");
    page.open(&format!("{airframe}/record")).await?;
    upright(&corners(&page, "li.entry .thumbnail img").await?)?;
    Ok(())
}

/// A browser without workers, and one whose worker cannot: the page does it.
async fn without_a_worker(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    at_a_reading(&page, &app).await?;
    to_the_form(&page).await?;
    let file = taken(&page).await?;
    let faults = [
        "Object.defineProperty(page, 'Worker', { value: undefined, configurable: true });",
        "Object.defineProperty(page, 'Worker', { value: function () { \
             return { addEventListener(name, heard) { if (name === 'message') this.heard = heard; }, removeEventListener() {}, \
                 postMessage() { setTimeout(() => this.heard({ data: 'TypeError' })); }, terminate() {} }; }, configurable: true });",
    ];
    for fault in faults {
        let fault = format!("const page = window.wrappedJSObject ?? window; {fault}");
        // Firefox keeps what a page may see of a driver's objects to itself: there only the first fault can be made.
        if bench.engine == Engine::Firefox && fault.contains("function") {
            continue;
        }
        page.run::<Option<()>>(&fault, Vec::new()).await?;
        choose(&page, "photo-file", "photo.jpg", &file).await?;
        let said = page.text("#photo-said").await?;
        ensure!(said.contains("1500 \u{d7} 2000 pixels"), "{said}");
        upright(&corners(&page, "#photo-taken").await?)?;
    }
    ensure!(page.is("typeof (window.wrappedJSObject ?? window).trammelSmall === 'function'").await?, "a worker did it");
    Ok(())
}

async fn what_is_no_photo_is_refused(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = at_a_reading(&page, &app).await?;
    to_the_form(&page).await?;
    let before = page.kept().await?;
    let header = |width: u32, height: u32| {
        let size = [&width.to_be_bytes()[..], &height.to_be_bytes()].concat();
        [b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec(), size, vec![8, 2, 0, 0, 0, 0, 0, 0, 0]].concat()
    };
    let mut cut = taken(&page).await?;
    cut.truncate(60_000);
    let cases: [(&str, Vec<u8>, &str); 4] = [
        ("words.jpg", b"Dear mentor, here is my photo.".to_vec(), "not a picture"),
        ("bomb.png", header(50_000, 50_000), "50000 \u{d7} 50000 pixels"),
        ("broken.png", header(300, 200), "cannot read"),
        ("empty.jpg", Vec::new(), "not a picture"),
    ];
    for (name, bytes, reason) in cases {
        choose(&page, "photo-file", name, &bytes).await?;
        let said = page.text("#photo-said").await?;
        ensure!(said.contains(reason), "{name}: {said}");
        ensure!(!page.has("#photo-taken").await? && page.is("document.getElementById('keep-photo').disabled").await?);
    }
    hand_over(&page, "photo-file", "giant.jpg", "new Uint8Array(100e6)", "").await?;
    let said = page.text("#photo-said").await?;
    ensure!(said.contains("100.0 MB"), "{said}");
    // Cut short: engines show what is there, or refuse it; either is said.
    choose(&page, "photo-file", "cut.jpg", &cut).await?;
    let said = page.text("#photo-said").await?;
    ensure!(said.contains("cannot read") || said.contains("Not kept yet"), "{said}");
    ensure!(page.kept().await? == before && stored(&page).await?.is_empty(), "something was kept");
    page.step_in(&run, "twins").await
}

/// The storage is full once the photo is written and its entry is not: neither is kept, and both can be once there is room.
async fn a_full_disk_keeps_neither(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = at_a_reading(&page, &app).await?;
    to_the_form(&page).await?;
    let file = taken(&page).await?;
    choose(&page, "photo-file", "photo.jpg", &file).await?;
    let before = page.kept().await?;
    // Firefox runs a driver's scripts behind a veil: `wrappedJSObject` is the page's own window.
    let fault = "const page = window.wrappedJSObject ?? window; page.put = page.IDBObjectStore.prototype.put; \
                 page.IDBObjectStore.prototype.put = function (value, key) { \
                     if (this.name === 'entries') throw new page.DOMException('full', 'QuotaExceededError'); \
                     return page.put.call(this, value, key); };";
    page.run::<Option<()>>(fault, Vec::new()).await?;
    page.tap("#keep-photo").await?;
    page.wait("document.getElementById('photo-said').textContent.includes('storage is full')").await?;
    ensure!(page.kept().await? == before && !page.has(".thumbnail").await?, "it looks as if it had been kept");
    ensure!(stored(&page).await?.is_empty(), "the photo stands without its entry");
    let lift = "const page = window.wrappedJSObject ?? window; page.IDBObjectStore.prototype.put = page.put;";
    page.run::<Option<()>>(lift, Vec::new()).await?;
    let airframe = run.split("/run/").next().context("the airframe's address")?;
    page.wait("!document.getElementById('keep-photo').disabled").await?;
    page.tap("#keep-photo").await?;
    page.appears(".thumbnail img").await?;
    ensure!(page.kept().await? == before + 1 && stored(&page).await?.len() == 1);
    ensure!(entry(&page, airframe).await?.is_some());
    Ok(())
}

/// A record that came without its photos says so.
async fn a_photo_that_is_not_here(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let run = at_a_reading(&page, &app).await?;
    to_the_form(&page).await?;
    let file = taken(&page).await?;
    choose(&page, "photo-file", "photo.jpg", &file).await?;
    page.tap("#keep-photo").await?;
    page.appears(".thumbnail img").await?;
    let gone = "const db = await new Promise((done) => { const it = indexedDB.open('trammel'); it.onsuccess = () => done(it.result); }); \
                await new Promise((done) => { const it = db.transaction('photos', 'readwrite'); it.objectStore('photos').clear(); it.oncomplete = done; }); \
                db.close();";
    page.run_async::<Option<()>>(gone, Vec::new()).await?;
    page.open(&run.replace("/run/mate-aft-fuselage", "/record")).await?;
    page.wait("document.querySelector('.thumbnail .photo-gone')?.textContent.includes('not on this phone')").await?;
    ensure!(page.is("document.querySelector('.thumbnail img').hidden").await?);
    Ok(())
}
