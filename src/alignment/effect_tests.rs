//! Each contact is held against its own condition on the moved points, and against the trade's worked figures.

use super::*;
use crate::alignment::{Assembly, Change, Lever, Pose, StationPoint};
use crate::quantity::Angle;

fn inch(value: f64) -> Length {
    Length::from_inches(value)
}

fn scene() -> Scene {
    let assembly = |id: &str, points: &[(&str, [f64; 3])]| Assembly {
        id: id.into(),
        name: id.into(),
        points: points.iter().map(|(id, [x, y, z])| StationPoint::new(id, id, inch(*x), inch(*y), inch(*z))).collect(),
    };
    let joint = [("left", [121.0, -16.5, 90.0]), ("right", [121.0, 16.5, 90.0])];
    let cone = [joint[0], joint[1], ("tail", [263.0, 0.0, 71.0])];
    let frame = [joint[0], joint[1], ("fitting", [78.0, 18.75, 53.0]), ("pin", [70.5, 21.0, 101.0])];
    let wing = [("front", [70.5, 21.0, 101.0]), ("rear", [104.25, 21.0, 99.939]), ("strut", [104.25, 112.0, 99.048])];
    Scene::new(vec![assembly("frame", &frame), assembly("cone", &cone), assembly("wing", &wing)], 0).expect("a scene")
}

fn point(scene: &Scene, assembly: &str, id: &str) -> PointRef {
    scene.find(assembly, id).expect("a point")
}

fn pad(direction: Displacement, at: [f64; 3], normal: Displacement) -> Contact {
    Contact::Pad { at: Position::from(at.map(|value| inch(value).metres())), along: direction, assembly: 1, normal }
}

fn across_the_joint(scene: &Scene) -> Hinge {
    Hinge { through: point(scene, "frame", "left"), axis: Axis::Toward(point(scene, "frame", "right")) }
}

fn moved(scene: &Scene, hinge: Hinge, contact: Contact, amount: Length) -> Option<Placement> {
    let carried = vec![if matches!(contact, Contact::Span { .. }) { 2 } else { 1 }];
    let mut at = Placement::as_drawn(scene, 0);
    Effect::Turn { carried, hinge, contact }.apply(scene, &mut at, Length::ZERO, amount).map(|()| at)
}

/// A raised flat touches its pad: tan θ = h / B over the distance B (plane geometry; common practice).
#[test]
fn a_saddle_gives_the_tangent() {
    let scene = scene();
    // The flat passes level through the height of the hinge, so that the formula of the flat holds exactly.
    let raised = pad(Displacement::z(), [243.0, 0.0, 90.0], Displacement::z());
    let at = moved(&scene, across_the_joint(&scene), raised, inch(0.639)).expect("in reach");
    assert!((at.poses[1].pitch().degrees() - (0.639_f64 / 122.0).atan().to_degrees()).abs() < 1e-9);
}

/// Against `Lever::SlopingTube`, whose own test turns points of the tube: here the assembly is ahead of the joint.
#[test]
fn a_block_under_a_sloping_tube_is_the_levers() {
    let scene = scene();
    for slope in [4.0_f64, 9.0, -7.0] {
        // Rising forward: the normal leans aft.
        let (sin, cos) = slope.to_radians().sin_cos();
        let block = pad(-Displacement::x(), [47.0, 0.0, 52.0], Displacement::new(sin, 0.0, cos));
        let lever =
            Lever::SlopingTube { distance: inch(74.0), below_joint: inch(38.0), slope: Angle::from_degrees(slope) };
        for amount in [-6.0, -1.0, 0.5, 4.0] {
            let at = moved(&scene, across_the_joint(&scene), block, inch(amount)).expect("in reach");
            let Some(Change::Turn(turn)) = lever.change(inch(amount)) else { panic!("a turn") };
            // The lever's turn is of the tube rising forward: the aft end goes down.
            assert!((at.poses[1].pitch().degrees() + turn.degrees()).abs() < 1e-9, "{slope} {amount}");
        }
    }
}

/// A second move starts where the pad stands: two halves do what the whole does.
#[test]
fn two_halves_are_a_whole() {
    let scene = scene();
    let normal = Displacement::new(9_f64.to_radians().sin(), 0.0, 9_f64.to_radians().cos());
    let contact = pad(-Displacement::x(), [47.0, 0.0, 52.0], normal);
    let effect = Effect::Turn { carried: vec![1], hinge: across_the_joint(&scene), contact };
    let (mut halves, mut whole) = (Placement::as_drawn(&scene, 0), Placement::as_drawn(&scene, 0));
    effect.apply(&scene, &mut halves, Length::ZERO, inch(2.0)).expect("in reach");
    effect.apply(&scene, &mut halves, inch(2.0), inch(2.0)).expect("in reach");
    effect.apply(&scene, &mut whole, Length::ZERO, inch(4.0)).expect("in reach");
    let tail = point(&scene, "cone", "tail");
    assert!((halves.place(&scene, tail) - whole.place(&scene, tail)).norm() < 1e-12);
}

/// g·L/W: 0.096 in at a joint 33 in wide swings a tail 142 in behind it by 0.41 in, to the left when the right is opened (the
/// trade's worked figure); and the driven point has moved along the direction by exactly the amount.
#[test]
fn an_opened_side_swings_the_tail() {
    let scene = scene();
    let hinge = Hinge { through: point(&scene, "cone", "left"), axis: Axis::Along(0, Displacement::z()) };
    let right = point(&scene, "cone", "right");
    let drive = Contact::Drive { point: right, along: Displacement::x() };
    let at = moved(&scene, hinge, drive, inch(0.096)).expect("in reach");
    let tail = at.place(&scene, point(&scene, "cone", "tail"));
    assert!((Length::from_metres(tail.y).inches() + 0.413).abs() < 2e-3, "{}", Length::from_metres(tail.y).inches());
    let opened = at.place(&scene, right) - scene.point(right).at;
    assert!((opened.x - inch(0.096).metres()).abs() < 1e-15);
}

/// 24 in · tan 0.2° = 0.084 in (the trade's worked figure): the right up is a minus roll.
#[test]
fn a_rocked_saddle_rolls() {
    let scene = scene();
    let hinge = Hinge { through: point(&scene, "cone", "left"), axis: Axis::Along(1, Displacement::x()) };
    let across = Displacement::y() * inch(24.0).metres();
    let rock = Contact::Rock { across, up: Displacement::z(), assembly: 1, normal: Displacement::z() };
    let at = moved(&scene, hinge, rock, inch(0.084)).expect("in reach");
    assert!((at.poses[1].roll().degrees() + (0.084_f64 / 24.0).atan().to_degrees()).abs() < 1e-9);
}

/// The strut is as long as it was set; and one 24-tpi turn of the rear strut about the front pin is 0.32° of the tip's washout
/// divided by the span ratio 1.98: F6 of the trade's sheet gives 0.095 in at the strut.
#[test]
fn a_strut_is_as_long_as_it_is_set() {
    let scene = scene();
    let (end, anchor) = (point(&scene, "wing", "strut"), point(&scene, "frame", "fitting"));
    let hinge = Hinge { through: point(&scene, "wing", "front"), axis: Axis::Toward(point(&scene, "wing", "rear")) };
    let before = (scene.point(end).at - scene.point(anchor).at).norm();
    for turns in [-3.0, 0.5, 1.0] {
        let at = moved(&scene, hinge, Contact::Span { point: end, anchor }, inch(turns / 24.0)).expect("in reach");
        let after = (at.place(&scene, end) - at.place(&scene, anchor)).norm();
        assert!((after - before - inch(turns / 24.0).metres()).abs() < 1e-14);
        let rise = Length::from_metres(at.place(&scene, end).z - scene.point(end).at.z).inches();
        assert!((rise / turns - 0.095).abs() < 3e-3, "{turns}: {rise}");
    }
}

#[test]
fn out_of_reach_is_none() {
    let scene = scene();
    let left = point(&scene, "cone", "left");
    let hinge = Hinge { through: left, axis: Axis::Along(0, Displacement::z()) };
    assert_eq!(
        moved(&scene, hinge, Contact::Drive { point: left, along: Displacement::x() }, inch(0.1)),
        None,
        "on the hinge"
    );
    let right = point(&scene, "cone", "right");
    let far = Contact::Drive { point: right, along: Displacement::x() };
    assert_eq!(moved(&scene, hinge, far, inch(34.0)), None, "further than the joint is wide");
    let level = pad(-Displacement::x(), [47.0, 0.0, 52.0], Displacement::z());
    let at = moved(&scene, across_the_joint(&scene), level, inch(2.0)).expect("a level tube is not lifted");
    assert_eq!(at.poses[1].pitch().degrees(), 0.0);
}

#[test]
fn a_shift_moves_all_and_turns_nothing() {
    let scene = scene();
    let mut at = Placement::as_drawn(&scene, 0);
    let washers = Effect::Shift { carried: vec![1], along: Displacement::x() };
    washers.apply(&scene, &mut at, Length::ZERO, inch(0.063)).expect("always");
    let tail = point(&scene, "cone", "tail");
    assert!((at.place(&scene, tail) - scene.point(tail).at - Displacement::x() * inch(0.063).metres()).norm() < 1e-15);
    assert_eq!(at.poses[1].direction(&Displacement::z()), Pose::identity().direction(&Displacement::z()));
}
