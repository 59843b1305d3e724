//! What to move, and how far, in procedures other than the mating.
//!
//! Expected amounts are plane geometry on the invented airframes' coordinates, worked out here without the program's formulas (common
//! practice, no source).

mod support;

use support::{Logbook, instrument};
use trammel::procedure::Advice;
use trammel::quantity::Unit;
use trammel::record::InstrumentKind;

/// An example airframe with fine instruments and a run of a procedure begun.
fn at_work(which: usize, procedure: &'static str) -> Logbook {
    let mut book = Logbook::sheet_only(which);
    let length = book.airframe().details.units.length();
    book.accept("protractor", instrument(InstrumentKind::Protractor, Unit::Degree, 0.01, 0.02));
    for role in ["rule", "tape"] {
        let kind = if role == "rule" { InstrumentKind::Rule } else { InstrumentKind::Tape };
        book.accept(role, instrument(kind, length, 0.001, 0.001));
    }
    book.begin(procedure, 0xB);
    book
}

fn advice(book: &Logbook, step: &str) -> Advice {
    book.fold().step(step).expect("the step").advice.clone().expect("advice")
}

fn order(book: &Logbook, step: &str) -> String {
    let advice = advice(book, step);
    advice.correction.unwrap_or_else(|| panic!("no correction: {:?} {:?}", advice.stop, advice.needs)).moves[0]
        .order
        .clone()
}

/// Washout 0.55° wants 1.00°. The strut's upper pin moves its spar up by ΔL / sin φ with sin φ = 46.048 / 107.261, the tip rib 180 / 91
/// times as much, over 33.75 in between the spars: 0.326° a turn of a 24-thread fork, so 1.38 turns, set as one and a half.
#[test]
fn a_strut_is_lengthened_a_turn_and_a_half() {
    let mut book = at_work(0, "lift-struts");
    for (slot, value) in [("root", 1.80), ("root", 1.80), ("tip", 1.25), ("tip", 1.25)] {
        book.read("set/washout-right", slot, value);
    }
    assert_eq!(order(&book, "set/washout-right"), "Lengthen the RIGHT rear strut 1.5 turns");
    let per_turn = (1.0 / 24.0 / (46.048 / 107.261) * 180.0 / 91.0 / 33.75_f64).to_degrees();
    let predicted = advice(&book, "set/washout-right").correction.expect("a correction").predicted.value;
    assert!((predicted - (0.55 + 1.5 * per_turn)).abs() < 0.005, "{predicted}");
}

/// Five and a half of six turns are used up: one and a half more is refused.
#[test]
fn the_thread_ends_where_the_sheet_says() {
    let mut book = at_work(0, "lift-struts");
    let turns = trammel::quantity::Quantity::new(5.5, Unit::One, 0.5);
    let moved = trammel::record::MovedAdjuster {
        run: book.run,
        step: "set/washout-right".to_owned(),
        adjuster: "rear-strut-right".to_owned(),
        amount: turns,
    };
    book.put(trammel::record::Body::AdjusterMoved(moved));
    for (slot, value) in [("root", 1.80), ("root", 1.80), ("tip", 1.25), ("tip", 1.25)] {
        book.read("set/washout-right", slot, value);
    }
    let advice = advice(&book, "set/washout-right");
    assert!(advice.correction.is_none());
    assert!(advice.stop.is_some_and(|words| words.contains("limit on the sheet")), "it says why");
}

/// 2.10° on the block of a fuselage that stands 0.3° nose-up is 1.80°, and in; 2.00° over 33.75 in is 7/64 in too much.
#[test]
fn incidence_is_counted_from_the_fuselage_and_set_at_the_rear_spar() {
    let mut book = at_work(0, "wing-incidence");
    for _ in 0..2 {
        book.read("set/datum", "slope", -0.3);
    }
    for side in ["left", "right"] {
        let block = if side == "left" { 2.10 } else { 2.40 };
        for _ in 0..2 {
            book.read(&format!("set/{side}"), "block", block);
        }
    }
    let run = book.fold();
    let value = |step: &str| run.step(step).and_then(|step| step.result()).expect("complete").estimate.value;
    assert!((value("set/left") - 1.80).abs() < 1e-9 && (value("set/right") - 2.10).abs() < 1e-9);
    // 0.30° over 33.75 in: 0.177 in, set by sixty-fourths as 11/64 in.
    assert_eq!(order(&book, "set/right"), "Raise the RIGHT rear spar 11/64 in");
}

/// A wing turned about its front root pin by its rear fitting, `outboard` from where it was: tip to tail post by their coordinates, no
/// small angles. Forward is minus along the station; the pin lies at 70.5, 21 out.
fn tip_to_tail(outboard: f64) -> f64 {
    let turn = outboard / 33.75_f64;
    let (aft, out) = (70.5 - 180.0 * turn.sin(), 21.0 + 180.0 * turn.cos());
    f64::hypot(263.0 - aft, out)
}

fn orders(book: &Logbook, step: &str) -> Vec<String> {
    let advice = advice(book, step);
    let moves =
        advice.correction.unwrap_or_else(|| panic!("no correction: {:?} {:?}", advice.stop, advice.needs)).moves;
    moves.into_iter().map(|made| made.order).collect()
}

/// The pair of wings yawed: the left rear fitting 1/16 in too far out, so that its tip lies forward and further from the tail, the right
/// one as far in. Each goes back by its half.
#[test]
fn a_yawed_pair_of_wings_is_turned_back_at_both_root_fittings() {
    let mut book = at_work(0, "wing-sweep");
    let off = |outboard| 280.391 + tip_to_tail(outboard) - tip_to_tail(0.0);
    for (slot, value) in [("left", off(0.0625)), ("right", off(-0.0625))] {
        for _ in 0..3 {
            book.read("set/trammel", slot, value);
        }
    }
    let wanted =
        ["Move the LEFT rear root fitting INBOARD 1/16 in", "Move the RIGHT rear root fitting OUTBOARD 1/16 in"];
    assert_eq!(orders(&book, "set/trammel"), wanted);
    let predicted = advice(&book, "set/trammel").correction.expect("a correction").predicted;
    assert!(predicted.value.abs() < 0.01, "both together take it out: {predicted:?}");
}

/// Both tips an inch aft of the line over 180 in: the rear spar, 33.75 in behind the pin, has to go out by 33.75 / 180 of that on each
/// side, 3/16 in. A rear fitting held further out turns its wing forward about the front pin.
#[test]
fn tips_too_far_aft_come_forward_with_both_fittings_out() {
    let mut book = at_work(0, "wing-sweep");
    for slot in ["left", "right"] {
        for _ in 0..2 {
            book.read("set/sweep", slot, 1.0);
        }
    }
    let wanted =
        ["Move the LEFT rear root fitting OUTBOARD 3/16 in", "Move the RIGHT rear root fitting OUTBOARD 3/16 in"];
    assert_eq!(orders(&book, "set/sweep"), wanted);
}

/// Left tip half an inch aft of the square line, right tip as far forward of it: 33.75 / 180 of half an inch is 3/32 in, the left fitting
/// out (its tip comes forward), the right one in (its tip goes aft).
#[test]
fn yaw_against_the_square_line_is_taken_out_the_two_opposite_ways() {
    let mut book = at_work(0, "wing-sweep");
    for (slot, offset) in [("left", 0.5), ("right", -0.5)] {
        for _ in 0..2 {
            book.read("set/yaw", slot, offset);
        }
    }
    let wanted =
        ["Move the LEFT rear root fitting OUTBOARD 3/32 in", "Move the RIGHT rear root fitting INBOARD 3/32 in"];
    assert_eq!(orders(&book, "set/yaw"), wanted);
}

/// How far the right tip, 180 in out and 4.085 in up from the pin, rises when the front strut grows: the wing turned about its pin until
/// the strut between its two pins, by their coordinates, has its new length. No small angles.
fn tip_rise_of_a_longer_front_strut(longer: f64) -> f64 {
    let turned = |(out, up): (f64, f64), turn: f64| {
        let (sine, cosine) = turn.sin_cos();
        (out * cosine - up * sine, out * sine + up * cosine)
    };
    let length = |turn: f64| {
        let (out, up) = turned((91.0, -1.185), turn);
        // The lower fitting lies 7.5 in aft, 2.25 in inboard of the wing pin and 48 in below it.
        f64::hypot(7.5, f64::hypot(out + 2.25, up + 48.0))
    };
    let (mut low, mut high) = (-0.1, 0.1);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if length(middle) - length(0.0) < longer { low = middle } else { high = middle }
    }
    turned((180.0, 4.085), low).1 - 4.085
}

/// The tip 0.485 in too low. The front strut stands at 26.58° (46.815 in up over 104.611 in): one turn of 24 threads lifts the tip
/// 1/24 / 0.4475 × 180/91 = 0.184 in, so 2.63 turns, set as two and a half on both struts.
#[test]
fn a_low_tip_goes_up_with_both_struts_longer() {
    let mut book = at_work(0, "lift-struts");
    for _ in 0..2 {
        book.read("set/tip-right", "rise", 3.6);
    }
    let order = order(&book, "set/tip-right");
    assert_eq!(order, "Lengthen the front AND the rear strut of the RIGHT wing, each by 2.5 turns");
    let predicted = advice(&book, "set/tip-right").correction.expect("a correction").predicted.value - 3.6;
    let exact = tip_rise_of_a_longer_front_strut(2.5 / 24.0);
    assert!(exact > 0.4 && (predicted / exact - 1.0).abs() < 0.04, "{predicted} is not {exact}");
    let mut book = at_work(0, "lift-struts");
    for _ in 0..2 {
        book.read("set/tip-left", "rise", 4.7);
    }
    let order = self::order(&book, "set/tip-left");
    assert_eq!(order, "Shorten the front AND the rear strut of the LEFT wing, each by 3.5 turns");
}

/// One thread, two ways to turn it: four turns of the rear strut alone and two and a half of both are past six.
#[test]
fn turns_of_both_struts_count_on_the_rear_ones_thread() {
    let moved = |adjuster: &str, turns: f64| {
        let mut book = at_work(0, "lift-struts");
        book.put(trammel::record::Body::AdjusterMoved(trammel::record::MovedAdjuster {
            run: book.run,
            step: "set/tip-right".to_owned(),
            adjuster: adjuster.to_owned(),
            amount: trammel::quantity::Quantity::new(turns, Unit::One, 0.5),
        }));
        for _ in 0..2 {
            book.read("set/tip-right", "rise", 3.6);
        }
        advice(&book, "set/tip-right")
    };
    assert!(moved("rear-strut-right", 4.0).stop.is_some_and(|words| words.contains("limit on the sheet")));
    assert!(moved("rear-strut-right", 3.0).correction.is_some(), "five and a half of six");
    assert!(moved("rear-strut-left", 4.0).correction.is_some(), "another wing's thread");
}

/// Toe of left and right is worked out from both as soon as they are read; a wedge makes it stale with the wheel; and the next gate asks
/// for its own readings. 42 in and 41.9 in at 36 in apart: 0.159° out on the left, nothing on the right.
#[test]
fn left_and_right_are_compared_without_another_reading() {
    use trammel::procedure::State;
    let mut book = at_work(0, "main-gear");
    let toe = |book: &mut Logbook, gate: &str, side: &str, front: f64| {
        for (end, value) in [("front", front), ("rear", 42.0)] {
            for _ in 0..3 {
                book.read(&format!("{gate}/toe-{side}"), &format!("{side}-{end}"), value);
            }
        }
    };
    toe(&mut book, "set", "left", 41.9);
    assert!(book.fold().step("set/toe-match").expect("a step").result().is_none(), "one wheel tells nothing");
    toe(&mut book, "set", "right", 42.0);
    let run = book.fold();
    let matched = run.step("set/toe-match").expect("a step");
    let found = matched.result().expect("worked out").estimate;
    assert!((found.value - (0.1_f64 / 36.0).atan().to_degrees()).abs() < 1e-9, "{found:?}");
    assert_eq!(matched.state, State::Done);
    assert!(run.step("clamped/toe-match").expect("a step").result().is_none(), "the next gate is read anew");
    book.put(trammel::record::Body::AdjusterMoved(trammel::record::MovedAdjuster {
        run: book.run,
        step: "set/toe-left".to_owned(),
        adjuster: "toe-wedge-left".to_owned(),
        amount: trammel::quantity::Quantity::new(0.01, Unit::Inch, 0.005),
    }));
    assert_eq!(book.fold().step("set/toe-match").expect("a step").state, State::Stale);
}

/// The aftmost case by hand, from what stands on the sheet: 848 lb at 69.976 in, a pilot of 130 lb at 79 in, 20 lb at 112 in, no fuel:
/// 71853.5 in lb on 998 lb. Nobody types a load.
#[test]
fn loading_cases_come_from_the_weighing_and_the_sheet() {
    let mut book = at_work(0, "weighing");
    book.accept("scales", instrument(InstrumentKind::Scales, Unit::Pound, 0.01, 0.01));
    book.read("tare", "third", 0.0);
    for (step, rounds) in [("read", 3), ("swapped", 1)] {
        for (slot, load) in [("left", 291.0), ("right", 293.0), ("third", 264.0)] {
            for _ in 0..rounds {
                book.read(step, slot, load);
            }
        }
    }
    let run = book.fold();
    let value = |step: &str| run.step(step).and_then(|step| step.result()).expect("worked out").estimate.value;
    let empty = 584.0 * 88.5 + 264.0 * 29.0;
    assert!((value("aft-case") - (empty + 130.0 * 79.0 + 20.0 * 112.0) / 998.0).abs() < 1e-6);
    assert!((value("forward-case") - (empty + 190.0 * 79.0 + 156.0 * 84.0) / 1194.0).abs() < 1e-6);
    assert!((value("most-mass") - (848.0 + 380.0 + 156.0 + 20.0)).abs() < 1e-6);
}

/// What a protractor is off drops out of an incidence, when datum and block are read with it facing one side: by hand as correlated
/// inputs (JCGM 100:2008, 5.2.2, equation 13), u² = Σ cᵢ²·uᵢ² + 2·c₁·c₂·r·u(z)², with c = +1 on the block, whose plus is leading edge
/// high, and on the slope, whose plus is tail end high, so that r = −1: u(z)²·(1 + 1 − 2) = 0. Of two protractors nothing drops out.
#[test]
fn a_protractors_own_error_drops_out_of_an_incidence() {
    let incidence = |block_with: &str| {
        let mut book = at_work(0, "wing-incidence");
        let mut read = |name: &str, step: &str, slot: &str, value: f64| {
            let mut protractor = instrument(InstrumentKind::Protractor, Unit::Degree, 0.01, 0.2);
            name.clone_into(&mut protractor.name);
            book.accept("protractor", protractor);
            for _ in 0..2 {
                book.read(step, slot, value);
            }
        };
        read("one", "set/datum", "slope", -0.3);
        read(block_with, "set/left", "block", 2.1);
        let run = book.fold();
        run.step("set/left").and_then(|step| step.result()).expect("complete").estimate
    };
    // Each of the two numbers: a display step of 0.01°, rectangular, and no scatter; the limit of error ±0.2°, rectangular.
    let display = 0.01 / 12_f64.sqrt();
    let limit = 0.2 / 3_f64.sqrt();
    let (same, other) = (incidence("one"), incidence("two"));
    assert!((same.u - display * 2_f64.sqrt()).abs() < 1e-9, "{} is not {}", same.u, display * 2_f64.sqrt());
    let all = 2_f64.sqrt() * display.hypot(limit);
    assert!((other.u - all).abs() < 1e-9, "{} is not {all}", other.u);
}

/// A support was moved after the datum was read: an incidence that is read then hangs on a datum that is no more, until that is read again
/// and the incidence after it.
#[test]
fn an_incidence_counted_from_a_stale_datum_is_stale_itself() {
    use trammel::procedure::State;
    let mut book = at_work(0, "wing-incidence");
    let wings = (book.works_on, book.run);
    let read = |book: &mut Logbook, step: &str, slot: &str, value: f64| {
        for _ in 0..2 {
            book.read(step, slot, value);
        }
    };
    let state = |book: &Logbook| book.fold().step("set/left").expect("a step").state;
    read(&mut book, "set/datum", "slope", 0.0);
    book.begin("establish-datum", 0xC);
    book.put(trammel::record::Body::AdjusterMoved(trammel::record::MovedAdjuster {
        run: book.run,
        step: "set/pitch-left".to_owned(),
        adjuster: "rear-support".to_owned(),
        amount: trammel::quantity::Quantity::new(0.25, Unit::Inch, 1.0 / 64.0),
    }));
    (book.works_on, book.run) = wings;
    read(&mut book, "set/left", "block", 1.8);
    assert_eq!(state(&book), State::Stale);
    read(&mut book, "set/datum", "slope", -0.1);
    assert_eq!(state(&book), State::Stale, "it was still counted from the old one");
    read(&mut book, "set/left", "block", 1.9);
    assert_eq!(state(&book), State::Done);
}

/// One turn of 28 threads to the inch on a horn of 2.4 in: atan(1/28 / 2.4) = 0.853°.
#[test]
fn a_rod_is_turned_the_way_the_surface_has_to_go() {
    let mut book = at_work(0, "control-neutral");
    for slot in ["direct", "reversed"] {
        book.read("set/elevator", slot, 1.0);
    }
    let order = order(&book, "set/elevator");
    assert_eq!(order, "Turn the elevator's rod end, so that the trailing edge goes UP 1 turn");
}

/// A strut moved in its own procedure makes incidence stale in another, and the aircraft says so.
#[test]
fn a_move_in_one_procedure_makes_another_stale() {
    use trammel::procedure::{Progress, State, aircraft};
    let mut book = at_work(0, "wing-incidence");
    for _ in 0..2 {
        book.read("set/datum", "slope", 0.0);
    }
    for _ in 0..2 {
        book.read("set/right", "block", 1.8);
    }
    assert_eq!(book.fold().step("set/right").expect("a step").state, State::Done);
    book.begin("lift-struts", 0xC);
    book.put(trammel::record::Body::AdjusterMoved(trammel::record::MovedAdjuster {
        run: book.run,
        step: "set/washout-right".to_owned(),
        adjuster: "rear-strut-right".to_owned(),
        amount: trammel::quantity::Quantity::new(0.5, Unit::One, 0.5),
    }));
    let works = aircraft(&book.airframe(), &book.ledger);
    let incidence = works.iter().find(|work| work.procedure.id == "wing-incidence").expect("it applies");
    assert_eq!(incidence.progress, Progress::Stale);
    assert_eq!(incidence.because, ["RIGHT wing"]);
    assert!(works.iter().all(|work| work.procedure.id != "cantilever-wing"), "not on a strut-braced one");
}

/// A flange read with the shaft half a turn apart and the protractor's ends swapped: 1.7° and 1.5° top forward of upright, the datum 0.2°
/// and 0.0° tail low: 1.6° + 0.1° nose-up of the fuselage is 1.7° of the shaft to the fuselage. What the protractor is off is in neither.
#[test]
fn what_was_read_both_ways_round_counts_as_its_mean() {
    let mut book = Logbook::sheet_only(0);
    book.accept("protractor", instrument(InstrumentKind::Protractor, Unit::Degree, 0.01, 0.5));
    book.begin("thrust-line", 0xB);
    for (step, slot, value) in [
        ("set/datum", "datum", -0.2),
        ("set/datum", "datum-turned", 0.0),
        ("set/down-thrust", "flange", -1.7),
        ("set/down-thrust", "flange-turned", -1.5),
    ] {
        book.read(step, slot, value);
    }
    let run = book.fold();
    let found = run.step("set/down-thrust").and_then(|step| step.result()).expect("complete").estimate;
    assert!((found.value - 1.7).abs() < 1e-9, "{found:?}");
    // A display step of 0.01° in each of the two numbers, rectangular; the limit of error, 0.29° as a standard uncertainty, is gone.
    assert!((found.u - 0.01 / 12_f64.sqrt() * 2_f64.sqrt()).abs() < 1e-9, "{found:?}");
}

/// 180 and 220 in·lbf with 200 ± 15 asked: their mean would be in, and both bolts are wrong.
#[test]
fn each_propeller_bolt_has_to_be_in_the_band() {
    use trammel::metrology::Verdict;
    let mut book = Logbook::sheet_only(0);
    book.accept("torque-wrench", instrument(InstrumentKind::TorqueWrench, Unit::InchPoundForce, 1.0, 1.0));
    book.begin("propeller-track", 0xB);
    book.read("torque", "lowest", 180.0);
    book.read("torque-highest", "highest", 220.0);
    let run = book.fold();
    for step in ["torque", "torque-highest"] {
        let verdict = run.step(step).and_then(|step| step.result()).expect("complete").verdict;
        assert!(matches!(verdict, Verdict::Out(_)), "{step}: {verdict:?}");
    }
}
