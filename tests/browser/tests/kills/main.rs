//! The browser is killed by SIGKILL, with all its processes, while readings are taken through the pad: at random moments, and in the middle
//! of a digit, of keeping, of striking out, of going to another step. Started again on the same profile, everything is there that its
//! screen had acknowledged: each entry, and each digit that is half typed.
//!
//! A killed process is not a phone whose battery was pulled out: what the browser has handed to the system is safe here.
//!
//! `cargo xtask bench proof` runs the long ones and reads the lines that begin with "figure:". `TRAMMEL_SEED` repeats a run's choices.

#![allow(clippy::print_stdout, reason = "the figures are printed")]

mod moment;
mod reports;
mod session;

use std::time::Instant;

use anyhow::{Context, Result, ensure};
use trammel_browser_tests::{Bench, Engine, run};

use moment::Moment;
use session::{Losses, Profile};

#[test]
fn a_few_kills() {
    run(Engine::Chromium, "a_few_kills", async |bench| kills(bench, 8).await?.none_lost_but_a_last_digit());
}

#[test]
#[ignore = "a measurement: run by `cargo xtask bench proof`"]
fn kills_in_chromium() {
    run(Engine::Chromium, "kills_in_chromium", async |bench| figures(bench, 300, "").await);
}

#[test]
#[ignore = "a measurement: run by `cargo xtask bench proof`"]
fn kills_in_firefox() {
    run(Engine::Firefox, "kills_in_firefox", async |bench| figures(bench, 40, "_firefox").await);
}

async fn figures(bench: &Bench, wanted: usize, which: &str) -> Result<()> {
    let tally = kills(bench, wanted).await?;
    println!("figure: kills{which} = {wanted}");
    println!("figure: kill_acknowledged{which} = {}", tally.entries + tally.digits);
    println!("figure: kill_lost{which} = {}", tally.lost.entries + tally.lost.digits);
    tally.none_lost()
}

/// What came of the kills of a run.
#[derive(Debug, Default)]
struct Tally {
    /// Entries and digits that a page showed before it was killed.
    entries: usize,
    digits: usize,
    lost: Losses,
}

impl Tally {
    /// A digit is on the screen some milliseconds before the browser has written it (`docs/faults.md`): a kill between the two loses it, once in
    /// hundreds of kills. No entry is ever lost.
    fn none_lost_but_a_last_digit(&self) -> Result<()> {
        ensure!(self.lost.entries == 0 && self.lost.digits <= 1, "{self:?}");
        Ok(())
    }

    fn none_lost(&self) -> Result<()> {
        ensure!(self.lost == Losses::default(), "{self:?}");
        Ok(())
    }
}

/// Kills as often as wanted.
async fn kills(bench: &Bench, wanted: usize) -> Result<Tally> {
    let seed = match std::env::var("TRAMMEL_SEED") {
        Ok(seed) => seed.parse().context("TRAMMEL_SEED is a number")?,
        Err(_) => fastrand::u64(..),
    };
    println!("seed {seed}");
    let mut dice = fastrand::Rng::with_seed(seed);
    let mut profile = Profile::made(bench).await?;
    let mut tally = Tally::default();
    let begun = Instant::now();
    for number in 1..=wanted {
        let moment = Moment::drawn(&mut dice);
        let told = profile.killed_at(moment, &mut dice).await?;
        tally.entries += told.kept.len();
        tally.digits += told.digits;
        let missing =
            profile.missing(&told).await.with_context(|| format!("after kill {number}, {moment:?}: {told:?}"))?;
        if missing != Losses::default() {
            println!("kill {number}, {moment:?}: {missing:?} of {told:?}");
        }
        tally.lost += missing;
        if number % 25 == 0 || number == wanted {
            let each = begun.elapsed().as_secs_f64() / f64::from(u32::try_from(number)?);
            println!("{number} kills, {each:.1} s each: {tally:?}");
        }
    }
    profile.whole().await?;
    // The hand did something: a test of nothing loses nothing.
    ensure!(tally.entries + tally.digits > wanted, "{tally:?} of {wanted} kills");
    Ok(tally)
}
