//! The two assemblies of a mating as station points, from the airframe's own numbers.

use crate::alignment::{Assembly, Line, PointRef, Scene, StationPoint};
use crate::language::words;
use crate::quantity::{Angle, Length, Quantity};
use crate::record::Specification;

/// The forward frame, which is held still here, and the cone, which sits against it at the joint.
///
/// Station grows aft from the joint, buttock line to the pilot's right, waterline up. As drawn the cone's pose is the identity:
/// pitch and twist then read what the sheet says.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct MatingScene {
    pub(super) scene: Scene,
    /// The forward points, left and right.
    pub(super) forward: [PointRef; 2],
    /// The aft centre point.
    pub(super) aft: PointRef,
    /// The string over the frame's centre line.
    pub(super) string: Line,
    /// The face that the protractor is zeroed on, and the longeron.
    pub(super) zeroed: Line,
    pub(super) longeron: Line,
    /// Across the frame and across the aft bulkhead, left and right.
    pub(super) frame_across: [PointRef; 2],
    pub(super) aft_across: [PointRef; 2],
    /// The middle of the joint on the frame and on the cone.
    pub(super) seat: [PointRef; 2],
    /// The joint's LEFT and RIGHT side, each on the frame and on the cone.
    pub(super) joint: [[PointRef; 2]; 2],
}

/// The frame's place in the scene and the cone's.
pub(super) const FRAME: usize = 0;
pub(super) const CONE: usize = 1;

/// What a point is called.
fn name(id: &str) -> &'static str {
    match id {
        "left" => words!("the LEFT forward point"),
        "right" => words!("the RIGHT forward point"),
        "aft" => words!("the aft centre point"),
        "string-forward" => words!("the forward centre mark"),
        "string-aft" => words!("the aft end of the centre line"),
        "longeron-forward" => words!("the longeron's forward end"),
        "longeron-aft" => words!("the longeron's aft end"),
        "joint-left" => words!("the LEFT side of the joint"),
        "joint-right" => words!("the RIGHT side of the joint"),
        "across-left" => words!("the LEFT of the aft bulkhead"),
        "across-right" => words!("the RIGHT of the aft bulkhead"),
        _ => words!("the middle of the joint"),
    }
}

impl MatingScene {
    /// From the rigging specification; `None` while a dimension is missing or impossible.
    pub(super) fn of(specification: &Specification) -> Option<Self> {
        let length =
            |key| specification.nominal(key).and_then(Quantity::length).filter(|length| *length > Length::ZERO);
        let angle = |key| specification.nominal(key).and_then(Quantity::angle).unwrap_or_default();
        let (half, diagonal) = (length("half-width")?, length("diagonal")?);
        let (width, to_tail) = (length("joint-width")?, length("joint-to-tail")?);
        let station = (diagonal.metres().powi(2) - half.metres().powi(2)).sqrt();
        // NaN where the diagonal is shorter than the half width.
        let forward = Some(Length::from_metres(station) - to_tail).filter(|forward| *forward > Length::ZERO)?;
        let zero = Length::ZERO;
        let point = |id: &str, x: Length, y: Length, z: Length| StationPoint::new(id, name(id), x, y, z);
        let frame = vec![
            point("left", -forward, -half, zero),
            point("right", -forward, half, zero),
            point("string-forward", -forward, zero, zero),
            point("string-aft", to_tail, zero, zero),
            point("joint-left", zero, -(width / 2.0), zero),
            point("joint-right", zero, width / 2.0, zero),
            point("seat", zero, zero, zero),
        ];
        let (pitch, twist): (Angle, Angle) = (angle("pitch"), angle("twist"));
        let rise = to_tail * pitch.tan();
        let low = half * -twist.sin();
        let cone = vec![
            point("aft", to_tail, zero, zero),
            point("longeron-forward", zero, zero, zero),
            point("longeron-aft", to_tail, zero, rise),
            point("across-left", to_tail, -(half * twist.cos()), -low),
            point("across-right", to_tail, half * twist.cos(), low),
            point("joint-left", zero, -(width / 2.0), zero),
            point("joint-right", zero, width / 2.0, zero),
            point("seat", zero, zero, zero),
        ];
        let assembly = |id: &str, name: &str, points| Assembly { id: id.to_owned(), name: name.to_owned(), points };
        let scene =
            Scene::new(vec![assembly("frame", words!("frame"), frame), assembly("cone", words!("cone"), cone)], FRAME)
                .ok()?;
        let (on_frame, on_cone) = (|id| scene.find("frame", id), |id| scene.find("cone", id));
        Some(Self {
            forward: [on_frame("left")?, on_frame("right")?],
            aft: on_cone("aft")?,
            string: Line { from: on_frame("string-forward")?, to: on_frame("string-aft")? },
            zeroed: Line { from: on_frame("string-forward")?, to: on_frame("string-aft")? },
            longeron: Line { from: on_cone("longeron-forward")?, to: on_cone("longeron-aft")? },
            frame_across: [on_frame("left")?, on_frame("right")?],
            aft_across: [on_cone("across-left")?, on_cone("across-right")?],
            seat: [on_frame("seat")?, on_cone("seat")?],
            joint: [
                [on_frame("joint-left")?, on_cone("joint-left")?],
                [on_frame("joint-right")?, on_cone("joint-right")?],
            ],
            scene,
        })
    }
}
