//! Every reckoning against a published value or one of the trade, and what is refused.

use super::*;
use std::collections::HashSet;

const IN: Unit = Unit::Inch;
const MM: Unit = Unit::Millimetre;
const DEG: Unit = Unit::Degree;
const LB: Unit = Unit::Pound;

type Row = (&'static str, &'static str, &'static [Option<(f64, Unit)>], f64, f64);

const fn some(value: f64, unit: Unit) -> Option<(f64, Unit)> {
    Some((value, unit))
}

/// Common practice, no source: plane geometry with the figures of the trade.
const TRADE: &str = "common practice, no source";

/// Name, source, inputs, what comes out in the unit of the result, and how near.
const ROWS: &[Row] = &[
    // Twist by a straightedge with two feet, from the service manuals of two types; angles computed.
    ("slope-by-heights", "footed straightedge", &[some(2.0, IN), some(1.0, IN), some(29.5, IN)], 1.9415, 5e-5),
    (
        "incidence-by-heights",
        "footed straightedge",
        &[some(0.45, IN), some(1.0, IN), some(24.0, IN), some(0.0, DEG)],
        -1.3128,
        5e-5,
    ),
    ("incidence-by-heights", TRADE, &[some(762.0, MM), some(29.0, IN), some(30.0, IN), some(-0.5, DEG)], 1.4092, 5e-4),
    ("washout", "footed straightedge", &[some(1.9415, DEG), some(-1.3128, DEG)], 3.254, 5e-4),
    // A rigging note: 3/8 in under a 30 in level, exactly 42'58".
    (
        "dihedral-by-gap",
        "3/8 in block on a 30 in level",
        &[some(0.375, IN), some(30.0, IN)],
        42.0 / 60.0 + 58.0 / 3600.0,
        1.4e-4,
    ),
    ("gap-under-level", "3/8 in block on a 30 in level", &[some(0.71611, DEG), some(30.0, IN)], 0.375, 1e-4),
    ("lift", "3/8 in block on a 30 in level", &[some(-0.71611, DEG), some(762.0, MM)], -9.525, 2e-3),
    // Rigging of 1917 and 1918 by manuals of the time: left and right within 1/8 in.
    ("difference", "rigging of 1917 and 1918", &[some(210.125, IN), some(5334.0, MM)], 0.125, 1e-9),
    // A rebuilder's quotation of a data sheet: +1°15' and −5°30', 6°45' in all.
    ("difference", "stabilizer travel of a data sheet", &[some(1.25, DEG), some(-5.5, DEG)], 6.75, 1e-12),
    ("half-difference", TRADE, &[some(10.0, Unit::PoundForce), some(7.0, Unit::PoundForce)], 1.5, 1e-12),
    ("mean", TRADE, &[some(20.0, Unit::Celsius), some(23.0, Unit::Celsius)], 21.5, 1e-12),
    ("spread", TRADE, &[some(0.5, IN), some(0.59, IN), None, some(0.48, IN)], 0.11, 1e-12),
    ("spread", TRADE, &[some(0.5, IN), some(0.5, IN), None, None], 0.0, 1e-12),
    // The fuselage 0.3° nose-up: its slope is −0.3°.
    ("incidence", TRADE, &[some(2.0, DEG), some(-0.3, DEG), None], 1.7, 1e-12),
    ("incidence", TRADE, &[some(2.0, DEG), some(0.0, DEG), some(0.5, DEG)], 2.5, 1e-12),
    // One turn of 24 to the inch is 0.32° at 180 in, and as good as 0.98 to 1.02 of it by the short formula.
    (
        "strut-turns-for-washout",
        TRADE,
        &[some(0.32, DEG), some(25.4, DEG), some(91.0, IN), some(180.0, IN), some(33.75, IN), some(1.0 / 24.0, IN)],
        1.0,
        0.03,
    ),
    ("dihedral-by-rise", TRADE, &[some(4.085, IN), some(180.0, IN)], 1.3, 1e-3),
    ("wing-roll", TRADE, &[some(1.6, DEG), some(1.0, DEG)], 0.3, 1e-12),
    ("sweep", TRADE, &[some(0.0, IN), some(-0.667, IN), some(180.0, IN)], -0.106, 5e-4),
    ("wing-yaw", TRADE, &[some(0.0, IN), some(-0.667, IN), some(180.0, IN)], 0.106, 5e-4),
    ("yaw-by-distances", TRADE, &[some(280.151, IN), some(280.631, IN), some(201.0, IN), some(192.5, IN)], 0.1, 1e-3),
    (
        "yaw-by-distances-forward",
        TRADE,
        &[some(142.513, IN), some(142.693, IN), some(57.0, IN), some(130.5, IN)],
        -0.1,
        2e-3,
    ),
    ("tail-offset", TRADE, &[some(227.46875, IN), some(227.40625, IN), some(17.25, IN)], 0.412, 5e-4),
    ("fin-lean", TRADE, &[some(79.0565, IN), some(78.6955, IN), some(57.0, IN), some(53.5, IN)], 0.268, 1e-3),
    // Top forward is minus here; the tail end 0.3° low is nose 0.3° up.
    ("down-thrust", TRADE, &[some(-1.2, DEG), some(-0.3, DEG)], 1.5, 1e-12),
    ("right-thrust", TRADE, &[some(261.77, IN), some(260.63, IN), some(33.0, IN), some(258.75, IN)], 1.0, 2e-3),
    ("washers", TRADE, &[some(0.195, DEG), some(18.5, IN)], 0.063, 1e-4),
    ("toe-in", TRADE, &[some(39.0, IN), some(39.157, IN), some(36.0, IN)], 0.25, 5e-4),
    ("wedge", TRADE, &[some(0.25, DEG), some(36.0, IN)], 0.157, 5e-4),
    // A maker's maintenance manual: zero at −12° of flap, 35° down is a reading of 23.
    ("travel", "travel as a difference of two readings", &[some(23.0, DEG), some(-12.0, DEG)], 35.0, 1e-12),
    ("travel", TRADE, &[some(-28.5, DEG), some(0.0, DEG)], 28.5, 1e-12),
    // A light aeroplane's adjustment report (AF 04800001, appendix II); the radius fitted to its rows.
    ("travel-by-chord", "adjustment report", &[some(109.0, MM), some(237.8, MM)], 26.5, 0.02),
    ("travel-by-height", TRADE, &[some(7.45, IN), some(17.0, IN)], 26.0, 0.03),
    ("square-to-swept-hinge", TRADE, &[some(21.1, DEG), some(30.0, DEG)], 24.0, 0.05),
    // Movement tables of kit and training aeroplanes.
    ("differential", "movement tables", &[some(24.0, DEG), some(16.0, DEG)], 1.5, 1e-12),
    // 1/28 in on a horn of 2 1/4 in is 0.91°.
    ("rod-turns", TRADE, &[some(0.91, DEG), some(2.25, IN), some(1.0 / 28.0, IN)], 1.0, 2e-3),
    // AC 43.13-1B, 4-57: two diameters; for a bolt of 5/16 in that is 5/8.
    ("edge-spare", "AC 43.13-1B, 4-57", &[some(0.64, IN), some(0.3125, IN), some(2.0, Unit::One)], 0.015, 1e-9),
    (
        "wrench-setting",
        "TM 1-1500-204-23-9",
        &[some(300.0, Unit::InchPoundForce), some(10.0, IN), some(4.0, IN), None],
        214.29,
        0.005,
    ),
    (
        "wrench-setting",
        "TM 9-254, at an angle",
        &[some(65.0, Unit::InchPoundForce), some(12.0, IN), some(2.0, IN), some(60.0, DEG)],
        60.0,
        1e-9,
    ),
    // FAA-H-8083-1, empty centre of gravity: 830, 836 and 348 less 8 lb.
    ("empty-mass", "FAA-H-8083-1", &[some(830.0, LB), some(836.0, LB), some(348.0, LB), some(8.0, LB)], 2006.0, 1e-9),
    (
        "empty-arm",
        "FAA-H-8083-1",
        &[some(830.0, LB), some(836.0, LB), some(348.0, LB), some(46.0, IN), some(-32.0, IN), some(8.0, LB)],
        32.8,
        0.05,
    ),
    (
        "empty-arm",
        "examination question, computed",
        &[some(1046.0, LB), some(1040.0, LB), some(475.0, LB), some(121.0, IN), some(55.0, IN), None],
        108.8,
        0.05,
    ),
    // FAA-H-8083-30, figure 4-20: 645, 635 and 222.5 lb net; thirty gallons out, the unusable fuel in.
    (
        "loaded-mass",
        "FAA-H-8083-30, figure 4-20",
        &[some(1502.5, LB), some(-177.0, LB), None, some(6.0, LB), None],
        1331.5,
        1e-9,
    ),
    (
        "loaded-arm",
        "FAA-H-8083-30, figure 4-20",
        &[
            some(1502.5, LB),
            some(82_925.0 / 1502.5, IN),
            some(-177.0, LB),
            some(95.0, IN),
            None,
            None,
            some(6.0, LB),
            some(98.0, IN),
            None,
            None,
        ],
        50.0924,
        5e-5,
    ),
    // FAA-H-8083-1: 17 in behind the edge of a chord of 62.
    ("chord-percent", "FAA-H-8083-1", &[some(161.0, IN), some(144.0, IN), some(62.0, IN)], 27.4, 0.05),
];

fn inputs(row: &[Option<(f64, Unit)>], u: f64) -> Vec<Option<Estimate>> {
    row.iter().map(|input| input.map(|(value, unit)| Estimate::new(value, u, unit))).collect()
}

fn called(id: &str) -> &'static Reckoning {
    reckoning(id).unwrap_or_else(|| panic!("no reckoning {id}"))
}

#[test]
fn every_entry_gives_its_published_value() {
    for (id, source, given, expected, near) in ROWS {
        let entry = called(id);
        let got = entry.reckon(&inputs(given, 0.0)).unwrap_or_else(|error| panic!("{id}, {source}: {error}"));
        assert!((got.value - expected).abs() <= *near, "{id}, {source}: {got:?} for {expected}");
        assert_eq!(got.u, 0.0, "{id}: exact inputs, exact result");
        assert!(entry.gives.is_none_or(|gives| got.unit.dimension() == gives), "{id}: {got:?}");
        assert!(entry.reckon(&inputs(given, 0.001)).is_ok_and(|got| got.u > 0.0 && got.u.is_finite()), "{id}");
    }
    for entry in reckonings() {
        assert!(ROWS.iter().any(|row| row.0 == entry.id), "{} has no value to hold it to", entry.id);
    }
}

#[test]
fn names_are_unique_and_groups_stand_together() {
    let ids: HashSet<&str> = reckonings().iter().map(|entry| entry.id).collect();
    assert_eq!(ids.len(), reckonings().len());
    let titles: HashSet<&str> = reckonings().iter().map(|entry| entry.title).collect();
    assert_eq!(titles.len(), reckonings().len());
    let mut groups: Vec<&str> = reckonings().iter().map(|entry| entry.group).collect();
    groups.dedup();
    assert_eq!(groups, ["Angles", "Wings", "Tail", "Engine", "Wheels", "Controls", "Fasteners", "Balance"]);
    for entry in reckonings() {
        let given: HashSet<&str> = entry.given.iter().map(|given| given.id).collect();
        assert_eq!(given.len(), entry.given.len(), "{}", entry.id);
        assert_eq!(entry.gives.is_none(), entry.given.iter().all(|given| given.dimension.is_none()), "{}", entry.id);
    }
}

#[test]
fn what_cannot_be_reckoned_is_refused() {
    for (id, _, given, ..) in ROWS {
        let entry = called(id);
        let full = inputs(given, 0.0);
        assert_eq!(entry.reckon(&[]).err(), Some(RiggingError::NotANumber), "{id}: nothing");
        let mut more = full.clone();
        more.push(None);
        assert_eq!(entry.reckon(&more).err(), Some(RiggingError::NotANumber), "{id}: one too many");
        for (place, asked) in entry.given.iter().enumerate() {
            let with = |now: Option<Estimate>| {
                let mut changed = full.clone();
                changed[place] = now;
                entry.reckon(&changed)
            };
            if !asked.optional {
                assert_eq!(with(None).err(), Some(RiggingError::NotANumber), "{id}: no {}", asked.id);
            }
            if full[place].is_none() {
                continue;
            }
            let volume = with(Some(exact(1.0, Unit::Litre)));
            assert!(matches!(volume, Err(RiggingError::WrongUnit { .. })), "{id}, {}: {volume:?}", asked.id);
            let unit = full[place].map_or(Unit::One, |estimate| estimate.unit);
            for odd in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                assert!(with(Some(exact(odd, unit))).is_err(), "{id}, {}: {odd}", asked.id);
                assert!(with(Some(Estimate::new(1.0, odd, unit))).is_err(), "{id}, {}: u {odd}", asked.id);
            }
            for odd in [0.0, -1.0, 90.0, -90.0, 1e300, -1e300, f64::MAX] {
                if let Ok(got) = with(Some(Estimate::new(odd, 1.0, unit))) {
                    assert!(got.value.is_finite() && got.u.is_finite(), "{id}, {}: {odd} gives {got:?}", asked.id);
                }
            }
        }
    }
}

#[test]
fn what_has_no_answer_says_why() {
    let of = |id: &str, given: &[Option<(f64, Unit)>]| called(id).reckon(&inputs(given, 0.0)).err();
    assert_eq!(of("slope-by-heights", &[some(1.0, IN), some(2.0, IN), some(0.0, IN)]), Some(RiggingError::NotPositive));
    assert_eq!(of("tail-offset", &[some(9.0, IN), some(9.0, IN), some(0.0, IN)]), Some(RiggingError::NotPositive));
    assert_eq!(of("travel-by-height", &[some(9.0, IN), some(4.0, IN)]), Some(RiggingError::OutOfReach));
    assert_eq!(of("differential", &[some(9.0, DEG), some(0.0, DEG)]), Some(RiggingError::NotPositive));
    assert_eq!(of("empty-mass", &[some(0.0, LB), some(0.0, LB), some(0.0, LB), None]), Some(RiggingError::NoMass));
    let (celsius, fahrenheit) = (some(20.0, Unit::Celsius), some(68.0, Unit::Fahrenheit));
    assert!(matches!(of("difference", &[celsius, fahrenheit]), Some(RiggingError::WrongUnit { .. })), "20 °C is 68 °F");
    let lone_mass = [some(800.0, LB), some(70.0, IN), some(10.0, LB), None, None, None, None, None, None, None];
    assert_eq!(of("loaded-arm", &lone_mass), Some(RiggingError::NotANumber), "a mass without its place");
    assert!(reckoning("nothing-of-the-kind").is_none());
}

/// By hand: root and tip known to 0.03 and 0.04 leave 0.05; one arm of both main wheels known to 0.1 in, which carry 83.05 % of the
/// mass, leaves 0.083 in, not 0.059.
#[test]
fn the_uncertainty_of_the_inputs_is_carried() {
    let known = |value, u, unit| Some(Estimate::new(value, u, unit));
    let twist = called("washout").reckon(&[known(1.8, 0.03, DEG), known(0.8, 0.04, DEG)]).expect("angles");
    assert!((twist.value - 1.0).abs() < 1e-12 && (twist.u - 0.05).abs() < 1e-12, "{twist:?}");
    let lb = |value| known(value, 0.0, LB);
    let arm = called("empty-arm")
        .reckon(&[lb(830.0), lb(836.0), lb(340.0), known(46.0, 0.1, IN), known(-32.0, 0.0, IN), None])
        .expect("a balance");
    assert!((arm.u - 0.1 * 1666.0 / 2006.0).abs() < 1e-9, "{arm:?}");
    // R·tan θ with θ known to 0.1°: R·0.1·π/180 / cos².
    let lift = called("lift").reckon(&[known(2.0, 0.1, DEG), known(30.0, 0.0, IN)]).expect("a lift");
    let expected = 30.0 * 0.1_f64.to_radians() / 2.0_f64.to_radians().cos().powi(2);
    assert!((lift.u / expected - 1.0).abs() < 1e-5, "{lift:?}");
    // The tail's offset by the two tapes, √2·u·D̄ / 2a.
    let tail = [known(227.45, 0.01, IN), known(227.45, 0.01, IN), known(17.25, 0.0, IN)];
    let offset = called("tail-offset").reckon(&tail).expect("distances");
    assert!((offset.u / (2_f64.sqrt() * 0.01 * 227.45 / 34.5) - 1.0).abs() < 1e-6, "{offset:?}");
}
