//! The envelope of weight and centre of gravity: inside, outside, or too close to tell, and what is left to each limit.

use std::fmt;

use super::error::{RiggingError, within};
use super::weighing::Balance;
use crate::language::words;
use crate::metrology::Rule;
use crate::quantity::Unit;

/// A corner of the envelope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// Arm, aft of the datum.
    pub arm: f64,
    /// Mass.
    pub mass: f64,
}

/// The manual's polygon of allowed arms and masses. Its edges are inside.
#[derive(Clone, Debug, PartialEq)]
pub struct Envelope {
    corners: Vec<Corner>,
    arm: Unit,
    mass: Unit,
}

/// Why corners make no envelope.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EnvelopeError {
    /// Fewer than three corners, or all on one line.
    NoArea,
    /// A number that is not finite.
    NotFinite,
    /// Two edges cross or touch: the corners are not in order.
    Crossing,
}

impl fmt::Display for EnvelopeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoArea => words!("An envelope needs three corners at least, not on one line."),
            Self::NotFinite => words!("A number of the envelope is missing."),
            Self::Crossing => words!("The corners of the envelope are not in order: two edges cross."),
        })
    }
}

impl std::error::Error for EnvelopeError {}

/// What can be said of a balance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Placed {
    /// Inside by the uncertainty at least.
    In,
    /// Outside by more than the uncertainty.
    Out(Outside),
    /// An edge lies inside the uncertainty.
    CantTell,
}

/// Which limit a point is outside of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outside {
    /// Heavier than any allowed mass.
    TooHeavy,
    /// Lighter than any allowed mass.
    TooLight,
    /// Ahead of the limit at its mass.
    TooFarForward,
    /// Behind the limit at its mass.
    TooFarAft,
}

/// What is left at a mass, in the envelope's units; below zero where it is passed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margin {
    /// From the forward limit at this mass aft to the arm.
    pub forward: f64,
    /// From the arm aft to the aft limit at this mass.
    pub aft: f64,
    /// Up to the greatest mass of the envelope.
    pub mass: f64,
}

/// So much outside is arithmetic: a share of the envelope's size.
const SLACK: f64 = 1e-9;

impl Envelope {
    /// An envelope with its corners in order round it, either way, arms in `arm` and masses in `mass`.
    ///
    /// # Errors
    /// When the corners are fewer than three or on one line, a number is missing, or two edges cross.
    pub fn new(corners: Vec<Corner>, arm: Unit, mass: Unit) -> Result<Self, EnvelopeError> {
        if !corners.iter().all(|corner| corner.arm.is_finite() && corner.mass.is_finite()) {
            return Err(EnvelopeError::NotFinite);
        }
        let envelope = Self { corners, arm, mass };
        if envelope.corners.len() < 3 {
            return Err(EnvelopeError::NoArea);
        }
        let edges: Vec<_> = envelope.edges().collect();
        for (at, one) in edges.iter().enumerate() {
            // Neighbours share a corner; the last is a neighbour of the first.
            let others = edges.iter().skip(at + 2).take(edges.len() - 3 + usize::from(at > 0));
            if others.into_iter().any(|other| meet(*one, *other)) {
                return Err(EnvelopeError::Crossing);
            }
        }
        let doubled: f64 = envelope.edges().map(|(p, q)| p.arm * q.mass - q.arm * p.mass).sum();
        let (arms, masses) = envelope.extent();
        if doubled.abs() <= SLACK * arms * masses { Err(EnvelopeError::NoArea) } else { Ok(envelope) }
    }

    fn edges(&self) -> impl Iterator<Item = (Corner, Corner)> {
        let next = self.corners.iter().skip(1).chain(self.corners.first());
        self.corners.iter().copied().zip(next.copied())
    }

    fn extent(&self) -> (f64, f64) {
        let range = |of: fn(&Corner) -> f64| {
            let (low, high) = self.range(of);
            high - low
        };
        (range(|corner| corner.arm), range(|corner| corner.mass))
    }

    fn range(&self, of: fn(&Corner) -> f64) -> (f64, f64) {
        let values = self.corners.iter().map(of);
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
    }

    /// The balance in the envelope's units.
    fn point(&self, balance: Balance) -> Result<(Corner, [f64; 2]), RiggingError> {
        let (arm, mass) = (within(balance.arm, self.arm)?, within(balance.mass, self.mass)?);
        Ok((Corner { arm: arm.value, mass: mass.value }, [arm.expanded(), mass.expanded()]))
    }

    /// Where it stands, the value alone; an edge is inside.
    fn stands(&self, point: Corner) -> Option<Outside> {
        let (arms, masses) = self.extent();
        // On an edge: nearer than rounding.
        if self.distance(point, [arms, masses]) <= SLACK {
            return None;
        }
        let (lightest, heaviest) = self.range(|corner| corner.mass);
        if point.mass > heaviest {
            return Some(Outside::TooHeavy);
        }
        if point.mass < lightest {
            return Some(Outside::TooLight);
        }
        let ahead = self.crossings(point.mass).filter(|arm| *arm < point.arm).count();
        if ahead % 2 == 1 {
            return None;
        }
        let (forward, _) = self.limits_at(point.mass);
        Some(if point.arm < forward { Outside::TooFarForward } else { Outside::TooFarAft })
    }

    /// The arms at which the line of one mass crosses the edges, each edge without its upper end.
    fn crossings(&self, mass: f64) -> impl Iterator<Item = f64> {
        let crossing = self.edges().filter(move |(p, q)| (p.mass <= mass) != (q.mass <= mass));
        crossing.map(move |(p, q)| p.arm + (mass - p.mass) / (q.mass - p.mass) * (q.arm - p.arm))
    }

    /// The foremost and the aftmost arm of the envelope at a mass, corners and level edges with them.
    fn limits_at(&self, mass: f64) -> (f64, f64) {
        let level = self.corners.iter().filter(move |corner| corner.mass == mass).map(|corner| corner.arm);
        self.crossings(mass)
            .chain(level)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), arm| (low.min(arm), high.max(arm)))
    }

    /// Distance to the nearest edge, arms counted in `scale[0]` and masses in `scale[1]`.
    fn distance(&self, point: Corner, scale: [f64; 2]) -> f64 {
        let scaled = |corner: Corner| [(corner.arm - point.arm) / scale[0], (corner.mass - point.mass) / scale[1]];
        self.edges().map(|(p, q)| to_segment(scaled(p), scaled(q))).fold(f64::INFINITY, f64::min)
    }

    /// What is left to the limits at this mass. None where the envelope knows no such mass.
    ///
    /// # Errors
    /// When a number of the balance is missing or of another kind.
    pub fn margin(&self, balance: Balance) -> Result<Option<Margin>, RiggingError> {
        let (point, _) = self.point(balance)?;
        let (lightest, heaviest) = self.range(|corner| corner.mass);
        if !(lightest..=heaviest).contains(&point.mass) {
            return Ok(None);
        }
        let (forward, aft) = self.limits_at(point.mass);
        Ok(Some(Margin { forward: point.arm - forward, aft: aft - point.arm, mass: heaviest - point.mass }))
    }

    /// Where the balance stands. Guarded: in or out only when no edge comes into the ellipse of the expanded uncertainties of arm and
    /// mass (taken as independent); plain: the value alone.
    ///
    /// # Errors
    /// When a number of the balance is missing or of another kind.
    pub fn place(&self, balance: Balance, rule: Rule) -> Result<Placed, RiggingError> {
        let (point, expanded) = self.point(balance)?;
        let (arms, masses) = self.extent();
        // Without an uncertainty in one direction the ellipse is a line: as good as none, against the envelope's size.
        let scale = [expanded[0].max(arms * SLACK), expanded[1].max(masses * SLACK)];
        let sure = match rule {
            Rule::Plain => true,
            Rule::Guarded if expanded == [0.0, 0.0] => true,
            Rule::Guarded => self.distance(point, scale) >= 1.0 - SLACK,
        };
        Ok(match self.stands(point) {
            _ if !sure => Placed::CantTell,
            None => Placed::In,
            Some(outside) => Placed::Out(outside),
        })
    }
}

/// Distance of the origin from the segment p–q.
fn to_segment(p: [f64; 2], q: [f64; 2]) -> f64 {
    let (dx, dy) = (q[0] - p[0], q[1] - p[1]);
    let squared = dx * dx + dy * dy;
    let along = if squared > 0.0 { (-(p[0] * dx + p[1] * dy) / squared).clamp(0.0, 1.0) } else { 0.0 };
    (p[0] + along * dx).hypot(p[1] + along * dy)
}

/// Whether two segments share a point.
fn meet(one: (Corner, Corner), other: (Corner, Corner)) -> bool {
    let side =
        |(p, q): (Corner, Corner), r: Corner| (q.arm - p.arm) * (r.mass - p.mass) - (q.mass - p.mass) * (r.arm - p.arm);
    let apart = |line: (Corner, Corner), ends: (Corner, Corner)| side(line, ends.0) * side(line, ends.1) > 0.0;
    let beside = |of: fn(&Corner) -> f64| {
        let (a, b, c, d) = (of(&one.0), of(&one.1), of(&other.0), of(&other.1));
        a.max(b) < c.min(d) || c.max(d) < a.min(b)
    };
    !apart(one, other) && !apart(other, one) && !beside(|corner| corner.arm) && !beside(|corner| corner.mass)
}

#[cfg(test)]
#[path = "envelope_tests.rs"]
mod tests;
