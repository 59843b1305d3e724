//! The recogniser with voices: taught with some takes, tested with readings that were never taught, in a hangar's noise.
//!
//! The voices are synthesised on this machine (`tests/voice/NOTICE`). Takes differ in speed, pitch, neighbouring words and place in
//! the room; no sound is taught and tested.
//!
//! The whole table: `cargo test --profile bench --package trammel --test voice -- --ignored --nocapture figures`; sound for a browser's
//! fake microphone: the same with `microphone`.

#![allow(clippy::print_stdout, reason = "tables and figures are printed")]
#![allow(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    reason = "counts and samples, all far below what a float holds exactly"
)]

use std::path::{Path, PathBuf};

use trammel::hearing;
use trammel::quantity::taught;

#[path = "voice/mod.rs"]
mod voice;

use voice::score::Score;
use voice::speaker::{DEVELOPMENT, HELD_OUT};
use voice::{other, pupil, sound, table};

/// A voice of the development and one held out, at 10 dB of compressor: a floor under what the table shows.
#[test]
fn two_voices_are_understood_beside_a_compressor() {
    let mut all = Score::default();
    for speaker in [DEVELOPMENT[0], HELD_OUT[0]] {
        let row = table::row(&speaker, &[("compressor", 10.0)], None);
        println!("{}: {}", speaker.name, row[0].ours.cell());
        all.add(row[0].ours);
    }
    assert!(all.word_accuracy() > 93.0, "{:.1} % of the words", all.word_accuracy());
    assert!(all.reading_accuracy() > 80.0, "{:.1} % of the readings", all.reading_accuracy());
    assert!(all.sure_and_wrong <= 1, "{} wrong readings were said to be sure", all.sure_and_wrong);
}

/// What nobody taught is not taken for a reading.
#[test]
fn talk_is_not_a_reading() {
    let cache = voice::cache();
    let (bytes, _) = pupil::taught(&DEVELOPMENT[0], &cache);
    let talk = pupil::spoken(&DEVELOPMENT[0], &voice::script::TALK, voice::script::TAUGHT_AS[0], &cache);
    let noise = voice::noise::compressor(1);
    for (text, sound) in voice::script::TALK.iter().zip(talk) {
        let heard = pupil::heard(&bytes, &sound::mixed(&sound, &noise, 0, 20.0), Some(16));
        assert!(!heard.is_sure(), "{text}: {} ({:?})", heard.text(), heard.evidence);
    }
}

#[test]
#[ignore = "a measurement, run by cargo xtask bench"]
fn figures() {
    let package = other::package();
    let mut totals = [[(Score::default(), Score::default()); table::CONDITIONS.len()]; 2];
    println!(
        "words right %, readings right %, asked again %, wrong ones said to be sure; the other recogniser on the right"
    );
    for (group, speakers) in [DEVELOPMENT, HELD_OUT].into_iter().enumerate() {
        for speaker in speakers {
            let row = table::row(&speaker, &table::CONDITIONS, package.as_deref());
            for ((cell, total), condition) in row.iter().zip(&mut totals[group]).zip(table::CONDITIONS) {
                total.0.add(cell.ours);
                let other = cell.other.map(|other| other.cell()).unwrap_or_default();
                println!(
                    "{:18} {:10} {:3.0} dB {} | {other}",
                    speaker.name,
                    condition.0,
                    condition.1,
                    cell.ours.cell()
                );
                total.1.add(cell.other.unwrap_or_default());
            }
        }
        for (total, condition) in totals[group].iter().zip(table::CONDITIONS) {
            let name = ["ALL OF DEVELOPMENT", "ALL HELD OUT"][group];
            println!("{name:18} {:10} {:3.0} dB {} | {}", condition.0, condition.1, total.0.cell(), total.1.cell());
        }
    }
    // The held-out voices alone, both noises together.
    let at = |ratio: f64| {
        let mut score = Score::default();
        for (total, condition) in totals[1].iter().zip(table::CONDITIONS) {
            if (condition.1 - ratio).abs() < 0.1 {
                score.add(total.0);
            }
        }
        score
    };
    println!("figure: voice_words_20db = {:.1}", at(20.0).word_accuracy());
    println!("figure: voice_words_10db = {:.1}", at(10.0).word_accuracy());
    println!("figure: voice_readings_10db = {:.1}", at(10.0).reading_accuracy());
}

/// Sound for a browser's fake microphone, at 48 kHz: all lessons of a voice one after the other, and readings at 10 dB.
#[test]
#[ignore = "makes files for the browser tests"]
fn microphone() {
    voice::microphone::write(&DEVELOPMENT[0], Path::new(env!("CARGO_MANIFEST_DIR")).join("target/voice").as_path());
}

fn target() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("target/voice")
}
