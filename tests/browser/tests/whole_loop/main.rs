//! From an empty phone to a signed record on another phone: the mating of the invented Veldrin H2, done with a digital twin.

#![allow(clippy::print_stdout, reason = "the walk says what it took")]

mod builder;
mod holds;
#[path = "../../../twin/mod.rs"]
mod twin;

use anyhow::{Context, Result, ensure};
use serde_json::Value;
use trammel_browser_tests::files::Exported;
use trammel_browser_tests::{AppServer, Bench, Page, in_engines};

use builder::Builder;
use holds::HOLDS;
use twin::config::{Config, SetUp};
use twin::world::Twin;

in_engines! {
    chromium Chromium: from_empty_phone_to_signed_record, frame_on_a_block_to_the_set_gate;
    firefox Firefox: from_empty_phone_to_signed_record;
    webkit WebKit: from_empty_phone_to_signed_record;
}

/// The twin's roughness, with one rule for gaps and string, a start that has to be seen as out, and a joint that the start
/// does not need to open past the sheet's limit.
fn config(set_up: SetUp) -> Config {
    let sixty_fourth = 1.0 / 64.0;
    Config { start_offset: START_OFFSET, string_step: sixty_fourth, gap_step: sixty_fourth, ..Config::rough(set_up) }
}

/// Inches, uniform ±.
const START_OFFSET: f64 = 1.0;
/// Twins that start clearly outside in both, and whose joint has to be closed on one side and opened on the other.
const SADDLE_SEED: u64 = 71;
const BLOCK_SEED: u64 = 43;

async fn from_empty_phone_to_signed_record(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    first_run(&page, &app).await?;
    let airframe = page.make_airframe(&app, "Veldrin H2", "A. Builder").await?;
    page.type_sheet(None).await?;
    let mut builder = Builder::new("A. Builder", "B. Helper", Twin::new(config(SetUp::Saddle), SADDLE_SEED));
    page.open(&airframe).await?;
    page.to_mating().await?;
    page.click("open-run").await?;
    work_to_the_end(&page, &mut builder, &format!("{airframe}/run/mate-aft-fuselage")).await?;
    started_outside_and_came_in(&builder)?;

    page.open(&airframe).await?;
    page.to_mating().await?;
    let progress = page.text("#progress").await?;
    page.open(&airframe).await?;
    let (json, csv) = (page.export("export-json").await?, page.export("export-csv").await?);
    let entries = json_holds_what_was_done(&json, &builder)?;
    csv_holds_what_was_read(&csv, &builder)?;
    page.open(&format!("{airframe}/record")).await?;
    let count = page.text("#entry-count").await?;
    ensure!(
        count.contains(&entries.to_string()) && page.count("li.entry").await? == entries,
        "{count}, {entries} exported"
    );

    let folder = tempfile::tempdir()?;
    let file = folder.path().join(&json.name);
    std::fs::write(&file, &json.text)?;
    page.session.close().await?;
    let other = bench.open().await?;
    other.open(app.address().as_str()).await?;
    ensure!(other.count("a.airframe").await? == 0, "a new browser is empty");
    let said = other.import(&file).await?;
    ensure!(said.contains(&format!("{entries} new")) && said.contains("0 known"), "{said}");
    let said = other.import(&file).await?;
    ensure!(said.contains("0 new") && said.contains(&format!("{entries} known")), "{said}");
    other.click_on("a.airframe").await?;
    other.appears("#send").await?;
    other.to_mating().await?;
    ensure!(other.text("#progress").await? == progress, "{progress}");
    other.client().back().await?;
    other.appears("#send").await?;
    let again = other.export("export-json").await?;
    ensure!(again == json, "exported, imported, exported: not the same bytes");
    ensure!(other.export("export-csv").await? == csv, "the readings differ");
    other.click("record").await?;
    other.wait(&format!("document.querySelectorAll('li.entry').length === {entries}")).await?;
    ensure!(other.text("#entry-count").await? == count, "{count}");
    Ok(())
}

/// The cautions come first, once.
async fn first_run(page: &Page, app: &AppServer) -> Result<()> {
    page.open(app.address().as_str()).await?;
    page.appears("#cautions").await?;
    page.click("understood").await?;
    page.wait("!document.getElementById('cautions')").await?;
    page.open(app.address().as_str()).await?;
    ensure!(!page.has("#cautions").await?, "the cautions are shown once");
    Ok(())
}

/// Does every step. Before each hold point, as soon as the work toward it begins, tries to go around it.
async fn work_to_the_end(page: &Page, builder: &mut Builder, run: &str) -> Result<()> {
    let mut signed = 0;
    let mut tried = 0;
    for _ in 0..200 {
        page.wait("document.querySelector('main[data-step]')").await?;
        let (hold, guarded) = HOLDS[signed];
        if tried == signed {
            tried += 1;
            let here = page.client().current_url().await?;
            holds::cannot_skip(page, run, hold, guarded).await.with_context(|| format!("skipping {hold}"))?;
            page.open(here.as_str()).await?;
        }
        if page.screen().await?.step == hold {
            holds::sign(page, builder, run, hold, guarded).await.with_context(|| format!("signing {hold}"))?;
            signed += 1;
            if signed == HOLDS.len() {
                let screen = page.screen().await?;
                ensure!(screen.finished, "{screen:?}");
                return Ok(());
            }
            page.go_on(hold).await?;
        } else {
            builder.step(page).await?;
        }
    }
    anyhow::bail!("no end to it")
}

/// The first thing said of pitch and of square was not "in"; what was moved brought the true geometry in.
fn started_outside_and_came_in(builder: &Builder) -> Result<()> {
    for step in ["set/pitch", "set/square"] {
        let first = builder.verdicts.iter().find(|(seen, _)| seen == step).map(|(_, verdict)| verdict.as_str());
        ensure!(first == Some("out"), "{step} begins {first:?}: {:?}", builder.verdicts);
    }
    let (pitch, square) = (builder.twin.true_pitch_error(), builder.twin.true_diagonal_difference());
    ensure!(pitch.abs() <= 0.2, "true pitch {pitch}");
    ensure!(square.abs() <= 1.0 / 16.0, "true difference {square}");
    println!(
        "{} readings, moves {:?}; true pitch error {pitch:.3}°, distances differ by {square:.3} in",
        builder.readings.len(),
        builder.moves
    );
    Ok(())
}

/// Every reading, move and signature stands in the file as it was made; gives the number of entries.
fn json_holds_what_was_done(file: &Exported, builder: &Builder) -> Result<usize> {
    ensure!(file.name.ends_with(".json"), "{}", file.name);
    let record: Value = serde_json::from_str(&file.text)?;
    let entries = record["entries"].as_array().context("entries")?;
    let of = |kind: &'static str| entries.iter().filter(move |entry| entry["body"].get(kind).is_some());
    let readings: Vec<&Value> = of("reading-taken").collect();
    ensure!(
        readings.len() == builder.readings.len(),
        "{} readings typed, {} in the file",
        builder.readings.len(),
        readings.len()
    );
    for (entry, typed) in readings.iter().zip(&builder.readings) {
        let body = &entry["body"]["reading-taken"];
        let value = body["value"]["value"].as_f64().context("a number")?;
        ensure!(
            body["step"] == typed.step.as_str()
                && body["slot"] == typed.slot.as_str()
                && entry["by"] == typed.by.as_str()
                && (value - typed.value).abs() < 1e-9,
            "{entry} is not {typed:?}"
        );
    }
    let moves: Vec<(&str, f64)> = of("adjuster-moved")
        .map(|entry| {
            let moved = &entry["body"]["adjuster-moved"];
            let amount = moved["amount"]["value"].as_f64().unwrap_or(f64::NAN);
            (moved["adjuster"].as_str().unwrap_or_default(), amount)
        })
        .collect();
    ensure!(
        moves.len() == builder.moves.len()
            && moves.iter().zip(&builder.moves).all(|(got, made)| got.0 == made.1 && (got.1 - made.2).abs() < 1e-9),
        "{moves:?} in the file, {:?} made",
        builder.moves
    );
    let signers: Vec<&str> =
        of("hold-signed").filter_map(|entry| entry["body"]["hold-signed"]["name"].as_str()).collect();
    let (first, second) = (builder.name.as_str(), builder.second.as_str());
    ensure!(signers == [second, first, first, first], "{signers:?}");
    Ok(entries.len())
}

/// One row a reading, in the order in which they were typed.
fn csv_holds_what_was_read(file: &Exported, builder: &Builder) -> Result<()> {
    ensure!(file.name.ends_with(".csv"), "{}", file.name);
    let mut reader = csv::Reader::from_reader(file.text.as_bytes());
    let heading = reader.headers()?.clone();
    let column =
        |name: &str| heading.iter().position(|found| found == name).with_context(|| format!("no column {name}"));
    let (step, slot, value, by) = (column("step")?, column("reading")?, column("value")?, column("reader")?);
    let rows = reader.records().collect::<Result<Vec<_>, _>>()?;
    ensure!(rows.len() == builder.readings.len(), "{} rows", rows.len());
    for (row, typed) in rows.iter().zip(&builder.readings) {
        ensure!(
            row[step] == typed.step
                && row[slot] == typed.slot
                && row[by] == typed.by
                && (row[value].parse::<f64>()? - typed.value).abs() < 1e-9,
            "{row:?} is not {typed:?}"
        );
    }
    Ok(())
}

/// The other way of setting up: the frame carried on a block under its sloping tube.
async fn frame_on_a_block_to_the_set_gate(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    let mut twin = Twin::new(config(SetUp::Block), BLOCK_SEED);
    let airframe = page.make_airframe(&app, "Veldrin H2", "A. Builder").await?;
    let slope = f64::midpoint(twin.read_tube_slope(false), twin.read_tube_slope(true));
    page.type_sheet(Some(slope)).await?;
    let mut builder = Builder::new("A. Builder", "B. Helper", twin);
    page.open(&airframe).await?;
    page.to_mating().await?;
    page.click("open-run").await?;
    page.wait("document.querySelector('main[data-step]')").await?;
    let mut steps = 0;
    while page.screen().await?.step != "clamp" {
        builder.step(&page).await?;
        steps += 1;
        ensure!(steps < 100, "no end to it: {:?}", builder.verdicts);
    }
    started_outside_and_came_in(&builder)?;
    ensure!(builder.moves.iter().any(|(_, adjuster, _)| adjuster == "block"), "{:?}", builder.moves);
    Ok(())
}
