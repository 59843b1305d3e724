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

/// The left wing turned about its front root pin: tip and tail post by their coordinates, no small angles.
#[test]
fn a_root_fitting_moved_inboard_swings_the_tip_aft() {
    let distance = |outboard: f64| {
        let turn = outboard / 33.75_f64;
        // Forward is minus along the station; the pin lies at 70.5, 21 out.
        let (aft, out) = (70.5 - 180.0 * turn.sin(), 21.0 + 180.0 * turn.cos());
        f64::hypot(263.0 - aft, out)
    };
    let mut book = at_work(0, "wing-sweep");
    let (left, right) = (280.391 + distance(0.125) - distance(0.0), 280.391);
    for (slot, value) in [("left", left), ("right", right)] {
        for _ in 0..3 {
            book.read("set/trammel", slot, value);
        }
    }
    assert_eq!(order(&book, "set/trammel"), "Move the LEFT rear root fitting INBOARD 1/8 in");
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
    let works = aircraft(&book.airframe(), &book.ledger.in_force(book.airframe));
    let incidence = works.iter().find(|work| work.procedure.id == "wing-incidence").expect("it applies");
    assert_eq!(incidence.progress, Progress::Stale);
    assert_eq!(incidence.because, ["RIGHT wing"]);
    assert!(works.iter().all(|work| work.procedure.id != "cantilever-wing"), "not on a strut-braced one");
}
