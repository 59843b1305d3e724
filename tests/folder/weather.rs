//! Runs of phones and a folder in bad weather.

use std::fs;
use std::path::Path;
use std::sync::atomic::Ordering;

use trammel::folder::Memory;

use crate::kinds::photo;
use crate::phone::Phone;
use crate::proxy::Proxy;
use crate::{Place, files, lost};

/// One run: two or three phones work, die, and come into step in bad weather; then the weather is good, and they meet.
struct Run {
    lost: usize,
    exchanged: usize,
    given_up: usize,
}

fn run(proxy: &Proxy, disk: &Path, seed: u64) -> Run {
    let mut rng = fastrand::Rng::with_seed(seed);
    let folder = format!("/run{seed}/");
    let count = rng.u8(2..=3);
    let mut phones: Vec<Phone> = (1..=count).map(|number| Phone::new(number, number == 1, proxy.at, &folder)).collect();
    let mut remembered = vec![Memory::default(); phones.len()];
    let (mut exchanged, mut given_up) = (0, 0);
    proxy.faults(rng.u32(10..60));
    for event in 0..rng.u32(6..20) {
        let which = rng.usize(0..phones.len());
        let phone = &mut phones[which];
        match rng.u32(0..10) {
            0..=3 => phone.note(format!("{event} {}", "x".repeat(rng.usize(0..300)))),
            4 => phone.photograph(photo(rng.u8(0..20))),
            5 => {
                // It dies; what it remembered of the folder is gone, or is of some time ago.
                phone.restart();
                phone.memory = if rng.bool() { remembered[which].clone() } else { Memory::default() };
            }
            _ => match phone.bring_into_step() {
                Ok(outcome) => {
                    exchanged += outcome.entries_in;
                    remembered[which] = phone.memory.clone();
                }
                Err(_) => given_up += 1,
            },
        }
    }
    proxy.faults(0);
    for _ in 0..3 {
        for phone in &mut phones {
            exchanged += phone.bring_into_step().expect("in good weather").entries_in;
        }
    }
    let alike = phones.windows(2).all(|two| two[0].text() == two[1].text());
    let there = files(&disk.join(format!("run{seed}")));
    let whole = there.iter().filter(|file| fs::read_to_string(file).is_ok_and(|text| text == phones[0].text())).count();
    let lost = lost(&phones) + usize::from(!alike) + (phones.len() - whole);
    Run { lost, exchanged, given_up }
}

fn runs(seeds: std::ops::Range<u64>) -> (u64, usize) {
    let place = Place::new();
    let proxy = Proxy::before(place.server.at, seeds.start);
    let mut totals = Run { lost: 0, exchanged: 0, given_up: 0 };
    for seed in seeds.clone() {
        let one = run(&proxy, place.disk.path(), seed);
        if one.lost > 0 {
            println!("run {seed}: {} lost", one.lost);
        }
        totals = Run {
            lost: totals.lost + one.lost,
            exchanged: totals.exchanged + one.exchanged,
            given_up: totals.given_up + one.given_up,
        };
    }
    let (runs, met) = (seeds.end - seeds.start, proxy.met.load(Ordering::Relaxed));
    println!(
        "{runs} runs: {} entries came from another phone, {met} requests met a fault, {} attempts gave up",
        totals.exchanged, totals.given_up
    );
    // In every run a phone begins with nothing, and there is weather.
    let begun = usize::try_from(runs).expect("few");
    assert!(totals.exchanged > begun * 8 && met > begun && totals.given_up > 0, "the runs tried nothing");
    (runs, totals.lost)
}

#[test]
fn bad_weather_loses_nothing() {
    assert_eq!(runs(0..25).1, 0);
}

#[test]
#[ignore = "a measurement: run by its own command"]
fn campaign() {
    let (runs, lost) = runs(1_000..2_000);
    println!("figure: webdav_runs = {runs}");
    println!("figure: webdav_lost = {lost}");
    assert_eq!(lost, 0);
}
