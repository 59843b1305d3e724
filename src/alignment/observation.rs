//! What a reading says about where the assemblies sit: its value from a placement, and the derivative of that.
//!
//! Each kind is written once as a function of the places of its points, of the direction up and of directions that turn
//! with an assembly, with the derivative by each of these (plane and solid geometry; derived beside each). The chain
//! rule to the unknowns is in [`Observed::evaluate`]: a point at q = R·p + t moves by ω × (R·p) + δt, so a gradient g
//! by q contributes (R·p) × g to the turn and g to the shift.

use super::{Displacement, Layout, Line, Placement, PointRef, Position, Scene};
use crate::language::tr;

/// What is read. Lengths in metres, angles in radians.
#[derive(Clone, Debug, PartialEq)]
pub enum Observed {
    /// Distance between two points, as a tape or a trammel gives it.
    Distance {
        /// From here.
        from: PointRef,
        /// To here.
        to: PointRef,
    },
    /// Slope of a line to level: asin of its unit vector along up. Plus: the line's `to` end is high (a slope's aft end).
    Slope(Line),
    /// Slope of the second line minus slope of the first: a protractor zeroed on the first and read on the second.
    RelativeAngle {
        /// Where the protractor is zeroed.
        zeroed: Line,
        /// Where it is read.
        read: Line,
    },
    /// Roll across a pair of points, to level. Plus: the right side is low.
    Roll {
        /// The left point.
        left: PointRef,
        /// The right point.
        right: PointRef,
    },
    /// Height of a point over a level plane; minus below it.
    Height {
        /// The point.
        point: PointRef,
        /// Which plane: its place in [`Placement::planes`].
        plane: usize,
    },
    /// Height of the second point over the first.
    HeightDifference {
        /// The point from which it counts.
        from: PointRef,
        /// The point that is high when it is plus.
        to: PointRef,
    },
    /// Offset in plan of a point from a string that runs forward to aft: plus to the pilot's right.
    StringOffset {
        /// The point.
        point: PointRef,
        /// The string, forward to aft.
        string: Line,
    },
    /// Signed distance from one point to another along a direction: a gap at a joint.
    Gap {
        /// The point on the one side; the direction turns with its assembly.
        from: PointRef,
        /// The point on the other side.
        to: PointRef,
        /// The unit vector along which the gap opens, in the axes of the `from` point's assembly.
        along: Displacement,
    },
    /// First distance minus second: two diagonals held against each other (left minus right: plus, the tail is to the
    /// right).
    DistanceDifference {
        /// The two ends of the first.
        first: [PointRef; 2],
        /// The two ends of the second.
        second: [PointRef; 2],
    },
    /// Level offset of a point from the plumb line through another, along a direction (usually aft or right).
    PlumbOffset {
        /// Where the bob hangs from, or points at.
        line: PointRef,
        /// The point beside the plumb line.
        point: PointRef,
        /// A direction in the fixed assembly's axes; what it has along up is left out.
        along: Displacement,
    },
}

/// A reading of one such thing, with how well it is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Observation {
    /// What was read.
    pub what: Observed,
    /// What it read, instrument corrections applied; metres or radians.
    pub value: f64,
    /// Its standard uncertainty; above zero, same unit.
    pub sigma: f64,
}

/// A placement that things are read at, with what is the same for all of them.
pub(super) struct Sight<'a> {
    scene: &'a Scene,
    layout: &'a Layout,
    at: &'a Placement,
    up: Displacement,
    /// Derivatives of up by slope and roll, where the layout asks for them.
    up_by: Option<[Displacement; 2]>,
}

impl<'a> Sight<'a> {
    pub(super) fn new(scene: &'a Scene, layout: &'a Layout, at: &'a Placement) -> Self {
        let up_by = layout.level.map(|_| at.level.up_derivatives());
        Self { scene, layout, at, up: at.level.up(), up_by }
    }
}

/// Collects derivatives by the unknowns.
struct Gradient<'a> {
    sight: &'a Sight<'a>,
    row: &'a mut [f64],
}

impl Gradient<'_> {
    fn place(&self, point: PointRef) -> Position {
        self.sight.at.place(self.sight.scene, point)
    }

    /// `g`: derivative by the place of `point`.
    fn point(&mut self, point: PointRef, g: &Displacement) {
        if let Some(at) = self.sight.layout.assemblies[point.assembly] {
            let arm = self.place(point) - self.sight.at.poses[point.assembly].origin();
            self.three(at, &arm.cross(g));
            self.three(at + 3, g);
        }
    }

    /// `g`: derivative by a direction `d` that turns with an assembly; d moves by ω × d.
    fn direction(&mut self, assembly: usize, d: &Displacement, g: &Displacement) {
        if let Some(at) = self.sight.layout.assemblies[assembly] {
            self.three(at, &d.cross(g));
        }
    }

    /// `g`: derivative by the direction up.
    fn up(&mut self, g: &Displacement) {
        if let (Some(at), Some([slope, roll])) = (self.sight.layout.level, self.sight.up_by) {
            self.row[at] += g.dot(&slope);
            self.row[at + 1] += g.dot(&roll);
        }
    }

    fn plane(&mut self, plane: usize, g: f64) {
        if let Some(cell) = self.row.get_mut(self.sight.layout.planes + plane) {
            *cell += g;
        }
    }

    fn three(&mut self, at: usize, g: &Displacement) {
        for (cell, part) in self.row[at..at + 3].iter_mut().zip(g.to_array()) {
            *cell += part;
        }
    }

    /// A distance times `factor`. d|q₂ − q₁| = n·(dq₂ − dq₁) with n the unit vector along it.
    fn distance(&mut self, [from, to]: [PointRef; 2], factor: f64) -> f64 {
        let span = self.place(to) - self.place(from);
        let length = span.norm();
        let g = span * (factor / length);
        self.point(to, &g);
        self.point(from, &-g);
        factor * length
    }

    /// A slope times `factor`. With s = d·u / |d|: d asin s = ds / √(1 − s²), ∂s/∂d = (u − s·n)/|d|, ∂s/∂u = n.
    fn slope(&mut self, line: Line, factor: f64) -> f64 {
        let (up, span) = (self.sight.up, self.place(line.to) - self.place(line.from));
        let length = span.norm();
        let n = span / length;
        let s = n.dot(&up);
        let scale = factor / (1.0 - s * s).sqrt();
        let g = (up - n * s) * (scale / length);
        self.point(line.to, &g);
        self.point(line.from, &-g);
        self.up(&(n * scale));
        factor * s.clamp(-1.0, 1.0).asin()
    }

    /// Offset in plan with d along the string, r from its start, u up: N / M with N = r·(u × d), M = |u × d|.
    fn string_offset(&mut self, point: PointRef, string: Line) -> f64 {
        let (up, start) = (self.sight.up, self.place(string.from));
        let (d, r) = (self.place(string.to) - start, self.place(point) - start);
        let right = up.cross(&d);
        let m = right.norm();
        let n = right / m;
        let offset = r.dot(&n);
        // By right = u × d: ∂(r·n)/∂right = (r − offset·n)/M = e; then by d: e × u, by u: d × e.
        let e = (r - n * offset) / m;
        let by_d = e.cross(&up);
        self.point(point, &n);
        self.point(string.to, &by_d);
        self.point(string.from, &-(n + by_d));
        self.up(&d.cross(&e));
        offset
    }

    /// With a the direction, b = a − (a·u)u, n = b/|b|: offset r·n.
    fn plumb_offset(&mut self, line: PointRef, point: PointRef, along: &Displacement) -> f64 {
        let (up, r) = (self.sight.up, self.place(point) - self.place(line));
        let rise = along.dot(&up);
        let b = *along - up * rise;
        let length = b.norm();
        let n = b / length;
        let offset = r.dot(&n);
        self.point(point, &n);
        self.point(line, &-n);
        let e = (r - n * offset) / length;
        self.up(&-(*along * e.dot(&up) + e * rise));
        offset
    }
}

impl Observed {
    /// What it would read at a placement, and the derivative by each unknown of the layout, written into `row` (as long
    /// as the layout). Not finite where the geometry has no answer: two points in one place, a vertical string.
    ///
    /// # Panics
    /// Where a point or a plane is not of this scene.
    pub fn evaluate(&self, scene: &Scene, layout: &Layout, at: &Placement, row: &mut [f64]) -> f64 {
        self.seen(&Sight::new(scene, layout, at), row)
    }

    /// The same, several things at one placement.
    pub(super) fn seen(&self, sight: &Sight, row: &mut [f64]) -> f64 {
        row.fill(0.0);
        let (at, up) = (sight.at, sight.up);
        let mut d = Gradient { sight, row };
        match self {
            Self::Distance { from, to } => d.distance([*from, *to], 1.0),
            Self::Slope(line) => d.slope(*line, 1.0),
            Self::RelativeAngle { zeroed, read } => d.slope(*read, 1.0) + d.slope(*zeroed, -1.0),
            Self::Roll { left, right } => d.slope(Line { from: *right, to: *left }, 1.0),
            Self::Height { point, plane } => {
                let place = d.place(*point);
                d.point(*point, &up);
                d.up(&place.coords());
                d.plane(*plane, -1.0);
                up.dot(&place.coords()) - at.planes[*plane]
            }
            Self::HeightDifference { from, to } => {
                let span = d.place(*to) - d.place(*from);
                d.point(*to, &up);
                d.point(*from, &-up);
                d.up(&span);
                up.dot(&span)
            }
            Self::StringOffset { point, string } => d.string_offset(*point, *string),
            Self::Gap { from, to, along } => {
                let (n, span) = (at.poses[from.assembly].direction(along), d.place(*to) - d.place(*from));
                d.point(*to, &n);
                d.point(*from, &-n);
                d.direction(from.assembly, &n, &span);
                n.dot(&span)
            }
            Self::DistanceDifference { first, second } => d.distance(*first, 1.0) + d.distance(*second, -1.0),
            Self::PlumbOffset { line, point, along } => d.plumb_offset(*line, *point, along),
        }
    }

    /// What it would read at a placement; metres or radians.
    #[must_use]
    pub fn value(&self, scene: &Scene, at: &Placement) -> f64 {
        self.evaluate(scene, &Layout::nothing_unknown(scene), at, &mut [])
    }

    /// Whether it is an angle (radians) and not a length (metres).
    #[must_use]
    pub fn is_angle(&self) -> bool {
        matches!(self, Self::Slope(_) | Self::RelativeAngle { .. } | Self::Roll { .. })
    }

    /// Whether it is read to level, so that it says something about the fixed assembly's own level. The difference of
    /// two slopes nearly loses it, an offset in plan too.
    #[must_use]
    pub fn is_absolute(&self) -> bool {
        matches!(
            self,
            Self::Slope(_)
                | Self::Roll { .. }
                | Self::Height { .. }
                | Self::HeightDifference { .. }
                | Self::PlumbOffset { .. }
        )
    }

    /// Its points, each once or more.
    #[must_use]
    pub fn points(&self) -> Vec<PointRef> {
        match self {
            Self::Distance { from, to } | Self::HeightDifference { from, to } | Self::Gap { from, to, .. } => {
                vec![*from, *to]
            }
            Self::Slope(line) => vec![line.from, line.to],
            Self::RelativeAngle { zeroed, read } => vec![zeroed.from, zeroed.to, read.from, read.to],
            Self::Roll { left, right } => vec![*left, *right],
            Self::Height { point, .. } => vec![*point],
            Self::StringOffset { point, string } => vec![*point, string.from, string.to],
            Self::DistanceDifference { first, second } => [*first, *second].concat(),
            Self::PlumbOffset { line, point, .. } => vec![*line, *point],
        }
    }

    /// What it is in words: "the distance from the left pad to the tail post".
    #[must_use]
    pub fn words(&self, scene: &Scene) -> String {
        let name = |point: &PointRef| scene.point(*point).name.as_str();
        let line = |line: &Line| tr!("{from} to {to}", from = name(&line.from), to = name(&line.to));
        match self {
            Self::Distance { from, to } => tr!("the distance from {from} to {to}", from = name(from), to = name(to)),
            Self::Slope(along) => tr!("the slope from {line}", line = line(along)),
            Self::RelativeAngle { zeroed, read } => {
                tr!(
                    "the angle from {line} with the protractor zeroed on {zero}",
                    line = line(read),
                    zero = line(zeroed)
                )
            }
            Self::Roll { left, right } => {
                tr!("the roll across {left} and {right}", left = name(left), right = name(right))
            }
            Self::Height { point, .. } => tr!("the height of {point} over the level plane", point = name(point)),
            Self::HeightDifference { from, to } => {
                tr!("the height of {to} over {from}", to = name(to), from = name(from))
            }
            Self::StringOffset { point, string } => {
                tr!("the offset of {point} from the string from {line}", point = name(point), line = line(string))
            }
            Self::Gap { from, to, .. } => tr!("the gap between {from} and {to}", from = name(from), to = name(to)),
            Self::DistanceDifference { first: [a, b], second: [c, d] } => {
                tr!(
                    "the distance from {one} to {two} less that from {three} to {four}",
                    one = name(a),
                    two = name(b),
                    three = name(c),
                    four = name(d)
                )
            }
            Self::PlumbOffset { line, point, .. } => {
                tr!("the offset of {point} from the plumb line at {line}", point = name(point), line = name(line))
            }
        }
    }
}

#[cfg(test)]
#[path = "observation_tests.rs"]
mod tests;
