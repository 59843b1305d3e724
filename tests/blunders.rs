//! Planted slips in redundant sets: are they found, and is the right reading named with the right slip? And how often
//! is a good set called wrong? Random networks of this trade's kind, normal noise, fixed seed; the slips and their
//! sizes are common practice, no source.

mod mating_network;

use std::io::Write as _;

use fastrand::Rng;
use trammel::alignment::{Adjusted, Levels, Network, Observed, Slip, Taken, adjust};
use trammel::quantity::Unit;

use self::mating_network::{Case, case};

const INCH: f64 = 0.0254;
const LEVELS: Levels = Levels::USUAL;

/// Descriptions of the readings as a builder with inch tools would have taken them.
fn taken(network: &Network) -> Vec<Taken> {
    let words: Vec<_> = network.observations().iter().map(|reading| reading.what.words(network.scene())).collect();
    let mirrored = |words: &str| words.replace("left", "\0").replace("right", "left").replace('\0', "right");
    let twin = |place: usize| {
        let other = mirrored(&words[place]);
        words.iter().position(|words| *words == other).filter(|other| *other != place)
    };
    let describe = |(place, reading): (usize, &trammel::alignment::Observation)| {
        let tape = matches!(reading.what, Observed::Distance { .. });
        let (unit, step) = match reading.what {
            _ if reading.what.is_angle() => (Unit::Degree, 0.1),
            _ if tape => (Unit::Inch, 1.0 / 32.0),
            _ => (Unit::Inch, 1.0 / 64.0),
        };
        // An invented tube of 7/8 in, an invented block of 0.19 in.
        let surface = match reading.what {
            Observed::Distance { .. } => {
                vec![(0.875, "the far side of the tube"), (-0.875, "the near side of the tube")]
            }
            Observed::Height { .. } | Observed::HeightDifference { .. } => vec![(0.19, "the top of the pad")],
            _ => vec![],
        };
        let surfaces = surface.into_iter().map(|(by, words)| (by, words.to_owned())).collect();
        Taken { unit, step, tape, twin: twin(place), surfaces }
    };
    network.observations().iter().enumerate().map(describe).collect()
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Fraction,
    TapeStart,
    Swapped,
    WrongSurface,
}

const KINDS: [Kind; 4] = [Kind::Fraction, Kind::TapeStart, Kind::Swapped, Kind::WrongSurface];

/// Readings changed by a slip, and the slip: which, and by how much each reads too much (metres).
struct Planted {
    reading: usize,
    slip: Slip,
    errors: Vec<(usize, f64)>,
}

fn plant(kind: Kind, rng: &mut Rng, network: &Network, taken: &[Taken]) -> Option<Planted> {
    let pick = |rng: &mut Rng, wanted: &dyn Fn(usize) -> bool| {
        let all: Vec<_> = (0..taken.len()).filter(|reading| wanted(*reading)).collect();
        rng.choice(all)
    };
    let signed = |rng: &mut Rng, sizes: &[f64]| {
        rng.choice(sizes).copied().unwrap_or_default() * if rng.bool() { 1.0 } else { -1.0 }
    };
    let alone = |reading, slip, by: f64| Planted { reading, slip, errors: vec![(reading, by * INCH)] };
    match kind {
        Kind::Fraction => {
            let reading = pick(rng, &|reading| taken[reading].unit == Unit::Inch)?;
            let by = signed(rng, &[0.0625, 0.125, 0.25, 0.5]);
            Some(alone(reading, Slip::Fraction(by), by))
        }
        Kind::TapeStart => {
            let reading = pick(rng, &|reading| taken[reading].tape)?;
            let by = signed(rng, &[1.0]);
            Some(alone(reading, Slip::TapeStart(by), by))
        }
        Kind::WrongSurface => {
            let reading = pick(rng, &|reading| !taken[reading].surfaces.is_empty())?;
            let (by, surface) = rng.choice(&taken[reading].surfaces)?.clone();
            Some(alone(reading, Slip::WrongSurface(surface), by))
        }
        Kind::Swapped => {
            let reading = pick(rng, &|reading| taken[reading].twin.is_some() && taken[reading].unit == Unit::Inch)?;
            let twin = taken[reading].twin?;
            let value = |place: usize| network.observations()[place].value;
            let by = value(twin) - value(reading);
            Some(Planted { reading, slip: Slip::Swapped(twin), errors: vec![(reading, by), (twin, -by)] })
        }
    }
}

impl Planted {
    /// Whether the engine itself says, before anything is planted, that a slip of this size would be found.
    fn is_detectable(&self, clean: &Adjusted) -> bool {
        let (reading, by) = self.errors[0];
        let least = match self.slip {
            Slip::Swapped(twin) => clean.detectable_swap(reading, twin, LEVELS),
            _ => clean.checked(reading, LEVELS).detectable,
        };
        least.is_some_and(|least| by.abs() > least)
    }

    fn put_into(&self, network: &Network) -> Network {
        let mut observations = network.observations().to_vec();
        for (reading, by) in &self.errors {
            observations[*reading].value += by;
        }
        let gravity = trammel::alignment::Gravity::Unknown;
        Network::new(network.scene().clone(), observations, gravity).expect("as before")
    }
}

#[derive(Default)]
struct Row {
    planted: usize,
    detectable: usize,
    found: usize,
    reading: usize,
    named: usize,
}

fn one(kind: Kind, rng: &mut Rng, row: &mut Row) {
    let count = rng.usize(14..=24);
    let Case { network, start, .. } = case(rng, count);
    let taken = taken(&network);
    let clean = adjust(&network, &start).expect("solved");
    let Some(planted) = plant(kind, rng, &network, &taken) else { return };
    row.planted += 1;
    if !planted.is_detectable(&clean) {
        return;
    }
    row.detectable += 1;
    let spoiled = planted.put_into(&network);
    let adjusted = adjust(&spoiled, &start).expect("solved");
    let Some(suspect) = adjusted.suspect(&taken, LEVELS) else { return };
    row.found += 1;
    // A swap names either of the two.
    let same_swap = matches!((&suspect.slip, &planted.slip), (Some(Slip::Swapped(a)), Slip::Swapped(b))
        if (suspect.reading, *a) == (*b, planted.reading));
    row.reading += usize::from(suspect.reading == planted.reading || same_swap);
    row.named +=
        usize::from(suspect.reading == planted.reading && suspect.slip.as_ref() == Some(&planted.slip) || same_swap);
}

struct Alarms {
    readings: usize,
    tests: usize,
    wrong_readings: usize,
    wrong_sets: usize,
    /// Sum of the rates that the engine states.
    stated: f64,
}

fn false_alarms(rng: &mut Rng, sets: usize) -> Alarms {
    let mut alarms = Alarms { readings: 0, tests: 0, wrong_readings: 0, wrong_sets: 0, stated: 0.0 };
    for _ in 0..sets {
        let count = rng.usize(14..=24);
        let Case { network, start, .. } = case(rng, count);
        let taken = taken(&network);
        let adjusted = adjust(&network, &start).expect("solved");
        let w = (0..count).filter_map(|reading| adjusted.checked(reading, LEVELS).w);
        let pairs = taken.iter().filter(|how| how.twin.is_some()).count() / 2;
        let (mut checked, mut wrong) = (0, 0);
        for w in w {
            checked += 1;
            wrong += usize::from(w.abs() > LEVELS.critical());
        }
        alarms.readings += checked;
        alarms.tests += checked + pairs;
        alarms.wrong_readings += wrong;
        alarms.wrong_sets += usize::from(adjusted.suspect(&taken, LEVELS).is_some());
        alarms.stated += LEVELS.set_false_alarm(checked + pairs);
    }
    alarms
}

fn campaign(cases: usize, sets: usize) {
    // Past the test runner's capture, so that a passing run shows it.
    let mut out = std::io::stdout();
    let mut line = |words: String| writeln!(out, "{words}").expect("standard output");
    let mut rng = Rng::with_seed(20_251_125);
    line(format!(
        "{:13} {:>8} {:>11} {:>7} {:>14} {:>6}",
        "slip", "planted", "detectable", "found", "right reading", "named"
    ));
    let mut all = Row::default();
    for kind in KINDS {
        let mut row = Row::default();
        for _ in 0..cases {
            one(kind, &mut rng, &mut row);
        }
        let share = |part: usize| 100.0 * part as f64 / row.detectable as f64;
        line(format!(
            "{:13} {:8} {:11} {:6.1}% {:13.1}% {:5.1}%",
            format!("{kind:?}"),
            row.planted,
            row.detectable,
            share(row.found),
            share(row.reading),
            share(row.named)
        ));
        assert!(row.detectable > cases / 10, "{kind:?}: too few to say anything");
        all.detectable += row.detectable;
        all.named += row.named;
    }
    let named = all.named as f64 / all.detectable as f64;
    let alarms = false_alarms(&mut rng, sets);
    let per_reading = alarms.wrong_readings as f64 / alarms.readings as f64;
    let (per_set, stated) = (alarms.wrong_sets as f64 / sets as f64, alarms.stated / sets as f64);
    line(format!(
        "{sets} good sets, {} readings, {} tests: {:.3} % of readings called wrong (nominal {:.3} %)",
        alarms.readings,
        alarms.tests,
        100.0 * per_reading,
        100.0 * LEVELS.alpha
    ));
    line(format!("{:.2} % of good sets raise an alarm (stated: at most {:.2} %)", 100.0 * per_set, 100.0 * stated));
    line(format!("figure: blunder_named_rate = {named:.4}"));
    line(format!("figure: blunder_false_alarm_rate = {per_reading:.5}"));
    assert!(named >= 0.95, "{named}");
    // Four standard deviations of a count, the readings of a set taken as independent.
    let spread = (LEVELS.alpha / alarms.readings as f64).sqrt();
    assert!((per_reading - LEVELS.alpha).abs() < 4.0 * spread, "{per_reading} of the readings");
    assert!(per_set < stated + 4.0 * (stated / sets as f64).sqrt(), "{per_set} of the sets, stated {stated}");
}

#[test]
fn slips_are_found_and_named() {
    campaign(300, 3000);
}

#[test]
#[ignore = "a long campaign that prints the figures"]
fn long_campaign() {
    campaign(5000, 50_000);
}
