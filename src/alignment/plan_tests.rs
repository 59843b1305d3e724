//! Plans against closed forms.

use super::*;
use crate::alignment::likeliest::unlikely;
use crate::alignment::model::Model;
use crate::alignment::search::{Found, Search};
use crate::alignment::{
    Assembly, Axis, CheckValue, Contact, Dial, Displacement, Effect, Gain, Hinge, Observed, StationPoint,
};
use crate::metrology::Limits;
use crate::quantity::{Length, Unit};

fn known(adjusters: usize) -> Gains {
    Gains::from_priors(&vec![Gain { ratio: 1.0, u: 0.0 }; adjusters])
}

/// A plate (or a bar) on supports at z = 0, in millimetres, with points to check.
fn plate(points: &[(&str, f64, f64)]) -> Scene {
    let at = |(id, x, y): &(&str, f64, f64)| {
        StationPoint::new(id, id, Length::from_millimetres(*x), Length::from_millimetres(*y), Length::ZERO)
    };
    let plate = Assembly { id: "plate".into(), name: "plate".into(), points: points.iter().map(at).collect() };
    Scene::new(vec![Assembly { id: "floor".into(), name: "floor".into(), points: vec![] }, plate], 0).expect("a scene")
}

/// A support that is raised in steps of `step` mm between stops: the plate turns about the line through the other supports.
fn support(scene: &Scene, id: &str, through: &str, axis: Axis, step: f64, stops: (f64, f64)) -> PoseAdjuster {
    let point = |id: &str| scene.find("plate", id).expect("a point");
    let contact = Contact::Drive { point: point(id), along: Displacement::z() };
    PoseAdjuster {
        id: id.into(),
        name: format!("Support {id}"),
        plus: format!("Raise support {id}"),
        minus: format!("Lower support {id}"),
        effect: Effect::Turn { carried: vec![1], hinge: Hinge { through: point(through), axis }, contact },
        dial: Dial::millimetres(step),
        setting: 0.0,
        lowest: (stops.0, Stop::Travel),
        highest: (stops.1, Stop::Shim),
        setting_u: 0.0,
        weight: 1.0,
    }
}

fn height(scene: &Scene, id: &str, tolerance: f64) -> PoseCheck {
    let value = CheckValue::One(Observed::Height { point: scene.find("plate", id).expect("a point"), plane: 0 });
    PoseCheck {
        id: id.into(),
        title: format!("Height of {id}"),
        value,
        limits: Limits::equal_within(tolerance, Unit::Millimetre),
    }
}

fn exactly(values: &[f64]) -> Vec<Estimate> {
    values.iter().map(|value| Estimate::new(*value, 0.0, Unit::Millimetre)).collect()
}

/// A bar on supports at 0 and 1000 with its check at 1500 two low: the least sum of moves is (0, 1.0), growing by 2/3 for each
/// unit of tolerance taken away; with the far support alone, −3.0. Closed form (a lever; worked out for this test).
#[test]
fn a_bar_on_two_supports() {
    let scene = plate(&[("A", 0.0, 0.0), ("B", 1000.0, 0.0), ("C", 1500.0, 0.0)]);
    let across = Axis::Along(0, Displacement::y());
    let a = support(&scene, "A", "B", across, 0.05, (-5.0, 5.0));
    let b = support(&scene, "B", "A", across, 0.05, (-5.0, 5.0));
    let (at, now) = (Placement::as_drawn(&scene, 1), exactly(&[-2.0]));
    for (adjusters, tolerance, expected) in [
        (vec![a.clone(), b.clone()], 0.5, vec![Move { adjuster: 1, steps: 20 }]),
        (vec![a.clone(), b.clone()], 0.8, vec![Move { adjuster: 1, steps: 16 }]),
        (vec![a.clone()], 0.5, vec![Move { adjuster: 0, steps: -60 }]),
    ] {
        let (checks, gains) = (vec![height(&scene, "C", tolerance)], known(adjusters.len()));
        for touch in [0.0, 1e4] {
            let cost = Cost { touch, aim: Aim::Least };
            let task =
                Task { scene: &scene, at: &at, adjusters: &adjusters, checks: &checks, now: &now, gains: &gains, cost };
            let Answer::Plan(plan) = task.plan() else { panic!("a plan") };
            assert_eq!(plan.moves, expected);
            assert!((plan.outlook[0].after.value + tolerance).abs() < 1e-9, "just inside: {:?}", plan.outlook[0]);
        }
    }
}

/// Three supports and three checks of which two pull against each other; the numbers are the influence matrix
/// A = [−.325 1.075 .25; .725 −.475 .75; .25 .25 .5] of supports at (0,0), (1000,0), (500,800) on (1200,200), (−100,600), (500,400)
/// (plane geometry, worked out with a linear-programming solver outside the project).
fn three() -> (Scene, Vec<PoseCheck>, Placement, Vec<Estimate>) {
    let scene = plate(&[
        ("A", 0.0, 0.0),
        ("B", 1000.0, 0.0),
        ("C", 500.0, 800.0),
        ("P", 1200.0, 200.0),
        ("Q", -100.0, 600.0),
        ("R", 500.0, 400.0),
    ]);
    let checks = ["P", "Q", "R"].map(|id| height(&scene, id, 0.5)).to_vec();
    let at = Placement::as_drawn(&scene, 1);
    (scene, checks, at, exactly(&[1.4, -0.9, 0.2]))
}

fn three_supports(scene: &Scene, step: f64, stops: (f64, f64)) -> Vec<PoseAdjuster> {
    let toward = |id: &str| Axis::Toward(scene.find("plate", id).expect("a point"));
    [("A", "B", "C"), ("B", "C", "A"), ("C", "A", "B")]
        .map(|(id, through, to)| support(scene, id, through, toward(to), step, stops))
        .to_vec()
}

/// The least sum of moves is (0.004, −0.836, 0), 0.840 in all; relaxing the second limit by 0.1 saves 0.12. Touching the fewest,
/// B alone does it: 0.9 + 0.475·s ≤ 0.5 gives −0.8421. Whole steps of 0.001 may cost a step or two more.
#[test]
fn three_supports_cost_what_the_closed_form_says() {
    let (scene, mut checks, at, now) = three();
    let adjusters = three_supports(&scene, 0.001, (-1.0, 1.0));
    let gains = known(3);
    let least = |checks: &[PoseCheck], touch: f64| {
        let cost = Cost { touch, aim: Aim::Least };
        let task = Task { scene: &scene, at: &at, adjusters: &adjusters, checks, now: &now, gains: &gains, cost };
        let Answer::Plan(plan) = task.plan() else { panic!("a plan") };
        plan
    };
    let plan = least(&checks, 0.0);
    assert!((840.0..=842.0).contains(&plan.cost), "{plan:?}");
    let plan = least(&checks, 1e4);
    assert_eq!(plan.moves, [Move { adjuster: 1, steps: -843 }], "fewest first");
    checks[1] = height(&scene, "Q", 0.6);
    let plan = least(&checks, 0.0);
    assert!((720.0..=838.0).contains(&plan.cost), "{plan:?}");
}

/// Shims can only be added: then P, which must come down, and Q, which must go up, cannot both be brought in; with shims that can
/// only be taken out they can. The same numbers, known infeasible.
#[test]
fn what_pulls_against_each_other_is_named() {
    let (scene, checks, at, now) = three();
    let gains = known(3);
    let of = |stops| {
        let adjusters = three_supports(&scene, 0.01, stops);
        let cost = Cost::default();
        let task =
            Task { scene: &scene, at: &at, adjusters: &adjusters, checks: &checks, now: &now, gains: &gains, cost };
        let answer = task.plan();
        let words = if let Answer::Blocked(why) = &answer { why[0].words(&task) } else { String::new() };
        (answer, words)
    };
    let (Answer::Blocked(why), words) = of((0.0, 9.0)) else { panic!("infeasible") };
    assert_eq!(why, [Blocked::Conflict(0, 1), Blocked::Conflict(0, 2)]);
    assert_eq!(
        words,
        "Height of P and Height of Q: each can be brought in, but not both together. Do not force it; ask the kit's support."
    );
    assert!(matches!(of((-9.0, 0.0)).0, Answer::Plan(_)));
}

#[test]
fn what_is_out_of_reach_says_why() {
    let scene = plate(&[("A", 0.0, 0.0), ("B", 1000.0, 0.0), ("C", 1500.0, 0.0)]);
    let b = |step, high| support(&scene, "B", "A", Axis::Along(0, Displacement::y()), step, (-5.0, high));
    let (at, gains) = (Placement::as_drawn(&scene, 1), known(1));
    let answer = |adjuster: PoseAdjuster, check: &str, now: f64| {
        let (adjusters, checks, now) = ([adjuster], [height(&scene, check, 0.1)], exactly(&[now]));
        let cost = Cost::default();
        let task =
            Task { scene: &scene, at: &at, adjusters: &adjusters, checks: &checks, now: &now, gains: &gains, cost };
        let refused = task.what_if(&[Move { adjuster: 0, steps: 1000 }]).expect_err("past its stop");
        assert_eq!(refused, Refused::Stop(0, Stop::Shim));
        assert_eq!(task.what_if(&[Move { adjuster: 1, steps: 1 }]), Err(Refused::NoSuch(1)));
        assert_eq!(refused.words(&task), "Support B: that would pass the shim limit. Do not; ask the kit's support.");
        let Answer::Blocked(why) = task.plan() else { panic!("blocked") };
        (why[0].clone(), why[0].words(&task))
    };
    let task = |adjusters| Task {
        scene: &scene,
        at: &at,
        adjusters,
        checks: &[],
        now: &[],
        gains: &gains,
        cost: Cost::default(),
    };
    let adjusters = [b(0.1, 1.0)];
    assert_eq!(
        [Refused::OutOfReach.words(&task(&adjusters)), Blocked::Together.words(&task(&adjusters))],
        [
            "That is further than the parts reach.",
            "Any two of the checks can be brought in, but not all of them together. Do not force it; ask the kit's support."
        ]
    );
    let (why, words) = answer(b(0.1, 1.0), "C", -2.0);
    assert_eq!(why, Blocked::AtStops(0, vec![(0, Stop::Shim)]));
    assert_eq!(
        words,
        "Height of C: out of reach within the limits of Support B (the shim limit). Do not force it; ask the kit's support."
    );
    let (why, words) = answer(b(0.5, 4.0), "C", -2.0);
    assert_eq!(why, Blocked::StepsTooCoarse(0), "0.75 at a step, 0.2 wide");
    assert_eq!(
        words,
        "Height of C: the steps that can be set jump over its tolerance. Do not force it; ask the kit's support."
    );
    let (why, words) = answer(b(0.1, 4.0), "A", -2.0);
    assert_eq!(why, Blocked::NoAdjuster(0));
    assert_eq!(
        words,
        "Height of A: nothing that may be moved here acts on it. Do not force it; ask the kit's support."
    );
}

/// A bar 1000 long can lift its end by 1000 and no more: then it stands. A range that asks for more is cut by halves, and keeps at least half
/// of what is there (plane geometry).
#[test]
fn a_range_ends_where_the_geometry_does() {
    let scene = plate(&[("A", 0.0, 0.0), ("B", 1000.0, 0.0), ("C", 1500.0, 0.0)]);
    let adjusters = [support(&scene, "A", "B", Axis::Along(0, Displacement::y()), 4.0, (-4100.0, 4100.0))];
    let (at, now) = (Placement::as_drawn(&scene, 1), exactly(&[-2.0]));
    let (checks, gains) = (vec![height(&scene, "C", 0.5)], known(1));
    let cost = Cost::default();
    let task = Task { scene: &scene, at: &at, adjusters: &adjusters, checks: &checks, now: &now, gains: &gains, cost };
    let model = Model::new(task);
    let (low, high) = model.ranges[0];
    assert!((125..=250).contains(&high) && (-250..=-125).contains(&low), "{low} to {high} steps of 4");
}

/// The far end of the bar sinks by half of what the near support is raised: 0.3 mm that a hand leaves open there are 0.15 mm, whatever the step.
/// And of a half tolerance of 0.8 mm, 0.5 mm off the middle leave 0.3 mm: three eighths (a lever).
#[test]
fn what_the_hand_leaves_open_and_the_room_that_is_left() {
    let scene = plate(&[("A", 0.0, 0.0), ("B", 1000.0, 0.0), ("C", 1500.0, 0.0)]);
    let across = Axis::Along(0, Displacement::y());
    let a = PoseAdjuster { setting_u: 0.3, ..support(&scene, "A", "B", across, 0.05, (-5.0, 5.0)) };
    let b = support(&scene, "B", "A", across, 0.05, (-5.0, 5.0));
    let (at, now, adjusters) = (Placement::as_drawn(&scene, 1), exactly(&[-2.0]), [a, b]);
    let (checks, gains) = (vec![height(&scene, "C", 0.8)], known(2));
    let cost = Cost::default();
    let task = Task { scene: &scene, at: &at, adjusters: &adjusters, checks: &checks, now: &now, gains: &gains, cost };
    let model = Model::new(task);
    assert!((model.slip(0, 0) + 0.15).abs() < 1e-6, "{}", model.slip(0, 0));
    let found = Search::new(&model, &[0]).inside(&[0, 20], 0.0).expect("inside");
    assert!((found.room - 0.375).abs() < 1e-6, "{}", found.room);
}

/// What sits 0.06 off the middle of ±0.2 and is known to 0.02 is sure to be in. A hand that leaves 0.15 open brings it to the very middle and has it
/// out one time in five (erfc(0.2 / (0.151·√2)) = 0.186): the middle is not worth that.
#[test]
fn the_middle_is_not_worth_a_chance_to_be_out() {
    let scene = plate(&[("A", 0.0, 0.0), ("B", 1000.0, 0.0), ("C", 1500.0, 0.0)]);
    let across = Axis::Along(0, Displacement::y());
    let adjusters = [PoseAdjuster { setting_u: 0.1, ..support(&scene, "B", "A", across, 0.01, (-5.0, 5.0)) }];
    let (at, now) = (Placement::as_drawn(&scene, 1), [Estimate::new(-0.06, 0.02, Unit::Millimetre)]);
    let (checks, gains) = (vec![height(&scene, "C", 0.2)], known(1));
    let cost = Cost::default();
    let task = Task { scene: &scene, at: &at, adjusters: &adjusters, checks: &checks, now: &now, gains: &gains, cost };
    let model = Model::new(task);
    let of = |steps: i32| {
        let values = model.values(&[f64::from(steps)]).expect("in reach");
        unlikely(&model, &Found { steps: vec![steps], cost: 0.0, values, room: 0.0 })
    };
    assert!((of(4) - 0.186).abs() < 2e-3, "moved: {}", of(4));
    assert!(of(0) < 0.01, "left alone: {}", of(0));
}
