//! What a check's value is where things sit.

use super::adjust::per_si;
use super::observation::Sight;
use super::{Adjusted, Displacement, Layout, Line, Observed, Placement, PointRef, Scene};
use crate::metrology::{Estimate, Limits};

/// A quantity that is held against the specification, as a function of the placement.
#[derive(Clone, Debug, PartialEq)]
pub enum CheckValue {
    /// One observed thing: pitch as an angle between two lines, square as a difference of two distances, an offset, a gap.
    One(Observed),
    /// First minus second: twist as the tail's roll minus the frame's. Both angles or both lengths.
    Minus(Observed, Observed),
}

impl CheckValue {
    /// Edge distance: how far a hole's centre lies inside an edge, square to it; minus outside. Both points of the edge are of one
    /// assembly; `inward` points into the material in that assembly's axes, roughly. `None` where it runs along the edge.
    #[must_use]
    pub fn edge_distance(scene: &Scene, hole: PointRef, edge: Line, inward: Displacement) -> Option<Self> {
        let along = (scene.point(edge.to).at - scene.point(edge.from).at).try_normalize(1e-9)?;
        let square = (inward - along * inward.dot(&along)).try_normalize(1e-9)?;
        Some(Self::One(Observed::Gap { from: edge.from, to: hole, along: square }))
    }

    /// The value at a placement, metres or radians; its derivatives by the unknowns go into `row`, as long as the layout.
    fn seen(&self, sight: &Sight, row: &mut [f64]) -> f64 {
        match self {
            Self::One(observed) => observed.seen(sight, row),
            Self::Minus(one, other) => {
                let mut less = vec![0.0; row.len()];
                let value = one.seen(sight, row) - other.seen(sight, &mut less);
                for (cell, less) in row.iter_mut().zip(less) {
                    *cell -= less;
                }
                value
            }
        }
    }
}

/// A check with its tolerance.
#[derive(Clone, Debug, PartialEq)]
pub struct PoseCheck {
    /// Stable id.
    pub id: String,
    /// What it is called: "Pitch".
    pub title: String,
    /// What is held against the limits.
    pub value: CheckValue,
    /// The specification's limits; every value of this check is in their unit, degrees for an angle.
    pub limits: Limits,
}

impl PoseCheck {
    /// The value at a placement, in the limits' unit.
    #[must_use]
    pub fn value(&self, scene: &Scene, at: &Placement) -> f64 {
        self.seen(&Sight::new(scene, &Layout::nothing_unknown(scene), at), &mut [])
    }

    pub(super) fn seen(&self, sight: &Sight, row: &mut [f64]) -> f64 {
        self.per_si() * self.value.seen(sight, row)
    }

    /// As the adjusted readings have it, with its uncertainty: what a plan starts from.
    #[must_use]
    pub fn estimate(&self, adjusted: &Adjusted) -> Option<Estimate> {
        let network = adjusted.network();
        let mut row = vec![0.0; network.layout().len()];
        let value = self.seen(&Sight::new(network.scene(), network.layout(), adjusted.placement()), &mut row);
        let u = self.per_si() * adjusted.uncertainty(&row.into());
        (value.is_finite() && u.is_finite()).then(|| Estimate::new(value, u, self.limits.unit))
    }

    /// The limits' unit in one radian or one metre; NaN where the unit is of another dimension.
    fn per_si(&self) -> f64 {
        let (CheckValue::One(observed) | CheckValue::Minus(observed, _)) = &self.value;
        per_si(observed, self.limits.unit).unwrap_or(f64::NAN)
    }

    /// How far a value lies inside the nearer limit; minus outside. Infinite where there is no limit.
    #[must_use]
    pub fn inside_by(&self, value: f64) -> f64 {
        let low = self.limits.lower.map_or(f64::INFINITY, |lower| value - lower);
        let high = self.limits.upper.map_or(f64::INFINITY, |upper| upper - value);
        low.min(high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::alignment::{Assembly, Gravity, Network, Observation, Pose, Position, StationPoint, adjust};
    use crate::quantity::Unit;
    use crate::quantity::{Angle, Length};

    fn scene() -> Scene {
        let at = |id: &str, [x, y, z]: [f64; 3]| {
            StationPoint::new(id, id, Length::from_inches(x), Length::from_inches(y), Length::from_inches(z))
        };
        let across = [at("left", [0.0, -10.0, 0.0]), at("right", [0.0, 10.0, 0.0]), at("hole", [0.5, 0.0, 1.0])];
        let assembly = |id: &str| Assembly { id: id.into(), name: id.into(), points: across.to_vec() };
        Scene::new(vec![assembly("frame"), assembly("cone")], 0).expect("a scene")
    }

    #[test]
    fn twist_is_the_tails_roll_less_the_frames() {
        let scene = scene();
        let of = |assembly: &str, point: &str| scene.find(assembly, point).expect("a point");
        let roll = |assembly| Observed::Roll { left: of(assembly, "left"), right: of(assembly, "right") };
        let limits = Limits::equal_within(0.15, Unit::Degree);
        let value = CheckValue::Minus(roll("cone"), roll("frame"));
        let twist = PoseCheck { id: "twist".into(), title: "Twist".into(), value, limits };
        let mut at = Placement::as_drawn(&scene, 0);
        at.poses[1] = Pose::from_angles(Angle::ZERO, Angle::from_degrees(0.2), Angle::ZERO, Position::origin());
        assert!((twist.value(&scene, &at) - 0.2).abs() < 1e-12, "right side low is plus");
        assert!((twist.inside_by(0.2) + 0.05).abs() < 1e-12);
    }

    /// A hole of the cone half an inch inside an edge that runs across the frame; yawing the cone about the origin leaves 0.5 cos ψ.
    #[test]
    fn edge_distance_is_square_to_the_edge() {
        let scene = scene();
        let of = |assembly: &str, point: &str| scene.find(assembly, point).expect("a point");
        let edge = Line { from: of("frame", "left"), to: of("frame", "right") };
        let inward = Displacement::new(1.0, 0.4, 0.0);
        let value = CheckValue::edge_distance(&scene, of("cone", "hole"), edge, inward).expect("not along the edge");
        let limits = Limits { lower: Some(0.3125), upper: None, unit: Unit::Inch };
        let check = PoseCheck { id: "edge".into(), title: "Edge".into(), value, limits };
        let mut at = Placement::as_drawn(&scene, 0);
        assert!((check.value(&scene, &at) - 0.5).abs() < 1e-12);
        let yaw = Angle::from_degrees(60.0);
        at.poses[1] = Pose::from_angles(Angle::ZERO, Angle::ZERO, yaw, Position::origin());
        assert!((check.value(&scene, &at) - 0.25).abs() < 1e-12);
        assert!((check.inside_by(0.25) + 0.0625).abs() < 1e-12, "outside is minus");
    }

    /// The readings' own uncertainties come through, and what the readings share cancels: with only the two rolls read, each to 0.03°,
    /// twist is known to 0.03·√2.
    #[test]
    fn a_check_is_known_as_well_as_the_readings_let_it() {
        let scene = scene();
        let of = |assembly: &str, point: &str| scene.find(assembly, point).expect("a point");
        let roll = |assembly| Observed::Roll { left: of(assembly, "left"), right: of(assembly, "right") };
        let reading = |what, value: f64, sigma: f64| Observation { what, value, sigma };
        let gap = |point, along| Observed::Gap { from: of("frame", point), to: of("cone", point), along };
        let degree = 1_f64.to_radians();
        let readings = vec![
            reading(roll("frame"), 0.05 * degree, 0.03 * degree),
            reading(roll("cone"), 0.25 * degree, 0.03 * degree),
            reading(Observed::Slope(Line { from: of("frame", "left"), to: of("frame", "hole") }), 0.1, 0.001),
            reading(gap("left", Displacement::x()), 0.0, 0.001),
            reading(gap("right", Displacement::x()), 0.0, 0.001),
            reading(gap("hole", Displacement::x()), 0.0, 0.001),
            reading(gap("left", Displacement::y()), 0.0, 0.001),
            reading(gap("left", Displacement::z()), 0.0, 0.001),
        ];
        let network = Network::new(scene.clone(), readings, Gravity::Unknown).expect("readings");
        let adjusted = adjust(&network, &Placement::as_drawn(&scene, 0)).expect("enough readings");
        let value = CheckValue::Minus(roll("cone"), roll("frame"));
        let limits = Limits::equal_within(0.15, Unit::Degree);
        let twist = PoseCheck { id: "twist".into(), title: "Twist".into(), value, limits };
        let estimate = twist.estimate(&adjusted).expect("a value");
        assert!(
            (estimate.value - 0.20).abs() < 1e-9 && (estimate.u - 0.03 * 2_f64.sqrt()).abs() < 1e-6,
            "{estimate:?}"
        );
    }
}
