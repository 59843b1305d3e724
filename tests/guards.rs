//! The guards at entry: what they know, what they ask, what they catch, how often they ask for nothing.

#![allow(clippy::print_stdout, reason = "the figures are printed")]

#[path = "guards/asking.rs"]
mod asking;
#[path = "guards/bench.rs"]
mod bench;
#[path = "guards/knowing.rs"]
mod knowing;
#[path = "guards/plant.rs"]
mod plant;
mod support;
#[path = "guards/tally.rs"]
mod tally;
#[path = "guards/walk.rs"]
mod walk;

use bench::Hands;
use tally::Tally;

/// Honest readings of each half of the campaign; slips are planted in every fourth run.
const CLEAN: u64 = 50_000;
const PLANT: u64 = 4;

const PAGE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/guards.md");

/// The usual hands, then the unsteady ones (a tenth as many readings, no slips).
fn campaign() -> (Tally, Tally) {
    std::thread::scope(|scope| {
        let half = |first| {
            scope.spawn(move || {
                let usual = Tally::of(first, CLEAN, PLANT, Hands::Usual);
                (usual, Tally::of(first + 500_000, CLEAN / 10, u64::MAX, Hands::Unsteady))
            })
        };
        let [one, other] = [0, 1_000_000].map(half).map(|half| half.join().expect("walked to the end"));
        (one.0.and(&other.0), one.1.and(&other.1))
    })
}

fn page((usual, unsteady): &(Tally, Tally)) -> String {
    include_str!("guards/page.md")
        .replace("{slips}", &usual.slips())
        .replace("{for-nothing}", usual.for_nothing(unsteady).trim_end())
}

/// The issue asks for less than 1 % of 100,000 honest readings.
#[test]
fn the_guards_catch_what_the_page_says_and_seldom_ask_for_nothing() {
    let tallies = campaign();
    assert_eq!(tallies.0.clean, 100_000);
    assert!(tallies.0.false_alarm_rate() < 0.01, "{}", tallies.0.false_alarm_rate());
    assert!(tallies.1.false_alarm_rate() < 0.01, "{}", tallies.1.false_alarm_rate());
    assert!(tallies.0.caught_rate() > 0.99, "{}", tallies.0.caught_rate());
    let kept = std::fs::read_to_string(PAGE).expect("the page is in the repository");
    assert!(
        page(&tallies) == kept,
        "docs/guards.md is not what the code gives: write it again and look at the difference"
    );
}

/// `cargo test --test guards -- --ignored write_the_page`
#[test]
#[ignore = "writes docs/guards.md"]
fn write_the_page() {
    std::fs::write(PAGE, page(&campaign())).expect("written");
}

/// `cargo test --test guards -- --ignored --nocapture figures`
#[test]
#[ignore = "prints the figures"]
fn figures() {
    let tallies = campaign();
    print!("{}{}", tallies.0.slips(), tallies.0.for_nothing(&tallies.1));
    println!("figure: guard_slips_caught_rate = {:.4}", tallies.0.caught_rate());
    println!("figure: guard_slips_asked_raw_rate = {:.4}", tallies.0.raw_rate());
    println!("figure: guard_false_alarm_rate = {:.5}", tallies.0.false_alarm_rate());
}
