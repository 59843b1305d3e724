//! Random networks of this trade's kind, with a fixed seed: an invented forward frame and tail cone, and 8 to 24
//! readings of them.

#![allow(dead_code, reason = "each test crate uses its own part")]

use fastrand::Rng;
use trammel::alignment::{
    Assembly, Displacement, Gravity, Level, Line, Network, Observation, Observed, Placement, PointRef, Pose, Position,
    Scene, StationPoint,
};
use trammel::quantity::{Angle, Length};

/// Points of the frame, then of the cone: id, station, buttock line, waterline in metres.
const FRAME: [(&str, [f64; 3]); 10] = [
    ("lower firewall left", [0.94, -0.44, 1.32]),
    ("lower firewall right", [0.94, 0.44, 1.32]),
    ("rear lower left", [3.07, -0.39, 1.32]),
    ("rear lower right", [3.07, 0.39, 1.32]),
    ("wing pin left", [1.79, -0.53, 2.57]),
    ("wing pin right", [1.79, 0.53, 2.57]),
    ("upper joint left", [3.07, -0.42, 2.29]),
    ("upper joint right", [3.07, 0.42, 2.29]),
    ("centre forward", [0.94, 0.0, 1.33]),
    ("centre aft", [3.07, 0.0, 1.34]),
];
const CONE: [(&str, [f64; 3]); 9] = [
    ("upper socket left", [3.073, -0.42, 2.29]),
    ("upper socket right", [3.073, 0.42, 2.29]),
    ("lower socket left", [3.073, -0.39, 1.32]),
    ("lower socket right", [3.073, 0.39, 1.32]),
    ("longeron aft left", [6.27, -0.13, 2.14]),
    ("longeron aft right", [6.27, 0.13, 2.14]),
    ("tail post", [6.68, 0.0, 1.80]),
    ("keel aft", [6.2, 0.0, 1.62]),
    ("tail top", [6.65, 0.0, 2.45]),
];

/// Standard uncertainties: tape, rule, gap (metres); protractor (radians).
pub(crate) const TAPE: f64 = 0.000_5;
const RULE: f64 = 0.000_4;
const GAP: f64 = 0.000_2;
const PROTRACTOR: f64 = 0.000_9;

fn frame(point: usize) -> PointRef {
    PointRef { assembly: 0, point }
}

fn cone(point: usize) -> PointRef {
    PointRef { assembly: 1, point }
}

/// What may be read, and its standard uncertainty.
type Choices = Vec<(Observed, f64)>;

/// What fixes everything, then what is chosen from. Twins follow each other.
fn choices() -> (Choices, Choices) {
    let tape = |from, to| (Observed::Distance { from, to }, TAPE);
    let slope = |from, to| (Observed::Slope(Line { from, to }), PROTRACTOR);
    let roll = |left, right| (Observed::Roll { left, right }, PROTRACTOR);
    let gap = |from, to| (Observed::Gap { from, to, along: Displacement::x() }, GAP);
    let height = |point| (Observed::Height { point, plane: 0 }, RULE);
    let core = vec![
        tape(frame(0), cone(6)),
        tape(frame(1), cone(6)),
        gap(frame(6), cone(0)),
        gap(frame(7), cone(1)),
        slope(cone(0), cone(4)),
        roll(cone(4), cone(5)),
        (Observed::HeightDifference { from: frame(6), to: cone(0) }, RULE),
        slope(frame(0), frame(2)),
        roll(frame(2), frame(3)),
    ];
    let string = Line { from: frame(8), to: frame(9) };
    let relative = Observed::RelativeAngle {
        zeroed: Line { from: frame(1), to: frame(3) },
        read: Line { from: cone(1), to: cone(5) },
    };
    let difference = Observed::DistanceDifference { first: [frame(4), cone(6)], second: [frame(5), cone(6)] };
    let plumb = Observed::PlumbOffset { line: cone(8), point: cone(7), along: Displacement::y() };
    let more = vec![
        tape(frame(4), cone(6)),
        tape(frame(5), cone(6)),
        tape(frame(4), cone(8)),
        tape(frame(5), cone(8)),
        tape(frame(6), cone(5)),
        tape(frame(7), cone(4)),
        tape(frame(0), cone(7)),
        tape(frame(1), cone(7)),
        gap(frame(2), cone(2)),
        gap(frame(3), cone(3)),
        slope(cone(1), cone(5)),
        slope(frame(1), frame(3)),
        roll(frame(0), frame(1)),
        roll(cone(0), cone(1)),
        height(frame(0)),
        height(frame(1)),
        height(cone(6)),
        height(cone(7)),
        (Observed::StringOffset { point: cone(6), string }, RULE),
        (Observed::StringOffset { point: cone(7), string }, RULE),
        (Observed::HeightDifference { from: frame(7), to: cone(1) }, RULE),
        (relative, 1.5 * PROTRACTOR),
        (difference, 1.5 * TAPE),
        (plumb, RULE),
    ];
    (core, more)
}

pub(crate) fn normal(rng: &mut Rng) -> f64 {
    (-2.0 * (1.0 - rng.f64()).ln()).sqrt() * (std::f64::consts::TAU * rng.f64()).cos()
}

fn within(rng: &mut Rng, most: f64) -> f64 {
    (2.0 * rng.f64() - 1.0) * most
}

/// A network, where everything truly sits, and where the adjustment starts.
pub(crate) struct Case {
    pub(crate) network: Network,
    pub(crate) truth: Placement,
    pub(crate) start: Placement,
}

/// Both assemblies, each point up to 20 mm beside its place, so that no two networks are alike.
fn scene(rng: &mut Rng) -> Scene {
    let mut points = |all: &[(&str, [f64; 3])]| {
        let point = |(id, at): &(&str, [f64; 3])| {
            let at = at.map(|coordinate| Length::from_metres(coordinate + within(rng, 0.02)));
            StationPoint::new(id, id, at[0], at[1], at[2])
        };
        all.iter().map(point).collect()
    };
    let frame = Assembly { id: "frame".into(), name: "frame".into(), points: points(&FRAME) };
    let cone = Assembly { id: "cone".into(), name: "tail cone".into(), points: points(&CONE) };
    Scene::new(vec![frame, cone], 0).expect("a scene")
}

/// A random case of `count` readings, 8 to 24, with normal noise. Below nine the frame's level is taken as known.
pub(crate) fn case(rng: &mut Rng, count: usize) -> Case {
    let scene = scene(rng);
    let (mut chosen, mut more) = choices();
    let level_unknown = count > 8;
    if !level_unknown {
        chosen.truncate(7);
    }
    rng.shuffle(&mut more);
    chosen.extend(more.into_iter().take(count.saturating_sub(chosen.len())));
    let mut angle = |degrees: f64| Angle::from_degrees(within(rng, degrees));
    let (pitch, roll, yaw) = (angle(3.0), angle(2.0), angle(1.5));
    let level = if level_unknown { Level { slope: angle(1.0), roll: angle(1.0) } } else { Level::default() };
    let centre = scene.centre(1);
    let turned = Pose::from_angles(pitch, roll, yaw, Position::origin());
    let shift = Displacement::new(within(rng, 0.01), within(rng, 0.01), within(rng, 0.01));
    let origin = centre - turned.direction(&centre.coords()) + shift;
    let pose = Pose::from_angles(pitch, roll, yaw, origin);
    let truth = Placement { poses: vec![Pose::identity(), pose], level, planes: vec![within(rng, 0.5)] };
    let observations = chosen.into_iter().map(|(what, sigma)| {
        let value = what.value(&scene, &truth) + sigma * normal(rng);
        Observation { what, value, sigma }
    });
    let gravity = if level_unknown { Gravity::Unknown } else { Gravity::AsPlaced };
    let network = Network::new(scene.clone(), observations.collect(), gravity).expect("a network");
    let start = Placement::as_drawn(&scene, 1);
    Case { network, truth, start }
}
