//! Every page and every kind of step at the three sizes: nothing runs over or is clipped, everything can be hit with a thumb,
//! axe-core finds nothing, and every text has its contrast.

#![allow(clippy::print_stdout, reason = "the tour says how far it went")]

mod asking;
mod holes;
mod placing;
mod quick;
mod specification;
mod tour;
mod trouble;
mod waiting;
mod watched;
mod writing;

use anyhow::{Result, ensure};
use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::{Bench, Page, in_engines};

use asking::asking_answering_and_the_desk;
use placing::{moving_together, placing, take_back};
use quick::bench_answers_while_typing;
use specification::numbers_travel_and_are_read_again;
use tour::{DEGREES, RULE, TAPE, Tour};
use trouble::trouble;

// Where the engine decides nothing, one is enough: layout is held in two, what is typed and refused in all.
in_engines! {
    chromium Chromium: every_page_fits_and_is_accessible, what_is_wrong_is_seen, asking_answering_and_the_desk, bench_answers_while_typing,
        numbers_travel_and_are_read_again;
    firefox Firefox: what_is_wrong_is_seen, numbers_travel_and_are_read_again;
    webkit WebKit: every_page_fits_and_is_accessible, what_is_wrong_is_seen;
}

async fn every_page_fits_and_is_accessible(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let mut tour = Tour::begin(bench, &app).await?;
    let page = tour.page.clone();

    tour.look("first-run").await?;
    page.tap("#understood").await?;
    page.wait("!document.getElementById('cautions')").await?;
    tour.look("hangar-empty").await?;
    page.import_made("words.json", "args[1]", "no record").await?;
    tour.look("hangar-import-refused").await?;
    page.tap("#new-airframe").await?;
    page.appears("#make-airframe").await?;
    tour.look("new-airframe").await?;
    page.tap("#make-airframe").await?;
    page.wait("[...document.querySelectorAll('.refusal')].some((it) => it.textContent.trim())").await?;
    tour.look("new-airframe-refused").await?;
    page.open(&app.page("nowhere/at/all")).await?;
    tour.look("no-such-page").await?;

    let airframe = page.make_example(&app).await?;
    tour.look("airframe-not-started").await?;
    page.to_mating().await?;
    tour.look("work-not-started").await?;
    page.tap("#specification").await?;
    page.appears("#spec-pitch-number").await?;
    page.paste("spec-pitch-number", "steep").await?;
    page.tap("#save-specification").await?;
    page.wait("document.querySelector('#spec-pitch .refusal')?.textContent.trim()").await?;
    tour.look("specification").await?;

    page.open(&airframe).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    page.open(&airframe).await?;
    page.tap("#people").await?;
    page.paste("person-name", "B. Helper").await?;
    page.tap("#name-person").await?;
    page.appears("#person-0").await?;
    page.tap("#name-person").await?;
    page.wait("document.querySelector('.refusal')?.textContent.includes('name')").await?;
    tour.look("people").await?;
    page.open(&airframe).await?;
    instruments(&mut tour, &page).await?;
    preparation(&mut tour, &page, &run).await?;
    judging(&mut tour, &page, &run).await?;
    holding(&mut tour, &page, &run).await?;

    page.open(&airframe).await?;
    tour.look("airframe").await?;
    placing(&mut tour, &page).await?;
    page.open(&airframe).await?;
    page.tap("#record").await?;
    page.tap("button.strike").await?;
    page.appears("#reason").await?;
    page.wait("document.getElementById('whole')?.dataset.unbroken === 'true'").await?;
    tour.look("record-strike").await?;
    page.open(&airframe).await?;
    page.tap("#send").await?;
    page.tap("#send-page").await?;
    page.wait("document.querySelector('#send-it:enabled')").await?;
    tour.look("send").await?;
    page.open(&app.page("settings")).await?;
    page.tap("#make-all").await?;
    page.wait("document.querySelector('#send-it:enabled')").await?;
    tour.look("settings").await?;
    page.open(&app.page("settings/folder")).await?;
    page.tap("#folder-now").await?;
    page.wait("document.getElementById('folder-result').textContent.includes('not the address')").await?;
    tour.look("folder-refused").await?;
    metric(&mut tour, &page, &app).await?;
    page.open(app.address().as_str()).await?;
    page.appears("a.airframe").await?;
    tour.look("hangar").await?;
    trouble(&mut tour, &page, &run).await?;
    tour.end()
}

/// Confirming, accepting, the kinds of pad, chips and a strike, a shut hold point and what lies behind it.
async fn preparation(tour: &mut Tour, page: &Page, run: &str) -> Result<()> {
    page.step_in(run, "cautions").await?;
    tour.look("step-confirm").await?;
    page.confirm(run, "cautions").await?;
    tour.look("step-confirmed").await?;
    page.step_in(run, "tape").await?;
    tour.look("step-instrument").await?;
    page.step_in(run, "reversal").await?;
    tour.look("pad-empty").await?;
    page.press(&keys(-0.3, DEGREES, true)).await?;
    tour.look("pad-protractor").await?;
    page.press(&keys(0.5, DEGREES, false)).await?;
    page.press(&["key-clear".to_owned()]).await?;
    page.read(&[0.3, -0.1], DEGREES).await?;
    tour.look("verdict-not-judged").await?;
    page.accept(run, "tape", 1).await?;
    page.accept(run, "rule", 1).await?;
    for step in ["level-frame", "centre-line", "aft-point", "offer-up"] {
        page.confirm(run, step).await?;
    }
    page.step_in(run, "twins").await?;
    page.press(&keys(17.28125, TAPE, false)).await?;
    tour.look("pad-tape").await?;
    page.press(&["key-clear".to_owned()]).await?;
    page.enter(&keys(520.0, TAPE, false)).await?;
    tour.look("pad-refused").await?;
    page.press(&["key-clear".to_owned()]).await?;
    doubting(tour, page).await?;
    saying(tour, page).await?;
    page.read(&[17.25], TAPE).await?;
    let screen = page.screen().await?;
    ensure!(screen.verdict.as_deref() == Some("in"), "{screen:?}");
    tour.look("verdict-in").await?;
    page.step_in(run, "gaps").await?;
    page.read(&[1.0 / 32.0, 3.0 / 64.0], RULE).await?;
    page.press(&keys(3.0 / 64.0, RULE, false)).await?;
    tour.look("pad-rule").await?;
    page.tap("button.reading").await?;
    page.appears("#reason").await?;
    tour.look("reading-strike").await?;
    page.press(&["key-clear".to_owned()]).await?;
    page.read(&[1.0 / 32.0, 1.0 / 32.0], RULE).await?;
    page.step_in(run, "hold-a").await?;
    tour.expect(!page.has("#reason").await?, "hold-shut: a strike begun at another step is still asked for");
    tour.look("hold-shut").await?;
    page.step_in(run, "pilot").await?;
    tour.look("step-blocked").await
}

/// The instruments of an airframe: their state, the form, the reversal in two readings, one more.
async fn instruments(tour: &mut Tour, page: &Page) -> Result<()> {
    page.tap("#instruments").await?;
    page.appears("#describe-protractor").await?;
    tour.look("instruments").await?;
    page.tap("#describe-protractor").await?;
    page.appears("#instrument-name").await?;
    page.tap("summary").await?;
    page.paste("instrument-name", "Bench level").await?;
    page.paste("instrument-checked", "2025-02-30").await?;
    page.tap("#accept").await?;
    page.wait("document.getElementById('instrument-refusal').textContent.trim()").await?;
    tour.look("instrument-refused").await?;
    page.paste("instrument-checked", "2025-02-28").await?;
    page.paste("instrument-due", "90").await?;
    page.tap("#accept").await?;
    page.appears("#turn-protractor").await?;
    page.tap("#turn-protractor").await?;
    page.appears("#slot-title").await?;
    tour.look("reversal-first").await?;
    page.press(&keys(0.6, DEGREES, true)).await?;
    page.tap("#keep").await?;
    page.wait("document.getElementById('slot-title')?.dataset.slot === 'turned'").await?;
    tour.look("reversal-turned").await?;
    page.press(&keys(-0.2, DEGREES, true)).await?;
    page.tap("#keep").await?;
    page.appears("#keep-reversal").await?;
    let found = page.text("#zero-found").await?;
    ensure!(found.starts_with("Zero error 0.20°"), "half the sum of 0.6° and \u{2212}0.2°: {found}");
    tour.look("reversal-found").await?;
    page.tap("#keep-reversal").await?;
    page.appears("#another").await?;
    tour.look("instruments-checked").await?;
    page.tap("#another").await?;
    page.appears("#kind-scales").await?;
    tour.look("instruments-another").await?;
    page.tap("#leave").await?;
    page.tap("#describe-tape").await?;
    page.tap("#accept").await?;
    page.tap("#long-pull").await?;
    page.paste("pull-distance", "227 7/16").await?;
    page.paste("pull-tolerance", "1/16").await?;
    page.paste("pull-temperature", "95").await?;
    page.tap("#work-out").await?;
    page.appears("#pull-found li").await?;
    let heat = page.text("#pull-found li").await?;
    ensure!(heat.starts_with("Heat: \u{2212}0.039 in"), "steel against aluminium, 15 \u{b0}C, 5.78 m: {heat}");
    tour.look("long-pull").await?;
    page.tap("#leave").await?;
    page.tap("#another").await?;
    page.tap("#kind-torque-wrench").await?;
    page.appears("#accept").await?;
    page.tap("#accept").await?;
    page.appears("#describe-torque-wrench").await
}

/// A number that is doubted: asked about once, with what was probably meant.
async fn doubting(tour: &mut Tour, page: &Page) -> Result<()> {
    page.press(&keys(18.25, TAPE, false)).await?;
    page.tap("#keep").await?;
    page.appears("#as-read").await?;
    let meant = page.text("#as-meant").await?;
    ensure!(meant.contains("17 1/4 in"), "a tape that started at 1: {meant}");
    tour.look("pad-doubted").await?;
    page.tap("#look-again").await?;
    page.wait("!document.getElementById('doubt')").await?;
    page.press(&["key-clear".to_owned()]).await
}

/// A number that is said: heard two ways, not understood, and kept by word.
async fn saying(tour: &mut Tour, page: &Page) -> Result<()> {
    page.tap("#listen").await?;
    page.appears("#said").await?;
    page.paste("said", "about a foot").await?;
    page.wait("document.getElementById('unheard').textContent.trim()").await?;
    tour.look("pad-not-understood").await?;
    page.paste("said", "seventeen and a quarter").await?;
    page.appears("#heard-1").await?;
    ensure!(page.text("#reading").await?.starts_with("17 1/4"), "the likelier one is shown");
    tour.look("pad-said").await?;
    page.tap("#keep").await?;
    page.wait("document.getElementById('slot-title')?.dataset.slot === 'twin-right'").await
}

/// Out, an order, another amount, the pad after a move, can't tell, the chart of attempts.
async fn judging(tour: &mut Tour, page: &Page, run: &str) -> Result<()> {
    page.step_in(run, "set/pitch").await?;
    tour.look("pad-pitch").await?;
    page.read(&[-3.6; 4], DEGREES).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("out"));
    tour.look("verdict-out").await?;
    page.tap("#orders .plain").await?;
    page.appears("[id^=amount-]").await?;
    tour.look("verdict-out-other-amount").await?;
    page.tap(".moved").await?;
    page.appears("#slot-title").await?;
    tour.look("pad-after-move").await?;
    take_back(page).await?;
    page.tap(".moved").await?;
    page.appears("#slot-title").await?;
    page.read(&[-2.4; 4], DEGREES).await?;
    ensure!(page.screen().await?.verdict.as_deref() == Some("cant-tell"));
    tour.look("verdict-cant-tell").await?;
    if page.has(".moved").await? {
        page.tap(".moved").await?;
    } else {
        page.tap("#again").await?;
    }
    page.appears("#slot-title").await?;
    page.read(&[-2.6; 4], DEGREES).await?;
    tour.look("verdict-after-attempts").await?;
    page.step_in(run, "set/twist").await?;
    tour.look("pad-twist").await?;
    page.read(&[0.1, 0.1, 0.5, 0.5], DEGREES).await?;
    page.step_in(run, "set/square").await?;
    page.read(&[227.53125, 227.53125, 227.53125, 227.40625, 227.40625, 227.40625], TAPE).await?;
    tour.look("verdict-square-out").await?;
    page.tap("#again").await?;
    page.appears("#slot-title").await?;
    page.read(&[227.4375; 6], TAPE).await?;
    tour.look("verdict-square").await?;
    moving_together(tour, page).await
}

/// The pass again, clamped; a second person; the hold point ready and signed; a count.
async fn holding(tour: &mut Tour, page: &Page, run: &str) -> Result<()> {
    for gate in ["set", "clamped"] {
        pass(page, run, gate).await?;
        if gate == "set" {
            page.confirm(run, "clamp").await?;
        }
    }
    page.step_in(run, "edge").await?;
    page.read(&[0.375], RULE).await?;
    page.step_in(run, "reread").await?;
    tour.look("hand-over").await?;
    page.paste("reader", "B. Helper").await?;
    page.tap("#begin-reading").await?;
    page.appears("#slot-title").await?;
    tour.look("pad-blind").await?;
    page.read(&[-2.6, -2.6], DEGREES).await?;
    page.read(&[227.4375, 227.4375], TAPE).await?;
    tour.look("verdict-blind").await?;
    page.step_in(run, "hold-a").await?;
    let screen = page.screen().await?;
    ensure!(screen.hold.as_deref() == Some("ready"), "{screen:?}");
    tour.look("hold-ready").await?;
    page.paste("signer", "B. Helper").await?;
    page.tap("#agree").await?;
    page.tap("#sign").await?;
    page.wait("document.getElementById('hold')?.dataset.hold === 'signed'").await?;
    tour.look("hold-signed").await?;
    page.step_in(run, "pilot").await?;
    tour.look("step-count").await?;
    page.paste("good", "3").await?;
    page.paste("bad", "1").await?;
    page.tap("#keep-count").await?;
    page.appears("#counted").await?;
    tour.look("step-count-bad").await
}

/// A whole pass that is in.
async fn pass(page: &Page, run: &str, gate: &str) -> Result<()> {
    let passes: [(&str, &[f64], Scale); 4] = [
        ("pitch", &[-2.6; 4], DEGREES),
        ("twist", &[0.1; 4], DEGREES),
        ("square", &[227.4375; 6], TAPE),
        ("offset", &[0.0; 2], RULE),
    ];
    for (check, mut values, scale) in passes {
        // Clamping pulls the tail aside: in, and more than half of the 1/8 in.
        if (gate, check) == ("clamped", "offset") {
            values = &[5.0 / 64.0; 2];
        }
        page.step_in(run, &format!("{gate}/{check}")).await?;
        for _ in 0..8 {
            let screen = page.screen().await?;
            match screen.verdict.as_deref() {
                Some("in" | "not-judged") => break,
                Some(_) => {
                    page.tap("#again").await?;
                    page.appears("#slot-title").await?;
                }
                None => {}
            }
            page.read(values, scale).await?;
        }
        let screen = page.screen().await?;
        ensure!(screen.verdict.as_deref() == Some("in"), "{screen:?}");
    }
    Ok(())
}

/// The other invented airframe, in millimetres.
async fn metric(tour: &mut Tour, page: &Page, app: &trammel_browser_tests::AppServer) -> Result<()> {
    page.open(app.address().as_str()).await?;
    page.tap("#example-1").await?;
    page.appears("ol.works").await?;
    let run = page.start_run().await?;
    page.step_in(&run, "tape").await?;
    tour.look("step-instrument-millimetres").await?;
    page.accept(&run, "tape", 0).await?;
    page.step_in(&run, "twins").await?;
    page.press(&keys(430.0, Scale::Decimal(0), false)).await?;
    tour.look("pad-millimetres").await
}

/// The checks themselves: each finds a fault of its kind that is put into a good page.
async fn what_is_wrong_is_seen(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let mut tour = Tour::begin(bench, &app).await?;
    let faults = r"
const add = (name, text, style) => {
  const it = Object.assign(document.createElement(name), { textContent: text, id: `fault-${text}` });
  Object.assign(it.style, style);
  document.querySelector('main').append(it);
};
add('button', 'small', { width: '40px', height: '60px', padding: 0 });
add('p', 'pale', { color: '#888', background: '#fff' });
add('p', 'faint', { color: '#666', background: '#fff' });
add('button', 'unbroken', { width: '60px', height: '90px', padding: 0, overflowWrap: 'anywhere' });
add('p', 'wide', { width: '1200px' });
add('button', 'hidden', { width: '100px', height: '60px', display: 'block' });
add('p', 'cover', { width: '100px', height: '60px', margin: '-60px 0 0', position: 'relative', background: '#fff', color: '#000' });
add('button', 'clipped', { width: '50px', height: '60px', overflow: 'hidden', whiteSpace: 'nowrap', letterSpacing: '40px' });
document.querySelector('main').append(document.createElement('img'));";
    tour.page.run::<Option<()>>(faults, Vec::new()).await?;
    tour.look("faults").await?;
    let said = tour.said().expect_err("eight faults").to_string();
    for (fault, words) in [
        ("a small target", "#fault-small is 40.0 by 60.0"),
        ("a text under 4.5:1", "color-contrast: #fault-pale"),
        ("a text under 7:1", "color-contrast-enhanced: #fault-faint"),
        ("a page too wide", "the page is 1"),
        ("a button under another thing", "#fault-hidden lies under"),
        ("clipped words", "the words of #fault-clipped need"),
        ("a broken word", "the word 'unbroken' is broken"),
        ("a picture without words", "image-alt"),
    ] {
        ensure!(said.contains(words), "{fault} was not seen: {said}");
    }
    Ok(())
}
