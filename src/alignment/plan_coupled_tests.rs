//! Plans for coupled adjusters, against trying every combination.

#![allow(clippy::print_stdout, reason = "says how the cases fell")]

use super::*;
use crate::alignment::{
    Assembly, Axis, CheckValue, Contact, Dial, Displacement, Effect, Gain, Hinge, Line, Observed, Position,
    StationPoint,
};
use crate::metrology::Limits;
use crate::quantity::{Length, Unit};

/// Two assemblies with a joint, a pad under a sloping tube, a rocking support, a strut: strongly coupled, not small.
fn coupled() -> Scene {
    let assembly = |id: &str, points: &[(&str, [f64; 3])]| {
        let at = |(id, [x, y, z]): &(&str, [f64; 3])| {
            StationPoint::new(id, id, Length::from_metres(*x), Length::from_metres(*y), Length::from_metres(*z))
        };
        Assembly { id: id.into(), name: id.into(), points: points.iter().map(at).collect() }
    };
    let fixed = [
        ("left", [0.0, -0.4, 0.0]),
        ("right", [0.0, 0.4, 0.0]),
        ("anchor", [0.2, 0.5, -0.8]),
        ("nose", [-2.0, 0.4, -1.0]),
    ];
    let moved = [
        ("left", [0.0, -0.4, 0.0]),
        ("right", [0.0, 0.4, 0.0]),
        ("strut", [1.5, 0.6, 0.1]),
        ("tail", [3.6, 0.0, -0.4]),
        ("front", [0.1, 0.0, 0.2]),
    ];
    Scene::new(vec![assembly("frame", &fixed), assembly("cone", &moved)], 0).expect("a scene")
}

fn coupled_adjusters(scene: &Scene, rng: &mut fastrand::Rng) -> Vec<PoseAdjuster> {
    let point = |assembly: &str, id: &str| scene.find(assembly, id).expect("a point");
    let normal = Displacement::new(0.15, 0.0, 1.0).try_normalize(0.0).expect("a direction");
    let across = Axis::Toward(point("cone", "right"));
    let contacts = [
        (
            Hinge { through: point("cone", "left"), axis: across },
            Contact::Pad { at: Position::new(3.0, 0.0, -0.5), along: Displacement::x(), assembly: 1, normal },
        ),
        (
            Hinge { through: point("cone", "left"), axis: Axis::Along(1, Displacement::x()) },
            Contact::Rock { across: Displacement::y() * 0.6, up: Displacement::z(), assembly: 1, normal },
        ),
        (
            Hinge { through: point("cone", "left"), axis: Axis::Along(1, normal) },
            Contact::Drive { point: point("cone", "right"), along: Displacement::x() },
        ),
        (
            Hinge { through: point("cone", "left"), axis: Axis::Toward(point("cone", "tail")) },
            Contact::Span { point: point("cone", "strut"), anchor: point("frame", "anchor") },
        ),
    ];
    let steps = [40.0, 3.0, 2.0, 4.0];
    let adjuster = |(k, (hinge, contact)): (usize, (Hinge, Contact))| PoseAdjuster {
        id: format!("{k}"),
        name: format!("{k}"),
        plus: String::new(),
        minus: String::new(),
        effect: Effect::Turn { carried: vec![1], hinge, contact },
        dial: Dial::millimetres(steps[k]),
        setting: steps[k] * f64::from(rng.i32(-1..=1)),
        lowest: (-4.0 * steps[k], Stop::Travel),
        highest: (4.0 * steps[k], Stop::Travel),
        setting_u: steps[k] / 8.0,
        weight: [1.0, 1.0, 1.5, 0.7][k],
    };
    contacts.into_iter().enumerate().map(adjuster).collect()
}

fn coupled_checks(scene: &Scene, tight: f64) -> Vec<PoseCheck> {
    let point = |assembly: &str, id: &str| scene.find(assembly, id).expect("a point");
    let line = |assembly: &str, from: &str, to: &str| Line { from: point(assembly, from), to: point(assembly, to) };
    let roll = |assembly| Observed::Roll { left: point(assembly, "left"), right: point(assembly, "right") };
    let pitch = Observed::RelativeAngle { zeroed: line("frame", "nose", "right"), read: line("cone", "front", "tail") };
    let ends = |side| [point("frame", side), point("cone", "tail")];
    let string = line("frame", "nose", "right");
    let checks = [
        ("pitch", CheckValue::One(pitch), 0.5, Unit::Degree),
        ("twist", CheckValue::Minus(roll("cone"), roll("frame")), 0.4, Unit::Degree),
        (
            "offset",
            CheckValue::One(Observed::StringOffset { point: point("cone", "tail"), string }),
            9.0,
            Unit::Millimetre,
        ),
        (
            "square",
            CheckValue::One(Observed::DistanceDifference { first: ends("left"), second: ends("right") }),
            3.0,
            Unit::Millimetre,
        ),
    ];
    let check = |(id, value, by, unit): (&str, CheckValue, f64, Unit)| {
        let limits = Limits::equal_within(by * tight, unit);
        PoseCheck { id: id.into(), title: id.into(), value, limits }
    };
    checks.into_iter().map(check).collect()
}

/// Every combination of one task, by the what-if table: the least cost that keeps the share of the margins, and how many there are.
fn by_trying_all(task: &Task, share: f64) -> Option<f64> {
    let ranges: Vec<(i32, i32)> = task.adjusters.iter().map(PoseAdjuster::range).collect();
    let mut best: Option<f64> = None;
    let mut steps: Vec<i32> = ranges.iter().map(|range| range.0).collect();
    loop {
        let moves: Vec<Move> = steps.iter().enumerate().map(|(adjuster, &steps)| Move { adjuster, steps }).collect();
        let inside = |row: &Outlook| row.inside_by >= share * row.margin - 1e-9;
        if task.what_if(&moves).is_ok_and(|rows| rows.iter().all(inside)) {
            let size = |(steps, adjuster): (&i32, &PoseAdjuster)| match steps {
                0 => 0.0,
                steps => task.cost.touch + adjuster.weight * f64::from(steps.abs()),
            };
            let cost: f64 = steps.iter().zip(task.adjusters).map(size).sum();
            best = Some(best.map_or(cost, |best: f64| best.min(cost)));
        }
        let Some(place) = (0..steps.len()).find(|&place| steps[place] < ranges[place].1) else { return best };
        steps[place] += 1;
        for before in 0..place {
            steps[before] = ranges[before].0;
        }
    }
}

/// Exact: for four coupled adjusters, several degrees of turn, gains not 1 and tied together, the plan is never dearer than the best
/// of all combinations, keeps the same share of the margins, and is found whenever there is one. Set against trying them all.
#[test]
fn four_adjusters_are_searched_exactly() {
    let scene = coupled();
    let mut rng = fastrand::Rng::with_seed(4);
    let (mut touched, mut blocked) = ([0; 5], 0);
    for round in 0..40 {
        let adjusters = coupled_adjusters(&scene, &mut rng);
        let checks = coupled_checks(&scene, [1.0, 0.6, 0.35, 0.12][round % 4]);
        let gains: Vec<Gain> =
            (0..4).map(|_| Gain { ratio: 0.6 + 0.8 * rng.f64(), u: 0.05 + 0.2 * rng.f64() }).collect();
        let gains = Gains::from_priors(&gains);
        let at = Placement::as_drawn(&scene, 0);
        // What so many steps do must be undone.
        let zero: Vec<Estimate> = checks.iter().map(|check| Estimate::new(0.0, 0.0, check.limits.unit)).collect();
        let cost = Cost { touch: [1e4, 0.0, 2.5][rng.usize(0..3)], aim: Aim::Least };
        let task =
            Task { scene: &scene, at: &at, adjusters: &adjusters, checks: &checks, now: &zero, gains: &gains, cost };
        let away: Vec<Move> = (0..4).map(|adjuster| Move { adjuster, steps: rng.i32(-3..=3) }).collect();
        let further = if round % 5 == 4 { 3.0 } else { 1.0 };
        let now: Vec<Estimate> = task
            .what_if(&away)
            .expect("within the stops")
            .iter()
            .zip(&checks)
            .map(|(row, check)| {
                let half = check.limits.half_width().expect("two limits");
                Estimate {
                    value: -further * row.after.value + 0.5 * half * (rng.f64() - 0.5),
                    u: 0.1 * half,
                    ..row.before
                }
            })
            .collect();
        let task = Task { now: &now, ..task };
        match task.plan() {
            Answer::Plan(plan) => {
                let best = by_trying_all(&task, plan.share).expect("the plan itself");
                assert!((plan.cost - best).abs() < 1e-6, "round {round}: {} and {best}, {plan:?}", plan.cost);
                if plan.share < 1.0 {
                    assert_eq!(
                        by_trying_all(&task, plan.share + 0.25),
                        None,
                        "round {round}: more margin was to be had"
                    );
                }
                assert_eq!(task.what_if(&plan.moves).as_deref(), Ok(&plan.outlook[..]), "the same table");
                touched[plan.moves.len()] += 1;
            }
            Answer::Blocked(why) => {
                assert_eq!(by_trying_all(&task, 0.0), None, "round {round}: {why:?}");
                blocked += 1;
            }
        }
    }
    println!("touched {touched:?}, blocked {blocked}");
    assert!(
        touched[2] + touched[3] + touched[4] > 10 && blocked > 0,
        "{touched:?}, blocked {blocked}: all kinds of cases"
    );
}

#[test]
fn what_the_moves_disturb_is_said() {
    let scene = coupled();
    let adjusters = coupled_adjusters(&scene, &mut fastrand::Rng::with_seed(1));
    let (checks, at, gains) = (coupled_checks(&scene, 1.0), Placement::as_drawn(&scene, 0), Gains::from_geometry(4));
    let now: Vec<Estimate> = checks.iter().map(|check| Estimate::new(0.1, 0.01, check.limits.unit)).collect();
    let cost = Cost::default();
    let task = Task { scene: &scene, at: &at, adjusters: &adjusters, checks: &checks, now: &now, gains: &gains, cost };
    let disturbed = |adjuster| {
        let rows = task.what_if(&[Move { adjuster, steps: 1 }]).expect("one step");
        rows.iter().map(|row| row.disturbed).collect::<Vec<bool>>()
    };
    assert_eq!(disturbed(0), [true, false, false, false], "the pad pitches");
    assert_eq!(disturbed(1)[1..], [true, true, true], "the rock twists, and swings the tail, which hangs low");
    let rows = task.what_if(&[]).expect("nothing moved");
    assert!(rows.iter().all(|row| !row.disturbed && row.after == row.before));
}

#[test]
fn placed_and_responses_agree_with_the_table() {
    let scene = coupled();
    let adjusters = coupled_adjusters(&scene, &mut fastrand::Rng::with_seed(1));
    let (checks, at, gains) = (coupled_checks(&scene, 1.0), Placement::as_drawn(&scene, 0), Gains::from_geometry(4));
    let now: Vec<Estimate> = checks.iter().map(|check| Estimate::new(0.0, 0.01, check.limits.unit)).collect();
    let cost = Cost::default();
    let task = Task { scene: &scene, at: &at, adjusters: &adjusters, checks: &checks, now: &now, gains: &gains, cost };
    let steps = [2, 0, -1, 0];
    let moves: Vec<Move> = [0, 2].map(|adjuster| Move { adjuster, steps: steps[adjuster] }).to_vec();
    let rows = task.what_if(&moves).expect("within the stops");
    let amounts: Vec<f64> = adjusters.iter().zip(steps).map(|(adjuster, steps)| adjuster.amount(steps)).collect();
    let placed = task.placed(&amounts).expect("in reach");
    let after: Vec<Estimate> = rows.iter().map(|row| row.after).collect();
    let responses = task.responses(&amounts, &after, &[0.01; 4]);
    for ((row, check), response) in rows.iter().zip(&checks).zip(&responses) {
        let change = check.value(&scene, &placed) - check.value(&scene, &at);
        assert!((row.after.value - change).abs() < 1e-9 && (response.predicted - change).abs() < 1e-9);
        let linear: f64 = response.by_gain.iter().sum();
        assert!((linear - change).abs() < 0.05 * change.abs() + 1e-3, "gains of 1: {linear} {change}");
        assert!(response.by_gain[1] == 0.0 && response.by_setting[3] == 0.0, "not moved");
        assert_eq!(response.strange(), None);
    }
}
