//! Assemblies with their station points, one of them fixed.

use std::sync::Arc;

use super::Position;
use crate::quantity::Length;

/// A named point of an assembly, where its drawing puts it.
#[derive(Clone, Debug, PartialEq)]
pub struct StationPoint {
    /// Stable id, unique in its assembly.
    pub id: String,
    /// What a person calls it: "tail-post centre punch".
    pub name: String,
    /// Fuselage station aft, buttock line right, waterline up; metres.
    pub at: Position,
}

impl StationPoint {
    /// From station, buttock line (right is plus) and waterline.
    #[must_use]
    pub fn new(id: &str, name: &str, station: Length, buttock: Length, waterline: Length) -> Self {
        let at = Position::new(station.metres(), buttock.metres(), waterline.metres());
        Self { id: id.to_owned(), name: name.to_owned(), at }
    }
}

/// A rigid body with station points.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembly {
    /// Stable id, unique in its scene.
    pub id: String,
    /// What a person calls it: "tail cone".
    pub name: String,
    /// Its station points.
    pub points: Vec<StationPoint>,
}

/// A point of a scene by its places in [`Scene::assemblies`] and [`Assembly::points`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PointRef {
    /// Which assembly.
    pub assembly: usize,
    /// Which of its points.
    pub point: usize,
}

/// A line through two points. For a slope the `to` end is the one that is high when the slope is plus: the aft end; for
/// a roll, where the right side low is plus, the left end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line {
    /// Where it begins: the forward end; for a roll the right.
    pub from: PointRef,
    /// Where it ends: the aft end; for a roll the left.
    pub to: PointRef,
}

/// Why assemblies make no scene.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SceneError {
    /// The fixed assembly is not among them.
    NoFixed,
    /// Two assemblies, or two points of one, have the same id.
    SameId,
    /// A coordinate is not a number.
    NotANumber,
}

/// The assemblies that are mated. One is fixed; its frame is the frame of everything.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// Shared: networks and plans each keep the scene that they are of.
    assemblies: Arc<[Assembly]>,
    fixed: usize,
}

impl Scene {
    /// A scene in which the assembly at the place `fixed` holds still.
    ///
    /// # Errors
    /// When the fixed one is missing, an id comes twice, or a coordinate is no finite number.
    pub fn new(assemblies: Vec<Assembly>, fixed: usize) -> Result<Self, SceneError> {
        if fixed >= assemblies.len() {
            return Err(SceneError::NoFixed);
        }
        let points = assemblies.iter().flat_map(|assembly| &assembly.points);
        if !points.flat_map(|point| point.at.coords().to_array()).all(|coordinate| coordinate.is_finite()) {
            return Err(SceneError::NotANumber);
        }
        let same_point = |assembly: &Assembly| twice(assembly.points.iter().map(|point| &point.id));
        if twice(assemblies.iter().map(|assembly| &assembly.id)) || assemblies.iter().any(same_point) {
            return Err(SceneError::SameId);
        }
        Ok(Self { assemblies: assemblies.into(), fixed })
    }

    /// All assemblies.
    #[must_use]
    pub fn assemblies(&self) -> &[Assembly] {
        &self.assemblies
    }

    /// The place of the one that is fixed.
    #[must_use]
    pub fn fixed(&self) -> usize {
        self.fixed
    }

    /// The point of an assembly by their ids.
    #[must_use]
    pub fn find(&self, assembly: &str, point: &str) -> Option<PointRef> {
        let place = self.assemblies.iter().position(|candidate| candidate.id == assembly)?;
        let point = self.assemblies[place].points.iter().position(|candidate| candidate.id == point)?;
        Some(PointRef { assembly: place, point })
    }

    /// The point itself; panics where `at` is not of this scene.
    #[must_use]
    pub fn point(&self, at: PointRef) -> &StationPoint {
        &self.assemblies[at.assembly].points[at.point]
    }

    /// Mean position of an assembly's points in its own frame; its origin where it has none.
    #[must_use]
    pub fn centre(&self, assembly: usize) -> Position {
        let points = &self.assemblies[assembly].points;
        let sum = points.iter().map(|point| point.at.coords()).sum::<super::Displacement>();
        (sum / points.len().max(1) as f64).into()
    }
}

fn twice<'a>(ids: impl Iterator<Item = &'a String>) -> bool {
    let mut ids: Vec<_> = ids.collect();
    ids.sort_unstable();
    ids.windows(2).any(|pair| pair[0] == pair[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn assembly(id: &str, points: &[&str]) -> Assembly {
        let inch = Length::from_inches;
        let at = |id: &&str| StationPoint::new(id, id, inch(100.0), inch(-10.0), inch(50.0));
        Assembly { id: id.into(), name: id.into(), points: points.iter().map(at).collect() }
    }

    #[test]
    fn points_are_found_by_id() {
        let scene = Scene::new(vec![assembly("frame", &["a"]), assembly("cone", &["a", "b"])], 0).expect("a scene");
        assert_eq!(scene.find("cone", "b"), Some(PointRef { assembly: 1, point: 1 }));
        assert_eq!(scene.find("cone", "c"), None);
        assert!((scene.point(PointRef { assembly: 0, point: 0 }).at.y + 0.254).abs() < 1e-15, "left is minus");
    }

    #[test]
    fn what_dangles_is_refused() {
        assert_eq!(Scene::new(vec![assembly("frame", &["a"])], 1), Err(SceneError::NoFixed));
        assert_eq!(Scene::new(vec![assembly("frame", &["a", "a"])], 0), Err(SceneError::SameId));
        assert_eq!(Scene::new(vec![assembly("a", &[]), assembly("a", &[])], 0), Err(SceneError::SameId));
        let mut odd = assembly("frame", &["a"]);
        odd.points[0].at.z = f64::NAN;
        assert_eq!(Scene::new(vec![odd], 0), Err(SceneError::NotANumber));
    }
}
