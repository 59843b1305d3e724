//! Every derivative against central differences of the value, and the signs against places that anybody can picture.

use nalgebra::DVector;
use proptest::prelude::*;

use super::*;
use crate::alignment::{Assembly, Level, Pose, StationPoint};
use crate::quantity::{Angle, Length};

const KINDS: usize = 10;

fn point(assembly: usize, point: usize) -> PointRef {
    PointRef { assembly, point }
}

fn scene(coordinates: &[f64]) -> Scene {
    let metres = Length::from_metres;
    let assembly = |which: usize, shift: f64| {
        let points = (0..4).map(|at| {
            let c = &coordinates[(which * 4 + at) * 3..][..3];
            // Corners of a box, moved a little: no two points in one place, no line near plumb.
            let (aft, right) = ([0.0, 2.0, 2.0, 0.0][at], [-0.5, -0.5, 0.5, 0.5][at]);
            let id = format!("{which}{at}");
            StationPoint::new(&id, &id, metres(shift + aft + c[0]), metres(right + c[1]), metres(c[2]))
        });
        Assembly { id: which.to_string(), name: which.to_string(), points: points.collect() }
    };
    Scene::new(vec![assembly(0, 0.0), assembly(1, 2.5), assembly(2, 6.0)], 0).expect("a scene")
}

fn kind(which: usize) -> Observed {
    let (a, b, c, d) = (point(0, 0), point(1, 1), point(1, 2), point(2, 3));
    match which {
        0 => Observed::Distance { from: a, to: b },
        1 => Observed::Slope(Line { from: point(1, 0), to: point(1, 1) }),
        2 => Observed::RelativeAngle {
            zeroed: Line { from: a, to: point(0, 1) },
            read: Line { from: point(1, 0), to: b },
        },
        3 => Observed::Roll { left: b, right: c },
        4 => Observed::Height { point: d, plane: 1 },
        5 => Observed::HeightDifference { from: b, to: d },
        6 => Observed::StringOffset { point: d, string: Line { from: point(0, 3), to: b } },
        7 => Observed::Gap { from: c, to: point(2, 0), along: Displacement::new(0.6, 0.0, 0.8) },
        8 => Observed::DistanceDifference { first: [a, b], second: [point(0, 3), c] },
        _ => Observed::PlumbOffset { line: b, point: d, along: Displacement::new(0.2, 1.0, 0.3) },
    }
}

fn placement(angles: &[f64], at: &[f64]) -> Placement {
    let degrees = |place: usize| Angle::from_degrees(angles[place]);
    let pose = |first: usize, shift: usize| {
        Pose::from_angles(
            degrees(first),
            degrees(first + 1),
            degrees(first + 2),
            [at[shift], at[shift + 1], at[shift + 2]].into(),
        )
    };
    let level = Level { slope: degrees(6), roll: degrees(7) };
    Placement { poses: vec![Pose::identity(), pose(0, 0), pose(3, 3)], level, planes: vec![0.1, -0.3] }
}

proptest! {
    #[test]
    fn derivatives_are_those_of_the_value(
        coordinates in prop::collection::vec(-0.2..0.2, 36), angles in prop::collection::vec(-15.0..15.0, 8),
        at in prop::collection::vec(-0.2..0.2, 6)
    ) {
        let (scene, at) = (scene(&coordinates), placement(&angles, &at));
        let layout = Layout::new(&scene, true, 2);
        let mut row = vec![0.0; layout.len()];
        for which in 0..KINDS {
            let observed = kind(which);
            observed.evaluate(&scene, &layout, &at, &mut row);
            for (unknown, analytic) in row.iter().enumerate() {
                let h = 1e-5;
                let moved = |by: f64| {
                    let mut step = DVector::zeros(layout.len());
                    step[unknown] = by;
                    observed.value(&scene, &layout.step(&at, &step))
                };
                // Truncation of the order h², rounding of the order ε/h.
                let numeric = (moved(h) - moved(-h)) / (2.0 * h);
                prop_assert!((analytic - numeric).abs() < 1e-8 * (1.0 + numeric.abs()), "{observed:?}, {unknown}: {analytic} {numeric}");
            }
        }
    }
}

fn drawn() -> (Scene, Placement) {
    let scene = scene(&[0.0; 36]);
    let at = Placement::as_drawn(&scene, 2);
    (scene, at)
}

fn tilted(slope: f64, roll: f64) -> Placement {
    Placement { level: Level { slope: Angle::from_degrees(slope), roll: Angle::from_degrees(roll) }, ..drawn().1 }
}

fn close(got: f64, wanted: f64) {
    assert!((got - wanted).abs() < 1e-12, "{got}, not {wanted}");
}

#[test]
fn a_protractor_on_the_fixed_assembly_reads_its_level() {
    let (scene, _) = drawn();
    let at = tilted(1.5, -0.5);
    close(Observed::Slope(Line { from: point(0, 0), to: point(0, 1) }).value(&scene, &at), 1.5_f64.to_radians());
    close(Observed::Roll { left: point(0, 0), right: point(0, 3) }.value(&scene, &at), -0.5_f64.to_radians());
}

#[test]
fn a_protractor_zeroed_on_the_frame_reads_the_pitch_of_the_cone() {
    let (scene, mut at) = drawn();
    at.level.slope = Angle::from_degrees(0.7);
    let pitch = Angle::from_degrees(-2.6);
    at.poses[1] = Pose::from_angles(pitch, Angle::default(), Angle::default(), Position::origin());
    let read = kind(2).value(&scene, &at);
    close(read, pitch.radians());
}

#[test]
fn plus_is_up_and_to_the_right() {
    let (scene, mut at) = drawn();
    at.poses[2] = Pose::from_angles(Angle::default(), Angle::default(), Angle::default(), Position::new(0.0, 0.2, 0.3));
    at.planes[1] = 0.1;
    close(kind(4).value(&scene, &at), 0.2);
    close(kind(5).value(&scene, &at), 0.3);
    let string = Line { from: point(0, 0), to: point(0, 1) };
    close(Observed::StringOffset { point: point(2, 3), string }.value(&scene, &at), 1.2);
    let along = Displacement::y();
    close(Observed::PlumbOffset { line: point(0, 3), point: point(2, 3), along }.value(&scene, &at), 0.2);
}

#[test]
fn the_tail_to_the_right_makes_the_left_diagonal_longer() {
    let (scene, mut at) = drawn();
    let diagonals =
        Observed::DistanceDifference { first: [point(0, 0), point(1, 1)], second: [point(0, 3), point(1, 1)] };
    let before = diagonals.value(&scene, &at);
    at.poses[1] = Pose::from_angles(Angle::default(), Angle::default(), Angle::from_degrees(0.5), Position::origin());
    assert!(diagonals.value(&scene, &at) > before);
}

#[test]
fn words_name_the_points() {
    let (scene, _) = drawn();
    assert_eq!(kind(0).words(&scene), "the distance from 00 to 11");
    assert_eq!(kind(3).words(&scene), "the roll across 11 and 12");
}
