//! The pad before the program: a picture of it that takes digits, which the program takes over; and what is no picture of it any more.

use anyhow::{Result, ensure};
use serde_json::json;
use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::{Bench, Page, axe, in_engines, screenshots};

in_engines! {
    chromium Chromium: digits_before_the_program, a_picture_of_something_else, words_stay_words, the_pad_comes_back;
    firefox Firefox: the_pad_comes_back;
    webkit WebKit: the_pad_comes_back;
}

/// While `hold` is set every part of the program is kept waiting, until the page calls `letIn`.
const HOLD: &str = r"
const compiled = WebAssembly.compileStreaming.bind(WebAssembly);
const waiting = [];
WebAssembly.compileStreaming = async (response) => {
  const part = await compiled(response);
  if (sessionStorage.getItem('hold')) await new Promise((done) => {
    waiting.push(done);
    globalThis.letIn = () => waiting.forEach((done) => done());
  });
  return part;
};";

/// At the pad of an example airframe, 0 in inches and 1 in millimetres, with this number half typed; the server is gone.
async fn half_typed(page: &Page, bench: &Bench, example: usize, typed: &[String]) -> Result<()> {
    let app = bench.serve()?;
    page.open(app.address().as_str()).await?;
    page.kept_for_offline().await?;
    page.tap(&format!("#example-{example}")).await?;
    page.appears("ol.works").await?;
    let run = page.start_run().await?;
    page.accept(&run, "tape", 0).await?;
    page.step_in(&run, "twins").await?;
    page.appears("#key-2").await?;
    page.press(typed).await
}

/// Leaves the app and opens it again, its program kept waiting.
async fn leave_and_return(page: &Page) -> Result<()> {
    page.run::<Option<()>>("sessionStorage.setItem('hold', '1');", Vec::new()).await?;
    let address = page.client().current_url().await?;
    page.client().goto("about:blank").await?;
    page.client().goto(address.as_str()).await?;
    page.wait("globalThis.letIn").await
}

async fn let_in(page: &Page) -> Result<()> {
    page.run::<Option<()>>("sessionStorage.removeItem('hold'); letIn();", Vec::new()).await?;
    page.ready().await?;
    page.appears("main.run:not(#ahead *) #key-2").await?;
    page.wait("!document.getElementById('ahead')").await
}

async fn reading(page: &Page) -> Result<String> {
    page.text("#reading span").await
}

async fn digits_before_the_program(bench: &Bench) -> Result<()> {
    let millimetres =
        ["0", "5 back", "back back back", "clear point 7 point", "clear 0 6", "1 2 3 4 5 6 7 8 9", "clear"];
    let inches = ["0", "5 back", "clear 1 2"];
    let source = axe::source()?;
    for (example, typed, hits) in [
        (1, keys(43.0, Scale::Decimal(0), false), millimetres.as_slice()),
        (0, keys(4.375, Scale::Fraction(16), false), inches.as_slice()),
    ] {
        let page = bench.open().await?;
        page.viewport(412, 915).await?;
        page.before_every_page(HOLD).await?;
        half_typed(&page, bench, example, &typed).await?;
        for hits in hits {
            let left = reading(&page).await?;
            let keys_at = "JSON.stringify(document.getElementById('key-5').getBoundingClientRect())";
            let place: String = page.value(keys_at).await?;
            leave_and_return(&page).await?;
            ensure!(page.has("#ahead #reading").await?, "no picture of the pad");
            ensure!(reading(&page).await? == left, "{left} was left, {} came back", reading(&page).await?);
            ensure!(page.value::<String>(keys_at).await? == place, "the keys have moved");
            ensure!(page.text("#step-count").await? == "Opening…");
            ensure!(page.is("document.getElementById('keep').disabled").await?, "nothing can be kept yet");
            page.press(&hits.split(' ').map(|key| format!("key-{key}")).collect::<Vec<_>>()).await?;
            let ahead = reading(&page).await?;
            if *hits == "0" {
                std::fs::create_dir_all(screenshots())?;
                std::fs::write(screenshots().join(format!("ahead-{example}.png")), page.client().screenshot().await?)?;
                let found = page.axe(&source).await?;
                ensure!(found.is_empty() && ahead != left, "{ahead}: {found:?}");
            }
            let_in(&page).await?;
            ensure!(reading(&page).await? == ahead, "{left} and {hits}: {ahead}, then {}", reading(&page).await?);
            ensure!(page.value::<String>(keys_at).await? == place, "the keys have moved");
            // It is kept as everything half typed is.
            page.reload().await?;
            page.appears("#key-2").await?;
            ensure!(reading(&page).await? == ahead, "{ahead} was lost: {}", reading(&page).await?);
        }
        page.session.close().await?;
    }
    Ok(())
}

/// Changes the picture as it lies there, and opens the app anew.
async fn pictured(page: &Page, change: &str) -> Result<()> {
    leave_and_return(page).await?;
    let body = format!(
        "const picture = JSON.parse(localStorage.getItem('trammel.picture')); {change} \
         localStorage.setItem('trammel.picture', JSON.stringify(picture));"
    );
    page.run::<Option<()>>(&body, Vec::new()).await?;
    let address = page.client().current_url().await?;
    page.client().goto("about:blank").await?;
    page.client().goto(address.as_str()).await?;
    page.wait("globalThis.letIn").await
}

async fn a_picture_of_something_else(bench: &Bench) -> Result<()> {
    let page = bench.open().await?;
    page.before_every_page(HOLD).await?;
    half_typed(&page, bench, 1, &keys(43.0, Scale::Decimal(0), false)).await?;
    for (what, change) in [
        ("of another place, another build, other settings or more entries", "picture.circumstances += '0';"),
        ("after which the app begins with a question", "picture.until = String(Date.now());"),
        ("of a time that is still to come", "picture.taken += 600_000;"),
        ("that is none", "picture.drawn = '<main>';"),
    ] {
        pictured(&page, change).await?;
        ensure!(!page.has("#ahead").await? && page.has("#shell").await?, "a picture {what} was shown");
        let_in(&page).await?;
        ensure!(reading(&page).await? == "43", "{what}: {}", reading(&page).await?);
    }
    // A number that was changed since, and another reading: what is typed on the picture is for neither, and is said to be lost.
    for change in ["picture.draft = '9';", "picture.key += '0';"] {
        pictured(&page, change).await?;
        page.press(&["key-1".to_owned()]).await?;
        let_in(&page).await?;
        ensure!(reading(&page).await? == "43", "{change} {}", reading(&page).await?);
        let said = page.text("#refusal").await?;
        ensure!(said.starts_with("What was typed while the app opened"), "{change} {said}");
    }
    // Nothing was typed: there is nothing to say.
    pictured(&page, "picture.draft = '9';").await?;
    let_in(&page).await?;
    ensure!(page.text("#refusal").await?.is_empty() && reading(&page).await? == "43");
    // A verdict is no pad.
    page.read(&[43.0, 43.0], Scale::Decimal(0)).await?;
    page.appears("#verdict").await?;
    leave_and_return(&page).await?;
    ensure!(!page.has("#ahead").await?, "the pad came back after the verdict");
    // Nor is a pad that the program does not come back to: measuring again is asked for anew.
    page.run::<Option<()>>("sessionStorage.removeItem('hold'); letIn();", Vec::new()).await?;
    page.ready().await?;
    page.tap("#again").await?;
    page.appears("#key-2").await?;
    leave_and_return(&page).await?;
    ensure!(!page.has("#ahead").await?, "a pad that is gone by the next start");
    Ok(())
}

/// What looks like markup on the page, because somebody wrote it so, is words on the picture.
async fn words_stay_words(bench: &Bench) -> Result<()> {
    const WORDS: &str = "<b data-hostile onclick=\"alert(1)\">&amp;</b>]]><!-- <script>";
    let page = bench.open().await?;
    page.before_every_page(HOLD).await?;
    half_typed(&page, bench, 1, &keys(43.0, Scale::Decimal(0), false)).await?;
    let write = "const title = document.getElementById('slot-title'); title.textContent = arguments[0]; \
                 title.setAttribute('aria-label', arguments[0]);";
    page.run::<Option<()>>(write, vec![json!(WORDS)]).await?;
    leave_and_return(&page).await?;
    let title = "(({ textContent, ariaLabel, childElementCount }) => [textContent, ariaLabel, childElementCount])\
                 (document.querySelector('#ahead #slot-title'))";
    ensure!(page.value::<(String, String, u32)>(title).await? == (WORDS.to_owned(), WORDS.to_owned(), 0));
    ensure!(!page.has("[data-hostile], #ahead script, #ahead [onclick]").await?);
    let_in(&page).await
}

/// In an engine that no program can be kept waiting in: the app comes up with what was half typed, and the picture is gone.
async fn the_pad_comes_back(bench: &Bench) -> Result<()> {
    let page = bench.open().await?;
    half_typed(&page, bench, 1, &keys(43.0, Scale::Decimal(0), false)).await?;
    page.reload().await?;
    page.appears("#key-2").await?;
    ensure!(page.is("localStorage.getItem('trammel.picture') !== null").await?, "no picture was taken");
    page.wait("!document.getElementById('ahead')").await?;
    ensure!(reading(&page).await? == "43", "{}", reading(&page).await?);
    page.press(&["key-0".to_owned()]).await?;
    ensure!(reading(&page).await? == "430" && page.is("!document.getElementById('keep').disabled").await?);
    Ok(())
}
