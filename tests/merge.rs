//! Merging as set union, with random histories: several devices, two airframes, strikes that come before what they strike, altered
//! copies. What a ledger says is held against the plainest reading of the same set, written here without any index.

mod support;

use std::collections::BTreeMap;

use chrono::DateTime;
use proptest::prelude::*;
use trammel::quantity::{Quantity, Unit};
use trammel::record::{
    About, AirframeDetails, AirframeId, Body, Entry, EntryId, Head, Integrity, Ledger, MovedAdjuster, RunId, Units,
};
use trammel::report::{read_json, write_json};
use uuid::Uuid;

const AIRFRAMES: [AirframeId; 2] = [AirframeId(Uuid::from_u128(0xA0)), AirframeId(Uuid::from_u128(0xA1))];
const RUNS: [RunId; 2] = [RunId(Uuid::from_u128(0xB0)), RunId(Uuid::from_u128(0xB1))];

fn id(place: usize) -> EntryId {
    EntryId(uuid::Builder::from_unix_timestamp_millis(1_760_000_000_000 + place as u64, &[7; 10]).into_uuid())
}

fn details() -> AirframeDetails {
    AirframeDetails {
        model: "Example".to_owned(),
        serial: "1".to_owned(),
        builder: "A. Builder".to_owned(),
        manual: "1".to_owned(),
        units: Units::Inches,
        invented: true,
    }
}

/// One event: which airframe, which device, what kind, and which other entry it names.
type Event = (usize, u128, u8, usize);

/// The entries of a history, each sealed by its device as it goes.
fn written(events: &[Event]) -> Vec<Entry> {
    let mut heads: BTreeMap<(u128, usize), Head> = BTreeMap::new();
    let one = |(place, &(airframe, device, kind, other)): (usize, &Event)| {
        let (run, step) = (RUNS[other % 2], "set/pitch".to_owned());
        let body = match kind {
            0 => Body::AirframeMade { details: details() },
            1 => Body::RunStarted { run, procedure: "mate-aft-fuselage".to_owned(), version: 1, file: None },
            2 => Body::Struck { entry: id(other), reason: "wrong side".to_owned() },
            3 => Body::AdjusterMoved(MovedAdjuster {
                run,
                step,
                adjuster: "block".to_owned(),
                amount: Quantity::new(0.25, Unit::Inch, 1.0 / 32.0),
            }),
            4 => Body::NoteMade { about: About::default(), text: format!("note {place}"), spoken: false },
            _ => Body::StepConfirmed { run, step },
        };
        let at = DateTime::from_timestamp_millis(1_760_000_000_000).expect("in range").fixed_offset();
        let by = format!("person {device}");
        let airframe_id = AIRFRAMES[airframe];
        let entry =
            Entry { id: id(place), airframe: airframe_id, at, by, device: Uuid::from_u128(device), body, seal: None };
        let head = heads.entry((device, airframe)).or_default();
        if kind == 5 { entry } else { entry.sealed(head) }
    };
    events.iter().enumerate().map(one).collect()
}

fn histories() -> impl Strategy<Value = Vec<Entry>> {
    prop::collection::vec((0..2_usize, 0..3_u128, 0..8_u8, 0..40_usize), 1..40).prop_map(|events| written(&events))
}

/// Copies of some entries, altered outside the app: who, or which airframe.
fn altered(entries: &[Entry], which: &[bool]) -> Vec<Entry> {
    let alter = |(place, entry): (usize, &Entry)| {
        let mut copy = entry.clone();
        if place % 3 == 0 {
            copy.airframe = AIRFRAMES[place / 3 % 2];
        } else {
            copy.by.push('!');
        }
        copy
    };
    entries.iter().enumerate().filter(|(place, _)| which.get(*place) == Some(&true)).map(alter).collect()
}

fn merged(parts: &[&[Entry]]) -> Ledger {
    let mut ledger = Ledger::default();
    for part in parts {
        ledger.merge(part.iter().cloned());
    }
    ledger
}

/// Everything that a ledger says of both airframes, as text.
fn says(ledger: &Ledger) -> String {
    let of = |airframe: AirframeId| {
        let ids = |entries: Vec<&Entry>| entries.into_iter().map(|entry| entry.id).collect::<Vec<_>>();
        let heads: Vec<Head> = (0..3).map(|device| ledger.head(Uuid::from_u128(device), airframe)).collect();
        let runs: Vec<_> = RUNS.iter().map(|run| ids(ledger.of_run(airframe, *run))).collect();
        let (all, in_force) = (ids(ledger.of(airframe).collect()), ids(ledger.in_force(airframe)));
        let folded = ledger.airframe(airframe);
        format!("{all:?} {in_force:?} {runs:?} {heads:?} {folded:?} {:?}\n", Integrity::of(ledger, airframe))
    };
    let made: Vec<AirframeId> = ledger.airframes().iter().map(|airframe| airframe.id).collect();
    format!("{}{made:?}", AIRFRAMES.map(of).concat())
}

/// The same, read off the sorted set without an index.
fn plainly(ledger: &Ledger, airframe: AirframeId) -> (Vec<EntryId>, Vec<Vec<EntryId>>) {
    let all: Vec<&Entry> = ledger.entries().filter(|entry| entry.airframe == airframe).collect();
    let is_strike = |entry: &Entry| matches!(entry.body, Body::Struck { .. });
    let struck = |entry: &Entry| {
        !is_strike(entry)
            && all.iter().any(|strike| matches!(strike.body, Body::Struck { entry: target, .. } if target == entry.id))
    };
    let in_force: Vec<&Entry> = all.iter().copied().filter(|entry| !struck(entry)).collect();
    let moved = |entry: &Entry| matches!(entry.body, Body::AdjusterMoved(_));
    // A move of another run disturbs nothing before the run's first entry, struck or not.
    let of_run = |run: RunId| {
        let own = |entry: &&Entry| entry.run() == Some(run);
        let first = all.iter().copied().find(own).map(|entry| entry.id);
        let follows = |entry: &&&Entry| own(entry) || moved(entry) && first.is_some_and(|first| entry.id >= first);
        in_force.iter().filter(follows).map(|entry| entry.id).collect()
    };
    (in_force.iter().map(|entry| entry.id).collect(), RUNS.into_iter().map(of_run).collect())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn merge_is_commutative_associative_and_idempotent(
        entries in histories(),
        which in prop::collection::vec(any::<bool>(), 40),
        cuts in (0..40_usize, 0..40_usize),
        turn in any::<prop::sample::Index>(),
    ) {
        let copies = altered(&entries, &which);
        let all: Vec<Entry> = entries.iter().chain(&copies).cloned().collect();
        let (low, high) = (cuts.0.min(cuts.1).min(all.len()), cuts.0.max(cuts.1).min(all.len()));
        let (a, b, c) = (&all[..low], &all[low..high], &all[high..]);
        let whole = merged(&[&all]);
        let expected = says(&whole);
        let mut left = merged(&[a, b]);
        left.merge(c.iter().cloned());
        let mut right = merged(&[a]);
        right.merge(merged(&[b, c]).entries().cloned());
        let mut backwards: Vec<Entry> = all.clone();
        backwards.reverse();
        let mut turned = all.clone();
        turned.rotate_left(turn.index(all.len()));
        for other in [left, right, merged(&[c, b, a]), merged(&[&backwards]), merged(&[&turned, &all, &backwards])] {
            prop_assert_eq!(&other, &whole);
            prop_assert_eq!(says(&other), expected.clone());
        }
    }

    #[test]
    fn what_an_index_says_the_plain_set_says(entries in histories(), which in prop::collection::vec(any::<bool>(), 40)) {
        let ledger = merged(&[&altered(&entries, &which), &entries]);
        for airframe in AIRFRAMES {
            let ids = |entries: Vec<&Entry>| entries.into_iter().map(|entry| entry.id).collect::<Vec<_>>();
            let (in_force, runs) = plainly(&ledger, airframe);
            prop_assert_eq!(ids(ledger.in_force(airframe)), in_force);
            prop_assert_eq!(RUNS.iter().map(|run| ids(ledger.of_run(airframe, *run))).collect::<Vec<_>>(), runs);
        }
    }

    #[test]
    fn export_import_export_gives_the_same_bytes(entries in histories()) {
        let ledger = merged(&[&entries]);
        let text = write_json(ledger.entries());
        let read = read_json(&text).expect("reads");
        prop_assert_eq!(write_json(merged(&[&read]).entries()), text.clone());
        let mut twice = ledger.clone();
        let known = twice.merge(read);
        prop_assert_eq!((known.added.len(), known.conflicts.len()), (0, 0));
        prop_assert_eq!(write_json(twice.entries()), text);
    }

    /// Whatever one bit of a file becomes, it is refused, or what it changed is reported, or it changed nothing.
    #[test]
    fn a_bit_that_flips_is_refused_or_reported(entries in histories(), place in any::<prop::sample::Index>(), bit in 0..8_u8) {
        let ledger = merged(&[&entries]);
        let mut bytes = write_json(ledger.entries()).into_bytes();
        let at = place.index(bytes.len());
        bytes[at] ^= 1 << bit;
        let Ok(text) = String::from_utf8(bytes) else { return Ok(()) };
        let Ok(read) = read_json(&text) else { return Ok(()) };
        let alone = merged(&[&read]);
        let unsealed = ledger.entries().any(|entry| entry.seal.is_none());
        let broken = AIRFRAMES.iter().any(|airframe| !Integrity::of(&alone, *airframe).unbroken());
        let mut here = ledger.clone();
        let added = here.merge(read);
        let reported = !added.conflicts.is_empty() || !added.added.is_empty();
        prop_assert!(alone == ledger || broken || unsealed || reported, "{}", text);
        prop_assert!(alone == ledger || reported || broken, "{}", text);
        if added.added.is_empty() {
            prop_assert!(unsealed || here == ledger, "an altered copy took the place of a sound entry");
        }
    }

    #[test]
    fn a_file_cut_short_is_refused(entries in histories(), place in any::<prop::sample::Index>()) {
        let text = write_json(merged(&[&entries]).entries());
        let end = place.index(text.trim_end().len());
        prop_assert!(read_json(&text[..end]).is_err());
    }
}
